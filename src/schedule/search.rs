//! The earliest end from a start, and the latest start for a deadline.

use std::cell::RefCell;
use std::rc::Rc;

use super::deadlines::Deadlines;
use super::exact::{self, Every};
use super::family::Family;
use super::line::{Line, Put};
use super::minute::{DAY, HORIZON, Minute};
use super::order::Shape;
use super::prepared::{Flat, Prepared};
use super::refusal::NoTimetable;
use super::task::Task;
use super::timetable::{self, Timetable};
use super::walk::{Found, Trial};

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
    let laid = Laid {
        split: place,
        order,
        start,
        keeps: false,
    };
    laid.timetable(&prepared, &mut Line::default())
}

/// The orders of sittings that searches have tried, kept for further searches: runs that are
/// split alike, whatever their waits, work, hours and trays, are tried in the same ones.
#[derive(Debug, Clone, Default)]
pub struct Orders {
    known: RefCell<Vec<(Shape, Rc<Family>)>>,
}

impl Orders {
    /// The timetable that is ready first among those tried, from a start on.
    ///
    /// For a few sittings (2520 orders at most, such as three waves of three) every
    /// order is tried; above, a fixed family of orders. Either way more trays, more
    /// hours, fewer days off, shorter waits or work, goods that come sooner, or an earlier start never
    /// make it later.
    ///
    /// # Errors
    ///
    /// [`NoTimetable`] where none is possible.
    pub fn earliest(&self, task: &Task, start: Minute) -> Result<Timetable, NoTimetable> {
        let task = Prepared::of(task)?;
        let start = start.number();
        reachable(start)?;
        Search::of(&task, self).earliest(start)
    }

    /// The timetable that is ready first, by a limit, among those tried in which each coat comes while
    /// the one under it takes it ([`OnFace::closes`](super::OnFace)); none if there is none.
    /// Sittings are held back for that, each as little as its order lets it.
    ///
    /// # Errors
    ///
    /// [`NoTimetable`] where the task can't be timed at all.
    pub fn earliest_kept(
        &self,
        task: &Task,
        start: Minute,
        limit: Minute,
    ) -> Result<Option<Timetable>, NoTimetable> {
        let task = Prepared::of(task)?;
        let (start, limit) = (start.number(), limit.number());
        reachable(start)?;
        reachable(limit)?;
        let mut search = Search::of(&task, self);
        search.keeps = true;
        match search.best(0, start, limit) {
            Some(best) => search.told(&best),
            None => Ok(None),
        }
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
        let task = Prepared::of(task)?;
        let mut search = Search::of(&task, self);
        if let Some(found) = search.latest(deadline, not_before)? {
            return Ok(found);
        }
        let earliest = not_before.map(|start| search.earliest(start.number()));
        Err(NoTimetable::TooLate {
            earliest: earliest.transpose()?.map(|timetable| timetable.ready),
        })
    }

    /// The same of those in which each coat comes while the one under it takes it, as
    /// [`earliest_kept`](Self::earliest_kept); none where no start is in time.
    ///
    /// # Errors
    ///
    /// [`NoTimetable`] where the task can't be timed at all.
    pub fn latest_kept(
        &self,
        task: &Task,
        deadline: Minute,
        not_before: Option<Minute>,
    ) -> Result<Option<Timetable>, NoTimetable> {
        let task = Prepared::of(task)?;
        let mut search = Search::of(&task, self);
        search.keeps = true;
        search.latest(deadline, not_before)
    }

    /// Whether two timetables put the same split's sittings in the same order.
    #[must_use]
    pub fn are_alike(one: &Timetable, other: &Timetable) -> bool {
        let order =
            |of: &Timetable| -> Vec<usize> { of.booked.iter().map(|booked| booked.wave).collect() };
        one.split == other.split && order(one) == order(other)
    }

    /// Those of a split.
    fn of(&self, flat: &Flat) -> Rc<Family> {
        let shape = Shape::of(flat);
        let mut known = self.known.borrow_mut();
        // A run is split in a few ways, most of them of another number of waves.
        let like = known.iter().find(|(other, _)| *other == shape);
        if let Some((_, family)) = like {
            return Rc::clone(family);
        }
        let family = Rc::new(Family::of(&shape));
        known.push((shape, Rc::clone(&family)));
        family
    }
}

/// Refuses times that a hundred years, and waits of a hundred years after them, would take past the
/// last year there is.
fn reachable(from: i64) -> Result<(), NoTimetable> {
    let from = Minute::reckoned(from);
    let far = from.plus(4 * HORIZON).and(from.plus(-LOOK_BACK));
    far.map(|_| ()).ok_or(NoTimetable::TooFar)
}

/// The orders to try, and the memory that trying them takes.
struct Search<'a> {
    task: &'a Prepared<'a>,
    /// By prepared split, the family that is tried; none where every order is.
    families: Vec<Option<Rc<Family>>>,
    lines: Vec<Line>,
    /// Whether every coat must come while the one under it takes it.
    keeps: bool,
}

/// A split's sittings in an order, begun from a start on.
struct Laid {
    split: usize,
    order: Vec<u32>,
    start: i64,
    /// Whether sittings are held back so that each coat comes in time.
    keeps: bool,
}

