//! What can still be done where the date can't be met: each way planned again.

use super::calendar::Dates;
use super::planner::{self, Bench};
use super::{CoatingPlan, Notes, PiecePlan, PlanError, coatings, pieces, space, steps, visits};
use crate::quantity::{Share, Temperature, Time};
use crate::run::{ClockSpan, Fill, Run, Work};
use jiff::civil::DateTime;

/// Something that would make more pieces ready in time.
#[derive(Debug, Clone, PartialEq)]
pub struct StillCan {
    /// What is done otherwise.
    pub change: Otherwise,
    /// Good pieces that are then likely ready in time.
    pub pieces: u64,
    /// When all of those are likely ready.
    pub ready: DateTime,
}

/// What a maker might do otherwise.
#[derive(Debug, Clone, PartialEq)]
pub enum Otherwise {
    /// Nothing but fewer pieces.
    Fewer,
    /// A thinner flood coat.
    Thinner {
        /// The step.
        step: String,
        /// Of the brim limit.
        to: Share,
    },
    /// One coat of several.
    OneCoat {
        /// The step.
        step: String,
    },
    /// The flood coat left out: sealed only.
    NoDome {
        /// The step.
        step: String,
    },
    /// A warmer room.
    Warmer {
        /// As warm as this.
        to: Temperature,
    },
    /// A drier room.
    Drier {
        /// By so many points of relative humidity.
        points: f64,
    },
    /// Twice the trays, with places for them.
    MoreTrays,
    /// Longer hours.
    MoreHours {
        /// So much more after each spell of work.
        by: Time,
    },
}

/// The flood coat tried, as a share of the brim limit.
const THINNER: [f64; 2] = [0.4, 0.3];
/// A heated room.
const HEATED: Temperature = Temperature::from_celsius(21.0);
/// A dehumidifier's work, in points.
const DRIER: f64 = 15.0;
/// Longer spells.
const LONGER: Time = Time::from_h(1.0);
/// Steps in the search for how many pieces can be ready: to about a hundredth.
const HALVINGS: u32 = 7;

/// A run planned as far as its dates.
struct Draft {
    pieces: Vec<PiecePlan>,
    space: space::SpacePlan,
    steps: Vec<steps::Timed>,
    coatings: Vec<CoatingPlan>,
}

impl Draft {
    fn of(run: &Run) -> Result<Self, PlanError> {
        let notes = &mut Notes::default();
        let visits = visits::of(run);
        let pieces = pieces::plan(run, &visits, notes)?;
        let space = space::plan(run, &pieces, notes)?;
        let steps = steps::plan(run, &pieces, &space, notes);
        let coatings = coatings::plan(run, &visits, &pieces, notes)?;
        Ok(Self {
            pieces,
            space,
            steps,
            coatings,
        })
    }

    /// When the run is likely ready, begun as soon as can be.
    fn likely_ready(&self, run: &Run) -> Option<DateTime> {
        let bench = Bench {
            run,
            pieces: &self.pieces,
            space: &self.space,
            steps: &self.steps,
            coatings: &self.coatings,
        };
        planner::soonest(&bench)
    }
}

/// What can still be done, the most pieces first. Empty where the run is in time, or
/// names no start.
pub(super) fn plan(run: &Run, dates: &Dates) -> Result<Vec<StillCan>, PlanError> {
    let Some(deadline) = planner::too_late(dates) else {
        return Ok(Vec::new());
    };
    let mut found = Vec::new();
    for (change, run) in ways(run) {
        found.extend(try_out(change, &run, deadline)?);
    }
    // the first of equals is the least trouble
    found.sort_by_key(|can: &StillCan| std::cmp::Reverse(can.pieces));
    let fewer = found
        .iter()
        .find(|can| can.change == Otherwise::Fewer)
        .map_or(0, |can| can.pieces);
    // a change that saves no more than leaving pieces out is no help
    found.retain(|can| can.change == Otherwise::Fewer || can.pieces > fewer);
    Ok(found)
}

/// The most pieces that are ready in time with a change, all kinds cut alike.
fn try_out(
    change: Otherwise,
    run: &Run,
    deadline: DateTime,
) -> Result<Option<StillCan>, PlanError> {
    let draft = Draft::of(run)?;
    let in_time =
        |run: &Run, draft: &Draft| draft.likely_ready(run).filter(|&ready| ready <= deadline);
    let all: u64 = run.pieces.iter().map(|piece| u64::from(piece.count)).sum();
    if let Some(ready) = in_time(run, &draft) {
        return Ok(Some(StillCan {
            change,
            pieces: all,
            ready,
        }));
    }
    let mut best = None;
    let (mut does, mut too_many) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let share = f64::midpoint(does, too_many);
        let (fewer, draft) = cut(run, &draft, share)?;
        match in_time(&fewer, &draft) {
            Some(ready) => {
                does = share;
                best = Some((
                    fewer
                        .pieces
                        .iter()
                        .map(|piece| u64::from(piece.count))
                        .sum(),
                    ready,
                ));
            }
            None => too_many = share,
        }
    }
    Ok(best
        .filter(|(pieces, _)| *pieces > 0)
        .map(|(pieces, ready)| StillCan {
            change,
            pieces,
            ready,
        }))
}

