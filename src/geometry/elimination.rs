//! In which order a matrix's unknowns are eliminated, and what its factor then holds.
//!
//! The matrices here are sums over cliques, small sets of unknowns of which each meets each: those
//! of a triangle, or the splines at a place of the edge. Unknowns of the same cliques are alike: they are
//! eliminated one after another, so the order need only be found for classes of them, of which there
//! are far fewer.

use std::ops::Range;

use faer::Side;
use faer::sparse::linalg::SupernodalThreshold;
use faer::sparse::linalg::cholesky::{
    CholeskySymbolicParams, SymbolicCholesky, SymbolicCholeskyRaw, SymmetricOrdering,
    factorize_symbolic_cholesky,
};
use faer::sparse::{Pair, SymbolicSparseColMat};

/// The cliques that a matrix is a sum over.
#[derive(Debug, Clone, Default)]
pub(super) struct Cliques {
    members: Vec<u32>,
    ends: Vec<usize>,
}

impl Cliques {
    /// Adds one.
    pub fn push(&mut self, members: impl IntoIterator<Item = u32>) {
        self.members.extend(members);
        self.ends.push(self.members.len());
    }

    fn iter(&self) -> impl Iterator<Item = &[u32]> {
        let starts = std::iter::once(0).chain(self.ends.iter().copied());
        let spans = starts.zip(&self.ends);
        spans.map(|(from, &to)| &self.members[from..to])
    }

    /// The pairs of unknowns that meet: clique by clique, the lower triangle row by row.
    pub fn pairs(&self) -> impl Iterator<Item = [u32; 2]> {
        self.iter().flat_map(|clique| {
            let rows = clique.iter().enumerate();
            rows.flat_map(move |(i, &a)| clique[..=i].iter().map(move |&b| [a, b]))
        })
    }

    /// Each unknown's class of those that are alike, and how many classes there are.
    fn alike(&self, size: usize) -> (Vec<usize>, usize) {
        let mut class = vec![0; size];
        // By class: the last clique that took some of it, and the class that those went to.
        let mut taken = vec![(usize::MAX, 0)];
        for (number, clique) in self.iter().enumerate() {
            for &unknown in clique {
                let unknown = unknown as usize;
                let old = class[unknown];
                if taken[old].0 != number {
                    taken[old] = (number, taken.len());
                    taken.push((usize::MAX, 0));
                }
                class[unknown] = taken[old].1;
            }
        }
        let mut number = vec![None; taken.len()];
        let mut count = 0;
        for class in &mut class {
            *class = *number[*class].get_or_insert_with(|| {
                count += 1;
                count - 1
            });
        }
        (class, count)
    }
}

/// One in so many of a block's entries may be a zero that is there only for two being one: a rule of
/// thumb, not tuned.
const SPARE: usize = 8;

/// Columns of a factor that reach the same rows below them.
#[derive(Debug)]
pub(super) struct Block {
    /// Its columns, by place in the order.
    pub columns: Range<usize>,
    /// The rows that it reaches: its own columns', then those below, in order.
    pub rows: Vec<usize>,
    /// Where its values lie: column after column, each as high as all rows.
    pub values: Range<usize>,
    /// The blocks before it that reach its columns, each with which of its rows do.
    pub from: Vec<(usize, Range<usize>)>,
}

impl Block {
    /// How many rows it reaches.
    pub fn height(&self) -> usize {
        self.rows.len()
    }

    /// How many columns it has.
    pub fn width(&self) -> usize {
        self.columns.len()
    }
}

/// An order of elimination, and the blocks of the factor that follows.
#[derive(Debug)]
pub(super) struct Elimination {
    /// Each unknown's place in the order.
    pub place: Vec<usize>,
    pub blocks: Vec<Block>,
}

impl Elimination {
    /// An order that leaves the factor few entries; `None` where there is too little memory.
    pub fn of(size: usize, cliques: &Cliques) -> Option<Self> {
        let (class, count) = cliques.alike(size);
        let of_classes = eliminated(&class, count, cliques)?;
        let SymbolicCholeskyRaw::Simplicial(factor) = of_classes.raw() else {
            return None;
        };
        let (order, _) = of_classes.perm()?.arrays();
        let mut members = vec![0; count];
        for &class in &class {
            members[class] += 1;
        }
        // The places of each class, by the classes' own order.
        let mut next = 0;
        let mut first = vec![0; count];
        let places: Vec<Range<usize>> = (order.iter())
            .map(|&class| {
                first[class] = next;
                next += members[class];
                first[class]..next
            })
            .collect();
        let place = class.iter().map(|&class| {
            first[class] += 1;
            first[class] - 1
        });
        let place = place.collect();
        let reached = |column: usize| {
            let ends = factor.col_ptr();
            &factor.row_idx()[ends[column]..ends[column + 1]]
        };
        let mut blocks: Vec<Block> = Vec::new();
        // How many zeros the last block holds for being one.
        let mut zeros = 0;
        for column in 0..count {
            let mut columns = places[column].clone();
            let below = reached(column).iter();
            let mut rows: Vec<usize> = below.flat_map(|&class| places[class].clone()).collect();
            // The block before is one with this where it reaches it, and not much less below.
            let joined = blocks.last().and_then(|last| {
                let next = last.rows.get(last.width())?;
                if !columns.contains(next) {
                    return None;
                }
                // What it reaches below, this block reaches too.
                let missing = rows.len() - (last.height() - last.width());
                let more = zeros + last.width() * missing;
                let all = (last.width() + columns.len()) * (last.width() + rows.len());
                (SPARE * more <= all).then_some(more)
            });
            zeros = joined.unwrap_or(0);
            if joined.is_some()
                && let Some(last) = blocks.pop()
            {
                rows.splice(0..0, last.columns.clone());
                columns.start = last.columns.start;
            }
            blocks.push(Block {
                columns,
                rows,
                values: 0..0,
                from: Vec::new(),
            });
        }
        Some(Self {
            place,
            blocks: placed(blocks, size),
        })
    }