impl Laid {
    /// When everything of it happens.
    fn timetable(&self, task: &Prepared, line: &mut Line) -> Result<Timetable, NoTimetable> {
        let (place, flat) = &task.splits[self.split];
        line.begin(flat, self.start);
        if self.keeps {
            let deadlines = Deadlines::of(task, flat, self.start + HORIZON);
            let order = (&self.order[..], self.start);
            line.all_kept(task, flat, order, &deadlines)
                .ok_or(NoTimetable::TooFar)?;
        }
        let held = line.held().to_vec();
        let puts = line.all(task, flat, &self.order, (self.start, &held));
        // Trays may be lifted long after the run is ready, and days off put it off further.
        let far = |put: &Put| {
            let lifted_at = put.lifted_at;
            lifted_at.is_some_and(|at| at > self.start + 3 * HORIZON)
        };
        if puts.iter().any(far) {
            return Err(NoTimetable::TooFar);
        }
        Ok(timetable::of(task, *place, flat, &puts, line))
    }
}

impl<'a> Search<'a> {
    fn of(task: &'a Prepared<'a>, known: &Orders) -> Self {
        let flats = task.splits.iter().map(|(_, flat)| flat);
        Self {
            task,
            families: flats
                .map(|flat| (!exact::suits(flat)).then(|| known.of(flat)))
                .collect(),
            lines: vec![Line::default()],
            keeps: false,
        }
    }

    fn flat(&self, split: usize) -> &'a Flat {
        &self.task.splits[split].1
    }

    /// The first of a split's orders that is ready first from a start on, within a limit; or the
    /// first within it, if any will do.
    fn tried(&mut self, split: usize, start: i64, limit: i64, any: bool) -> Option<Found> {
        let flat = self.flat(split);
        let trial = Trial {
            task: self.task,
            flat,
            start,
            limit,
            any,
            keeps: self.keeps,
        };
        match &self.families[split] {
            None => trial.of(Every(flat), &mut self.lines),
            Some(family) => trial.of(family.orders(), &mut self.lines),
        }
    }

    /// The split and the order, of the splits from one on, that are ready first from a start on,
    /// within a limit.
    fn best(&mut self, from: usize, start: i64, limit: i64) -> Option<Laid> {
        let (mut best, mut limit) = (None, limit);
        for split in from..self.families.len() {
            if let Some(Found { order, finish, .. }) = self.tried(split, start, limit, false) {
                limit = finish - 1;
                best = Some(Laid {
                    split,
                    order,
                    start,
                    keeps: self.keeps,
                });
            }
        }
        best
    }

    fn earliest(&mut self, start: i64) -> Result<Timetable, NoTimetable> {
        let best = self.best(0, start, start + HORIZON);
        let best = best.ok_or(NoTimetable::TooFar)?;
        best.timetable(self.task, &mut self.lines[0])
    }

    /// What begins last of what is ready by a deadline, if anything is.
    fn latest(
        &mut self,
        deadline: Minute,
        not_before: Option<Minute>,
    ) -> Result<Option<Timetable>, NoTimetable> {
        let deadline = deadline.number();
        reachable(deadline)?;
        let floor = not_before.map_or(deadline - LOOK_BACK, Minute::number);
        reachable(floor)?;
        let Some((start, split)) = self.latest_start(deadline, floor) else {
            return Ok(None);
        };
        // Every split before it had to begin sooner.
        match self.best(split, start, deadline) {
            Some(best) => self.told(&best),
            // its effort was spent on others
            None if self.keeps => Ok(None),
            None => Err(NoTimetable::TooLate { earliest: None }),
        }
    }

    /// When everything of what was found happens; none where the effort for it is spent.
    fn told(&mut self, found: &Laid) -> Result<Option<Timetable>, NoTimetable> {
        match found.timetable(self.task, &mut self.lines[0]) {
            Err(NoTimetable::TooFar) if self.keeps => Ok(None),
            told => told.map(Some),
        }
    }

    /// The latest start from which some order is in time, and the first split with such an order.
    /// A later start never ends earlier, so an order's latest is found by halving; and only orders
    /// that beat the best so far are looked at.
    fn latest_start(&mut self, deadline: i64, floor: i64) -> Option<(i64, usize)> {
        let mut best: Option<(i64, usize)> = None;
        for split in 0..self.families.len() {
            loop {
                let from = best.map_or(floor, |(best, _)| best + 1);
                if from > deadline {
                    return best;
                }
                let Some(found) = self.tried(split, from, deadline, true) else {
                    break;
                };
                best = Some((self.halve(split, &found, deadline), split));
            }
        }
        best
    }

    /// The latest start in time of an order that is.
    fn halve(&mut self, split: usize, found: &Found, deadline: i64) -> i64 {
        let flat = self.flat(split);
        let deadlines = Deadlines::of(self.task, flat, deadline);
        let (line, keeps) = (&mut self.lines[0], self.keeps);
        let mut in_time = |start| {
            let order = (&found.order[..], start);
            if keeps {
                line.all_kept(self.task, flat, order, &deadlines)
            } else {
                line.all_in_time(self.task, flat, order, &deadlines)
            }
        };
        let (mut good, mut late) = (found.begins, deadline + 1);
        // Twice as far each time, so that small gains over a start that is nearly the latest are
        // quick.
        let mut step = 60;
        while good + step < late {
            match in_time(good + step) {
                Some(begins) => good = begins,
                None => late = good + step,
            }
            step *= 2;
        }
        while late - good > 1 {
            let middle = i64::midpoint(good, late);
            match in_time(middle) {
                Some(begins) => good = begins,
                None => late = middle,
            }
        }
        good
    }
}
