//! Symmetric sparse systems: one pattern, many matrices.

use faer::linalg::solvers::SolveCore;
use faer::sparse::linalg::solvers::{Llt, Lu, SymbolicLlt, SymbolicLu};
use faer::sparse::{Argsort, Pair, SparseColMat, SymbolicSparseColMat, Triplet};
use faer::{Conj, Mat, Side};

/// The fixed pattern of a symmetric matrix, with its symbolic factorisation.
pub(super) struct Pattern {
    size: usize,
    symbolic: SymbolicSparseColMat<usize>,
    order: Argsort<usize>,
    cholesky: SymbolicLlt<usize>,
}

/// A factorised matrix.
pub(super) struct Factor {
    lower: SparseColMat<usize, f64>,
    kind: Kind,
}

enum Kind {
    Cholesky(Llt<usize, f64>),
    /// Past its largest pressure a dome's matrix is indefinite.
    Indefinite(Box<Lu<usize, f64>>),
}

impl Pattern {
    /// From the places of the entries of the lower triangle, in the order in
    /// which their values will come; repeated places add up.
    pub fn new(size: usize, entries: &[(usize, usize)]) -> Option<Self> {
        // The parallel factorisation has been reported to go silently wrong.
        faer::set_global_parallelism(faer::Par::Seq);
        let pairs: Vec<Pair<usize, usize>> = entries
            .iter()
            .map(|&(row, col)| Pair { row, col })
            .collect();
        let (symbolic, order) =
            SymbolicSparseColMat::try_new_from_indices(size, size, &pairs).ok()?;
        let cholesky = SymbolicLlt::try_new(symbolic.as_ref(), Side::Lower).ok()?;
        Some(Self {
            size,
            symbolic,
            order,
            cholesky,
        })
    }

    /// Factorises the matrix of these values; `None` where it is singular.
    pub fn factor(&self, values: &[f64]) -> Option<Factor> {
        let lower =
            SparseColMat::new_from_argsort(self.symbolic.clone(), &self.order, values).ok()?;
        let cholesky = self.cholesky.clone();
        let symmetric = Llt::try_new_with_symbolic(cholesky, lower.as_ref(), Side::Lower);
        let kind = if let Ok(factor) = symmetric {
            Kind::Cholesky(factor)
        } else {
            let full = self.whole(&lower)?;
            let symbolic = SymbolicLu::try_new(full.symbolic()).ok()?;
            let factor = Lu::try_new_with_symbolic(symbolic, full.as_ref()).ok()?;
            Kind::Indefinite(Box::new(factor))
        };
        Some(Factor { lower, kind })
    }

    /// The full matrix from its lower triangle.
    fn whole(&self, lower: &SparseColMat<usize, f64>) -> Option<SparseColMat<usize, f64>> {
        let mut triplets = Vec::new();
        for t in lower.triplet_iter() {
            triplets.push(Triplet {
                row: t.row,
                col: t.col,
                val: *t.val,
            });
            if t.row != t.col {
                triplets.push(Triplet {
                    row: t.col,
                    col: t.row,
                    val: *t.val,
                });
            }
        }
        SparseColMat::try_new_from_triplets(self.size, self.size, &triplets).ok()
    }
}

impl Factor {
    /// Solves for each right-hand side in place. `None` where the residual
    /// shows the answer to be wrong.
    pub fn solve(&self, sides: &mut [&mut [f64]]) -> Option<()> {
        let size = self.lower.nrows();
        let mut x = Mat::from_fn(size, sides.len(), |i, j| sides[j][i]);
        match &self.kind {
            Kind::Cholesky(factor) => factor.solve_in_place_with_conj(Conj::No, x.as_mut()),
            Kind::Indefinite(factor) => factor.solve_in_place_with_conj(Conj::No, x.as_mut()),
        }
        for (j, side) in sides.iter_mut().enumerate() {
            let x = x.col_as_slice(j);
            self.check(x, side)?;
            side.copy_from_slice(x);
        }
        Some(())
    }

    /// Whether `A x = b` to rounding: what is left over, beside the largest term
    /// of the sums that it is left over from.
    fn check(&self, x: &[f64], b: &[f64]) -> Option<()> {
        // Each answer beside what its row leaves over.
        let mut rows: Vec<[f64; 2]> = x.iter().zip(b).map(|(x, b)| [*x, -b]).collect();
        let mut largest = b.iter().fold(0.0_f64, |most, b| most.max(b.abs()));
        for (col, &here) in x.iter().enumerate() {
            let below = self.lower.row_idx_of_col_raw(col);
            let mut above = 0.0;
            for (&row, &value) in below.iter().zip(self.lower.val_of_col(col)) {
                let [there, residual] = &mut rows[row];
                let term = value * here;
                *residual += term;
                if term.abs() > largest {
                    largest = term.abs();
                }
                if row != col {
                    above += value * *there;
                }
            }
            rows[col][1] += above;
        }
        let small = |left: &f64| left.abs() <= 1e-9 * largest;
        (largest.is_finite() && rows.iter().all(|[_, left]| small(left))).then_some(())
    }
}
