//! What can still be done where the date can't be met: each way planned again.

use std::collections::BTreeSet;

use super::PlanError;
use super::abreast::on_all_cores;
use super::calendar::Dates;
use super::draft::{Draft, Fewer, Ready, ready_with_fewer};
use super::orders;
use super::planner;
use super::watch::Watch;
use crate::cure::epoxy::Epoxy;
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
    /// How many of each kind those are, the kinds of which there are any, in the run's order.
    pub kinds: Vec<(String, u64)>,
    /// When all of those are likely ready. `None`: the run names no date.
    pub ready: Option<DateTime>,
    /// How often they are ready by the run's date. `None`: it names none, or that can't be told.
    pub chance: Option<Share>,
}

/// What a maker might do otherwise.
#[derive(Debug, Clone, PartialEq)]
pub enum Otherwise {
    /// Goods there by when the work could take them, which those ordered on the day of the start are not.
    GoodsAtHand {
        /// Each, and by when.
        goods: Vec<(String, DateTime)>,
    },
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
    /// Fewer of one kind of piece, and all others made.
    FewerOf {
        /// Which of the run's pieces.
        piece: usize,
        /// Its name.
        name: String,
        /// How many of it are made all the same, one or more.
        left: u32,
    },
    /// One kind of piece left out, and all others made.
    LeaveOut {
        /// Which of the run's pieces.
        piece: usize,
        /// Its name.
        name: String,
    },
    /// The flood coat left out.
    NoDome {
        /// The step.
        step: usize,
        /// Its name.
        name: String,
        /// Kinds of piece that have a dome all the same: another, or this one, for they have no other step.
        but: Vec<String>,
    },
}

/// The flood coat tried, as a share of the brim limit; this and the next three are our own
/// choice of what a maker can well do.
const THINNER: Share = Share::from_percent(40.0);
/// A heated room: as warm as a coat that is too cold is told to be moved to.
const HEATED: Temperature = Epoxy::MOVE_TO;
/// A dehumidifier's work, in points.
const DRIER: f64 = 15.0;
/// Longer spells.
const LONGER: Time = Time::from_h(1.0);
/// Kinds of piece of which each is left out in turn, at the most: of more, one makes little difference.
const KINDS: usize = 24;
/// Of the ways to make fewer of one kind the best are told, so that others are told too.
const MOST_OF_A_KIND: usize = 3;
/// Steps in the search for how many pieces can be ready: to about a hundredth.
const HALVINGS: u32 = 7;

/// The run to try changes on, and when it must be ready by; of one that no order of work makes, and that
/// names no such date, ever. `None`: it is in time.
fn aim(run: &Run, dates: &Dates) -> Option<(Run, DateTime)> {
    let mut run = run.clone();
    if let Some(deadline) = planner::too_late(&run, dates) {
        return Some((run, deadline));
    }
    let never = matches!(dates, Dates::Never(_));
    if run.header.start.is_none() {
        // goods are ordered in time for a start that nobody has asked for
        run = orders::at_hand(&run);
        run.header.start = Some(planner::MONDAY);
    }
    never.then_some((run, DateTime::MAX))
}

