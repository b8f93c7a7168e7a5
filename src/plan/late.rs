//! What can still be done where the date can't be met: each way planned again.

use super::abreast::on_all_cores;
use super::calendar::Dates;
use super::lasts::Lasts;
use super::planner::{self, Bench};
use super::uses::Sat;
use super::watch::Watch;
use super::{CoatingPlan, Notes, PiecePlan, PlanError, coatings, pieces, space, steps, visits};
use crate::quantity::{Share, Temperature, Time};
use crate::run::{ClockSpan, Fill, Run, Work};
use jiff::civil::DateTime;

/// Something that would make more pieces ready in time.
#[derive(Debug, Clone, PartialEq)]
pub struct StillCan {
    /// What is done otherwise, all of it.
    pub changes: Vec<Otherwise>,
    /// Good pieces that are then likely ready in time.
    pub pieces: u64,
    /// When all of those are likely ready. `None`: the run names no date.
    pub ready: Option<DateTime>,
}

/// What a maker might do otherwise.
#[derive(Debug, Clone, PartialEq)]
pub enum Otherwise {
    /// Looking the pieces over for the second time at once: what shows later, buyers find.
    OneLook,
    /// A desk fan on the pieces.
    Fan,
    /// A warmer room.
    Warmer {
        /// As warm as this.
        to: Temperature,
        /// Whether only some hours are colder: the nights of a room that is so warm by day.
        at_times: bool,
    },
    /// A drier room.
    Drier {
        /// By so many points of relative humidity.
        points: f64,
    },
    /// Longer hours.
    MoreHours {
        /// So much more after each spell of work.
        by: Time,
    },
    /// Twice the trays, with places for them.
    MoreTrays,
    /// No lids and no cupboard while coats are wet.
    TakenOut,
    /// One coat of several.
    OneCoat {
        /// The step.
        step: usize,
        /// Its name.
        name: String,
    },
    /// A thinner flood coat.
    Thinner {
        /// The step.
        step: usize,
        /// Its name.
        name: String,
        /// Of the brim limit.
        to: Share,
    },
    /// The flood coat left out.
    NoDome {
        /// The step.
        step: usize,
        /// Its name.
        name: String,
    },
}

/// The flood coat tried, as a share of the brim limit; this and the next three are our own
/// choice of what a maker can well do.
const THINNER: Share = Share::from_percent(40.0);
/// A heated room.
const HEATED: Temperature = Temperature::from_celsius(21.0);
/// A dehumidifier's work, in points.
const DRIER: f64 = 15.0;
/// Longer spells.
const LONGER: Time = Time::from_h(1.0);
/// Steps in the search for how many pieces can be ready: to about a hundredth.
const HALVINGS: u32 = 7;

/// A run planned as far as its dates.
#[derive(Clone)]
struct Draft {
    pieces: Vec<PiecePlan>,
    space: space::SpacePlan,
    steps: Vec<steps::Timed>,
    coatings: Vec<CoatingPlan>,
}

impl Draft {
    fn of(run: &Run) -> Result<Self, PlanError> {
        let visits = visits::of(run);
        let pieces = pieces::plan_without_lies(run, &visits, &mut Notes::default())?;
        Self::with(run, pieces)
    }

    /// With the pieces of another run where these have the same domes.
    fn like(run: &Run, other: &Run, known: &Self) -> Result<Self, PlanError> {
        let same = run.header == other.header
            && run.pieces == other.pieces
            && run.blanks == other.blanks
            && run.steps == other.steps
            && run.coatings == other.coatings
            && run.inspection == other.inspection;
        if same {
            Self::with(run, known.pieces.clone())
        } else {
            Self::of(run)
        }
    }

    fn with(run: &Run, pieces: Vec<PiecePlan>) -> Result<Self, PlanError> {
        let notes = &mut Notes::default();
        let space = space::plan(run, &pieces, notes)?;
        let steps = steps::plan(run, &pieces, &space, false, notes);
        let sat = Sat::new();
        let coatings = coatings::plan(
            run,
            &visits::of(run),
            &pieces,
            (&sat, &Lasts::undated(run)),
            notes,
        )?;
        Ok(Self {
            pieces,
            space,
            steps,
            coatings,
        })
    }

