//! What may go wrong, and the checks and roundings that the module shares.

use crate::quantity::{Area, Length, Share, Volume};

/// Most pieces that may be wanted, `[1]`.
pub const MOST_WANTED: u64 = 1_000_000;

/// Most pieces or bottles that an answer may hold, `[1]`.
///
/// A choice of ours: beyond it a rate is so near to 1 that no plan helps.
pub const MOST_COUNTED: u64 = 1_000_000_000;

/// The largest sureness that is answered, as a fraction, `[1]`.
///
/// Beyond it one rounding of `1 - F` would decide the answer.
pub const SUREST: f64 = 1.0 - 1e-12;

/// Why an amount or a count cannot be given.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum UseError {
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
    /// The answer would be beyond any run.
    #[error("{what} would be more than {most}")]
    TooMany {
        /// What was being counted.
        what: &'static str,
        /// The most that is answered.
        most: u64,
    },
}

/// Refuses a value that fails its test.
fn demand(
    what: &'static str,
    value: f64,
    allowed: &'static str,
    good: bool,
) -> Result<f64, UseError> {
    if good {
        Ok(value)
    } else {
        Err(UseError::OutOfRange {
            what,
            value,
            allowed,
        })
    }
}

/// A share that may be 0 but never 1, as a fraction.
pub(super) fn rate(what: &'static str, value: Share) -> Result<f64, UseError> {
    let value = value.fraction();
    demand(
        what,
        value,
        "0 or more and less than 1",
        (0.0..1.0).contains(&value),
    )
}

/// A relative standard deviation from 0 to 1, as a fraction.
pub(super) fn relative_spread(what: &'static str, value: Share) -> Result<f64, UseError> {
    let value = value.fraction();
    demand(what, value, "from 0 to 1", (0.0..=1.0).contains(&value))
}

/// A wanted sureness, as a fraction.
pub(super) fn sureness(value: Share) -> Result<f64, UseError> {
    let value = value.fraction();
    let good = value > 0.0 && value <= SUREST;
    demand("the sureness", value, "above 0 and at most 1 - 1e-12", good)
}

/// A volume of 0 or more, `[m3]`.
pub(super) fn volume(what: &'static str, value: Volume) -> Result<f64, UseError> {
    not_negative(what, value.m3())
}

/// A volume above 0, `[m3]`.
pub(super) fn some_volume(what: &'static str, value: Volume) -> Result<f64, UseError> {
    positive(what, value.m3())
}

/// An area of 0 or more, `[m2]`.
pub(super) fn area(what: &'static str, value: Area) -> Result<f64, UseError> {
    not_negative(what, value.m2())
}

/// A length of 0 or more, `[m]`.
pub(super) fn length(what: &'static str, value: Length) -> Result<f64, UseError> {
    not_negative(what, value.m())
}

/// A finite number of 0 or more.
pub(super) fn not_negative(what: &'static str, value: f64) -> Result<f64, UseError> {
    demand(
        what,
        value,
        "0 or more, and finite",
        value >= 0.0 && value.is_finite(),
    )
}

/// A finite number above 0.
pub(super) fn positive(what: &'static str, value: f64) -> Result<f64, UseError> {
    demand(
        what,
        value,
        "above 0, and finite",
        value > 0.0 && value.is_finite(),
    )
}

/// A count no greater than `most`.
pub(super) fn at_most(what: &'static str, count: u64, most: u64) -> Result<u64, UseError> {
    if count <= most {
        Ok(count)
    } else {
        Err(UseError::TooMany { what, most })
    }
}

/// A count as a number.
#[expect(
    clippy::cast_precision_loss,
    reason = "every count here is checked to be far below 2^53"
)]
pub(super) const fn number(count: u64) -> f64 {
    count as f64
}

/// The least whole number not below `value`, forgiving rounding of one part in 1e9:
/// 70.00000000000001 is 70, so that a pack is not bought for a rounding.
///
/// # Errors
///
/// [`UseError::TooMany`] above [`MOST_COUNTED`].
pub(super) fn ceil(what: &'static str, value: f64) -> Result<u64, UseError> {
    let up = (value * (1.0 - 1e-9)).ceil().max(0.0);
    if up > number(MOST_COUNTED) || up.is_nan() {
        return Err(UseError::TooMany {
            what,
            most: MOST_COUNTED,
        });
    }
    Ok(whole(up))
}

/// A whole number, 0 or more and far below 2^53, as a count.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "callers pass whole numbers from 0 to a few thousand million"
)]
pub(super) const fn whole(value: f64) -> u64 {
    value as u64
}

/// The least count in `from..=MOST_COUNTED` that is enough, where every greater count is enough too.
///
/// Doubles the step until a count is enough, then halves the gap.
pub(super) fn least(
    what: &'static str,
    from: u64,
    enough: impl Fn(u64) -> bool,
) -> Result<u64, UseError> {
    if enough(from) {
        return Ok(from);
    }
    let (mut short, mut step) = (from, 1);
    let mut good = loop {
        if short >= MOST_COUNTED {
            return Err(UseError::TooMany {
                what,
                most: MOST_COUNTED,
            });
        }
        let next = (short + step).min(MOST_COUNTED);
        if enough(next) {
            break next;
        }
        (short, step) = (next, step * 2);
    };
    while good - short > 1 {
        let middle = short + (good - short) / 2;
        if enough(middle) {
            good = middle;
        } else {
            short = middle;
        }
    }
    Ok(good)
}
