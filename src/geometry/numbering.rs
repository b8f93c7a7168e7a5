//! Which nodes are free to rise, and where they meet in the matrix.

use super::contour::Side;
use super::element::Element;
use super::mesh::Mesh;

/// Numbers the nodes that are free to rise.
pub(super) fn number(mesh: &Mesh, element: &Element) -> (Vec<Option<usize>>, usize) {
    let mut pinned = vec![false; mesh.nodes.len()];
    for edge in mesh.boundary.iter().filter(|e| e.side == Side::Pinned) {
        let nodes = mesh.triangle(edge.element, element);
        for i in element.edge_nodes(edge.local) {
            pinned[nodes[i]] = true;
        }
    }
    let mut count = 0;
    let unknown = pinned.iter().map(|&held| {
        (!held).then(|| {
            count += 1;
            count - 1
        })
    });
    (unknown.collect(), count)
}

/// Places of the matrix entries, in the order in which `assemble` makes them.
pub(super) fn entries(
    mesh: &Mesh,
    element: &Element,
    unknown: &[Option<usize>],
) -> Vec<(usize, usize)> {
    let mut entries = Vec::new();
    for nodes in mesh.triangles.chunks_exact(element.len()) {
        for (i, &a) in nodes.iter().enumerate() {
            let Some(row) = unknown[a] else { continue };
            let columns = nodes[..=i].iter().filter_map(|&b| unknown[b]);
            entries.extend(columns.map(|col| (row.max(col), row.min(col))));
        }
    }
    entries
}