    /// The same with the waits of its own crowd.
    fn dried_anew(self, run: &Run) -> Self {
        let notes = &mut Notes::default();
        Self {
            steps: steps::plan(run, &self.pieces, &self.space, false, notes),
            ..self
        }
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

/// The run to try changes on, and when it must be ready by; of one that no order of work makes, and that
/// names no such date, ever. `None`: it is in time.
fn aim(run: &Run, dates: &Dates) -> Option<(Run, DateTime)> {
    let mut run = run.clone();
    if let Some(deadline) = planner::too_late(&run, dates) {
        return Some((run, deadline));
    }
    let never = matches!(dates, Dates::Never(_));
    run.header.start = run.header.start.or(Some(planner::MONDAY));
    never.then_some((run, DateTime::MAX))
}

/// What can still be done, the most pieces first. Empty where the run is in time.
///
/// Each change is tried by itself; where none saves every piece with its dome, two at a time.
pub(super) fn plan(run: &Run, dates: &Dates, watch: &Watch) -> Result<Vec<StillCan>, PlanError> {
    let Some((aimed, deadline)) = aim(run, dates) else {
        return Ok(Vec::new());
    };
    let tells_when = run.header.start.is_some() || run.header.ready_by.is_some();
    let run = &aimed;
    let all: u64 = run.pieces.iter().map(|piece| u64::from(piece.count)).sum();
    let as_is = Draft::of(run)?;
    let nothing = try_out(&[], (run, &as_is), deadline)?;
    let singles: Vec<(Vec<Otherwise>, Run)> = changes(run)
        .into_iter()
        .filter_map(|change| Some((vec![change.clone()], change.made(run)?)))
        .collect();
    let mut found = try_all(&singles, (run, &as_is), deadline, watch)?;
    let bare = |change: &Otherwise| matches!(change, Otherwise::NoDome { .. });
    let domed = |can: &&StillCan| !can.changes.iter().any(bare);
    if found.iter().filter(domed).all(|can| can.pieces < all) {
        let mut pairs = Vec::new();
        for (index, (first, changed)) in singles.iter().enumerate() {
            for (second, _) in &singles[index + 1..] {
                if let Some(run) = second[0].made(changed) {
                    pairs.push(([&first[..], &second[..]].concat(), run));
                }
            }
        }
        let alone = found.clone();
        let saved = |change: &Otherwise| {
            let own = alone.iter().find(|can| can.changes[0] == *change);
            own.map_or(0, |can| can.pieces)
        };
        let mut both = try_all(&pairs, (run, &as_is), deadline, watch)?;
        both.retain(|can| can.changes.iter().all(|change| saved(change) < can.pieces));
        found.append(&mut both);
    }
    // a change that saves no more than leaving pieces out is no help
    let fewer = nothing.as_ref().map_or(0, |can| can.pieces);
    found.retain(|can| can.pieces > fewer);
    found.extend(nothing);
    // the first of equals is the least trouble, and keeps its dome
    found.sort_by_key(|can| {
        let bare = !domed(&can);
        (std::cmp::Reverse(can.pieces), bare, can.changes.len())
    });
    found.truncate(MOST_TOLD);
    for can in &mut found {
        can.ready = can.ready.filter(|_| tells_when);
    }
    Ok(found)
}

/// The best of what can still be done is told, and no more.
const MOST_TOLD: usize = 8;

/// Tries changes out on all cores; the order is that of the changes.
fn try_all(
    ways: &[(Vec<Otherwise>, Run)],
    known: (&Run, &Draft),
    deadline: DateTime,
    watch: &Watch,
) -> Result<Vec<StillCan>, PlanError> {
    watch.expect(ways.len());
    let parts = on_all_cores(ways, |found: &mut Tried, number, (changes, run)| {
        let draft = Draft::like(run, known.0, known.1);
        let can = draft.and_then(|draft| try_out(changes, (run, &draft), deadline));
        found.push((number, can));
        watch.tick();
    });
    let mut tried: Tried = parts.into_iter().flatten().collect();
    tried.sort_by_key(|(number, _)| *number);
    let found: Result<Vec<Option<StillCan>>, PlanError> =
        tried.into_iter().map(|(_, found)| found).collect();
    Ok(found?.into_iter().flatten().collect())
}

/// What came of ways, each with its number.
type Tried = Vec<(usize, Result<Option<StillCan>, PlanError>)>;

/// The most pieces that are ready in time with some changes, all kinds cut alike.
fn try_out(
    changes: &[Otherwise],
    (run, draft): (&Run, &Draft),
    deadline: DateTime,
) -> Result<Option<StillCan>, PlanError> {
    let can = |(pieces, ready)| StillCan {
        changes: changes.to_vec(),
        pieces,
        ready: Some(ready),
    };
    let all = run.pieces.iter().map(|piece| u64::from(piece.count)).sum();
    if let Some(ready) = draft.likely_ready(run).filter(|&ready| ready <= deadline) {
        return Ok(Some(can((all, ready))));
    }
    let fewer = Fewer::of(run, draft, deadline)?;
    let mut best = None;
    let (mut does, mut too_many) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let share = f64::midpoint(does, too_many);
        match fewer.ready(share)? {
            Some(found) => {
                does = share;
                best = Some(found);
            }
            None => too_many = share,
        }
    }
    Ok(best.filter(|(pieces, _)| *pieces > 0).map(can))
}

/// A run of which fewer pieces are made.
///
/// Fewer pieces than a tray holds lie less crowded and dry sooner, and to work out how much sooner
/// costs most of a plan. It is not done where even the waits of one piece of each kind come too late.
struct Fewer<'a> {
    run: &'a Run,
    deadline: DateTime,
    all: &'a Draft,
    /// With one piece of each kind. `None`: its waits are the same.
    least: Option<Draft>,
}