    /// How many values the factor has, zeros over its diagonal too.
    pub fn len(&self) -> usize {
        self.blocks.last().map_or(0, |block| block.values.end)
    }

    /// Where among the factor's values each pair of unknowns adds.
    pub fn slots(&self, pairs: &[[u32; 2]]) -> Vec<u32> {
        let size = self.place.len();
        let mut block_of = Vec::with_capacity(size);
        for (number, block) in self.blocks.iter().enumerate() {
            block_of.extend(block.columns.clone().map(|_| number));
        }
        // Each pair's row and column, and the pairs by the block of their column, block after block.
        let places: Vec<[usize; 2]> = (pairs.iter())
            .map(|pair| {
                let [a, b] = pair.map(|unknown| self.place[unknown as usize]);
                [a.max(b), a.min(b)]
            })
            .collect();
        let mut ends = vec![0; self.blocks.len() + 1];
        for [_, column] in &places {
            ends[block_of[*column] + 1] += 1;
        }
        for number in 0..self.blocks.len() {
            ends[number + 1] += ends[number];
        }
        let mut sorted = vec![0; pairs.len()];
        for (number, [_, column]) in places.iter().enumerate() {
            let end = &mut ends[block_of[*column]];
            sorted[*end] = number;
            *end += 1;
        }
        let mut slots = vec![0; pairs.len()];
        let mut at = vec![0; size];
        let mut from = 0;
        for (block, &to) in self.blocks.iter().zip(&ends) {
            for (position, &row) in block.rows.iter().enumerate() {
                at[row] = position;
            }
            for &number in &sorted[from..to] {
                let [row, column] = places[number];
                let along = (column - block.columns.start) * block.height();
                slots[number] = index(block.values.start + along + at[row]);
            }
            from = to;
        }
        slots
    }
}

/// An index in half the room. No plate has so many entries: they would not fit into memory.
///
/// # Panics
/// Where it is over 4 billion.
pub(super) fn index(number: usize) -> u32 {
    u32::try_from(number).expect("fewer than 4 billion entries")
}

/// What is left of the classes' own matrix when they are eliminated in a good order.
fn eliminated(class: &[usize], count: usize, cliques: &Cliques) -> Option<SymbolicCholesky<usize>> {
    let mut pairs = Vec::new();
    let mut classes: Vec<usize> = Vec::new();
    for clique in cliques.iter() {
        classes.clear();
        classes.extend(clique.iter().map(|&unknown| class[unknown as usize]));
        classes.sort_unstable();
        classes.dedup();
        for (i, &row) in classes.iter().enumerate() {
            pairs.extend(classes[..=i].iter().map(|&col| Pair { row, col }));
        }
    }
    let (matrix, _) = SymbolicSparseColMat::try_new_from_indices(count, count, &pairs).ok()?;
    let by_columns = CholeskySymbolicParams {
        supernodal_flop_ratio_threshold: SupernodalThreshold::FORCE_SIMPLICIAL,
        ..CholeskySymbolicParams::default()
    };
    let order = SymmetricOrdering::Amd;
    factorize_symbolic_cholesky(matrix.as_ref(), Side::Lower, order, by_columns).ok()
}

/// Gives the blocks' values their places, and tells each which blocks before it reach it.
fn placed(mut blocks: Vec<Block>, size: usize) -> Vec<Block> {
    let mut of_place = vec![0; size];
    let mut end = 0;
    for (number, block) in blocks.iter_mut().enumerate() {
        of_place[block.columns.clone()].fill(number);
        let start = end;
        end += block.height() * block.width();
        block.values = start..end;
    }
    for number in 0..blocks.len() {
        let mut from = blocks[number].width();
        let height = blocks[number].height();
        while from < height {
            let reached = of_place[blocks[number].rows[from]];
            let rows = &blocks[number].rows[from..];
            let to = from
                + rows
                    .iter()
                    .take_while(|&&row| of_place[row] == reached)
                    .count();
            blocks[reached].from.push((number, from..to));
            from = to;
        }
    }
    blocks
}
