//! A coat begun at every hour of a long record: how long each takes.

use super::law::{Law, LawError};
use super::series::{Promise, time_through};
use super::situation::{Situation, Spell};
use crate::quantity::Time;

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
/// Agrees with [`time_through`](super::series::time_through) from each start to
/// about 1e-6.
///
/// # Errors
/// As [`time_through`](super::series::time_through).
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
