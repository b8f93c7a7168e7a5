//! What each triangle adds to the system.
//!
//! Every sum over a triangle's quadrature points is a product of two matrices:
//! one knows the shape functions and is the same for all triangles, the other
//! has a column for each triangle. So many triangles are summed at once.

use super::density::Density;
use super::element::Element;
use super::plate::Place;
use super::wide::{Columns, Wide};

/// How many triangles are summed at once: more would not stay in a core's own memory.
pub(super) const ABREAST: usize = 32;

/// Sums over a triangle's quadrature points, as matrices.
#[derive(Debug, Clone)]
pub(super) struct Basis {
    /// A column to a node: its shape function and the two derivatives at every point.
    at_points: Wide,
    /// The same, a row to a node.
    at_nodes: Wide,
    /// A row to an entry of the lower triangle, row by row: the products of its two nodes' shape
    /// functions that go with the six numbers of each point's stiffness.
    pairs: Wide,
}

impl Basis {
    pub fn new(element: &Element) -> Self {
        let points = &element.points;
        let at = |t: usize, node: usize| {
            let shape = &points[t / 3].shape;
            [&shape.value, &shape.d1, &shape.d2][t % 3][node]
        };
        let (slopes, nodes) = (3 * points.len(), element.len());
        let entries: Vec<(usize, usize)> = (0..element.len())
            .flat_map(|i| (0..=i).map(move |j| (i, j)))
            .collect();
        let pairs = Wide::from_fn(entries.len(), 6 * points.len(), |entry, t| {
            let (i, j) = entries[entry];
            let (k, l) = SIX[t % 6];
            let of = |k: usize, l: usize| at(t / 6 * 3 + k, i) * at(t / 6 * 3 + l, j);
            if k == l {
                of(k, k)
            } else {
                of(k, l) + of(l, k)
            }
        });
        Self {
            at_points: Wide::from_fn(slopes, nodes, at),
            at_nodes: Wide::from_fn(nodes, slopes, |node, t| at(t, node)),
            pairs,
        }
    }
}

/// The six different entries of a symmetric matrix of three rows.
const SIX: [(usize, usize); 6] = [(0, 0), (1, 0), (1, 1), (2, 0), (2, 1), (2, 2)];

/// What some triangles add to the system, a column to a triangle.
pub(super) struct Shares<'a> {
    basis: &'a Basis,
    /// How many triangles there are now.
    count: usize,
    heights: Columns,
    /// Height and its derivatives along the reference axes, point by point.
    states: Columns,
    /// The density's derivatives by those.
    pushes: [Columns; 2],
    stiffness: Columns,
    forces: [Columns; 2],
    matrix: Columns,
}

impl<'a> Shares<'a> {
    /// For the loads alone.
    pub fn new(basis: &'a Basis) -> Self {
        Self::with_room(basis, 0)
    }

    /// For the matrix too.
    pub fn stiff(basis: &'a Basis) -> Self {
        Self::with_room(basis, ABREAST)
    }

    fn with_room(basis: &'a Basis, matrices: usize) -> Self {
        let pushes = || basis.at_nodes.room_for_columns(ABREAST);
        let forces = || basis.at_nodes.room_for_products(ABREAST);
        Self {
            count: 0,
            heights: basis.at_points.room_for_columns(ABREAST),
            states: basis.at_points.room_for_products(ABREAST),
            pushes: [pushes(), pushes()],
            stiffness: basis.pairs.room_for_columns(matrices),
            forces: [forces(), forces()],
            matrix: basis.pairs.room_for_products(matrices),
            basis,
        }
    }

    /// Takes the values at the nodes of up to [`ABREAST`] triangles.
    pub fn take(&mut self, w: &[f64], nodes: &[usize]) {
        let of_each = self.heights.of(0).len();
        self.count = nodes.len() / of_each;
        for (triangle, nodes) in nodes.chunks_exact(of_each).enumerate() {
            let heights = self.heights.of_mut(triangle);
            for (height, &node) in heights.iter_mut().zip(nodes) {
                *height = w[node];
            }
        }
        let points = &self.basis.at_points;
        points.times(&self.heights, self.count, &mut self.states);
    }