/// The same run with so large a share of its pieces, as much of each kind.
fn cut(run: &Run, draft: &Draft, share: f64) -> Result<(Run, Draft), PlanError> {
    let mut run = run.clone();
    for piece in &mut run.pieces {
        let fewer = (f64::from(piece.count) * share).floor();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a share of a count"
        )]
        let fewer = fewer as u32;
        piece.count = fewer;
    }
    let kept: Vec<bool> = run.pieces.iter().map(|piece| piece.count > 0).collect();
    let mut pieces = Vec::new();
    for (piece, known) in run.pieces.iter().zip(&draft.pieces) {
        pieces.push(pieces::recount(&run, piece, known)?);
    }
    let draft = Draft {
        space: draft.space.only(&kept),
        pieces: pieces
            .into_iter()
            .zip(&kept)
            .filter(|(_, kept)| **kept)
            .map(|(p, _)| p)
            .collect(),
        steps: draft.steps.clone(),
        coatings: draft.coatings.clone(),
    };
    let mut keep = kept.iter();
    run.pieces.retain(|_| *keep.next().unwrap_or(&false));
    Ok((run, draft))
}

/// The changes that are tried, the least trouble first, each with its run.
fn ways(run: &Run) -> Vec<(Otherwise, Run)> {
    let mut ways = vec![(Otherwise::Fewer, run.clone())];
    if let Some(room) = run.room.heated_to(HEATED) {
        ways.push((
            Otherwise::Warmer { to: HEATED },
            Run {
                room,
                ..run.clone()
            },
        ));
    }
    if let Some(room) = run.room.drier_by(DRIER) {
        ways.push((
            Otherwise::Drier { points: DRIER },
            Run {
                room,
                ..run.clone()
            },
        ));
    }
    if !run.trays.is_empty() {
        let mut more = run.clone();
        for tray in &mut more.trays {
            tray.count = tray.count.saturating_mul(2);
            if let Some(lid) = &mut tray.lid {
                lid.count = lid.count.map(|count| count.saturating_mul(2));
            }
        }
        for shelf in &mut more.shelves {
            shelf.count = shelf.count.saturating_mul(2);
        }
        ways.push((Otherwise::MoreTrays, more));
    }
    ways.push((Otherwise::MoreHours { by: LONGER }, longer_hours(run)));
    for (index, step) in run.steps.iter().enumerate() {
        let used = run.pieces.iter().any(|piece| piece.steps.contains(&index));
        if !used {
            continue;
        }
        match step.work {
            Work::Dome(_) => {
                for share in THINNER {
                    let to = Share::from_fraction(share);
                    let mut thinner = run.clone();
                    if let Work::Dome(dome) = &mut thinner.steps[index].work {
                        dome.fill = Fill::ShareOfBrim(to);
                    }
                    let step = step.name.clone();
                    ways.push((Otherwise::Thinner { step, to }, thinner));
                }
                let mut none = run.clone();
                for piece in &mut none.pieces {
                    if piece.steps.len() > 1 {
                        piece.steps.retain(|&of| of != index);
                    }
                }
                let step = step.name.clone();
                ways.push((Otherwise::NoDome { step }, none));
            }
            Work::Brush(brush) if brush.coats > 1 => {
                let mut one = run.clone();
                if let Work::Brush(brush) = &mut one.steps[index].work {
                    brush.coats = 1;
                }
                let step = step.name.clone();
                ways.push((Otherwise::OneCoat { step }, one));
            }
            Work::Brush(_) | Work::Draw { .. } | Work::Bare => {}
        }
    }
    ways
}

/// An hour more after each spell of work, up to the next one or to bedtime.
fn longer_hours(run: &Run) -> Run {
    let mut longer = run.clone();
    let by = u16::try_from(super::waves::minutes(LONGER)).unwrap_or(60);
    for day in &mut longer.hours.days {
        let begins: Vec<u16> = day.iter().skip(1).map(|span| span.from).collect();
        for (place, span) in day.iter_mut().enumerate() {
            let end = begins.get(place).copied().unwrap_or(run.hours.awake.to);
            *span = ClockSpan {
                from: span.from,
                to: (span.to + by).min(end).max(span.to),
            };
        }
    }
    longer
}
