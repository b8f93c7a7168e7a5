//! A triangle mesh of a contour's inside, finest along the pinned edge.

use std::collections::HashMap;

use super::contour::{Contour, Curve, Point, Side};
use super::draft::{Chord, Draft, Unmeshed, draft};
use super::element::Element;

/// How fine a mesh is, in millimetres.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sizing {
    /// Length of the chords along the pinned edge.
    pub chord: f64,
    /// How far in from the edge the surface bends, mm.
    pub bend: f64,
    /// Longest chord, as a share of the top's width straight across from it.
    pub of_width: f64,
    /// Longest chord on a curve, as a share of what usually follows it well.
    pub of_bend: f64,
    /// How much longer sides may be for every millimetre further in.
    pub growth: f64,
}

/// By how much a capillary length may exceed the size that a top sets, and order 4 still do.
const NEARLY: f64 = 1.25;

impl Sizing {
    /// Half again as coarse along the edge, with fewer layers under it, and coarser still further in. The layers and
    /// what lies further in moved no tilt limit by half a hundredth (measured on discs, ovals and polygons).
    pub fn coarser(self) -> Self {
        Self {
            chord: 1.5 * self.chord,
            bend: 1.75 * self.bend,
            of_width: 1.5 * self.of_width,
            of_bend: 1.3 * self.of_bend,
            growth: 4.0 * self.growth,
        }
    }

    /// Finer, and following curves more closely.
    pub fn closer(self) -> Self {
        Self {
            chord: 0.7 * self.chord,
            of_bend: 0.6 * self.of_bend,
            of_width: 0.8 * self.of_width,
            ..self
        }
    }

    /// The sizing and the order of the triangles that meet the accuracy stated
    /// for [`Top`](super::Top), on a top `across` mm wide of a liquid with
    /// capillary length `c` mm. Chosen by measurement: order 4 is the quickest
    /// to 1e-4 where the capillary length sets the size, or nearly does; where
    /// the top does, it is small and order 5 costs little.
    pub fn for_capillary_length(c: f64, across: f64) -> (Self, usize) {
        let least = 0.08 * across;
        let order = if c <= NEARLY * least { 4 } else { 5 };
        let scale = c.min(least);
        (
            Self {
                bend: c,
                chord: 2.0 * scale,
                of_width: 0.3,
                of_bend: 1.0,
                growth: 0.8,
            },
            order,
        )
    }
}

/// A side of a triangle on the boundary.
#[derive(Debug, Clone, Copy)]
pub(super) struct BoundaryEdge {
    pub element: usize,
    /// 0 for the side between corners 0 and 1, and so on round.
    pub local: usize,
    pub side: Side,
}

/// Curved triangles with the nodes of one [`Element`].
#[derive(Debug, Clone)]
pub(super) struct Mesh {
    pub nodes: Vec<Point>,
    /// Node numbers, as many for each triangle as the element has nodes.
    pub triangles: Vec<usize>,
    pub boundary: Vec<BoundaryEdge>,
    /// Mirrored copies that make the whole top.
    pub copies: f64,
}

impl Mesh {
    /// The nodes of one triangle.
    pub fn triangle(&self, number: usize, element: &Element) -> &[usize] {
        let n = element.len();
        &self.triangles[number * n..(number + 1) * n]
    }

    /// Triangulates the inside of `contour` for `element`.
    ///
    /// The surface bends across the edge, hardly along it, so thin layers line
    /// the edge; inside them triangles grow with the distance.
    pub fn of(contour: &Contour, sizing: Sizing, element: &Element) -> Result<Self, Unmeshed> {
        Ok(raise(&draft(contour, sizing)?, element, contour.copies))
    }

    /// The same with every triangle cut into four, `cuts` times over.
    #[cfg(test)]
    pub fn cut_finer(
        contour: &Contour,
        sizing: Sizing,
        element: &Element,
        cuts: usize,
    ) -> Result<Self, Unmeshed> {
        let mut draft = draft(contour, sizing)?;
        for _ in 0..cuts {
            draft = draft.cut_in_four();
        }
        Ok(raise(&draft, element, contour.copies))
    }
}

/// Gives straight triangles the nodes of `element`, on the true curve where
/// they touch the boundary.
fn raise(draft: &Draft, element: &Element, copies: f64) -> Mesh {
    let order = element.order;
    let mut mesh = Mesh {
        nodes: draft.points.clone(),
        triangles: Vec::with_capacity(draft.triangles.len() * element.len()),
        boundary: Vec::new(),
        copies,
    };
    // The first node on the side between two corners, from the lower corner.
    let mut sides: HashMap<(usize, usize), usize> = HashMap::new();
    for (number, triangle) in draft.triangles.iter().enumerate() {
        let ends = |local: usize| (triangle[local], triangle[(local + 1) % 3]);
        let chords = [0, 1, 2].map(|local| draft.sides.get(&ends(local)));
        let place = |bary: &[usize; 3]| place(&draft.points, triangle, bary, order, chords);
        mesh.triangles.extend(triangle);
        for (local, chord) in chords.iter().enumerate() {
            let (a, b) = ends(local);
            if let Some(chord) = chord {
                mesh.boundary.push(BoundaryEdge {
                    element: number,
                    local,
                    side: chord.side,
                });
            }
            let mine = 3 + local * (order - 1);
            let first = *sides.entry((a.min(b), a.max(b))).or_insert_with(|| {
                let first = mesh.nodes.len();
                let fresh = (0..order - 1).map(|i| place(&element.nodes[mine + i]));
                if a < b {
                    mesh.nodes.extend(fresh);
                } else {
                    mesh.nodes.extend(fresh.rev());
                }
                first
            });
            let along = 0..order - 1;
            if a < b {
                mesh.triangles.extend(along.map(|i| first + i));
            } else {
                mesh.triangles.extend(along.rev().map(|i| first + i));
            }
        }
        for bary in &element.nodes[3 * order..] {
            mesh.triangles.push(mesh.nodes.len());
            mesh.nodes.push(place(bary));
        }
    }
    mesh
}

/// Where the node at barycentric `bary` (times `order`) lies: on the straight
/// triangle, moved by the bow of its curved sides (Szabó and Babuška's blend).
#[expect(clippy::cast_precision_loss, reason = "orders are small")]
fn place(
    points: &[Point],
    triangle: &[usize; 3],
    bary: &[usize; 3],
    order: usize,
    chords: [Option<&Chord>; 3],
) -> Point {
    let weight = bary.map(|n| n as f64 / order as f64);
    let mut at = [0, 1].map(|axis| (0..3).map(|i| weight[i] * points[triangle[i]][axis]).sum());
    for local in 0..3 {
        let (l, m) = (weight[local], weight[(local + 1) % 3]);
        let Some(chord) = chords[local].filter(|c| !matches!(c.curve, Curve::Line(..))) else {
            continue;
        };
        if l == 0.0 || m == 0.0 {
            continue;
        }
        // ξ = m - l along the side; blend 4 l m / (1 - ξ²)
        let xi = m - l;
        let along = f64::midpoint(1.0, xi);
        let on_curve = chord.at(along);
        let (a, b) = (points[triangle[local]], points[triangle[(local + 1) % 3]]);
        let blend = 4.0 * l * m / (1.0 - xi * xi);
        for axis in 0..2 {
            let straight = a[axis] + along * (b[axis] - a[axis]);
            at[axis] += blend * (on_curve[axis] - straight);
        }
    }
    at
}
