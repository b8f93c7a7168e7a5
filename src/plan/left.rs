//! How long a coat is left alone.

use super::Drying;
use super::chain::{After, needs_through};
use crate::drying::TimeBand;
use crate::quantity::Time;
use crate::run::Run;
use crate::stage::Stage;

/// How long each coat of a step is left alone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeftAlone {
    /// Until it may be picked up.
    pub hands_off: TimeBand,
    /// Until the next coat, where one follows.
    pub next_coat: Further,
    /// The latest that it takes the next coat by its label, where one follows and that comes later than
    /// what is waited for first. `None`: there is no such time.
    pub next_until: Option<Time>,
    /// Until it is dry through and may lie against others, where work or being ready waits for that.
    pub through: Further,
    /// Which of those two that is: the later of what the label tells.
    pub through_is: Stage,
}

/// What may be waited for beyond being dry to handle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Further {
    /// Nothing: there at the same time, not asked for, or the label does not tell.
    No,
    /// So long.
    After(TimeBand),
    /// It never gets there in this room.
    Never,
}

impl LeftAlone {
    /// Of a step that lays so many coats on a face. `None`: nothing dries, it is never dry to handle, or
    /// nobody can tell when.
    pub(super) fn of(run: &Run, step: usize, drying: &Drying, coats: u32) -> Option<Self> {
        let timed = drying.timed()?;
        // bubbles are looked for while the lamp is still off
        let before = timed.before_the_lamp();
        let at = |stage: Stage| {
            let told = timed.stages.iter().find(|times| times.stage == stage)?;
            Some(told.here.map(|band| band.after(before)))
        };
        let hands_off = at(timed.handled()?.stage)??;
        let follows = Follows::of(run, step);
        let latest = at(Stage::RecoatUntil).flatten();
        let next_coat = match at(Stage::Recoat) {
            // where the piece stays as it lies the label's time alone counts, be it sooner; but with
            // no time left for a coat it gets hard first
            Some(Some(band))
                if (coats > 1 || follows.as_it_lies)
                    && band != hands_off
                    && latest.is_none_or(|latest| latest.likely >= band.likely) =>
            {
                Further::After(band)
            }
            Some(band) if coats > 1 || follows.coat => later(band, hands_off),
            _ => Further::No,
        };
        let waited = match next_coat {
            Further::After(band) => band,
            Further::No | Further::Never => hands_off,
        };
        let next_until = match latest {
            Some(until) if coats > 1 || follows.coat => Some(until.likely),
            _ => None,
        };
        let mut through_is = Stage::Through;
        let through = match [Stage::Through, Stage::Bag].map(at) {
            [None, None] => Further::No,
            _ if !follows.through => Further::No,
            [Some(through), None] => later(through, hands_off),
            [None, Some(bag)] => {
                through_is = Stage::Bag;
                later(bag, hands_off)
            }
            [Some(Some(through)), Some(Some(bag))] => {
                if bag.likely > through.likely {
                    through_is = Stage::Bag;
                }
                later(Some(longer(through, bag)), hands_off)
            }
            [Some(through), Some(_)] => {
                if through.is_some() {
                    through_is = Stage::Bag;
                }
                Further::Never
            }
        };
        Some(Self {
            hands_off,
            next_coat,
            next_until: next_until.filter(|until| *until > waited.likely),
            through,
            through_is,
        })
    }
}

/// A stage that is waited for where it comes later than being dry to handle.
fn later(stage: Option<TimeBand>, hands_off: TimeBand) -> Further {
    match stage {
        None => Further::Never,
        Some(band) if band.likely > hands_off.likely => Further::After(band),
        Some(_) => Further::No,
    }
}

fn longer(a: TimeBand, b: TimeBand) -> TimeBand {
    if b.likely > a.likely { b } else { a }
}

/// Whether a further coat follows a step for some kind of piece.
pub(super) fn is_coated_further(run: &Run, step: usize) -> bool {
    Follows::of(run, step).coat
}

/// What follows a step for some kind of piece.
#[derive(Clone, Copy, Default)]
struct Follows {
    /// A further coat.
    coat: bool,
    /// One for which the piece is not picked up.
    as_it_lies: bool,
    /// Work that waits until it is dry through, or being ready.
    through: bool,
}

impl Follows {
    fn of(run: &Run, step: usize) -> Self {
        let coated = |&step: &usize| run.steps[step].work.coating().is_some();
        let mut found = Self::default();
        for piece in &run.pieces {
            let chain = piece.steps.as_slice();
            let places = (0..chain.len()).filter(|&place| chain[place] == step);
            for place in places {
                let after = place + 1;
                found.as_it_lies |= After::of(run, chain, place) == After::AsItLies;
                let next_coat = chain[after..].iter().position(coated);
                let before_it = after..next_coat.map_or(chain.len(), |next| after + next);
                found.coat |= next_coat.is_some();
                found.through |= next_coat.is_none()
                    || before_it
                        .into_iter()
                        .any(|at| needs_through(run, chain, at));
            }
        }
        found
    }
}
