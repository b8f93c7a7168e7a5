//! Symmetric sparse systems: one pattern, many matrices.

use std::sync::Arc;

use faer::linalg::solvers::SolveCore;
use faer::sparse::linalg::solvers::Lu;
use faer::sparse::{SparseColMat, Triplet};
use faer::{Conj, Mat};

use super::cholesky;
use super::elimination::{Cliques, Elimination};

/// The fixed pattern of a symmetric matrix, with the order in which it is eliminated.
pub(super) struct Pattern(Arc<Places>);

struct Places {
    order: Elimination,
    /// The unknowns that each entry belongs to.
    pairs: Vec<[u32; 2]>,
    /// Where among the factor's values each entry adds.
    slots: Vec<u32>,
}

/// A factorised matrix.
pub(super) struct Factor {
    places: Arc<Places>,
    /// The matrix's entries.
    entries: Vec<f64>,
    /// The largest of them, by size.
    largest: f64,
    kind: Kind,
}

enum Kind {
    Cholesky(Vec<f64>),
    /// Past its largest pressure a dome's matrix is indefinite.
    Indefinite(Box<Lu<usize, f64>>),
}

impl Pattern {
    /// From the cliques that the matrix is a sum over. Its entries come in the order of their
    /// [`pairs`](Cliques::pairs), one for each; those of one place add up.
    pub fn new(size: usize, cliques: &Cliques) -> Option<Self> {
        let order = Elimination::of(size, cliques)?;
        let pairs: Vec<[u32; 2]> = cliques.pairs().collect();
        let slots = order.slots(&pairs);
        Some(Self(Arc::new(Places {
            order,
            pairs,
            slots,
        })))
    }

    /// Factorises the matrix of these entries; `None` where it is singular.
    pub fn factor(&self, entries: Vec<f64>) -> Option<Factor> {
        let Self(places) = self;
        // Written before it is read: memory that is zero because it is new would come in twice.
        let mut values = Vec::with_capacity(places.order.len());
        values.resize(places.order.len(), 0.0);
        for (&slot, entry) in places.slots.iter().zip(&entries) {
            values[slot as usize] += entry;
        }
        let kind = if cholesky::factorise(&places.order, &mut values).is_some() {
            Kind::Cholesky(values)
        } else {
            let whole = places.whole(&entries)?;
            Kind::Indefinite(Box::new(whole.sp_lu().ok()?))
        };
        Some(Factor {
            places: Arc::clone(places),
            largest: largest(&entries),
            entries,
            kind,
        })
    }
}

impl Places {
    fn size(&self) -> usize {
        self.order.place.len()
    }

    /// The full matrix.
    fn whole(&self, entries: &[f64]) -> Option<SparseColMat<usize, f64>> {
        let mut triplets = Vec::new();
        for (&pair, &val) in self.pairs.iter().zip(entries) {
            let [row, col] = pair.map(|unknown| unknown as usize);
            triplets.push(Triplet { row, col, val });
            if row != col {
                let (row, col) = (col, row);
                triplets.push(Triplet { row, col, val });
            }
        }
        // The parallel factorisation has been reported to go silently wrong.
        faer::set_global_parallelism(faer::Par::Seq);
        SparseColMat::try_new_from_triplets(self.size(), self.size(), &triplets).ok()
    }
}

impl Factor {
    /// Solves for each right-hand side in place. `None` where the residual of them all shows the
    /// answers to be wrong.
    pub fn solve(&self, sides: &mut [&mut [f64]]) -> Option<()> {
        // What is wrong with a factor is wrong with all that is solved with it: one look at
        // their sum is enough.
        let wanted = sum(sides, self.places.size());
        for side in sides.iter_mut() {
            self.solve_again(side);
        }
        self.check(&sum(sides, self.places.size()), &wanted)
    }

    /// Solves for one right-hand side in place, with a factor that has [solved](Self::solve) others.
    pub fn solve_again(&self, side: &mut [f64]) {
        match &self.kind {
            Kind::Cholesky(factor) => {
                let place = &self.places.order.place;
                let mut ordered = vec![0.0; side.len()];
                for (&place, value) in place.iter().zip(side.iter()) {
                    ordered[place] = *value;
                }
                cholesky::solve(&self.places.order, factor, &mut ordered);
                for (value, &place) in side.iter_mut().zip(place) {
                    *value = ordered[place];
                }
            }
            Kind::Indefinite(factor) => {
                let mut column = Mat::from_fn(side.len(), 1, |i, _| side[i]);
                factor.solve_in_place_with_conj(Conj::No, column.as_mut());
                side.copy_from_slice(column.col_as_slice(0));
            }
        }
    }

