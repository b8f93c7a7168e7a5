//! Whole bottles to buy after what is in stock, and what the stock can make.

use super::UseError;
use super::amount::{Amount, Demand, Pour, Pours};
use super::check::{self, MOST_COUNTED, number};
use crate::quantity::{Ratio, Share, Volume};

/// How far to either side of the answer the chances are listed, in bottles.
const NEAR: u64 = 2;

/// A coating's bottle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bottle {
    /// What a full one holds, `[m3]`, above 0.
    pub holds: Volume,
    /// Bottles in stock, `[1]`, 0 or more: 2.5 is two full ones and a half.
    pub have: Ratio,
}

/// The chance that stock and some bought bottles suffice.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BottleChance {
    /// Bottles bought, `[1]`.
    pub bottles: u64,
    /// Chance that they and the stock suffice, `[1]`.
    pub chance: Share,
}

/// What to buy of a coating.
#[derive(Debug, Clone, PartialEq)]
pub struct Bottles {
    /// Bottles to buy to be as sure as wanted, `[1]`.
    pub buy: u64,
    /// What those bottles hold when full, `[m3]`.
    pub bought: Volume,
    /// Bottles to buy by the expected amount alone, `[1]`.
    pub expected: u64,
    /// What comes out of the stock, `[m3]`.
    pub stock: Volume,
    /// The chance for each number of bottles from two fewer (0 at the least) to two more, in rising order.
    pub chances: Vec<BottleChance>,
}

impl Bottle {
    /// What comes out of the stock, `[m3]`, each bottle keeping its heel.
    ///
    /// ```text
    /// stock = V (full (1 - h) + max(part - h, 0))
    /// ```
    ///
    /// An opened bottle keeps the whole heel of a full one; one that holds no
    /// more than its heel gives nothing.
    pub(super) fn comes_out_of_stock(&self, heel: f64) -> Result<f64, UseError> {
        let holds = check::some_volume("the volume a bottle holds in m3", self.holds)?;
        let have = check::not_negative("the bottles in stock", self.have.number())?;
        let part = have.fract();
        Ok(holds * (have.trunc() * (1.0 - heel) + (part - heel).max(0.0)))
    }
}

impl Amount {
    /// Whole bottles to buy for this amount, and the chances near that number.
    ///
    /// ```text
    /// out of k bottles and the stock:  v(k) = stock + k V (1 - h)
    /// buy = least k with v(k) >= mix(F)
    /// ```
    ///
    /// # Errors
    ///
    /// [`UseError::OutOfRange`] for a bottle or a sureness outside its range,
    /// [`UseError::TooMany`] above 1 000 000 000 bottles.
    pub fn bottles(&self, bottle: &Bottle, sure: Share) -> Result<Bottles, UseError> {
        let stock = bottle.comes_out_of_stock(self.heel())?;
        // V (1 - h)
        let out = bottle.holds.m3() * (1.0 - self.heel());
        let least = |mix: Volume| check::ceil("the bottles to buy", (mix.m3() - stock) / out);
        let buy = least(self.mix_for(sure)?)?;
        let chances = (buy.saturating_sub(NEAR)..=buy + NEAR)
            .map(|bottles| BottleChance {
                bottles,
                chance: self.chance(Volume::from_m3(stock + number(bottles) * out)),
            })
            .collect();
        Ok(Bottles {
            buy,
            bought: bottle.holds * number(buy),
            expected: least(self.lines().mix_now())?,
            stock: Volume::from_m3(stock),
            chances,
        })
    }
}

impl Demand {
    /// The most pieces of one more use that the stock in hand can coat, `[1]`,
    /// at sureness `sure`, after this demand's own uses and losses.
    ///
    /// ```text
    /// largest N with mix(F) of (own uses and N more) <= stock
    /// ```
    ///
    /// These are pieces started; [`super::survivors`] says how many of them to
    /// promise. 0 where even one is too many. Holds for sureness up to about
    /// 0.999 at any scatter; beyond, at a scatter near 1, the lognormal of a
    /// few pours is too rough to rank N by.
    ///
    /// # Errors
    ///
    /// [`UseError::OutOfRange`] for a value outside its range or a pour of
    /// nothing, [`UseError::TooMany`] above 1 000 000 000 pieces.
    pub fn most_started(&self, pour: &Pour, bottle: &Bottle, sure: Share) -> Result<u64, UseError> {
        check::some_volume("the mean volume of a pour in m3", pour.each)?;
        check::positive("the coats", f64::from(pour.coats))?;
        let mix = |started| {
            let more = Pours {
                started,
                pour: *pour,
            };
            self.amount_with(Some(&more))?.mix_for(sure)
        };
        mix(MOST_COUNTED)?; // every later N has the same checks to pass, so none can fail below
        let heel = check::rate("the heel, as a share of a bottle,", self.losses.heel)?;
        let stock = bottle.comes_out_of_stock(heel)? * (1.0 + 1e-9);
        let too_many = check::least("the pieces the stock can make", 0, |n| {
            mix(n).is_ok_and(|mix| mix.m3() > stock)
        })?;
        Ok(too_many.saturating_sub(1))
    }
}
