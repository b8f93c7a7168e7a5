//! Cholesky's factor of a positive definite matrix, block by block.

use super::elimination::{Block, Elimination};

/// Columns that are taken off at once.
const COLUMNS: usize = 4;

/// Turns the values of a matrix, laid out as its factor's, into the factor's; `None` where the
/// matrix is not positive definite.
pub(super) fn factorise(order: &Elimination, values: &mut [f64]) -> Option<()> {
    let mut at = vec![0; order.place.len()];
    let mut sums = Vec::new();
    for block in &order.blocks {
        let (before, from_here) = values.split_at_mut(block.values.start);
        let own = &mut from_here[..block.values.len()];
        for (position, &row) in block.rows.iter().enumerate() {
            at[row] = position;
        }
        for (number, reaching) in &block.from {
            let other = &order.blocks[*number];
            let theirs = &before[other.values.clone()];
            for row in reaching.clone() {
                sum_products(theirs, other.height(), row, &mut sums);
                let column = other.rows[row] - block.columns.start;
                let column = &mut own[column * block.height()..][..block.height()];
                for (sum, &row) in sums.iter().zip(&other.rows[row..]) {
                    column[at[row]] -= sum;
                }
            }
        }
        dense(block, own)?;
    }
    Some(())
}

/// For a row of a block and all below it, the sums over the block's columns of its entries times
/// those of the row.
fn sum_products(values: &[f64], height: usize, row: usize, sums: &mut Vec<f64>) {
    let column = |number: usize| &values[number * height + row..(number + 1) * height];
    let width = values.len() / height;
    let done = width % COLUMNS;
    sums.clear();
    match done {
        0 => sums.resize(height - row, 0.0),
        1 => {
            let a = column(0);
            sums.extend(a.iter().map(|x| x * a[0]));
        }
        2 => {
            let (a, b) = (column(0), column(1));
            let pairs = a.iter().zip(b);
            sums.extend(pairs.map(|(x, y)| x * a[0] + y * b[0]));
        }
        _ => {
            let (a, b, c) = (column(0), column(1), column(2));
            let triples = a.iter().zip(b).zip(c);
            sums.extend(triples.map(|((x, y), z)| x * a[0] + y * b[0] + z * c[0]));
        }
    }
    for first in (done..width).step_by(COLUMNS) {
        let [a, b, c, d] = [0, 1, 2, 3].map(|next| column(first + next));
        let entries = a.iter().zip(b).zip(c.iter().zip(d));
        for (sum, ((x, y), (z, w))) in sums.iter_mut().zip(entries) {
            *sum += (x * a[0] + y * b[0]) + (z * c[0] + w * d[0]);
        }
    }
}

/// Factorises a block from which all before it has been taken off.
fn dense(block: &Block, values: &mut [f64]) -> Option<()> {
    let (height, width) = (block.height(), block.width());
    for number in 0..width {
        let (done, left) = values.split_at_mut((number + 1) * height);
        let column = &mut done[number * height..][number..];
        let pivot = column[0].sqrt();
        if !(pivot.is_finite() && pivot > 0.0) {
            return None;
        }
        let share = 1.0 / pivot;
        column[0] = pivot;
        for entry in &mut column[1..] {
            *entry *= share;
        }
        for (ahead, other) in left.chunks_exact_mut(height).enumerate() {
            let column = &column[ahead + 1..];
            let by = column[0];
            for (entry, own) in other[number + ahead + 1..].iter_mut().zip(column) {
                *entry -= own * by;
            }
        }
    }
    Some(())
}

/// Solves for a right-hand side in place, its unknowns in the order of elimination.
pub(super) fn solve(order: &Elimination, factor: &[f64], x: &mut [f64]) {
    let mut below = Vec::new();
    for block in &order.blocks {
        let values = &factor[block.values.clone()];
        let (height, width) = (block.height(), block.width());
        let own = &mut x[block.columns.clone()];
        for (number, column) in values.chunks_exact(height).enumerate() {
            own[number] /= column[number];
            let here = own[number];
            for (value, entry) in own[number + 1..].iter_mut().zip(&column[number + 1..]) {
                *value -= entry * here;
            }
        }
        below.clear();
        below.resize(height - width, 0.0);
        for (column, here) in values.chunks_exact(height).zip(own.iter()) {
            for (sum, entry) in below.iter_mut().zip(&column[width..]) {
                *sum += entry * here;
            }
        }
        for (sum, &row) in below.iter().zip(&block.rows[width..]) {
            x[row] -= sum;
        }
    }
    for block in order.blocks.iter().rev() {
        let values = &factor[block.values.clone()];
        let (height, width) = (block.height(), block.width());
        below.clear();
        below.extend(block.rows[width..].iter().map(|&row| x[row]));
        let own = &mut x[block.columns.clone()];
        for (number, column) in values.chunks_exact(height).enumerate().rev() {
            let (inside, outside) = column[number + 1..].split_at(width - number - 1);
            let sum = dot(inside, &own[number + 1..]) + dot(outside, &below);
            own[number] = (own[number] - sum) / column[number];
        }
    }
}

/// The sum of products, four terms abreast.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let (fours_a, rest_a) = a.as_chunks::<4>();
    let (fours_b, rest_b) = b.as_chunks::<4>();
    let mut sums = [0.0; 4];
    for (a, b) in fours_a.iter().zip(fours_b) {
        for i in 0..4 {
            sums[i] += a[i] * b[i];
        }
    }
    let rest: f64 = rest_a.iter().zip(rest_b).map(|(a, b)| a * b).sum();
    (sums[0] + sums[1]) + (sums[2] + sums[3]) + rest
}
