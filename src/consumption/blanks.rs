//! How many blanks to start and to buy so that enough pieces survive.
//!
//! Two rates, never added: blanks that are bad on arrival, and pieces that
//! are lost in the work. Each blank is taken to fare on its own; a dropped
//! tray or a crushed box, which spoils many at once, is outside the figures.

use super::UseError;
use super::binomial::Survivors;
use super::check::{self, MOST_COUNTED, MOST_WANTED, number};
use crate::quantity::Share;

/// Relative slack on `1 - F`, so that rounding does not miss a sureness that
/// falls exactly on a step: 1 of 2 at a half lost is 75 % sure.
const STEP_SLACK: f64 = 1e-9;

/// What is wanted of one kind of blank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BlankNeed {
    /// Pieces wanted good at the end, `[1]`, 1 000 000 at most.
    pub wanted: u64,
    /// Share of started pieces lost in all the work, `[1]`, from 0 up to but not 1; see [`combined_loss`].
    pub lost: Share,
    /// Share of bought blanks bad on arrival, `[1]`, from 0 up to but not 1.
    pub bad: Share,
    /// Sound blanks in stock, already looked over, `[1]`.
    pub have: u64,
    /// Blanks in a pack, `[1]`, at least 1; 1 where they are sold singly.
    pub pack: u64,
    /// Wanted sureness of ending with enough, `[1]`, above 0 and at most 1 - 1e-12.
    pub sure: Share,
}

/// How many blanks to start and to buy.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Blanks {
    /// Pieces to start, `[1]`.
    pub start: u64,
    /// The chance that enough of the started survive, `[1]`.
    pub start_chance: Share,
    /// Blanks to buy after stock, before rounding up to packs, `[1]`.
    pub buy: u64,
    /// Whole packs to buy, `[1]`.
    pub packs: u64,
    /// Blanks in those packs, `[1]`.
    pub bought: u64,
    /// The chance, before anything arrives, of ending with enough, `[1]`, if
    /// sound spares are started when losses run high.
    pub chance: Share,
    /// The counts by the averages alone, and what they are worth.
    pub expected: ExpectedBlanks,
}

/// The counts that would do if every rate came out at its average.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ExpectedBlanks {
    /// Pieces to start, `[1]`.
    pub start: u64,
    /// Blanks to buy after stock, before rounding up to packs, `[1]`.
    pub buy: u64,
    /// Whole packs to buy, `[1]`.
    pub packs: u64,
    /// The chance of ending with enough from stock and those packs, `[1]`.
    pub chance: Share,
}

/// The share lost over several steps, each losing its share of what reaches it.
///
/// ```text
/// r = 1 - product over steps of (1 - r_i)
/// ```
///
/// Each `r_i` in `[1]`, from 0 up to but not 1; no step loses nothing.
///
/// # Errors
///
/// [`UseError::OutOfRange`] for a rate outside its range.
///
/// ```
/// use brimful::consumption::combined_loss;
/// use brimful::quantity::Share;
/// let all = combined_loss(&[Share::from_percent(10.0), Share::from_percent(5.0)])?;
/// assert!((all.percent() - 14.5).abs() < 1e-12);
/// # Ok::<(), brimful::consumption::UseError>(())
/// ```
pub fn combined_loss(steps: &[Share]) -> Result<Share, UseError> {
    let mut kept = 1.0;
    for &step in steps {
        // product of (1 - r_i)
        kept *= 1.0 - check::rate("a step's spoilage, as a fraction,", step)?;
    }
    Ok(Share::from_fraction(1.0 - kept))
}

/// The most good pieces to promise of `started`, at sureness `sure`, `[1]`.
///
/// ```text
/// largest g with P(Binomial(started, 1 - r) >= g) >= F
/// ```
///
/// # Errors
///
/// [`UseError::OutOfRange`] for `lost` or `sure` outside the ranges of
/// [`BlankNeed`], [`UseError::TooMany`] above 1 000 000 000 started.
pub fn survivors(started: u64, lost: Share, sure: Share) -> Result<u64, UseError> {
    check::at_most("the started pieces", started, MOST_COUNTED)?;
    let lost = check::rate("the share lost", lost)?;
    let risk = risk(sure)?;
    Ok(Survivors::of(started, 1.0 - lost).sure_of(risk))
}

