//! Price floors, and the number sold that pays for the fair.

use super::check::{self, CostError, SLACK, number};
use super::terms::{Terms, up_to_cent};
use crate::quantity::Money;

/// A price below which money is lost.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Floor {
    /// Exactly, whatever coins there are.
    pub exact: Money,
    /// Up to the next whole cent, which is the least that will do on a tag.
    pub tag: Money,
}

impl Floor {
    fn of(exact: Money) -> Self {
        Self {
            exact,
            tag: up_to_cent(exact),
        }
    }
}

/// How many must be sold to pay for the fair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BreakEven {
    /// So many.
    Pieces {
        /// How many, `[1]`.
        count: u64,
        /// What each adds: kept less v.
        contribution: Money,
    },
    /// No number of pieces will do it: each sold keeps no more than it costs.
    Never {
        /// What is lost on each, 0 or more: v less kept.
        lost_each: Money,
        /// The least price in whole cents at which each adds something.
        least_price: Money,
    },
}

/// The floor without the fair: what a piece must cost its buyer so that each one sold pays for itself.
///
/// ```text
/// (v + t/m) / (1/(1 + s) - k)
/// ```
///
/// # Errors
///
/// [`CostError`] for values outside their ranges, or terms that leave nothing.
pub fn floor_without_fair(terms: &Terms, v: Money) -> Result<Floor, CostError> {
    check::money("the variable cost", v)?;
    Ok(Floor::of(terms.price_for(v)?))
}

/// The floor with the fair: each of `sold` pieces, at least one, bears its part of `fixed` too.
///
/// ```text
/// (v + F/N + t/m) / (1/(1 + s) - k)
/// ```
///
/// # Errors
///
/// [`CostError`] for values outside their ranges, none sold, or terms that leave nothing.
pub fn floor_with_fair(
    terms: &Terms,
    v: Money,
    fixed: Money,
    sold: u64,
) -> Result<Floor, CostError> {
    check::money("the fixed cost", fixed)?;
    check::counted("the pieces sold", sold)?;
    let sold = check::positive("the pieces sold", number(sold))?;
    floor_without_fair(terms, v + fixed / sold)
}

/// How many to sell at `price` to pay for the fair.
///
/// ```text
/// N = ceil(F / (kept - v))
/// ```
///
/// A quotient that is a whole number but for the rounding of binary fractions
/// (one part in 1e9) is that number.
///
/// # Errors
///
/// [`CostError`] for values outside their ranges, terms that leave nothing of
/// any price, or a count above 1 000 000 000.
///
/// ```
/// use brimful::cost::{BreakEven, Terms, break_even};
/// use brimful::quantity::Money;
/// let money = Money::from_amount;
/// let sold = break_even(&Terms::NONE, money(2.0), money(80.0), money(6.0))?;
/// assert_eq!(sold, BreakEven::Pieces { count: 20, contribution: money(4.0) });
/// # Ok::<(), brimful::cost::CostError>(())
/// ```
pub fn break_even(
    terms: &Terms,
    v: Money,
    fixed: Money,
    price: Money,
) -> Result<BreakEven, CostError> {
    let needed = check::money("the fixed cost", fixed)?;
    let floor = floor_without_fair(terms, v)?;
    let contribution = terms.kept(price)? - v;
    let hair = (price.amount() + v.amount()) * SLACK;
    let even = contribution.amount().abs() <= hair;
    if contribution.amount() > hair {
        return Ok(BreakEven::Pieces {
            count: check::ceil("the pieces to break even", fixed / contribution)?,
            contribution,
        });
    }
    if even && needed <= 0.0 {
        return Ok(BreakEven::Pieces {
            count: 0,
            contribution: Money::ZERO,
        });
    }
    Ok(BreakEven::Never {
        lost_each: if even {
            Money::ZERO
        } else {
            v - terms.kept(price)?
        },
        least_price: least_price(&floor, needed),
    })
}

/// The least price in whole cents at which each piece adds something, or, with no fair to pay, loses nothing.
fn least_price(floor: &Floor, fixed: f64) -> Money {
    let on_the_cent = floor.tag.amount() <= floor.exact.amount() * (1.0 + SLACK);
    if on_the_cent && fixed > 0.0 {
        up_to_cent(floor.tag + Money::from_amount(0.01))
    } else {
        floor.tag
    }
}
