//! Which nodes are free to rise, and where they meet in the matrix.

use super::contour::Side;
use super::element::Element;
use super::elimination::{Cliques, index};
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

/// The unknowns of each triangle, in the order in which `assemble` adds its entries.
pub(super) fn cliques(mesh: &Mesh, element: &Element, unknown: &[Option<usize>]) -> Cliques {
    let mut cliques = Cliques::default();
    for nodes in mesh.triangles.chunks_exact(element.len()) {
        cliques.push(nodes.iter().filter_map(|&node| unknown[node].map(index)));
    }
    cliques
}
