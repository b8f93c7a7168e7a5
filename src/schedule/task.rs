//! What is to be timed.

use super::hours::Hours;
use super::minute::Minute;
use super::wait::{Wait, WaitId};

/// A run to be timed, and the ways in which it may be split into waves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Task {
    /// What there is to work with.
    pub shop: Shop,
    /// The waits that the sittings speak of, by [`WaitId`].
    pub waits: Vec<Wait>,
    /// Ways of splitting the run into waves, at least one; the best is taken.
    pub splits: Vec<Split>,
}

impl Task {
    /// The same with no sitting that has to wait for a certain minute ([`Sitting::not_before`]).
    #[must_use]
    pub fn at_hand(&self) -> Self {
        let mut task = self.clone();
        let waves = task.splits.iter_mut().flat_map(|split| &mut split.waves);
        for sitting in waves.flat_map(|wave| &mut wave.sittings) {
            sitting.not_before = None;
        }
        task
    }
}

/// What there is to work with.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shop {
    /// When the one maker works and is awake.
    pub hours: Hours,
    /// How many trays of each kind there are, `[1]`.
    pub trays: Vec<u32>,
}

/// One way of splitting a run.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Split {
    /// Its waves, at least one.
    pub waves: Vec<Wave>,
}

/// Pieces that go through every sitting together.
///
/// A wave takes its trays when a sitting begins that has them lie on trays
/// ([`Sitting::lifted`]), and keeps them until the first minute in working hours
/// at which they may be lifted off; or, if a sitting that takes trays again
/// begins sooner, from there on until that one's pieces are lifted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wave {
    /// Which group of like pieces it belongs to.
    pub group: usize,
    /// Its pieces, `[1]`.
    pub pieces: u32,
    /// How many trays of each of the shop's kinds it takes, `[1]`.
    pub trays: Vec<u32>,
    /// What is done to it, in order, at least one.
    pub sittings: Vec<Sitting>,
}

/// Work on one wave that is not broken off: it lies within one spell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Sitting {
    /// Which step of the caller's it is; carried along.
    pub step: usize,
    /// Hands-on time, one-offs such as mixing and cleaning included, `[min]`.
    pub work: u32,
    /// From its end until the wave's next sitting may begin, or after the last
    /// one until the wave is done; none is straight away.
    pub next: Option<WaitId>,
    /// From its end until its pieces may be lifted off their trays; none if it needs no tray.
    pub lifted: Option<WaitId>,
    /// From its end until its coat is dry through. Later sittings of its wave that ask for it wait
    /// for that, and so does being done; none if nothing has to.
    pub through: Option<WaitId>,
    /// Whether it asks for all coats of its wave before it to be dry through.
    pub after_through: bool,
    /// Whether the wave's next sitting is done as its pieces lie, so that no hand is on them: else it
    /// waits until all coats so far may be lifted, as being done does always.
    pub as_it_lies: bool,
    /// How long after a pour it must be looked over for bubbles, `[min]`. Both the first pour's
    /// look (after the sitting's begin) and the last one's (after its end) must fall in waking hours.
    pub look: Option<u32>,
    /// The first minute in which it may begin, as where its goods come then; none is any.
    pub not_before: Option<Minute>,
    /// The coat that it lays; none if it lays none.
    pub coat: Option<OnFace>,
}

/// A coat on one of a piece's two faces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct OnFace {
    /// Whether it is on the second face.
    pub second: bool,
    /// How long after it at the most the next coat on its face may come, `[min]`, from the first
    /// piece to the first and from the last to the last; none is any time.
    pub closes: Option<u32>,
}