    /// Value and derivatives along the reference axes at a quadrature point.
    #[inline]
    pub fn on_reference(&self, triangle: usize, point: usize) -> [f64; 3] {
        let states = &self.states.of(triangle)[3 * point..][..3];
        [states[0], states[1], states[2]]
    }

    /// Value and slopes at a quadrature point.
    pub fn state(&self, triangle: usize, point: usize, place: &Place) -> [f64; 3] {
        let [value, d1, d2] = self.on_reference(triangle, point);
        let inverse = &place.inverse;
        [
            value,
            d1 * inverse[0][0] + d2 * inverse[1][0],
            d1 * inverse[0][1] + d2 * inverse[1][1],
        ]
    }

    /// Takes a force by `(w, w_x, w_y)` at a quadrature point.
    pub fn push(&mut self, triangle: usize, point: usize, force: [f64; 3], place: &Place) {
        let force = to_reference(force, &place.inverse, place.weight);
        let pushes = self.pushes[0].of_mut(triangle);
        pushes[3 * point..][..3].copy_from_slice(&force);
    }

    /// Takes the density's forces at a quadrature point.
    pub fn load(&mut self, triangle: usize, point: usize, density: &Density, place: &Place) {
        self.push(triangle, point, density.force, place);
        let swell = to_reference(density.swell, &place.inverse, place.weight);
        let pushes = self.pushes[1].of_mut(triangle);
        pushes[3 * point..][..3].copy_from_slice(&swell);
    }

    /// Takes the density's stiffness at a quadrature point.
    pub fn stiffen(&mut self, triangle: usize, point: usize, density: &Density, place: &Place) {
        // Rows to reference derivatives, then columns.
        let [a, b, c] = density.stiffness();
        let h = [
            to_reference(a, &place.inverse, place.weight),
            to_reference(b, &place.inverse, place.weight),
            to_reference(c, &place.inverse, place.weight),
        ];
        let column = |k: usize| to_reference([h[0][k], h[1][k], h[2][k]], &place.inverse, 1.0);
        let [a, b, c] = [column(0), column(1), column(2)];
        let stiffness = self.stiffness.of_mut(triangle);
        stiffness[6 * point..][..6].copy_from_slice(&[a[0], b[0], b[1], c[0], c[1], c[2]]);
    }

    /// Sums what was pushed to forces at the nodes.
    pub fn sum_forces(&mut self) {
        let nodes = &self.basis.at_nodes;
        nodes.times(&self.pushes[0], self.count, &mut self.forces[0]);
    }

    /// Sums the loads to forces and swelling at the nodes.
    pub fn sum_loads(&mut self) {
        self.sum_forces();
        let nodes = &self.basis.at_nodes;
        nodes.times(&self.pushes[1], self.count, &mut self.forces[1]);
    }

    /// Sums the stiffness to the lower triangle of the matrix.
    pub fn sum_matrix(&mut self) {
        let pairs = &self.basis.pairs;
        pairs.times(&self.stiffness, self.count, &mut self.matrix);
    }

    /// Forces at a triangle's nodes.
    pub fn force(&self, triangle: usize) -> &[f64] {
        self.forces[0].of(triangle)
    }

    /// How the volume changes with the heights of a triangle's nodes.
    pub fn swell(&self, triangle: usize) -> &[f64] {
        self.forces[1].of(triangle)
    }

    /// The lower triangle of a triangle's matrix, row by row.
    pub fn matrix(&self, triangle: usize) -> &[f64] {
        self.matrix.of(triangle)
    }
}

pub(super) fn inner(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// A vector over `(value, d/dx, d/dy)` as one over the reference derivatives.
#[inline]
fn to_reference([v, x, y]: [f64; 3], inverse: &[[f64; 2]; 2], weight: f64) -> [f64; 3] {
    [
        weight * v,
        weight * (x * inverse[0][0] + y * inverse[0][1]),
        weight * (x * inverse[1][0] + y * inverse[1][1]),
    ]
}
