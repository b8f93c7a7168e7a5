//! One triangle's share of the system.

use super::density::Density;
use super::element::Shape;
use super::plate::Place;

/// One triangle's share of the system.
pub(super) struct Local {
    pub force: Vec<f64>,
    pub swell: Vec<f64>,
    /// Lower triangle, row by row.
    pub matrix: Vec<f64>,
}

impl Local {
    pub fn new(n: usize) -> Self {
        Self {
            force: vec![0.0; n],
            swell: vec![0.0; n],
            matrix: vec![0.0; n * n],
        }
    }

    pub fn clear(&mut self) {
        self.force.fill(0.0);
        self.swell.fill(0.0);
        self.matrix.fill(0.0);
    }

    pub fn push(&mut self, shape: &Shape, place: &Place, density: &Density) {
        let f = to_reference(density.force, &place.inverse, place.weight);
        let v = to_reference(density.swell, &place.inverse, place.weight);
        for i in 0..shape.value.len() {
            let b = [shape.value[i], shape.d1[i], shape.d2[i]];
            self.force[i] += inner(f, b);
            self.swell[i] += inner(v, b);
        }
    }

    pub fn stiffen(&mut self, shape: &Shape, place: &Place, density: &Density) {
        let n = shape.value.len();
        let inverse = &place.inverse;
        // Rows to reference derivatives, then columns.
        let h = density
            .stiffness
            .map(|row| to_reference(row, inverse, place.weight));
        let column = |k: usize| to_reference([h[0][k], h[1][k], h[2][k]], inverse, 1.0);
        let c = [column(0), column(1), column(2)];
        for i in 0..n {
            let b = [shape.value[i], shape.d1[i], shape.d2[i]];
            let m = [inner(c[0], b), inner(c[1], b), inner(c[2], b)];
            let row = &mut self.matrix[i * n..=i * n + i];
            let columns = shape.value.iter().zip(&shape.d1).zip(&shape.d2);
            for (entry, ((value, d1), d2)) in row.iter_mut().zip(columns) {
                *entry += m[0] * value + m[1] * d1 + m[2] * d2;
            }
        }
    }
}

pub(super) fn inner(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// A vector over `(value, d/dx, d/dy)` as one over the reference derivatives.
pub(super) fn to_reference([v, x, y]: [f64; 3], inverse: &[[f64; 2]; 2], weight: f64) -> [f64; 3] {
    [
        weight * v,
        weight * (x * inverse[0][0] + y * inverse[0][1]),
        weight * (x * inverse[1][0] + y * inverse[1][1]),
    ]
}
