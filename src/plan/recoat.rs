//! Coats that come later than the one before still takes one.

use std::collections::BTreeMap;

use super::calendar::{Booked, Dates};
use super::chain::Task;
use super::steps::Timed;
use super::{Notes, Warning};
use crate::quantity::Time;
use crate::stage::Stage;

/// By the step: the latest for the coat after it, and how long after it that comes at the most.
pub(super) type Late = BTreeMap<usize, (Time, Time)>;

/// Warns of steps whose label has a latest time for the next coat, which the work lets go by.
pub(super) fn warn(steps: &[Timed], dates: &Dates, notes: &mut Notes) {
    let late = match dates {
        Dates::Told(calendar) => late(steps, &calendar.sittings),
        Dates::Undated(undated) => undated.late.clone(),
        Dates::Untold { .. } | Dates::Never(_) => return,
    };
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

/// What is late in either of two ways to lay the work out.
pub(super) fn or(mut one: Late, other: Late) -> Late {
    for (step, (until, gap)) in other {
        let (_, most) = one.entry(step).or_insert((until, gap));
        *most = if gap > *most { gap } else { *most };
    }
    one
}

/// The coats that come later than the one before takes one.
pub(super) fn late(steps: &[Timed], sittings: &[Booked]) -> Late {
    let mut before: BTreeMap<usize, &Booked> = BTreeMap::new();
    let mut late = Late::new();
    for sitting in sittings {
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
    late
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
