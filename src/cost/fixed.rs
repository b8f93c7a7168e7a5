//! What the fair costs however many are sold.

use super::check::{self, CostError, number};
use crate::quantity::{Money, Time};

/// One fixed cost with its name.
#[derive(Debug, Clone, PartialEq)]
pub struct FixedLine {
    /// What is paid for: stall, travel, power, insurance.
    pub name: String,
    /// Its share of this fair.
    pub amount: Money,
}

impl FixedLine {
    /// Paid for this fair alone; 0 or more.
    ///
    /// # Errors
    ///
    /// [`CostError::OutOfRange`] for an amount below 0.
    pub fn paid(name: impl Into<String>, amount: Money) -> Result<Self, CostError> {
        check::money("a fixed cost", amount)?;
        Ok(Self {
            name: name.into(),
            amount,
        })
    }

    /// A durable kit's share of one fair: its price over the fairs that it lasts, at least one.
    ///
    /// # Errors
    ///
    /// [`CostError`] for a price below 0 or no fairs.
    ///
    /// ```
    /// use brimful::cost::FixedLine;
    /// use brimful::quantity::Money;
    /// let tent = FixedLine::kit("tent", Money::from_amount(120.0), 12)?;
    /// assert_eq!(tent.amount, Money::from_amount(10.0));
    /// # Ok::<(), brimful::cost::CostError>(())
    /// ```
    pub fn kit(name: impl Into<String>, price: Money, fairs: u64) -> Result<Self, CostError> {
        check::counted("the fairs that a kit lasts", fairs)?;
        let fairs = check::positive("the fairs that a kit lasts", number(fairs))?;
        Self::paid(name, price / fairs)
    }

    /// Hours behind the stall, where they are paid.
    ///
    /// # Errors
    ///
    /// [`CostError::OutOfRange`] for hours or a rate below 0.
    pub fn selling(name: impl Into<String>, hours: Time, rate: Money) -> Result<Self, CostError> {
        check::money("the rate of an hour", rate)?;
        let hours = check::hours("the selling hours", hours)?;
        Self::paid(name, rate * hours)
    }
}

/// F: the sum of the lines.
#[must_use]
pub fn fixed_cost(lines: &[FixedLine]) -> Money {
    lines.iter().map(|line| line.amount).sum()
}
