//! Coats that come later than the one before still takes one.

use std::collections::{BTreeMap, BTreeSet};

use super::calendar::{Booked, Dates};
use super::chain::Task;
use super::left::is_coated_further;
use super::steps::Timed;
use super::{Notes, Warning};
use crate::consumption::Faces;
use crate::quantity::Time;
use crate::run::Run;
use crate::schedule::OnFace;
use crate::stage::Stage;
use jiff::civil::DateTime;

/// By the step, and by whether what is waited for in between is past it by itself: the latest for the
/// coat after it, and how long after it that comes at the most.
pub(super) type Late = BTreeMap<(usize, bool), (Time, Time)>;

/// Warns of steps whose label has a latest time for the next coat, which the room or the work lets go by.
pub(super) fn warn(run: &Run, steps: &[Timed], dates: &Dates, notes: &mut Notes) {
    let mut shut = BTreeSet::new();
    for timed in steps {
        if let Some((until, from)) = no_window(run, timed) {
            shut.insert(timed.step);
            notes.warnings.push(Warning::NoRecoatWindow {
                step: timed.plan.name.clone(),
                until,
                from,
            });
        }
    }
    let otherwise = match dates {
        Dates::Told(calendar) => calendar.otherwise,
        Dates::Undated(_) | Dates::Untold { .. } | Dates::Never(_) => None,
    };
    let laid = otherwise.map(|otherwise| Warning::LaidForRecoat { otherwise });
    notes.warnings.extend(laid);
    let mut late = match dates {
        Dates::Told(calendar) => late(steps, &calendar.sittings),
        Dates::Undated(undated) => undated.late.clone(),
        Dates::Untold { .. } | Dates::Never(_) => return,
    };
    // what no work could be in time for has been told
    late.retain(|(step, _), _| !shut.contains(step));
    for ((step, by_waits), (until, gap)) in late {
        let timed = steps.iter().find(|timed| timed.step == step);
        notes
            .warnings
            .extend(timed.map(|timed| Warning::PastRecoat {
                step: timed.plan.name.clone(),
                until,
                gap,
                by_waits,
            }));
    }
}

/// What is late in either of two ways to lay the work out.
pub(super) fn or(mut one: Late, other: Late) -> Late {
    for (what, (until, gap)) in other {
        let (_, most) = one.entry(what).or_insert((until, gap));
        *most = if gap > *most { gap } else { *most };
    }
    one
}

/// The coats that come later than the one before on the same face takes one.
pub(super) fn late(steps: &[Timed], sittings: &[Booked]) -> Late {
    let mut waves: BTreeMap<usize, Wave> = BTreeMap::new();
    let mut late = Late::new();
    for sitting in sittings {
        let wave = waves.entry(sitting.wave).or_default();
        if let Some(timed) = coat(sitting, steps) {
            let next = Coat {
                sitting,
                waited: wave.waited,
            };
            let last = wave.lay(timed, next);
            let under = last.and_then(|last| Some((last, coat(last.sitting, steps)?)));
            if let Some((last, timed)) = under
                && let Some(until) = latest(timed)
            {
                let gap = gap(last.sitting, sitting);
                if gap > until {
                    let by_waits = next.waited - last.waited >= until;
                    let what = (timed.step, by_waits);
                    late = or(late, Late::from([(what, (until, gap))]));
                }
            }
        }
        wave.waited = wave.waited + between(sitting.ends, sitting.next_from);
    }
    late
}

/// A wave on its way through its sittings.
#[derive(Default)]
struct Wave<'s> {
    /// The last coat on either face.
    faces: [Option<Coat<'s>>; 2],
    facing: Facing,
    /// All that its sittings so far wait for after them.
    waited: Time,
}

/// A coat as it was laid.
#[derive(Clone, Copy)]
struct Coat<'s> {
    sitting: &'s Booked,
    /// What its wave had waited for until then.
    waited: Time,
}

impl<'s> Wave<'s> {
    /// Lays a coat, and tells the one under it.
    fn lay(&mut self, timed: &Timed, next: Coat<'s>) -> Option<Coat<'s>> {
        if let Task::Step { coat, .. } = next.sitting.task {
            self.facing.lay(timed, coat);
        }
        self.faces[usize::from(self.facing.second)].replace(next)
    }
}

/// Which face of a piece was coated last.
#[derive(Debug, Default, Clone, Copy)]
pub(super) struct Facing {
    second: bool,
}

impl Facing {
    /// Lays one of a step's coats, counted from 1. A step for both faces coats one after the other, each
    /// in the same order; the file does not say which face a step for one is on, and a maker may
    /// well turn up the one that was coated last, so that is taken.
    fn lay(&mut self, timed: &Timed, coat: u32) {
        if timed.plan.faces == Faces::Both {
            self.second = coat > timed.plan.coats;
        }
    }

    /// The same, as the schedule needs it.
    pub(super) fn on_face(&mut self, run: &Run, timed: &Timed, coat: u32) -> OnFace {
        self.lay(timed, coat);
        let closes = latest(timed).filter(|_| no_window(run, timed).is_none());
        OnFace {
            second: self.second,
            closes: closes.map(whole_minutes),
        }
    }
}

/// The minutes that are over, without the one that has begun.
fn whole_minutes(time: Time) -> u32 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "clamped to what fits, and as good as forever where it is more"
    )]
    let minutes = time.min().clamp(0.0, f64::from(u32::MAX / 4)) as u32;
    minutes
}

/// The step that a sitting lays a coat of.
fn coat<'s>(sitting: &Booked, steps: &'s [Timed]) -> Option<&'s Timed> {
    let Task::Step { step, .. } = sitting.task else {
        return None;
    };
    let timed = steps.iter().find(|timed| timed.step == step)?;
    timed.plan.coating.as_ref().map(|_| timed)
}

/// The latest for a coat on a step's by its label, and from when it takes one here, where that is later.
/// `None`: there is time between, no such time, or no further coat.
pub(super) fn no_window(run: &Run, timed: &Timed) -> Option<(Time, Time)> {
    if timed.plan.coats <= 1 && !is_coated_further(run, timed.step) {
        return None;
    }
    let until = latest(timed)?;
    let told = timed.plan.drying.timed()?;
    let mut stages = told.stages.iter();
    let recoat = stages.find(|told| told.stage == Stage::Recoat);
    let from = recoat.or_else(|| told.handled())?.here?.likely;
    (until < from).then_some((until, from))
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
    let first = between(last.begins, next.begins);
    let last = between(last.ends, next.ends);
    if last > first { last } else { first }
}

fn between(from: DateTime, to: DateTime) -> Time {
    Time::from_s(to.duration_since(from).as_secs_f64())
}
