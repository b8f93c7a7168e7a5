//! The reverse: the most good pieces that the stock in hand makes.

use super::UseError;
use super::blanks::survivors;
use super::check::{self, MOST_COUNTED};
use crate::quantity::Share;

/// What the stock in hand makes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FromStock {
    /// The most pieces to start, `[1]`.
    pub started: u64,
    /// How many of those to promise good, `[1]`.
    pub good: u64,
    /// What runs out first, by its place in the list: not enough for one piece more.
    pub runs_out: Vec<usize>,
}

/// The most good pieces that several things in stock make, and which runs out first.
///
/// `enough` holds, for each thing, whether its stock does for so many pieces
/// *started*. Each must be monotone: enough for some is enough for fewer.
///
/// ```text
/// N = largest count for which every thing is enough
/// good = largest g with P(Binomial(N, 1 - lost) >= g) >= sure
/// ```
///
/// A thing that is itself only likely to be enough is judged at its own
/// sureness; the sureness here is of the losses in the work alone.
///
/// # Errors
///
/// [`UseError::TooMany`] where nothing runs out up to 1 000 000 000 pieces;
/// those of [`survivors`].
pub fn most_good(
    enough: &[&dyn Fn(u64) -> bool],
    lost: Share,
    sure: Share,
) -> Result<FromStock, UseError> {
    let all = |count: u64| enough.iter().all(|enough| enough(count));
    let too_many = if all(MOST_COUNTED) {
        return Err(UseError::TooMany {
            what: "the pieces that the stock makes",
            most: MOST_COUNTED,
        });
    } else {
        check::least("the pieces that the stock makes", 0, |count| !all(count))?
    };
    // what does not do for none at all runs out before the first piece
    let started = too_many.saturating_sub(1);
    let runs_out = (enough.iter().enumerate())
        .filter(|(_, enough)| !enough(too_many))
        .map(|(place, _)| place)
        .collect();
    Ok(FromStock {
        started,
        good: survivors(started, lost, sure)?,
        runs_out,
    })
}