impl<'a> Fewer<'a> {
    fn of(run: &'a Run, all: &'a Draft, deadline: DateTime) -> Result<Self, PlanError> {
        let mut few = run.clone();
        for piece in &mut few.pieces {
            piece.count = piece.count.min(1);
        }
        let (few, least) = recounted(few, all)?;
        let differs = !least.space.as_crowded_as(&all.space);
        Ok(Self {
            run,
            deadline,
            all,
            least: differs.then(|| least.dried_anew(&few)),
        })
    }

    /// How many pieces so large a share is, and when they are ready, if that is in time.
    fn ready(&self, share: f64) -> Result<Option<(u64, DateTime)>, PlanError> {
        let (run, draft) = cut(self.run, self.all, share)?;
        let in_time = |draft: &Draft| {
            let ready = draft.likely_ready(&run);
            ready.filter(|&ready| ready <= self.deadline)
        };
        let pieces = run.pieces.iter().map(|piece| u64::from(piece.count)).sum();
        if draft.space.as_crowded_as(&self.all.space) {
            return Ok(in_time(&draft).map(|ready| (pieces, ready)));
        }
        // with a kind left out they may be fewer still
        let least = (self.least.as_ref()).filter(|_| run.pieces.len() == self.run.pieces.len());
        if let Some(least) = least {
            let quickest = Draft {
                steps: least.steps.clone(),
                ..draft.clone()
            };
            if in_time(&quickest).is_none() {
                return Ok(None);
            }
        }
        Ok(in_time(&draft.dried_anew(&run)).map(|ready| (pieces, ready)))
    }
}

/// The same run with so large a share of its pieces, as much of each kind.
fn cut(run: &Run, draft: &Draft, share: f64) -> Result<(Run, Draft), PlanError> {
    let mut run = run.clone();
    // what is cut from each is carried on, so that kinds of one are cut too
    let (mut asked, mut given) = (0.0, 0.0);
    for piece in &mut run.pieces {
        asked += f64::from(piece.count) * share;
        let fewer = (asked - given + 1e-9)
            .floor()
            .clamp(0.0, f64::from(piece.count));
        given += fewer;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "no more than a count"
        )]
        let fewer = fewer as u32;
        piece.count = fewer;
    }
    recounted(run, draft)
}