    /// Whether `A x = b` to rounding: what is left over, beside the largest entry times the
    /// largest unknown (the backward error of Higham, Accuracy and Stability of Numerical
    /// Algorithms, 2nd ed., 2002, section 7.1).
    fn check(&self, x: &[f64], b: &[f64]) -> Option<()> {
        let mut left: Vec<f64> = b.iter().map(|b| -b).collect();
        for (pair, value) in self.places.pairs.iter().zip(&self.entries) {
            let [row, col] = pair.map(|unknown| unknown as usize);
            left[row] += value * x[col];
            if row != col {
                left[col] += value * x[row];
            }
        }
        let scale = self.largest * largest(x) + largest(b);
        let small = |left: &f64| left.abs() <= 1e-9 * scale;
        (scale.is_finite() && left.iter().all(small)).then_some(())
    }
}

/// The sum of some columns of a height.
fn sum(columns: &[&mut [f64]], height: usize) -> Vec<f64> {
    let mut sum = vec![0.0; height];
    for column in columns {
        for (sum, value) in sum.iter_mut().zip(column.iter()) {
            *sum += value;
        }
    }
    sum
}

/// The largest of some numbers, by size.
fn largest(numbers: &[f64]) -> f64 {
    let larger = |most, number: &f64| {
        if number.abs() > most {
            number.abs()
        } else {
            most
        }
    };
    numbers.iter().fold(0.0, larger)
}

#[cfg(test)]
mod tests {
    use faer::Mat;
    use faer::linalg::solvers::Solve;

    use super::{Kind, Pattern};
    use crate::geometry::elimination::Cliques;

    /// A strip of squares whose corners, sides and insides are unknowns, and one clique of seven.
    fn strip(squares: u32) -> (u32, Cliques) {
        let mut cliques = Cliques::default();
        for first in (0..squares).map(|square| 5 * square) {
            cliques.push([first + 6, first, first + 3, first + 1, first + 2, first + 5]);
        }
        cliques.push((5 * squares..5 * squares + 7).rev());
        (5 * squares + 7, cliques)
    }

    /// Arms of so many unknowns each that meet a middle of five, and not each other.
    fn star(width: u32) -> (u32, Cliques) {
        let mut cliques = Cliques::default();
        for arm in 0..3 {
            let first = 5 + arm * width;
            cliques.push((0..5).chain(first..first + width));
        }
        (5 + 3 * width, cliques)
    }

    /// Entries that make the matrix diagonally heavy, or not.
    fn entries(cliques: &Cliques, heavy: f64) -> Vec<f64> {
        let numbers = cliques.pairs().enumerate().map(|(number, [a, b])| {
            let some = f64::from(u8::try_from(number * 7 % 11).unwrap()) - 5.0;
            if a == b { heavy + some } else { some }
        });
        numbers.collect()
    }

    /// Against `faer`'s dense solver on the same matrix.
    #[test]
    fn what_is_solved_is_what_a_dense_solver_finds() {
        let strips = [1, 2, 3, 40].map(strip).into_iter();
        for (count, cliques) in strips.chain((1..10).map(star)) {
            let size = count as usize;
            for heavy in [80.0, -3.0] {
                let mut entries = entries(&cliques, heavy);
                // Unknowns of no clique are none of a dome's: each is one here.
                let mut cliques = cliques.clone();
                for unknown in 0..count {
                    cliques.push([unknown]);
                    entries.push(heavy.signum());
                }
                let mut dense = Mat::<f64>::zeros(size, size);
                for (pair, value) in cliques.pairs().zip(&entries) {
                    let [a, b] = pair.map(|unknown| unknown as usize);
                    dense[(a, b)] += value;
                    if a != b {
                        dense[(b, a)] += value;
                    }
                }
                let factor = Pattern::new(size, &cliques)
                    .unwrap()
                    .factor(entries)
                    .unwrap();
                assert_eq!(matches!(factor.kind, Kind::Cholesky(_)), heavy > 0.0);
                let sides = [1.0, -0.3].map(|by| -> Vec<f64> {
                    let number = |i: usize| f64::from(u16::try_from(i * 13 % 17).unwrap());
                    (0..size).map(|i| number(i) * by + 1.0).collect()
                });
                let [mut one, mut other] = sides.clone();
                factor.solve(&mut [&mut one, &mut other]).unwrap();
                let wanted = Mat::from_fn(size, 2, |i, j| sides[j][i]);
                let wanted = dense.partial_piv_lu().solve(&wanted);
                for (j, got) in [one, other].iter().enumerate() {
                    for (i, got) in got.iter().enumerate() {
                        let wanted = wanted[(i, j)];
                        let off = (got - wanted).abs();
                        assert!(
                            off < 1e-10 * (1.0 + wanted.abs()),
                            "{i} {j}: {got} {wanted}"
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn a_singular_matrix_has_no_answer() {
        let mut cliques = Cliques::default();
        cliques.push([0, 1]);
        let factor = Pattern::new(2, &cliques).unwrap();
        let solved = factor
            .factor(vec![1.0, 1.0, 1.0])
            .and_then(|factor| factor.solve(&mut [&mut [1.0, 2.0]]));
        assert!(solved.is_none());
    }
}
