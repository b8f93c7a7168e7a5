//! Blanks to start and to buy.

use super::{PiecePlan, PlanError};
use crate::consumption::{BlankNeed, UseError};
use crate::quantity::{Money, Share};
use crate::run::{Blank, Run};

/// One kind of blank.
#[derive(Debug, Clone, PartialEq)]
pub struct BlankPlan {
    /// What the maker calls it.
    pub name: String,
    /// Saleable pieces wanted on it.
    pub wanted: u64,
    /// Pieces to start, to be as sure as wanted.
    pub start: u64,
    /// Sound blanks in stock.
    pub have: u32,
    /// Share bad on arrival.
    pub bad: Share,
    /// Blanks to buy, before rounding up to packs.
    pub buy: u64,
    /// Whole packs to buy.
    pub packs: u64,
    /// Blanks in a pack; 1 where they are sold singly.
    pub pack_of: u32,
    /// Blanks in those packs.
    pub bought: u64,
    /// What those packs cost. `None`: no price is given.
    pub price: Option<Money>,
    /// The chance that this is enough.
    pub chance: Share,
    /// The counts by the averages alone.
    pub expected: ByAverages,
}

/// The counts that would do if every rate came out at its average.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ByAverages {
    /// Pieces to start.
    pub start: u64,
    /// Blanks to buy, before rounding up to packs.
    pub buy: u64,
    /// Whole packs to buy.
    pub packs: u64,
}

/// Plans every blank that a piece is made on.
pub(super) fn plan(run: &Run, pieces: &[PiecePlan]) -> Result<Vec<BlankPlan>, PlanError> {
    let mut made: Vec<Vec<&PiecePlan>> = vec![Vec::new(); run.blanks.len()];
    for piece in pieces {
        made[piece.blank].push(piece);
    }
    run.blanks
        .iter()
        .zip(made)
        .filter(|(_, on_it)| !on_it.is_empty())
        .map(|(blank, on_it)| {
            one(run, blank, &on_it).map_err(|why| PlanError::Use {
                what: blank.name.clone(),
                why,
            })
        })
        .collect()
}

/// One kind of piece on a blank is counted with both rates at once. Several
/// kinds share their blanks, so there each kind's own start is counted first,
/// and then the blanks to have as many sound ones.
fn one(run: &Run, blank: &Blank, pieces: &[&PiecePlan]) -> Result<BlankPlan, UseError> {
    let need = |wanted, lost| {
        BlankNeed {
            wanted,
            lost,
            bad: blank.bad,
            have: u64::from(blank.have),
            pack: blank.pack.map_or(1, |pack| u64::from(pack.of)),
            sure: run.header.sure,
        }
        .count()
    };
    let wanted = pieces.iter().map(|piece| u64::from(piece.count)).sum();
    let start = pieces.iter().map(|piece| piece.start).sum();
    let (counted, expected) = if let [only] = pieces {
        let counted = need(wanted, only.lost)?;
        (counted, counted.expected)
    } else {
        let start_expected = pieces.iter().map(|piece| piece.start_expected).sum();
        (
            need(start, Share::ZERO)?,
            need(start_expected, Share::ZERO)?.expected,
        )
    };
    let pack = blank.pack;
    Ok(BlankPlan {
        name: blank.name.clone(),
        wanted,
        start,
        have: blank.have,
        bad: blank.bad,
        buy: counted.buy,
        packs: counted.packs,
        pack_of: pack.map_or(1, |pack| pack.of),
        bought: counted.bought,
        price: pack.and_then(|pack| pack.price).map(|price| {
            #[expect(
                clippy::cast_precision_loss,
                reason = "packs are at most a thousand million"
            )]
            let packs = counted.packs as f64;
            price * packs
        }),
        chance: counted.chance,
        expected: ByAverages {
            start: expected.start,
            buy: expected.buy,
            packs: expected.packs,
        },
    })
}
