//! When everything happens: sittings in the maker's hours, waves over the trays.
//!
//! Plain values go in and come out, in whole minutes by the maker's own clock. A [`Task`]
//! gives several ways of splitting a run into waves; [`earliest`] and [`latest`] find, over
//! those and over a fixed family of orders, the timetable that is ready soonest, or that
//! begins last and is ready in time.

pub mod chance;
mod engine;
mod exact;
mod hours;
mod order;
mod task;
mod timetable;

pub use chance::{Chance, Spread};
pub use hours::{Hours, Minute, Window};
pub use task::{Sitting, Split, Task, Wait, Wave};
pub use timetable::{Booked, Bottleneck, InUse, NoTimetable, Timetable};

use engine::{Bench, Step};

/// A search for a start goes back so many minutes, and a little to the next spell.
const TWO_YEARS: i64 = 2 * 366 * hours::DAY;

/// The timetable that is ready soonest of those found, begun at a minute or later.
///
/// # Errors
/// [`NoTimetable`], never `TooLate` or `TooMuch`.
pub fn earliest(task: &Task, start: Minute) -> Result<Timetable, NoTimetable> {
    let splits = possible(task)?;
    let mut best: Option<Found> = None;
    for &split in &splits {
        for order in order::orders(&task.splits[split]) {
            let bound = best.as_ref().map_or(i64::MAX, |best| best.ready.0 - 1);
            if let Some(ready) = lay_out(task, split, &order, start, Minute(bound)) {
                best = Some(Found {
                    split,
                    order,
                    ready,
                });
            }
        }
        if exact::is_small(&task.splits[split]) {
            let bound = best.as_ref().map_or(i64::MAX, |best| best.ready.0 - 1);
            if let Some((order, ready)) = exact::soonest(task, split, start, Minute(bound)) {
                best = Some(Found {
                    split,
                    order,
                    ready,
                });
            }
        }
    }
    let best = best.ok_or_else(|| why_not(task))?;
    timetable(task, best.split, &best.order, start).ok_or_else(|| why_not(task))
}

/// The timetable that begins last of those found and is ready by a deadline; it begins at
/// `not_before` or later, where that is given.
///
/// # Errors
/// [`NoTimetable`]; `TooLate` with the timetable from `not_before` on.
pub fn latest(
    task: &Task,
    deadline: Minute,
    not_before: Option<Minute>,
) -> Result<Timetable, NoTimetable> {
    let splits = possible(task)?;
    let first = not_before.unwrap_or(Minute(deadline.0 - TWO_YEARS));
    let mut best: Option<(Minute, usize, Vec<Step>)> = None;
    for &split in &splits {
        let found = |order: &[Step], start| lay_out(task, split, order, start, deadline).is_some();
        for order in order::orders(&task.splits[split]) {
            let after = best
                .as_ref()
                .map_or(first, |(start, ..)| Minute(start.0 + 1));
            if let Some(start) = last_start(after, deadline, |start| found(&order, start)) {
                best = Some((start, split, order));
            }
        }
        if exact::is_small(&task.splits[split]) {
            let after = best
                .as_ref()
                .map_or(first, |(start, ..)| Minute(start.0 + 1));
            let order = |start| exact::soonest(task, split, start, deadline);
            if let Some(start) = last_start(after, deadline, |start| order(start).is_some()) {
                if let Some((order, _)) = order(start) {
                    best = Some((start, split, order));
                }
            }
        }
    }
    match (best, not_before) {
        (Some((start, split, order)), _) => {
            timetable(task, split, &order, start).ok_or_else(|| why_not(task))
        }
        (None, Some(start)) => Err(NoTimetable::TooLate(Box::new(earliest(task, start)?))),
        // where it would never be ready at all, that is the reason
        (None, None) => Err(earliest(task, first).map_or_else(|why| why, |_| NoTimetable::TooMuch)),
    }
}

