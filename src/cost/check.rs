//! What may go wrong, and the checks and roundings that the module shares.

use crate::quantity::{Money, Ratio, Share, Time};

/// Most pieces that an answer may hold, `[1]`: a choice of ours.
pub const MOST_COUNTED: u64 = 1_000_000_000;

/// Relative slack on sums of money, so that the rounding of binary fractions
/// neither adds a piece nor a cent: 80 / 4 is 20 pieces.
pub(super) const SLACK: f64 = 1e-9;

/// Why a cost or a price cannot be given.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum CostError {
    /// A value lies outside what the formula is good for.
    #[error("{what} must be {allowed}, not {value}")]
    OutOfRange {
        /// Which value, with its unit.
        what: &'static str,
        /// What was given, in that unit.
        value: f64,
        /// What would be accepted.
        allowed: &'static str,
    },
    /// Tax and card fee together take the whole price.
    #[error(
        "sales tax of {} % inside the price and a card fee of {} % leave nothing of any price",
        tax.percent(), card.percent()
    )]
    NothingKept {
        /// The tax on top of the net price.
        tax: Share,
        /// The fee, as a share of the price paid.
        card: Share,
    },
    /// The answer would be beyond any run.
    #[error("{what} would be more than {most}")]
    TooMany {
        /// What was being counted.
        what: &'static str,
        /// The most that is answered.
        most: u64,
    },
}

fn demand(
    what: &'static str,
    value: f64,
    allowed: &'static str,
    good: bool,
) -> Result<f64, CostError> {
    if good {
        Ok(value)
    } else {
        Err(CostError::OutOfRange {
            what,
            value,
            allowed,
        })
    }
}

/// A finite number of 0 or more.
pub(super) fn not_negative(what: &'static str, value: f64) -> Result<f64, CostError> {
    let good = value >= 0.0 && value.is_finite();
    demand(what, value, "0 or more, and finite", good)
}

/// A finite number above 0.
pub(super) fn positive(what: &'static str, value: f64) -> Result<f64, CostError> {
    let good = value > 0.0 && value.is_finite();
    demand(what, value, "above 0, and finite", good)
}

/// Money of 0 or more.
pub(super) fn money(what: &'static str, value: Money) -> Result<f64, CostError> {
    not_negative(what, value.amount())
}

/// A time of 0 or more, `[h]`.
pub(super) fn hours(what: &'static str, value: Time) -> Result<f64, CostError> {
    not_negative(what, value.h())
}

/// A share that may be 0 but never 1, as a fraction.
pub(super) fn rate(what: &'static str, value: Share) -> Result<f64, CostError> {
    let value = value.fraction();
    let good = (0.0..1.0).contains(&value);
    demand(what, value, "0 or more and less than 1", good)
}

/// A share from 0 to 1, as a fraction.
pub(super) fn share(what: &'static str, value: Share) -> Result<f64, CostError> {
    let value = value.fraction();
    demand(what, value, "from 0 to 1", (0.0..=1.0).contains(&value))
}

/// A ratio above 0.
pub(super) fn ratio(what: &'static str, value: Ratio) -> Result<f64, CostError> {
    positive(what, value.number())
}

/// A count no greater than [`MOST_COUNTED`].
pub(super) fn counted(what: &'static str, count: u64) -> Result<f64, CostError> {
    if count > MOST_COUNTED {
        return Err(CostError::TooMany {
            what,
            most: MOST_COUNTED,
        });
    }
    Ok(number(count))
}

/// A count as a number.
#[expect(
    clippy::cast_precision_loss,
    reason = "every count here is checked to be far below 2^53"
)]
pub(super) const fn number(count: u64) -> f64 {
    count as f64
}

/// The least whole number not below `value`, forgiving rounding of one part in 1e9.
pub(super) fn ceil(what: &'static str, value: f64) -> Result<u64, CostError> {
    whole(what, (value * (1.0 - SLACK)).ceil())
}

/// The greatest whole number not above `value`, forgiving rounding of one part in 1e9.
pub(super) fn floor(what: &'static str, value: f64) -> Result<u64, CostError> {
    whole(what, (value * (1.0 + SLACK)).floor())
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the value is whole and checked to be from 0 to MOST_COUNTED"
)]
fn whole(what: &'static str, value: f64) -> Result<u64, CostError> {
    if (0.0..=number(MOST_COUNTED)).contains(&value) {
        Ok(value as u64)
    } else {
        Err(CostError::TooMany {
            what,
            most: MOST_COUNTED,
        })
    }
}
