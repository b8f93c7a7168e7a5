//! Costs by lines, each on two bases: what is used up, and what is paid for.

use std::iter::Sum;
use std::ops::{Add, Div};

use super::check::{self, CostError, number};
use crate::quantity::{Money, Ratio};

/// One cost on both bases, in one currency.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Cost {
    /// The share of every pack that is used up, whenever it was paid for.
    pub used: Money,
    /// The whole packs paid for now; what comes from stock was paid for before.
    pub bought: Money,
}

impl Cost {
    /// Nothing.
    pub const ZERO: Self = Self {
        used: Money::ZERO,
        bought: Money::ZERO,
    };

    /// A cost that is the same on both bases: labour, a print by the piece.
    #[must_use]
    pub const fn plain(amount: Money) -> Self {
        Self {
            used: amount,
            bought: amount,
        }
    }

    /// The cost of something sold by the pack, in all.
    ///
    /// ```text
    /// used = price x used packs      bought = price x bought packs
    /// ```
    ///
    /// `used` in packs, `[1]`, 0 or more: 16 of 25 is 0.64. `bought` in whole packs, `[1]`.
    ///
    /// # Errors
    ///
    /// [`CostError`] for a price or a number of packs below 0.
    ///
    /// ```
    /// use brimful::cost::Cost;
    /// use brimful::quantity::{Money, Ratio};
    /// let magnets = Cost::in_packs(Money::from_amount(5.0), Ratio::from_number(16.0 / 25.0), 1)?;
    /// assert_eq!(magnets.bought, Money::from_amount(5.0));
    /// assert!((magnets.used.amount() - 3.20).abs() < 1e-12);
    /// # Ok::<(), brimful::cost::CostError>(())
    /// ```
    pub fn in_packs(price: Money, used: Ratio, bought: u64) -> Result<Self, CostError> {
        check::money("the price of a pack", price)?;
        let used = check::not_negative("the packs used", used.number())?;
        check::counted("the packs bought", bought)?;
        Ok(Self {
            used: price * used,
            bought: price * number(bought),
        })
    }

    /// This cost, shared over a number of pieces above 0.
    ///
    /// # Errors
    ///
    /// [`CostError`] for no pieces.
    pub fn over(self, pieces: u64) -> Result<Self, CostError> {
        check::counted("the pieces", pieces)?;
        Ok(self / check::positive("the pieces", number(pieces))?)
    }

    /// The figure of one basis.
    #[must_use]
    pub const fn on(self, basis: Basis) -> Money {
        match basis {
            Basis::Used => self.used,
            Basis::Bought => self.bought,
        }
    }
}

/// Which of a cost's two figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Basis {
    /// The share of every pack that is used up.
    Used,
    /// Whole packs paid for.
    Bought,
}

impl Add for Cost {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            used: self.used + other.used,
            bought: self.bought + other.bought,
        }
    }
}

impl Div<f64> for Cost {
    type Output = Self;
    fn div(self, by: f64) -> Self {
        Self {
            used: self.used / by,
            bought: self.bought / by,
        }
    }
}

impl Sum for Cost {
    fn sum<I: Iterator<Item = Self>>(costs: I) -> Self {
        costs.fold(Self::ZERO, Self::add)
    }
}

/// A cost with its name.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What is paid for.
    pub name: String,
    /// What it costs.
    pub cost: Cost,
}

impl Line {
    /// A named cost.
    #[must_use]
    pub fn new(name: impl Into<String>, cost: Cost) -> Self {
        Self {
            name: name.into(),
            cost,
        }
    }
}

/// The sum of lines, each checked to be 0 or more.
pub(super) fn total(what: &'static str, lines: &[Line]) -> Result<Cost, CostError> {
    for line in lines {
        check::money(what, line.cost.used)?;
        check::money(what, line.cost.bought)?;
    }
    Ok(lines.iter().map(|line| line.cost).sum())
}
