//! Why there is no timetable.

use thiserror::Error;

use super::minute::Minute;

/// Why there is no timetable. Waves and sittings are counted from 0.
///
/// Where each split fails, the reason is that of the one that comes nearest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum NoTimetable {
    /// There are no working hours at all.
    #[error("there are no working hours in the week")]
    NoHours,
    /// No split, a split without waves, or a wave without sittings.
    #[error("there is nothing to time: a run needs a split, a wave in it, and a sitting in that")]
    Nothing,
    /// A sitting names a wait that the task doesn't have.
    #[error(
        "sitting {sitting} of wave {wave} names wait {wait}, and there are {waits}, counted from 0"
    )]
    UnknownWait {
        /// Which wave.
        wave: usize,
        /// Which of its sittings.
        sitting: usize,
        /// The wait that was named.
        wait: usize,
        /// How many there are.
        waits: usize,
    },
    /// A wave counts its trays for another number of kinds than the shop has.
    #[error("wave {wave} counts trays of {told} kinds, and there are {kinds}")]
    TrayKinds {
        /// Which wave.
        wave: usize,
        /// The kinds it counts.
        told: usize,
        /// The kinds that there are.
        kinds: usize,
    },
    /// A sitting is longer than any working window, or than the part of it from which what it
    /// waits for is ever there.
    #[error(
        "step {step} takes {work} min in one sitting, and the longest spell of work for it has {longest} min"
    )]
    TooLong {
        /// Which of the caller's steps.
        step: usize,
        /// Which of the split's waves.
        wave: usize,
        /// How long the sitting takes, `[min]`.
        work: u32,
        /// The longest spell for it, `[min]`.
        longest: u32,
    },
    /// What a sitting waits for is never there, whatever working hour it is begun in.
    #[error("what step {step} waits for is never there from any working hour")]
    NeverThere {
        /// Which of the caller's steps.
        step: usize,
        /// Which of the split's waves.
        wave: usize,
    },
    /// A wave needs more trays of a kind than there are.
    #[error("a wave takes {needed} trays of kind {kind}, and there are {have}")]
    TooFewTrays {
        /// Which of the split's waves.
        wave: usize,
        /// Which kind of tray.
        kind: usize,
        /// How many it takes.
        needed: u32,
        /// How many there are.
        have: u32,
    },
    /// Whenever the sitting might be, its bubbles would have to be looked for in sleep.
    #[error(
        "step {step} must be looked over {look} min after its first and its last pour, and no working hour puts both in waking hours"
    )]
    LooksAsleep {
        /// Which of the caller's steps.
        step: usize,
        /// Which of the split's waves.
        wave: usize,
        /// How long after a pour, `[min]`.
        look: u32,
        /// How long the sitting takes, `[min]`.
        work: u32,
    },
    /// No start is in time.
    #[error("no start is in time{}", match .earliest {
        Some(at) => format!(": begun at once, it is ready {}", at.date_time()),
        None => ", not even two years before".to_owned(),
    })]
    TooLate {
        /// The earliest it can be ready, where a start was given before which nothing can be done.
        earliest: Option<Minute>,
    },
    /// It would not be ready within a hundred years.
    #[error("it would not be ready within a hundred years")]
    TooFar,
}