/// What can still be done, the most pieces first. Empty where the run is in time.
///
/// Each change is tried by itself; where none saves every piece with its dome, two at a time.
///
/// Every one waits for the goods that it takes: its blanks and coatings, as far as their own stock
/// does not do, and what else is `bought`. Where goods keep the work waiting, having them at hand is one more change.
pub(super) fn plan(
    (run, bought): (&Run, &BTreeSet<String>),
    dates: &Dates,
    watch: &Watch,
) -> Result<Vec<StillCan>, PlanError> {
    let Some((aimed, deadline)) = aim(run, dates) else {
        return Ok(Vec::new());
    };
    let tells_when = run.header.start.is_some() || run.header.ready_by.is_some();
    let run = &aimed;
    let all: u64 = run.pieces.iter().map(|piece| u64::from(piece.count)).sum();
    let as_is = Draft::of(run, bought)?;
    let nothing = try_out(&[], (run, &as_is), deadline)?;
    let late = orders::late(dates).iter();
    let goods: Vec<_> = late.map(|late| (late.what.clone(), late.could)).collect();
    let goods = (!goods.is_empty()).then_some(Otherwise::GoodsAtHand { goods });
    let singles: Vec<(Vec<Otherwise>, Run)> = (goods.into_iter())
        .chain(changes(run))
        .filter_map(|change| Some((vec![change.clone()], change.made(run)?)))
        .collect();
    let mut found = try_all(&singles, (run, &as_is), deadline, watch)?;
    let bare = |change: &Otherwise| matches!(change, Otherwise::NoDome { .. });
    let domed = |way: &&Way| !way.can.changes.iter().any(bare);
    if found.iter().filter(domed).all(|way| way.can.pieces < all) {
        let mut pairs = Vec::new();
        for (index, (first, changed)) in singles.iter().enumerate() {
            for (second, _) in &singles[index + 1..] {
                if let Some(run) = second[0].made(changed) {
                    pairs.push(([&first[..], &second[..]].concat(), run));
                }
            }
        }
        let alone: Vec<StillCan> = found.iter().map(|way| way.can.clone()).collect();
        let is_goods = |change: &Otherwise| matches!(change, Otherwise::GoodsAtHand { .. });
        let saved = |change: &Otherwise| {
            let same = |of: &Otherwise| of == change || is_goods(of) && is_goods(change);
            let own = alone.iter().find(|can| same(&can.changes[0]));
            own.map_or(0, |can| can.pieces)
        };
        let mut both = try_all(&pairs, (run, &as_is), deadline, watch)?;
        both.retain(|Way { can, .. }| can.changes.iter().all(|change| saved(change) < can.pieces));
        found.append(&mut both);
    }
    found.append(&mut without_a_kind((run, &as_is), deadline)?);
    // a change that saves no more than leaving pieces out is no help
    let fewer = nothing.as_ref().map_or(0, |way| way.can.pieces);
    found.retain(|way| way.can.pieces > fewer);
    found.extend(nothing);
    // the first of equals is the least trouble, and keeps its dome
    found.sort_by_key(|way| {
        let bare = !domed(&way);
        (
            std::cmp::Reverse(way.can.pieces),
            bare,
            way.can.changes.len(),
        )
    });
    found.truncate(MOST_TOLD);
    let by = run.header.ready_by;
    let parts = on_all_cores(&found, |told: &mut Vec<(usize, StillCan)>, number, way| {
        let can = StillCan {
            ready: way.can.ready.filter(|_| tells_when),
            chance: by.and_then(|by| way.made.chance(by)),
            ..way.can.clone()
        };
        told.push((number, can));
    });
    let mut told: Vec<(usize, StillCan)> = parts.into_iter().flatten().collect();
    told.sort_by_key(|(number, _)| *number);
    Ok(told.into_iter().map(|(_, can)| can).collect())
}

/// What can still be done, and the run that comes of it.
struct Way {
    can: StillCan,
    made: Ready,
}

impl Way {
    fn of(changes: Vec<Otherwise>, made: Ready) -> Self {
        let kinds = made.kinds();
        let can = StillCan {
            changes,
            pieces: kinds.iter().map(|(_, count)| count).sum(),
            kinds,
            ready: Some(made.at),
            chance: None,
        };
        Self { can, made }
    }
}

/// The best of what can still be done is told, and no more.
const MOST_TOLD: usize = 8;

/// Tries changes out on all cores; the order is that of the changes.
fn try_all(
    ways: &[(Vec<Otherwise>, Run)],
    known: (&Run, &Draft),
    deadline: DateTime,
    watch: &Watch,
) -> Result<Vec<Way>, PlanError> {
    watch.expect(ways.len());
    let parts = on_all_cores(ways, |found: &mut Tried, number, (changes, run)| {
        let draft = Draft::like(run, known.0, known.1);
        let can = draft.and_then(|draft| {
            let (changes, run) = goods_in_time(changes, (run, &draft));
            try_out(&changes, (&run, &draft), deadline)
        });
        found.push((number, can));
        watch.tick();
    });
    in_order(parts)
}

/// The same with goods at hand by when the run, with all else that is changed, first takes them.
fn goods_in_time(changes: &[Otherwise], (run, draft): (&Run, &Draft)) -> (Vec<Otherwise>, Run) {
    let (mut changes, mut run) = (changes.to_vec(), run.clone());
    for change in &mut changes {
        let Otherwise::GoodsAtHand { goods } = change else {
            continue;
        };
        let Some(uses) = draft.first_uses(&run) else {
            continue;
        };
        // what it takes no more is not asked for
        goods.retain_mut(|(what, by)| {
            uses.get(what).is_some_and(|first| {
                *by = *first;
                true
            })
        });
        run = change.made(&run).unwrap_or(run);
    }
    let asks = |change: &Otherwise| !matches!(change, Otherwise::GoodsAtHand { goods } if goods.is_empty());
    changes.retain(asks);
    (changes, run)
}