impl BlankNeed {
    /// Counts the blanks to start and to buy.
    ///
    /// ```text
    /// start  = least N with P(Binomial(N, 1 - r) >= g) >= F
    /// buy    = least n with P(A + B >= g) >= F,
    ///          A ~ Binomial(have, 1 - r), B ~ Binomial(n, (1 - b)(1 - r))
    /// by the averages: start = ceil(g / (1 - r)),
    ///                  buy   = ceil(max(start - have, 0) / (1 - b))
    /// ```
    ///
    /// Why `buy` is counted by both rates at once: to be `F` sure of enough
    /// sound blanks, and then `F` sure of enough survivors, is to be less than
    /// `F` sure of both. `F` is kept here for the one thing that matters,
    /// ending with enough. It rests on every sound blank being there to start,
    /// should more than the foreseen be lost: `start` is what to lay out
    /// first, and what is left over stays in reach until the end.
    ///
    /// # Errors
    ///
    /// [`UseError::OutOfRange`] for a value outside its range,
    /// [`UseError::TooMany`] where more than 1 000 000 000 would be needed.
    ///
    /// ```
    /// use brimful::consumption::BlankNeed;
    /// use brimful::quantity::Share;
    /// let blanks = BlankNeed {
    ///     wanted: 60,
    ///     lost: Share::from_percent(10.0),
    ///     bad: Share::ZERO,
    ///     have: 0,
    ///     pack: 25,
    ///     sure: Share::from_percent(95.0),
    /// }
    /// .count()?;
    /// assert_eq!(blanks.expected.start, 67);
    /// assert!(blanks.start > 67);
    /// # Ok::<(), brimful::consumption::UseError>(())
    /// ```
    pub fn count(&self) -> Result<Blanks, UseError> {
        let rates = Rates::of(self)?;
        let risk = risk(self.sure)?;
        let start = least_started(self.wanted, rates.kept, risk)?;
        let buy = check::least("the blanks to buy", 0, |n| rates.short(n) <= risk)?;
        let packs = buy.div_ceil(self.pack);
        let bought = self.in_packs(packs)?;
        Ok(Blanks {
            start,
            start_chance: Share::from_fraction(
                1.0 - Survivors::of(start, rates.kept).falls_short(self.wanted),
            ),
            buy,
            packs,
            bought,
            chance: Share::from_fraction(1.0 - rates.short(bought)),
            expected: self.expected(&rates)?,
        })
    }

    /// The counts by the averages, and their chance.
    fn expected(&self, rates: &Rates) -> Result<ExpectedBlanks, UseError> {
        // ceil(g / (1 - r))
        let start = check::ceil("the pieces to start", number(self.wanted) / rates.kept)?;
        // ceil((start - have) / (1 - b))
        let missing = number(start.saturating_sub(self.have));
        let buy = check::ceil("the blanks to buy", missing / rates.sound)?;
        let packs = buy.div_ceil(self.pack);
        let bought = self.in_packs(packs)?;
        Ok(ExpectedBlanks {
            start,
            buy,
            packs,
            chance: Share::from_fraction(1.0 - rates.short(bought)),
        })
    }

    /// Blanks in whole packs.
    fn in_packs(&self, packs: u64) -> Result<u64, UseError> {
        check::at_most(
            "the blanks in packs",
            packs.saturating_mul(self.pack),
            MOST_COUNTED,
        )
    }
}

/// The checked rates of a need.
struct Rates {
    wanted: u64,
    /// 1 - r
    kept: f64,
    /// 1 - b
    sound: f64,
    /// Survivors of the stock.
    stock: Survivors,
}

impl Rates {
    fn of(need: &BlankNeed) -> Result<Self, UseError> {
        check::at_most("the wanted pieces", need.wanted, MOST_WANTED)?;
        check::at_most("the blanks in stock", need.have, MOST_COUNTED)?;
        check::at_most("the blanks in a pack", need.pack, MOST_COUNTED)?;
        check::positive("the blanks in a pack", number(need.pack))?;
        let kept = 1.0 - check::rate("the share lost", need.lost)?;
        let sound = 1.0 - check::rate("the share bad on arrival", need.bad)?;
        Ok(Self {
            wanted: need.wanted,
            kept,
            sound,
            stock: Survivors::of(need.have, kept),
        })
    }

    /// The chance of too few from the stock and `fresh` bought blanks.
    fn short(&self, fresh: u64) -> f64 {
        // (1 - b)(1 - r): good on arrival, and survives
        let fresh = Survivors::of(fresh, self.sound * self.kept);
        self.stock.fall_short_together(&fresh, self.wanted)
    }
}

/// The risk that a sureness leaves, `1 - F`.
fn risk(sure: Share) -> Result<f64, UseError> {
    Ok((1.0 - check::sureness(sure)?) * (1.0 + STEP_SLACK))
}

/// The least count to start for `wanted` to survive.
fn least_started(wanted: u64, kept: f64, risk: f64) -> Result<u64, UseError> {
    check::least("the pieces to start", wanted, |n| {
        Survivors::of(n, kept).falls_short(wanted) <= risk
    })
}
