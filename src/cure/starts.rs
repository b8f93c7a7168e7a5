//! A coat begun at every hour of a long record: how long each takes.

use super::air::Air;
use super::compare::warnings;
use super::hours::{self, mean_air};
use super::law::{Hindrance, Law, LawError};
use super::series::{Promise, time_through};
use super::situation::{Situation, Spell};
use super::warning::Warning;
use crate::quantity::Time;
use crate::stage::Stage;

/// Time until a promised stage is reached for a coat laid at the beginning of each
/// spell, or `None` where the record ends first.
///
/// One pass over the record: each spell's air is worked out once, and every coat
/// that lies wet in it is taken on together. A coat laid sooner is never behind one
/// laid later, since both go through the same air from there on, so the coats stand
/// in the order in which they were laid and only the first can be done. The work
/// grows with the length of the record and the coats that lie wet at once.
///
/// In a box that keeps its own vapour a coat laid later in drier air may get ahead:
/// there each start is run for itself, which takes far longer.
///
/// Agrees with [`time_through`] from each start to
/// about 1e-6.
///
/// # Errors
/// As [`time_through`].
pub fn from_every_start(
    law: &dyn Law,
    promise: &Promise,
    here: &Situation,
    spells: &[Spell],
) -> Result<Vec<Option<Time>>, LawError> {
    if law.in_box(here)?.is_some() {
        return (0..spells.len())
            .map(|first| time_through(law, promise, here, spells[first..].iter().copied()))
            .collect();
    }
    let unit = promise.unit(law)?;
    let (start, goal) = (law.start(here), law.goal(promise.stage, here));
    let mut taken = vec![None; spells.len()];
    // those that are done stay in front, up to `done`; all times in seconds of the record
    let (mut coats, mut laid) = (Vec::new(), Vec::new());
    let (mut done, mut now) = (0, 0.0);
    for spell in spells {
        let process = law.process(&here.in_air(spell.air))?;
        coats.push(start);
        laid.push(now);
        let lasts = spell.lasts.s();
        while done < coats.len() {
            let Some(left) = process.seconds(coats[done], goal) else {
                break;
            };
            let left = left * unit;
            if left > lasts {
                break;
            }
            taken[done] = Some(Time::from_s(now + left - laid[done]));
            done += 1;
        }
        process.after_each(&mut coats[done..], lasts / unit);
        now += lasts;
    }
    Ok(taken)
}

/// How a coat fares that is laid at the beginning of a spell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fit {
    /// It is there in time, and nothing settles on it while it is wet.
    Fit,
    /// It is not there in time.
    Slow,
    /// It is there in time, but while it is wet some hour brings dew or a high risk of
    /// blush, or is too cold for it to form.
    Spoilt,
    /// The record ends before it can be told.
    Untold,
}

/// Which starts are fit to coat at: those from which the promised stage is reached
/// `within` so long, with no hour of dew, high risk of blush or too cold a film until
/// the `surface` is tack-free. One pass, as [`from_every_start`].
///
/// # Errors
/// As [`from_every_start`].
pub fn fitness(
    law: &dyn Law,
    promise: &Promise,
    surface: &Promise,
    within: Time,
    (here, spells): (&Situation, &[Spell]),
) -> Result<Vec<Fit>, LawError> {
    let whole = from_every_start(law, promise, here, spells)?;
    let surface = from_every_start(law, surface, here, spells)?;
    let course = Course::of(spells, |air| spoils(law, &here.in_air(air)));
    let fit = |start: usize| {
        let left = course.left(start);
        match whole[start] {
            Some(takes) if takes > within => Fit::Slow,
            None if left > within => Fit::Slow,
            None => Fit::Untold,
            Some(takes) => {
                if course.meets(start, surface[start].unwrap_or(takes)) {
                    Fit::Spoilt
                } else {
                    Fit::Fit
                }
            }
        }
    };
    Ok((0..spells.len()).map(fit).collect())
}

/// A record as it runs, with the spells that are bad for something.
struct Course {
    /// Seconds of the record at which each spell begins, and its end.
    begins: Vec<f64>,
    /// Bad spells before each.
    bad: Vec<usize>,
}

