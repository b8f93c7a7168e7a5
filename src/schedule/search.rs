//! The earliest end from a start, and the latest start for a deadline.

use std::cell::RefCell;
use std::collections::HashMap;
use std::rc::Rc;

use super::exact::{self, Exact};
use super::family::{self, Shape};
use super::line::{self, Line, Put};
use super::minute::{DAY, HORIZON, Minute};
use super::prepared::{Flat, Prepared};
use super::refusal::NoTimetable;
use super::task::Task;
use super::timetable::{self, Timetable};

/// How far back from a deadline a start is looked for, `[min]`: two years.
const LOOK_BACK: i64 = 731 * DAY;

/// The timetable that is ready first among those tried, from a start on; see [`Orders::earliest`].
///
/// # Errors
///
/// [`NoTimetable`] where none is possible.
pub fn earliest(task: &Task, start: Minute) -> Result<Timetable, NoTimetable> {
    Orders::default().earliest(task, start)
}

/// The timetable that begins last among those tried that are ready by a deadline; see
/// [`Orders::latest`].
///
/// # Errors
///
/// As [`Orders::latest`].
pub fn latest(
    task: &Task,
    deadline: Minute,
    not_before: Option<Minute>,
) -> Result<Timetable, NoTimetable> {
    Orders::default().latest(task, deadline, not_before)
}

/// A timetable's sittings in its own order, laid out from another start.
///
/// # Errors
///
/// [`NoTimetable::Nothing`] for a timetable of another task, or another where the task can't be timed.
pub fn again(task: &Task, made: &Timetable, start: Minute) -> Result<Timetable, NoTimetable> {
    let prepared = Prepared::of(task)?;
    let mut splits = prepared.splits.iter();
    let place = splits
        .position(|(split, _)| *split == made.split)
        .ok_or(NoTimetable::Nothing)?;
    let order: Option<Vec<u32>> = (made.booked.iter())
        .map(|booked| u32::try_from(booked.wave).ok())
        .collect();
    let order = order.ok_or(NoTimetable::Nothing)?;
    let flat = &prepared.splits[place].1;
    if order.len() != flat.acts.len() {
        return Err(NoTimetable::Nothing);
    }
    for wave in 0..flat.waves() {
        let asked = order.iter().filter(|&&of| of as usize == wave).count();
        if asked != flat.sittings(wave) {
            return Err(NoTimetable::Nothing);
        }
    }
    let start = start.number();
    reachable(start)?;
    let mut search = Search {
        task: &prepared,
        ways: Vec::new(),
        lines: vec![Line::default()],
    };
    search.timetable(place, &order, start)
}

/// The orders of sittings that searches have tried, kept for further searches: runs that are
/// split alike, whatever their waits, work, hours and trays, are tried in the same ones.
#[derive(Debug, Clone, Default)]
pub struct Orders {
    known: RefCell<HashMap<Shape, Rc<[Vec<u32>]>>>,
}

impl Orders {
    /// The timetable that is ready first among those tried, from a start on.
    ///
    /// For a few sittings (2520 orders at most, such as three waves of three) every
    /// order is tried; above, a fixed family of orders. Either way more trays, more
    /// hours, fewer days off, shorter waits or work, or an earlier start never make it later.
    ///
    /// # Errors
    ///
    /// [`NoTimetable`] where none is possible.
    pub fn earliest(&self, task: &Task, start: Minute) -> Result<Timetable, NoTimetable> {
        let task = Prepared::of(task)?;
        let mut search = Search::of(&task, self);
        let start = start.number();
        reachable(start)?;
        let best = search.best(0, start, start + HORIZON);
        let (split, order) = best.ok_or(NoTimetable::TooFar)?;
        search.timetable(split, &order, start)
    }

    /// The timetable that begins last among those tried that are ready by a deadline,
    /// and from its start on is ready as early as it can be.
    ///
    /// Starts are looked for from `not_before` on, or in the two years before the deadline.
    /// As with [`earliest`](Self::earliest), more means never make the start earlier.
    ///
    /// # Errors
    ///
    /// [`NoTimetable::TooLate`] where no start is in time, with the earliest end
    /// from `not_before` on; another [`NoTimetable`] where there is none at all.
    pub fn latest(
        &self,
        task: &Task,
        deadline: Minute,
        not_before: Option<Minute>,
    ) -> Result<Timetable, NoTimetable> {
        let prepared = Prepared::of(task)?;
        let mut search = Search::of(&prepared, self);
        let deadline = deadline.number();
        reachable(deadline)?;
        let floor = not_before.map_or(deadline - LOOK_BACK, Minute::number);
        reachable(floor)?;
        let Some((start, way)) = search.latest_start(deadline, floor) else {
            let earliest = not_before.map(|start| self.earliest(task, start));
            return Err(NoTimetable::TooLate {
                earliest: earliest.transpose()?.map(|timetable| timetable.ready),
            });
        };
        // Every way before it had to begin sooner.
        let best = search.best(way, start, deadline);
        let (split, order) = best.ok_or(NoTimetable::TooLate { earliest: None })?;
        search.timetable(split, &order, start)
    }

    /// Whether two timetables put the same split's sittings in the same order.
    #[must_use]
    pub fn are_alike(one: &Timetable, other: &Timetable) -> bool {
        let order =
            |of: &Timetable| -> Vec<usize> { of.booked.iter().map(|booked| booked.wave).collect() };
        one.split == other.split && order(one) == order(other)
    }