/// Fewer of each kind of piece, or none, where all others are then ready in time.
fn without_a_kind((run, as_is): (&Run, &Draft), deadline: DateTime) -> Result<Vec<Way>, PlanError> {
    let kinds: Vec<usize> = (0..run.pieces.len()).collect();
    if !(2..=KINDS).contains(&kinds.len()) {
        return Ok(Vec::new());
    }
    let parts = on_all_cores(&kinds, |found: &mut Tried, _, &piece| {
        let ready = |left: u32| {
            let change = of_one_kind(run, piece, left);
            let others = change.made(run);
            let ready = others.map_or(Ok(None), |others| ready_with_fewer(others, as_is));
            let in_time = ready.map(|found| found.filter(|made| made.at <= deadline));
            in_time.map(|found| found.map(|made| Way::of(vec![change], made)))
        };
        found.push((piece, most_of_one_kind(run.pieces[piece].count, ready)));
    });
    let mut found = in_order(parts)?;
    found.sort_by_key(|way| std::cmp::Reverse(way.can.pieces));
    found.truncate(MOST_OF_A_KIND);
    Ok(found)
}

/// So many of one kind, and all others.
fn of_one_kind(run: &Run, piece: usize, left: u32) -> Otherwise {
    let name = run.pieces[piece].name.clone();
    match left {
        0 => Otherwise::LeaveOut { piece, name },
        left => Otherwise::FewerOf { piece, name, left },
    }
}

/// The way with the most of one kind, of which there are so many and not all can be made.
fn most_of_one_kind(
    all: u32,
    ready: impl Fn(u32) -> Result<Option<Way>, PlanError>,
) -> Result<Option<Way>, PlanError> {
    let Some(mut best) = ready(0)? else {
        return Ok(None);
    };
    let (mut does, mut too_many) = (0, all);
    // to about a hundredth of them
    while too_many - does > (all >> HALVINGS).max(1) {
        let left = does.midpoint(too_many);
        match ready(left)? {
            Some(way) => (best, does) = (way, left),
            None => too_many = left,
        }
    }
    Ok(Some(best))
}

/// What came of ways, in the order of their numbers.
fn in_order(parts: Vec<Tried>) -> Result<Vec<Way>, PlanError> {
    let mut tried: Tried = parts.into_iter().flatten().collect();
    tried.sort_by_key(|(number, _)| *number);
    let found: Result<Vec<Option<Way>>, PlanError> =
        tried.into_iter().map(|(_, found)| found).collect();
    Ok(found?.into_iter().flatten().collect())
}

/// What came of ways, each with its number.
type Tried = Vec<(usize, Result<Option<Way>, PlanError>)>;

/// The most pieces that are ready in time with some changes, all kinds cut alike.
fn try_out(
    changes: &[Otherwise],
    (run, draft): (&Run, &Draft),
    deadline: DateTime,
) -> Result<Option<Way>, PlanError> {
    let way = |made| Way::of(changes.to_vec(), made);
    if let Some(at) = draft.likely_ready(run).filter(|&ready| ready <= deadline) {
        let (run, draft) = (run.clone(), draft.clone());
        return Ok(Some(way(Ready { at, run, draft })));
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
    Ok(best.filter(|made| made.pieces() > 0).map(way))
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
            let another = |of: &usize| *of != step && matches!(run.steps[*of].work, Work::Dome(_));
            let kept = run.pieces.iter().filter(|piece| {
                piece.steps.iter().any(another) || piece.steps.iter().all(|of| *of == step)
            });
            changes.push(Otherwise::NoDome {
                step,
                name: of.name.clone(),
                but: kept.map(|piece| piece.name.clone()).collect(),
            });
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
            Self::GoodsAtHand { goods } => {
                let ordered = run.header.start?.date().at(0, 0, 0, 0);
                for (what, delivery) in orders::deliveries(&mut other) {
                    let own = goods.iter().find(|(of, _)| of == what);
                    if let Some((_, by)) = own {
                        *delivery = Some(Time::from_s(by.duration_since(ordered).as_secs_f64()));
                    }
                }
            }
            // it stays as a kind of which there are none, as the draft of the run counts it
            Self::LeaveOut { piece, .. } => other.pieces[*piece].count = 0,
            Self::FewerOf { piece, left, .. } => other.pieces[*piece].count = *left,
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
