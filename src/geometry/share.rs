//! One triangle's share of the system.
//!
//! Sums run over all of a triangle's quadrature points at once: the shape
//! functions are kept in the two orders in which they are needed, so that the
//! innermost loops are straight runs through memory.

use super::density::Density;
use super::element::Element;
use super::plate::Place;

/// How many nodes the sums take at once.
const ABREAST: usize = 4;

/// Shape functions and their two derivatives at every quadrature point, three
/// numbers to a point.
#[derive(Debug, Clone)]
pub(super) struct Basis {
    /// Node by node.
    by_node: Vec<Vec<f64>>,
    /// The same for nodes abreast; zero past the last node.
    abreast: Vec<Vec<[f64; ABREAST]>>,
}

impl Basis {
    pub fn new(element: &Element) -> Self {
        let of_node = |i: usize| -> Vec<f64> {
            let points = element.points.iter().map(|point| &point.shape);
            points
                .flat_map(|shape| [shape.value[i], shape.d1[i], shape.d2[i]])
                .collect()
        };
        let by_node: Vec<Vec<f64>> = (0..element.len()).map(of_node).collect();
        let abreast = by_node.chunks(ABREAST).map(|nodes| {
            let at = |t: usize| std::array::from_fn(|k| nodes.get(k).map_or(0.0, |node| node[t]));
            (0..3 * element.points.len()).map(at).collect()
        });
        Self {
            abreast: abreast.collect(),
            by_node,
        }
    }

    /// `Σ weights × shape functions` over the quadrature points, for nodes abreast.
    fn sum(&self, weights: &[f64], four: usize) -> [f64; ABREAST] {
        let terms = weights.iter().zip(&self.abreast[four]);
        terms.fold([0.0; ABREAST], |sum, (weight, shapes)| {
            std::array::from_fn(|k| sum[k] + weight * shapes[k])
        })
    }
}

/// One triangle's share of the system.
pub(super) struct Local<'a> {
    basis: &'a Basis,
    /// Height and its derivatives along the reference axes, point by point.
    state: Vec<f64>,
    /// The density's derivatives by those.
    pushes: [Vec<f64>; 2],
    stiffness: Vec<[[f64; 3]; 3]>,
    /// Weights of the row that is being summed.
    row: Vec<f64>,
    pub force: Vec<f64>,
    pub swell: Vec<f64>,
    /// Lower triangle, row by row.
    matrix: Vec<f64>,
}

impl<'a> Local<'a> {
    pub fn new(basis: &'a Basis) -> Self {
        let wide = ABREAST * basis.abreast.len();
        let count = basis.by_node.first().map_or(0, Vec::len);
        Self {
            state: vec![0.0; count],
            pushes: [vec![0.0; count], vec![0.0; count]],
            stiffness: vec![[[0.0; 3]; 3]; count / 3],
            row: vec![0.0; count],
            force: vec![0.0; wide],
            swell: vec![0.0; wide],
            matrix: vec![0.0; wide * basis.by_node.len()],
            basis,
        }
    }

    /// Takes the values at the triangle's nodes.
    pub fn take(&mut self, w: &[f64], nodes: &[usize]) {
        self.state.fill(0.0);
        for (&node, shapes) in nodes.iter().zip(&self.basis.by_node) {
            let height = w[node];
            for (state, shape) in self.state.iter_mut().zip(shapes) {
                *state += height * shape;
            }
        }
    }

    /// Value and slopes at a quadrature point.
    pub fn state(&self, point: usize, place: &Place) -> [f64; 3] {
        let [value, d1, d2] = [0, 1, 2].map(|k| self.state[3 * point + k]);
        let inverse = &place.inverse;
        [
            value,
            d1 * inverse[0][0] + d2 * inverse[1][0],
            d1 * inverse[0][1] + d2 * inverse[1][1],
        ]
    }

    /// Takes a force by `(w, w_x, w_y)` at a quadrature point.
    pub fn push(&mut self, point: usize, force: [f64; 3], place: &Place) {
        let force = to_reference(force, &place.inverse, place.weight);
        self.pushes[0][3 * point..][..3].copy_from_slice(&force);
    }

    /// Takes the density's forces at a quadrature point.
    pub fn load(&mut self, point: usize, density: &Density, place: &Place) {
        self.push(point, density.force, place);
        let swell = to_reference(density.swell, &place.inverse, place.weight);
        self.pushes[1][3 * point..][..3].copy_from_slice(&swell);
    }

    /// Takes the density's stiffness at a quadrature point.
    pub fn stiffen(&mut self, point: usize, density: &Density, place: &Place) {
        // Rows to reference derivatives, then columns.
        let rows = density.stiffness;
        let h = rows.map(|row| to_reference(row, &place.inverse, place.weight));
        let column = |k: usize| to_reference([h[0][k], h[1][k], h[2][k]], &place.inverse, 1.0);
        self.stiffness[point] = [column(0), column(1), column(2)];
    }

    /// Sums what was pushed to forces at the nodes.
    pub fn sum_forces(&mut self) {
        for (four, sums) in self.force.chunks_exact_mut(ABREAST).enumerate() {
            sums.copy_from_slice(&self.basis.sum(&self.pushes[0], four));
        }
    }

    /// Sums the loads to forces and swelling at the nodes.
    pub fn sum_loads(&mut self) {
        self.sum_forces();
        for (four, sums) in self.swell.chunks_exact_mut(ABREAST).enumerate() {
            sums.copy_from_slice(&self.basis.sum(&self.pushes[1], four));
        }
    }

    /// Sums the stiffness to the lower triangle of the matrix.
    pub fn sum_matrix(&mut self) {
        let wide = self.force.len();
        let rows = self.matrix.chunks_exact_mut(wide);
        for (i, (shapes, entries)) in self.basis.by_node.iter().zip(rows).enumerate() {
            let points = shapes.as_chunks::<3>().0.iter().zip(&self.stiffness);
            let rows = self.row.as_chunks_mut::<3>().0.iter_mut();
            for (weights, ([value, d1, d2], [a, b, c])) in rows.zip(points) {
                for (k, weight) in weights.iter_mut().enumerate() {
                    *weight = a[k] * value + b[k] * d1 + c[k] * d2;
                }
            }
            let lower = entries.chunks_exact_mut(ABREAST).take(i / ABREAST + 1);
            for (four, sums) in lower.enumerate() {
                sums.copy_from_slice(&self.basis.sum(&self.row, four));
            }
        }
    }

    /// An entry of the lower triangle.
    pub fn entry(&self, row: usize, column: usize) -> f64 {
        self.matrix[row * self.force.len() + column]
    }
}

pub(super) fn inner(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// A vector over `(value, d/dx, d/dy)` as one over the reference derivatives.
fn to_reference([v, x, y]: [f64; 3], inverse: &[[f64; 2]; 2], weight: f64) -> [f64; 3] {
    [
        weight * v,
        weight * (x * inverse[0][0] + y * inverse[0][1]),
        weight * (x * inverse[1][0] + y * inverse[1][1]),
    ]
}
