//! The binomial distribution, over the counts that can matter.

use super::check::number;

/// Weights below this, against the likeliest count, are left out.
const NEGLIGIBLE: f64 = 1e-40;

/// The chances of each count of survivors, from the least to the most that can matter.
///
/// ```text
/// P(j + 1) / P(j) = (n - j) / (j + 1) * p / (1 - p)
/// ```
///
/// The weights run outward from the likeliest count by that ratio and are
/// then divided by their sum, so no factorial is ever formed. What is left
/// out is below 1e-35 of the whole, far under the `1 - F` of any sureness answered.
pub(super) struct Survivors {
    first: u64,
    chance: Vec<f64>,
}

impl Survivors {
    /// Of `tried` pieces, each surviving with chance `survives`, in `(0, 1]`.
    pub(super) fn of(tried: u64, survives: f64) -> Self {
        if survives >= 1.0 || tried == 0 {
            return Self {
                first: tried,
                chance: vec![1.0],
            };
        }
        // p / (1 - p)
        let odds = survives / (1.0 - survives);
        // floor((n + 1) p): the likeliest count
        let mode = super::check::whole((number(tried + 1) * survives).floor()).min(tried);
        let mut below = Vec::new();
        let mut weight = 1.0;
        for j in (0..mode).rev() {
            weight *= number(j + 1) / (number(tried - j) * odds);
            if weight < NEGLIGIBLE {
                break;
            }
            below.push(weight);
        }
        let first = mode - below.len() as u64;
        let mut chance: Vec<f64> = below.into_iter().rev().collect();
        chance.push(1.0);
        weight = 1.0;
        for j in mode..tried {
            weight *= number(tried - j) / number(j + 1) * odds;
            if weight < NEGLIGIBLE {
                break;
            }
            chance.push(weight);
        }
        let whole: f64 = chance.iter().sum();
        for weight in &mut chance {
            *weight /= whole;
        }
        Self { first, chance }
    }

    /// The chance that fewer than `wanted` survive.
    pub(super) fn falls_short(&self, wanted: u64) -> f64 {
        let terms = wanted.saturating_sub(self.first);
        let terms = usize::try_from(terms).map_or(self.chance.len(), |n| n.min(self.chance.len()));
        self.chance[..terms].iter().sum::<f64>().min(1.0)
    }

    /// The chance that fewer than `wanted` survive of these and `others` together.
    ///
    /// ```text
    /// P(A + B < g) = sum over a of P(A = a) P(B < g - a)
    /// ```
    pub(super) fn fall_short_together(&self, others: &Self, wanted: u64) -> f64 {
        // P(B < first + i), i = 0..=len
        let mut below = vec![0.0];
        let mut sum = 0.0;
        for chance in &others.chance {
            sum += chance;
            below.push(sum);
        }
        let mut short = 0.0;
        for (a, chance) in (self.first..wanted).zip(&self.chance) {
            let i =
                usize::try_from((wanted - a).saturating_sub(others.first)).unwrap_or(usize::MAX);
            short += chance * below[i.min(below.len() - 1)];
        }
        short.min(1.0)
    }

    /// The most survivors that can be counted on while the chance of fewer is no more than `risk`.
    pub(super) fn sure_of(&self, risk: f64) -> u64 {
        let mut sum = 0.0;
        let mut sure = self.first;
        for chance in &self.chance[..self.chance.len() - 1] {
            sum += chance;
            if sum > risk {
                break;
            }
            sure += 1;
        }
        sure
    }
}
