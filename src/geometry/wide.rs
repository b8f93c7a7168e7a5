//! Products of one matrix with many columns, as wide as the machine's vectors are.

use pulp::{Arch, Simd, WithSimd};

/// Rows are made up to a multiple of this: two of the longest vectors there are.
const ROWS: usize = 16;

/// Columns that are summed at once.
const COLUMNS: usize = 4;

/// A matrix that many columns are multiplied by.
#[derive(Debug, Clone)]
pub(super) struct Wide {
    rows: usize,
    inner: usize,
    /// Column after column; zero past the last row.
    entries: Vec<f64>,
}

impl Wide {
    /// From its entries by row and column.
    pub fn from_fn(rows: usize, inner: usize, entry: impl Fn(usize, usize) -> f64) -> Self {
        let height = rows.next_multiple_of(ROWS);
        let mut entries = vec![0.0; height * inner];
        for (k, column) in entries.chunks_exact_mut(height).enumerate() {
            for (row, value) in column.iter_mut().enumerate().take(rows) {
                *value = entry(row, k);
            }
        }
        Self {
            rows,
            inner,
            entries,
        }
    }

    /// Room for so many columns that are to be multiplied.
    pub fn room_for_columns(&self, count: usize) -> Columns {
        Columns::new(self.inner, self.inner, count)
    }

    /// Room for so many products.
    pub fn room_for_products(&self, count: usize) -> Columns {
        Columns::new(self.rows, self.rows.next_multiple_of(ROWS), count)
    }

    /// Multiplies the first `count` of some columns.
    ///
    /// Each entry is summed by itself, from the first term to the last and without
    /// fused steps, so that it is the same on every machine.
    pub fn times(&self, columns: &Columns, count: usize, products: &mut Columns) {
        let count = count.next_multiple_of(COLUMNS);
        Arch::new().dispatch(Product {
            inner: self.inner,
            entries: &self.entries,
            columns: &columns.values[..count * columns.height],
            products: &mut products.values[..count * products.height],
        });
    }
}

/// A product that is to be worked out.
struct Product<'a> {
    inner: usize,
    entries: &'a [f64],
    columns: &'a [f64],
    products: &'a mut [f64],
}

impl WithSimd for Product<'_> {
    type Output = ();

    #[expect(
        clippy::inline_always,
        reason = "only so is it compiled for the vectors of the machine it runs on"
    )]
    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        let (entries, _) = S::as_simd_f64s(self.entries);
        let (products, _) = S::as_mut_simd_f64s(self.products);
        let height = entries.len() / self.inner;
        let add = |sum, entry, by| simd.add_f64s(sum, simd.mul_f64s(entry, by));
        let columns = self.columns.chunks_exact(COLUMNS * self.inner);
        for (columns, products) in columns.zip(products.chunks_exact_mut(COLUMNS * height)) {
            for row in (0..height).step_by(2) {
                let mut sums = [[simd.splat_f64s(0.0); 2]; COLUMNS];
                for (k, entries) in entries.chunks_exact(height).enumerate() {
                    let (upper, lower) = (entries[row], entries[row + 1]);
                    for (c, sums) in sums.iter_mut().enumerate() {
                        let by = simd.splat_f64s(columns[c * self.inner + k]);
                        *sums = [add(sums[0], upper, by), add(sums[1], lower, by)];
                    }
                }
                for (products, sums) in products.chunks_exact_mut(height).zip(sums) {
                    products[row..row + 2].copy_from_slice(&sums);
                }
            }
        }
    }
}

/// Columns of equal height, one after another.
#[derive(Debug, Clone)]
pub(super) struct Columns {
    rows: usize,
    height: usize,
    values: Vec<f64>,
}

impl Columns {
    fn new(rows: usize, height: usize, count: usize) -> Self {
        Self {
            rows,
            height,
            values: vec![0.0; height * count.next_multiple_of(COLUMNS)],
        }
    }

    pub fn of(&self, column: usize) -> &[f64] {
        &self.values[column * self.height..][..self.rows]
    }

    pub fn of_mut(&mut self, column: usize) -> &mut [f64] {
        &mut self.values[column * self.height..][..self.rows]
    }
}

#[cfg(test)]
mod tests {
    use super::Wide;

    /// Against the sum written out; sizes are no multiples of what is summed at once.
    #[test]
    fn products_are_those_of_the_plain_sum() {
        let number =
            |i: usize, k: usize| f64::from(u8::try_from((7 * i + 3 * k) % 11).unwrap()) - 4.5;
        for (rows, inner, count) in [(1, 1, 1), (7, 3, 5), (8, 4, 4), (21, 75, 9)] {
            let wide = Wide::from_fn(rows, inner, number);
            let mut columns = wide.room_for_columns(count);
            let mut products = wide.room_for_products(count);
            for column in 0..count {
                for (k, value) in columns.of_mut(column).iter_mut().enumerate() {
                    *value = number(k + 1, column);
                }
            }
            wide.times(&columns, count, &mut products);
            for column in 0..count {
                assert_eq!(products.of(column).len(), rows);
                for (i, &got) in products.of(column).iter().enumerate() {
                    // Halves of whole numbers: no term and no sum is rounded.
                    let sum = (0..inner)
                        .map(|k| number(i, k) * number(k + 1, column))
                        .sum::<f64>();
                    assert!((got - sum).abs() < 1e-12, "{i} {column}: {got} {sum}");
                }
            }
        }
    }
}
