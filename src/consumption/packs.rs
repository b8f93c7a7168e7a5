//! What is bought by the pack: findings, bags, sheets, spools.

use jiff::civil::Date;

use super::UseError;
use super::check::{self, MOST_COUNTED, number};
use crate::quantity::{Money, Share};

/// What is wanted of something that comes in packs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PackNeed {
    /// How many the pieces take, spares counted; see [`with_spares`].
    pub needed: u64,
    /// How many are in stock and may be used, `[1]`; see [`keeps`].
    pub have: u64,
    /// How many are in a pack, `[1]`, at least 1; 1 where they are sold singly.
    pub pack: u64,
    /// What a pack costs. `None`: not said.
    pub price: Option<Money>,
}

/// What to buy of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Packs {
    /// How many lack after the stock, `[1]`.
    pub buy: u64,
    /// Whole packs to buy, `[1]`.
    pub packs: u64,
    /// How many are in those packs, `[1]`.
    pub bought: u64,
    /// How many are left over of stock and packs, `[1]`.
    pub left_over: u64,
    /// What the packs cost: what leaves the purse. `None`: no price is given.
    pub price: Option<Money>,
    /// What is used up costs, from stock too, at the pack's price: what the pieces bear. `None`: no price is given.
    pub used_cost: Option<Money>,
}

/// How many to have for some pieces, with spares.
///
/// ```text
/// needed = ceil(pieces x per piece x (1 + spares))
/// ```
///
/// # Errors
///
/// [`UseError::OutOfRange`] for spares below 0 or not finite, [`UseError::TooMany`] above 1 000 000 000.
pub fn with_spares(taken: u64, spares: Share) -> Result<u64, UseError> {
    check::at_most("what the pieces take", taken, MOST_COUNTED)?;
    let spares = check::not_negative("the spares, as a fraction,", spares.fraction())?;
    check::ceil(
        "what the pieces take with spares",
        number(taken) * (1.0 + spares),
    )
}

/// Whether what is in stock may still be used: its date is after the day of use.
/// What has no date keeps, and so it is taken where no day of use is known.
#[must_use]
pub fn keeps(best_before: Option<Date>, used_on: Option<Date>) -> bool {
    match (best_before, used_on) {
        (Some(best_before), Some(used_on)) => best_before > used_on,
        _ => true,
    }
}

impl PackNeed {
    /// Counts the packs.
    ///
    /// # Errors
    ///
    /// [`UseError::OutOfRange`] for an empty pack or a price below 0,
    /// [`UseError::TooMany`] above 1 000 000 000 in packs.
    ///
    /// ```
    /// use brimful::consumption::packs::PackNeed;
    /// use brimful::quantity::Money;
    /// let need = PackNeed { needed: 16, have: 0, pack: 25, price: Some(Money::from_amount(6.25)) };
    /// let packs = need.count()?;
    /// assert_eq!((packs.packs, packs.left_over), (1, 9));
    /// # Ok::<(), brimful::consumption::UseError>(())
    /// ```
    pub fn count(&self) -> Result<Packs, UseError> {
        check::at_most("what the pieces take", self.needed, MOST_COUNTED)?;
        check::at_most("what is in stock", self.have, MOST_COUNTED)?;
        check::at_most("what is in a pack", self.pack, MOST_COUNTED)?;
        check::positive("what is in a pack", number(self.pack))?;
        if let Some(price) = self.price {
            check::not_negative("the price of a pack", price.amount())?;
        }
        let buy = self.needed.saturating_sub(self.have);
        let packs = buy.div_ceil(self.pack);
        let bought = packs.saturating_mul(self.pack);
        check::at_most("what is in the packs", bought, MOST_COUNTED)?;
        Ok(Packs {
            buy,
            packs,
            bought,
            left_over: self.have + bought - self.needed,
            price: self.price.map(|price| price * number(packs)),
            used_cost: self
                .price
                .map(|price| price * (number(self.needed) / number(self.pack))),
        })
    }
}
