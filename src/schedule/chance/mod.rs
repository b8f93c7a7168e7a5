//! The chance of being ready in time, and of ending with enough pieces.
//!
//! Runs are drawn at random: each keeps the timetable's order of sittings and
//! goes as its draws have it. A sitting begins where as long a one as planned
//! would fit; what then takes longer than its spell is gone on with in the next.
//! Each run has a stream of random numbers of its own, and exponentials and
//! logarithms are computed the same everywhere, so the answer depends on the
//! seed only, not on the machine or on how many threads share the work.

mod draw;
mod spread;
mod survivors;

use rayon::prelude::*;
use thiserror::Error;

use super::minute::Minute;
use super::prepared::Prepared;
use super::refusal::NoTimetable;
use super::task::Task;
use super::timetable::Timetable;
use draw::{Model, Outcome};
pub use spread::{Loss, Spread, Spreads, WaitSpread};

/// The most random runs that are drawn.
pub const MOST_SAMPLES: u32 = 10_000_000;

/// How many runs to draw, and from where.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Draws {
    /// Where the random numbers begin.
    pub seed: u64,
    /// How many runs, 1 to [`MOST_SAMPLES`].
    pub samples: u32,
    /// How many threads share the work; 0 for as many as the machine has. The answer does not depend on it.
    pub threads: usize,
}

/// A chance as counted in random runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Odds {
    /// The share of runs, `[1]`.
    pub share: f64,
    /// Its standard error from the number of runs alone, `[1]`.
    ///
    /// ```text
    /// sqrt(q (1 - q) / n),  q = (k + 1/2) / (n + 1)
    /// ```
    ///
    /// with a half added, so that none or all of few runs are not told as sure.
    pub error: f64,
}

/// What became of the random runs.
#[derive(Debug, Clone, PartialEq)]
pub struct Chance {
    /// Ready by the deadline.
    pub ready: Odds,
    /// Enough good pieces of every group.
    pub enough: Odds,
    /// Ready and enough.
    pub both: Odds,
    /// When 5, 50 and 95 of 100 runs are ready; none for more than a hundred years.
    pub finish: [Option<Minute>; 3],
    /// Runs drawn.
    pub samples: u32,
    /// Where the random numbers began.
    pub seed: u64,
}

/// Why no chance can be told.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum NoChance {
    /// The task itself can't be timed.
    #[error(transparent)]
    Task(#[from] NoTimetable),
    /// The timetable is another task's.
    #[error("the timetable is not one of this task: {0}")]
    OtherTask(&'static str),
    /// A number outside of its range.
    #[error("{what} must be {expected}, not {value}")]
    OutOfRange {
        /// What it is.
        what: &'static str,
        /// The range.
        expected: &'static str,
        /// What was given.
        value: f64,
    },
}

/// The chance that a timetable's run is ready by a deadline, and ends with enough pieces.
///
/// # Errors
///
/// [`NoChance`] for a number out of range or a timetable of another task.
pub fn chance(
    task: &Task,
    timetable: &Timetable,
    spreads: &Spreads,
    deadline: Minute,
    draws: Draws,
) -> Result<Chance, NoChance> {
    if draws.samples == 0 || draws.samples > MOST_SAMPLES {
        return Err(NoChance::OutOfRange {
            what: "the number of random runs",
            expected: "1 to 10000000",
            value: f64::from(draws.samples),
        });
    }
    let prepared = Prepared::of(task)?;
    let model = Model::of(&prepared, timetable, spreads, draws.seed)?;
    let mut outcomes = shared_out(&model, draws);
    let count = |is: &dyn Fn(&Outcome) -> bool| {
        let count = outcomes.iter().map(|outcome| u32::from(is(outcome))).sum();
        odds(count, draws.samples)
    };
    let ready = |outcome: &Outcome| outcome.finish.is_some_and(|at| at <= deadline.number());
    let (ready, enough, both) = (
        count(&ready),
        count(&|outcome| outcome.enough),
        count(&|outcome| outcome.enough && ready(outcome)),
    );
    // A run that never ends comes last.
    outcomes.sort_unstable_by_key(|outcome| outcome.finish.unwrap_or(i64::MAX));
    let finish = [5, 50, 95].map(|percent| {
        let place = (outcomes.len() * percent).div_ceil(100).max(1) - 1;
        outcomes[place].finish.map(Minute::reckoned)
    });
    Ok(Chance {
        ready,
        enough,
        both,
        finish,
        samples: draws.samples,
        seed: draws.seed,
    })
}

/// Draws the runs on several threads, in order.
fn shared_out(model: &Model, draws: Draws) -> Vec<Outcome> {
    let parts = match draws.threads {
        0 => rayon::current_num_threads(),
        threads => threads,
    };
    let parts = u32::try_from(parts).unwrap_or(u32::MAX).min(draws.samples);
    let share = draws.samples.div_ceil(parts);
    let parts = (0..parts).into_par_iter().map(|part| {
        let from = part.saturating_mul(share).min(draws.samples);
        model.draw(from..from.saturating_add(share).min(draws.samples))
    });
    parts.flatten_iter().collect()
}

fn odds(count: u32, samples: u32) -> Odds {
    let (count, samples) = (f64::from(count), f64::from(samples));
    let near = (count + 0.5) / (samples + 1.0);
    Odds {
        share: count / samples,
        error: (near * (1.0 - near) / samples).sqrt(),
    }
}