/// A run with its pieces counted again, and those left out of which there are none. The waits stay.
fn recounted(mut run: Run, draft: &Draft) -> Result<(Run, Draft), PlanError> {
    let kept: Vec<bool> = run.pieces.iter().map(|piece| piece.count > 0).collect();
    let mut pieces = Vec::new();
    for (piece, known) in run.pieces.iter().zip(&draft.pieces) {
        pieces.push(pieces::recount(&run, piece, known)?);
    }
    let mut keep = kept.iter();
    run.pieces.retain(|_| *keep.next().unwrap_or(&false));
    let mut keep = kept.iter();
    pieces.retain(|_| *keep.next().unwrap_or(&false));
    let draft = Draft {
        space: draft.space.only(&kept).crowded_by(&run, &pieces)?,
        pieces,
        steps: draft.steps.clone(),
        coatings: draft.coatings.clone(),
    };
    Ok((run, draft))
}

/// The changes that are tried, the least trouble first.
fn changes(run: &Run) -> Vec<Otherwise> {
    let mut changes = vec![
        Otherwise::TakenOut,
        Otherwise::Fan,
        Otherwise::Warmer {
            to: HEATED,
            at_times: run.room.is_ever(HEATED),
        },
        Otherwise::Drier { points: DRIER },
        Otherwise::MoreHours { by: LONGER },
        Otherwise::MoreTrays,
        Otherwise::OneLook,
    ];
    for (index, step) in run.steps.iter().enumerate() {
        let (step, name) = (index, step.name.clone());
        changes.push(match run.steps[index].work {
            Work::Dome(_) => Otherwise::Thinner {
                step,
                name,
                to: THINNER,
            },
            Work::Brush(_) => Otherwise::OneCoat { step, name },
            Work::Draw { .. } | Work::Bare => continue,
        });
    }
    for (step, of) in run.steps.iter().enumerate() {
        if matches!(of.work, Work::Dome(_)) {
            let name = of.name.clone();
            changes.push(Otherwise::NoDome { step, name });
        }
    }
    changes
}

impl Otherwise {
    /// The run so changed. `None`: it is no change.
    fn made(&self, run: &Run) -> Option<Run> {
        let mut other = run.clone();
        match self {
            Self::OneLook => {
                let looks = other.inspection.as_mut()?;
                looks.again_after = Time::ZERO;
            }
            Self::Fan => {
                other.room = run.room.with_air(crate::run::Air::Fan)?;
            }
            Self::Warmer { to, .. } => other.room = run.room.heated_to(*to)?,
            Self::Drier { points } => other.room = run.room.drier_by(*points)?,
            Self::MoreHours { .. } => other = longer_hours(run),
            Self::MoreTrays => double_trays(&mut other),
            Self::TakenOut => {
                other.room.shut_in = None;
                for tray in &mut other.trays {
                    tray.lid = None;
                }
            }
            Self::OneCoat { step, .. } => match &mut other.steps[*step].work {
                Work::Brush(brush) if brush.coats > 1 => brush.coats = 1,
                _ => return None,
            },
            Self::Thinner { step, to, .. } => match &mut other.steps[*step].work {
                Work::Dome(dome) => dome.fill = Fill::ShareOfBrim(*to),
                _ => return None,
            },
            Self::NoDome { step, .. } => {
                for piece in &mut other.pieces {
                    if piece.steps.iter().any(|of| of != step) {
                        piece.steps.retain(|of| of != step);
                    }
                }
            }
        }
        (other != *run).then_some(other)
    }
}

fn double_trays(run: &mut Run) {
    for tray in &mut run.trays {
        tray.count = tray.count.saturating_mul(2);
        if let Some(lid) = &mut tray.lid {
            lid.count = lid.count.map(|count| count.saturating_mul(2));
        }
    }
    for shelf in &mut run.shelves {
        shelf.count = shelf.count.saturating_mul(2);
    }
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