    /// Those of a split.
    fn of(&self, flat: &Flat) -> Rc<[Vec<u32>]> {
        let shape = Shape::of(flat);
        let known = self.known.borrow().get(&shape).cloned();
        known.unwrap_or_else(|| {
            let orders: Rc<[Vec<u32>]> = family::of(&shape).into();
            self.known.borrow_mut().insert(shape, Rc::clone(&orders));
            orders
        })
    }
}

/// Refuses times that a hundred years, and waits of a hundred years after them, would take past the
/// last year there is.
fn reachable(from: i64) -> Result<(), NoTimetable> {
    let from = Minute::reckoned(from);
    let far = from.plus(4 * HORIZON).and(from.plus(-LOOK_BACK));
    far.map(|_| ()).ok_or(NoTimetable::TooFar)
}

/// A way to put a split's sittings in order.
enum Way {
    /// Every order.
    Exact,
    /// One order: these, and its place among them.
    Order(Rc<[Vec<u32>]>, usize),
}

/// The ways to try, and the memory that trying them takes.
struct Search<'a> {
    task: &'a Prepared<'a>,
    /// Each with its place among the prepared splits.
    ways: Vec<(usize, Way)>,
    lines: Vec<Line>,
}

impl<'a> Search<'a> {
    fn of(task: &'a Prepared<'a>, known: &Orders) -> Self {
        let mut ways = Vec::new();
        for (place, (_, flat)) in task.splits.iter().enumerate() {
            if exact::suits(flat) {
                ways.push((place, Way::Exact));
            } else {
                let orders = known.of(flat);
                let each = 0..orders.len();
                ways.extend(each.map(|at| (place, Way::Order(Rc::clone(&orders), at))));
            }
        }
        Self {
            task,
            ways,
            lines: vec![Line::default()],
        }
    }

    fn flat(&self, split: usize) -> &'a Flat {
        &self.task.splits[split].1
    }

    /// The split and the order, of the ways from one on, that are ready first from a start on,
    /// within a limit.
    fn best(&mut self, from: usize, start: i64, limit: i64) -> Option<(usize, Vec<u32>)> {
        let (mut best, mut limit) = (None, limit);
        for way in from..self.ways.len() {
            let split = self.ways[way].0;
            let flat = self.flat(split);
            let found = match &self.ways[way].1 {
                Way::Exact => Exact::search(self.task, flat, &mut self.lines, start, limit, false),
                Way::Order(orders, at) => {
                    let (line, order) = (&mut self.lines[0], &orders[*at]);
                    let done = line::finish(line, self.task, flat, order, start, limit);
                    done.map(|(finish, _)| (finish, order.clone()))
                }
            };
            if let Some((finish, order)) = found {
                limit = finish - 1;
                best = Some((split, order));
            }
        }
        best
    }

    /// Whether a way begun from a start on is ready by a limit; if so, the minute at which it
    /// begins.
    fn in_time(&mut self, way: usize, start: i64, limit: i64) -> Option<i64> {
        let (split, way) = &self.ways[way];
        let flat = &self.task.splits[*split].1;
        match way {
            Way::Exact => {
                Exact::search(self.task, flat, &mut self.lines, start, limit, true).map(|_| start)
            }
            Way::Order(orders, at) => {
                let line = &mut self.lines[0];
                let done = line::finish(line, self.task, flat, &orders[*at], start, limit);
                done.map(|(_, first)| first)
            }
        }
    }

    /// The latest start from which some way is in time, and the first such way. A later start never
    /// ends earlier, so each way's latest is found by halving; and only ways that beat the best so
    /// far are looked at.
    fn latest_start(&mut self, deadline: i64, floor: i64) -> Option<(i64, usize)> {
        let mut best: Option<(i64, usize)> = None;
        for way in 0..self.ways.len() {
            let from = best.map_or(floor, |(best, _)| best + 1);
            if from > deadline {
                break;
            }
            if let Some(begins) = self.in_time(way, from, deadline) {
                best = Some((self.halve(way, begins, deadline), way));
            }
        }
        best
    }

    /// A way's latest start in time, given one.
    fn halve(&mut self, way: usize, in_time: i64, deadline: i64) -> i64 {
        let (mut good, mut late) = (in_time, deadline + 1);
        // Twice as far each time, so that small gains over a start that is nearly the latest are
        // quick.
        let mut step = 60;
        while good + step < late {
            match self.in_time(way, good + step, deadline) {
                Some(begins) => good = begins,
                None => late = good + step,
            }
            step *= 2;
        }
        while late - good > 1 {
            let middle = i64::midpoint(good, late);
            match self.in_time(way, middle, deadline) {
                Some(begins) => good = begins,
                None => late = middle,
            }
        }
        good
    }

    fn timetable(
        &mut self,
        split: usize,
        order: &[u32],
        start: i64,
    ) -> Result<Timetable, NoTimetable> {
        let (place, flat) = &self.task.splits[split];
        let line = &mut self.lines[0];
        let puts = line.all(self.task, flat, order, start);
        // Trays may be lifted long after the run is ready, and days off put it off further.
        let far = |put: &Put| put.lifted_at.is_some_and(|at| at > start + 3 * HORIZON);
        if puts.iter().any(far) {
            return Err(NoTimetable::TooFar);
        }
        let ready = line.finish;
        Ok(timetable::of(self.task, *place, flat, &puts, ready))
    }
}
