//! A coat begun at every hour of a long record: how long each takes.

use super::compare::{at_label, warnings};
use super::law::{Law, LawError};
use super::series::{Promise, time_through};
use super::situation::{Situation, Spell};
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
/// the surface is tack-free. One pass, as [`from_every_start`].
///
/// # Errors
/// As [`from_every_start`].
pub fn fitness(
    law: &dyn Law,
    promise: &Promise,
    within: Time,
    here: &Situation,
    spells: &[Spell],
) -> Result<Vec<Fit>, LawError> {
    let whole = from_every_start(law, promise, here, spells)?;
    let surface = Promise {
        stage: Stage::TackFree,
        // a law that tells time is taken at its word while the coat is wet
        takes: if law.tells_time() {
            at_label(law, Stage::TackFree, &promise.at)?
        } else {
            promise.takes
        },
        at: promise.at,
    };
    let surface = from_every_start(law, &surface, here, spells)?;
    // seconds of the record at which each spell begins, and bad spells before it
    let (mut begins, mut bad) = (vec![0.0], vec![0_usize]);
    for spell in spells {
        let spoils = spoils(law, &here.in_air(spell.air));
        begins.push(begins[begins.len() - 1] + spell.lasts.s());
        bad.push(bad[bad.len() - 1] + usize::from(spoils));
    }
    let all = begins[spells.len()];
    let fit = |start: usize| {
        let left = Time::from_s(all - begins[start]);
        match whole[start] {
            Some(takes) if takes > within => Fit::Slow,
            None if left > within => Fit::Slow,
            None => Fit::Untold,
            Some(takes) => {
                let wet = surface[start].unwrap_or(takes);
                let end = begins[start] + wet.s();
                let last = begins
                    .partition_point(|&begin| begin < end)
                    .min(spells.len());
                if bad[last] > bad[start] {
                    Fit::Spoilt
                } else {
                    Fit::Fit
                }
            }
        }
    };
    Ok((0..spells.len()).map(fit).collect())
}

/// Whether air spoils a wet coat.
fn spoils(law: &dyn Law, here: &Situation) -> bool {
    law.refusal(Stage::TackFree, here).is_some()
        || warnings(law, here, None)
            .iter()
            .any(|warning| matches!(warning.code(), "dew-point" | "blush-high"))
}