/// The last start at which something holds that holds at all earlier ones.
fn last_start(from: Minute, until: Minute, holds: impl Fn(Minute) -> bool) -> Option<Minute> {
    if from > until || !holds(from) {
        return None;
    }
    let (mut does, mut too_late) = (from.0, until.0 + 1);
    while too_late - does > 1 {
        let between = does.midpoint(too_late);
        if holds(Minute(between)) {
            does = between;
        } else {
            too_late = between;
        }
    }
    Some(Minute(does))
}

struct Found {
    split: usize,
    order: Vec<Step>,
    ready: Minute,
}

/// When an order is ready, if that is by a minute.
fn lay_out(task: &Task, split: usize, order: &[Step], start: Minute, by: Minute) -> Option<Minute> {
    let mut bench = Bench::new(task, &task.splits[split], start);
    let mut ready = start;
    for &step in order {
        ready = ready.max(bench.book(step)?.next_from);
        if ready > by {
            return None;
        }
    }
    Some(ready)
}

fn timetable(task: &Task, split: usize, order: &[Step], start: Minute) -> Option<Timetable> {
    let mut bench = Bench::new(task, &task.splits[split], start);
    let booked: Vec<Booked> = order
        .iter()
        .map(|&step| bench.book(step))
        .collect::<Option<_>>()?;
    Some(Timetable {
        split,
        starts: booked.first()?.begins,
        ready: booked.iter().map(|booked| booked.next_from).max()?,
        booked,
    })
}

/// The splits of which every sitting fits in some spell and every wave on the trays.
fn possible(task: &Task) -> Result<Vec<usize>, NoTimetable> {
    let longest = task.hours.longest();
    if longest == 0 {
        return Err(NoTimetable::NoHours);
    }
    let fits = |split: &Split| {
        let waves = &split.waves;
        let work = waves.iter().flat_map(|wave| &wave.sittings);
        work.into_iter().all(|sitting| sitting.work <= longest)
            && waves.iter().all(|wave| wanted(task, wave) == 0)
    };
    let splits: Vec<usize> = (0..task.splits.len())
        .filter(|&split| task.splits[split].sittings() > 0 && fits(&task.splits[split]))
        .collect();
    if splits.is_empty() {
        return Err(why_not(task));
    }
    Ok(splits)
}

/// Trays that a wave wants beyond those that there are.
fn wanted(task: &Task, wave: &Wave) -> u32 {
    if wave.sittings.iter().all(|sitting| sitting.lifted.is_none()) {
        return 0;
    }
    let beyond = wave.trays.iter().zip(&task.trays);
    beyond
        .map(|(wants, there)| wants.saturating_sub(*there))
        .sum()
}

/// Why no split can be laid out: by the one that comes nearest.
fn why_not(task: &Task) -> NoTimetable {
    let longest = task.hours.longest();
    let there = task.trays.iter().sum();
    let mut nearest = NoTimetable::Nothing;
    // later splits have smaller waves
    for split in &task.splits {
        let sittings = split.waves.iter().flat_map(|wave| &wave.sittings);
        let longest_work = sittings.max_by_key(|sitting| sitting.work);
        let most = split.waves.iter().max_by_key(|wave| wanted(task, wave));
        nearest = match (longest_work, most) {
            (Some(sitting), _) if sitting.work > longest => NoTimetable::TooLong {
                step: sitting.step,
                work: sitting.work,
                longest,
            },
            (_, Some(wave)) if wanted(task, wave) > 0 => NoTimetable::TooFewTrays {
                trays: wave.trays.iter().sum(),
                there,
            },
            (Some(_), _) => match asleep(task, split) {
                Some(step) => NoTimetable::Asleep { step },
                None => nearest,
            },
            (None, _) => nearest,
        };
    }
    nearest
}

/// A sitting that fits no spell, for nobody would be awake to look.
fn asleep(task: &Task, split: &Split) -> Option<usize> {
    let mut sittings = split.waves.iter().flat_map(|wave| &wave.sittings);
    let never = |sitting: &&Sitting| {
        task.hours
            .fit(Minute(0), sitting.work, sitting.look)
            .is_none()
    };
    Some(sittings.find(never)?.step)
}
