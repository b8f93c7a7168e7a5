//! How long the hands are at a piece: the maker's own figure or a guess, and how far the work is off it.

use super::Notes;
use crate::quantity::Time;
use crate::run::{Run, Step, Work};

/// How much longer than a first guess the work takes in a first run: 2.5 to 4 times
/// (common practice, no source).
const FIRST_RUN: [f64; 3] = [2.5, 3.0, 4.0];
/// How far a maker's hands are off their own figure, either way: typical, from memory.
const OWN_FIGURE: [f64; 3] = [0.8, 1.0, 1.3];

/// How many times the maker's figure the hands take: low, likely and high.
pub(super) fn hands(run: &Run) -> [f64; 3] {
    if run.hours.first_run {
        FIRST_RUN
    } else {
        OWN_FIGURE
    }
}

/// Hands-on time for one coat of one piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HandsOn {
    /// The step's own figure, or a guess where the file has none.
    pub figure: Time,
    /// Whether it is such a guess.
    pub guessed: bool,
    /// How many times the figure the work is planned with: more than 1 in a first run.
    pub times: f64,
}

impl HandsOn {
    /// A step's in a run.
    pub(super) fn of(run: &Run, step: &Step) -> Self {
        let [_, likely, _] = hands(run);
        Self {
            figure: step.hands_on.unwrap_or_else(|| guess(step)),
            guessed: step.hands_on.is_none(),
            times: likely,
        }
    }

    /// As the calendar and the mixes have it.
    #[must_use]
    pub fn planned(self) -> Time {
        self.figure * self.times
    }

    /// Writes down what of it is not the file's own.
    pub(super) fn note(self, step: &str, notes: &mut Notes) {
        if self.guessed {
            notes.assume_once(
                format!("{step}: hands_on"),
                format!("{} s", self.figure.s().round()),
                "a guess: time ten of your own",
            );
        }
    }
}

/// Where the file does not say: a flood coat is slower than a brushed one.
fn guess(step: &Step) -> Time {
    Time::from_s(match step.work {
        Work::Brush(_) => 30.0,
        Work::Dome(_) | Work::Draw { .. } | Work::Bare => 60.0,
    })
}

/// Writes down how far the work is taken to be off all those figures.
pub(super) fn note_pace(run: &Run, notes: &mut Notes) {
    let (times, why) = if run.hours.first_run {
        (
            "3 times as long as the file says",
            "2.5 to 4 times in a first run (common practice, no source); set first_run = false once you have timed your own",
        )
    } else {
        (
            "as long as the file says, 0.8 to 1.3 times that",
            "typical, from memory: how far people are off their own figures",
        )
    };
    notes.assume_once("hands-on times".to_owned(), times.to_owned(), why);
}
