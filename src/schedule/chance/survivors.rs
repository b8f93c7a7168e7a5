//! How many of the started pieces end well.

use super::NoChance;
use super::spread::Loss;

/// The most pieces of a group.
const MOST_STARTED: u32 = 1_000_000;

/// A binomial count, ready for draws.
#[derive(Debug)]
pub(super) struct Survivors {
    /// P(count <= k), up to the first k where it rounds to 1.
    below: Vec<f64>,
    wanted: usize,
}

impl Survivors {
    pub fn of(loss: Loss) -> Result<Self, NoChance> {
        let refuse = |what, expected, value| NoChance::OutOfRange {
            what,
            expected,
            value,
        };
        if loss.started > MOST_STARTED {
            let value = f64::from(loss.started);
            return Err(refuse("the started pieces", "at most 1000000", value));
        }
        if !(0.0..=1.0).contains(&loss.survives) {
            return Err(refuse(
                "the chance of a piece to end well",
                "0 to 1",
                loss.survives,
            ));
        }
        Ok(Self {
            below: cumulative(loss.started, loss.survives),
            wanted: loss.wanted as usize,
        })
    }

    /// Whether enough survive, at a uniform deviate from 0 up to, but not, 1.
    pub fn enough(&self, uniform: f64) -> bool {
        self.below.partition_point(|&below| below <= uniform) >= self.wanted
    }
}

/// P(count <= k) for k from 0 to n - 1, of n tries with chance p.
///
/// ```text
/// P(k) = n! / (k! (n - k)!) p^k (1 - p)^(n - k)
/// ```
fn cumulative(tries: u32, chance: f64) -> Vec<f64> {
    let (n, p) = (f64::from(tries), chance);
    let mut sum = 0.0;
    let terms = (0..tries).map(|k| {
        let k = f64::from(k);
        if p <= 0.0 {
            return f64::from(u8::from(k < 0.5));
        }
        if p >= 1.0 {
            return 0.0;
        }
        let ways = libm::lgamma(n + 1.0) - libm::lgamma(k + 1.0) - libm::lgamma(n - k + 1.0);
        libm::exp(ways + k * libm::log(p) + (n - k) * libm::log1p(-p))
    });
    terms
        .map(|term| {
            sum += term;
            sum
        })
        .collect()
}