impl Course {
    fn of(spells: &[Spell], is_bad: impl Fn(Air) -> bool) -> Self {
        let (mut begins, mut bad) = (vec![0.0], vec![0]);
        let (mut passed, mut met) = (0.0, 0);
        for spell in spells {
            passed += spell.lasts.s();
            met += usize::from(is_bad(spell.air));
            begins.push(passed);
            bad.push(met);
        }
        Self { begins, bad }
    }

    /// What is left of it from the beginning of a spell on.
    fn left(&self, start: usize) -> Time {
        Time::from_s(self.begins[self.begins.len() - 1] - self.begins[start])
    }

    /// Whether a bad spell comes within so long from the beginning of one.
    fn meets(&self, start: usize, within: Time) -> bool {
        let end = self.begins[start] + within.s();
        let last = self.begins.partition_point(|&begin| begin < end);
        self.bad[last.min(self.bad.len() - 1)] > self.bad[start]
    }
}

/// What becomes of a coat that is laid at the beginning of a spell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fate {
    /// It is there after this long.
    After(Time),
    /// It is not there, though others were in less than two thirds of what is left of
    /// the record; or the film was too cold to form while it was wet; or the mean of its air is such
    /// that the law promises nothing.
    Never,
    /// The record ends before it can be told.
    Untold,
}

/// What becomes of coats laid at the beginning of these spells, of which the `surface`
/// is open until it is tack-free.
///
/// # Errors
/// As [`from_every_start`].
pub fn fates(
    law: &dyn Law,
    promise: &Promise,
    surface: &Promise,
    (here, spells): (&Situation, &[Spell]),
    starts: &[usize],
) -> Result<Vec<Fate>, LawError> {
    let taken = from_starts(law, promise, (here, spells), starts)?;
    let wet = from_starts(law, surface, (here, spells), starts)?;
    let course = Course::of(spells, |air| {
        let why = law.refusal(Stage::TackFree, &here.in_air(air));
        matches!(why, Some(Hindrance::TooColdToForm { .. }))
    });
    let longest = taken.iter().flatten().map(|time| time.s()).reduce(f64::max);
    let fates = starts.iter().zip(taken.iter().zip(wet));
    Ok(fates
        .map(|(&start, (&taken, wet))| {
            let left = course.left(start);
            match taken {
                _ if course.meets(start, wet.unwrap_or(left)) => Fate::Never,
                Some(time) if is_refused(law, promise.stage, (here, &spells[start..]), time) => {
                    Fate::Never
                }
                Some(time) => Fate::After(time),
                None if longest.is_some_and(|longest| left.s() > 1.5 * longest) => Fate::Never,
                None => Fate::Untold,
            }
        })
        .collect())
}

/// Whether the law promises nothing of a coat in the mean air until it is there: of a film that is too
/// cold to form each hour decides, and not the mean.
fn is_refused(
    law: &dyn Law,
    stage: Stage,
    (here, spells): (&Situation, &[Spell]),
    takes: Time,
) -> bool {
    let mean = mean_air(hours::until(spells, Some(takes)));
    let why = mean.and_then(|mean| law.refusal(stage, &here.in_air(mean)));
    why.is_some_and(|why| !matches!(why, Hindrance::TooColdToForm { .. }))
}

/// As [`from_every_start`], for some starts alone: in a box only those are run.
fn from_starts(
    law: &dyn Law,
    promise: &Promise,
    (here, spells): (&Situation, &[Spell]),
    starts: &[usize],
) -> Result<Vec<Option<Time>>, LawError> {
    if law.in_box(here)?.is_some() {
        return starts
            .iter()
            .map(|&first| time_through(law, promise, here, spells[first..].iter().copied()))
            .collect();
    }
    let all = from_every_start(law, promise, here, spells)?;
    Ok(starts.iter().map(|&start| all[start]).collect())
}

/// Whether air spoils a wet coat.
fn spoils(law: &dyn Law, here: &Situation) -> bool {
    law.refusal(Stage::TackFree, here).is_some()
        || warnings(law, here, None)
            .iter()
            .any(Warning::is_of_wet_coats)
}
