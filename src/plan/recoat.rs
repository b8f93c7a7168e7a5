//! Coats that come later than the one before still takes one.

use std::collections::BTreeMap;

use super::calendar::{Booked, Dates};
use super::chain::Task;
use super::steps::Timed;
use super::{Notes, Warning};
use crate::quantity::Time;
use crate::stage::Stage;

/// Warns of steps whose label has a latest time for the next coat, which the calendar lets go by.
pub(super) fn warn(steps: &[Timed], dates: &Dates, notes: &mut Notes) {
    let Dates::Told(calendar) = dates else {
        return;
    };
    let mut before: BTreeMap<usize, &Booked> = BTreeMap::new();
    let mut late: BTreeMap<usize, (Time, Time)> = BTreeMap::new();
    for sitting in &calendar.sittings {
        let Some(step) = coat(sitting, steps) else {
            continue;
        };
        let last = before.insert(sitting.wave, sitting);
        let Some((last, timed)) = last.and_then(|last| Some((last, coat(last, steps)?))) else {
            continue;
        };
        // every face of a piece has its own coats
        if is_on_another_face(last, sitting, step) {
            continue;
        }
        let Some(until) = latest(timed) else {
            continue;
        };
        let gap = gap(last, sitting);
        if gap > until {
            let (_, most) = late.entry(timed.step).or_insert((until, gap));
            *most = if gap > *most { gap } else { *most };
        }
    }
    for (step, (until, gap)) in late {
        let timed = steps.iter().find(|timed| timed.step == step);
        notes
            .warnings
            .extend(timed.map(|timed| Warning::PastRecoat {
                step: timed.plan.name.clone(),
                until,
                gap,
            }));
    }
}

/// The step that a sitting lays a coat of.
fn coat<'s>(sitting: &Booked, steps: &'s [Timed]) -> Option<&'s Timed> {
    let Task::Step { step, .. } = sitting.task else {
        return None;
    };
    let timed = steps.iter().find(|timed| timed.step == step)?;
    timed.plan.coating.as_ref().map(|_| timed)
}

/// Whether a step's sitting begins a face that the one before did not coat.
fn is_on_another_face(last: &Booked, next: &Booked, timed: &Timed) -> bool {
    let (Task::Step { step: a, .. }, Task::Step { step: b, coat, .. }) = (last.task, next.task)
    else {
        return false;
    };
    a == b && (coat - 1) % timed.plan.coats.max(1) == 0
}

/// The latest that a step's coat takes the next, by its label.
fn latest(timed: &Timed) -> Option<Time> {
    let stages = &timed.plan.drying.timed()?.stages;
    let until = stages
        .iter()
        .find(|told| told.stage == Stage::RecoatUntil)?;
    Some(until.here?.likely)
}

/// From a coat to the next on the same piece: the longer of the first and the last piece's.
fn gap(last: &Booked, next: &Booked) -> Time {
    let seconds = |from, to: jiff::civil::DateTime| to.duration_since(from).as_secs_f64();
    let first = seconds(last.begins, next.begins);
    Time::from_s(first.max(seconds(last.ends, next.ends)))
}
