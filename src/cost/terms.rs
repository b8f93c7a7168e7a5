//! What a sale leaves of its price, and the price that leaves enough.

use super::check::{self, CostError, SLACK};
use crate::quantity::{Money, Ratio, Share};

/// What is taken out of a price.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Terms {
    /// k: the card fee as a share of the price paid, `[1]`, from 0 up to but not 1.
    pub card: Share,
    /// s: sales tax inside the price, as a share of the net price, `[1]`, 0 to 1.
    pub tax: Share,
    /// t: fixed fee a sale, 0 or more.
    pub sale_fee: Money,
    /// m: pieces a sale, `[1]`, above 0.
    pub per_sale: Ratio,
}

impl Terms {
    /// Paid in cash, no tax inside the price.
    pub const NONE: Self = Self {
        card: Share::ZERO,
        tax: Share::ZERO,
        sale_fee: Money::ZERO,
        per_sale: Ratio::from_number(1.0),
    };

    /// Kept of one piece's price; below 0 where the fees are more than the price.
    ///
    /// ```text
    /// kept = P / (1 + s) - k P - t / m
    /// ```
    ///
    /// # Errors
    ///
    /// [`CostError::OutOfRange`] for a price or a term outside its range.
    pub fn kept(&self, price: Money) -> Result<Money, CostError> {
        check::money("the price", price)?;
        Ok(price * self.share_kept()? - self.fee_each()?)
    }

    /// The price that leaves `wanted` of each piece, not rounded.
    ///
    /// ```text
    /// P = (wanted + t / m) / (1 / (1 + s) - k)
    /// ```
    ///
    /// # Errors
    ///
    /// [`CostError::NothingKept`] where tax and card fee take all of any
    /// price, [`CostError::OutOfRange`] for a value outside its range.
    pub fn price_for(&self, wanted: Money) -> Result<Money, CostError> {
        check::money("the amount to keep", wanted)?;
        let share = self.share_kept()?;
        if share <= SLACK {
            return Err(CostError::NothingKept {
                tax: self.tax,
                card: self.card,
            });
        }
        Ok((wanted + self.fee_each()?) / share)
    }

    /// t / m: the fixed fee of a sale, a piece.
    ///
    /// # Errors
    ///
    /// [`CostError::OutOfRange`] for a fee below 0, or pieces a sale not above 0.
    pub fn fee_each(&self) -> Result<Money, CostError> {
        check::money("the fee of a sale", self.sale_fee)?;
        let pieces = check::ratio("the pieces a sale", self.per_sale)?;
        Ok(self.sale_fee / pieces)
    }

    /// The net price: what is left of the price when the tax is paid, `P / (1 + s)`.
    ///
    /// # Errors
    ///
    /// [`CostError::OutOfRange`] for a tax outside 0 to 1.
    pub fn net(&self, price: Money) -> Result<Money, CostError> {
        Ok(price / (1.0 + check::share("the sales tax, as a fraction,", self.tax)?))
    }

    /// 1 / (1 + s) - k
    fn share_kept(&self) -> Result<f64, CostError> {
        let card = check::rate("the card fee, as a fraction,", self.card)?;
        let tax = check::share("the sales tax, as a fraction,", self.tax)?;
        Ok(1.0 / (1.0 + tax) - card)
    }
}

/// The least whole number of cents that is not below an exact price: what to
/// write on the tag. Rounding of one part in 1e9 is forgiven, so 4.20 stays 4.20.
#[must_use]
pub fn up_to_cent(price: Money) -> Money {
    let cents = price.amount() * 100.0;
    Money::from_amount((cents - cents.abs() * SLACK).ceil() / 100.0)
}
