//! A timetable as the plan tells it.

use std::collections::HashMap;

use jiff::SignedDuration;
use jiff::civil::{Date, DateTime};

use super::calendar::{Booked, By, Calendar, Dates, LateGoods, OrderBy};
use super::chain::{Stint, Task, Until};
use super::planner::Planner;
use super::waits::Waits;
use super::waves::minutes;
use crate::quantity::Time;
use crate::schedule::{self, Minute, NoTimetable, Timetable};
use crate::stage::Stage;

impl Planner<'_> {
    /// The timetable with its sittings, trays and orders.
    pub(super) fn calendar(
        &self,
        task: &schedule::Task,
        timetable: &Timetable,
        by: Option<By>,
    ) -> Result<Dates, NoTimetable> {
        let sittings = self.sittings(task, timetable);
        let occupied: Vec<(DateTime, Vec<u32>)> = (timetable.occupancy().iter())
            .map(|(at, trays)| (at.date_time(), trays.clone()))
            .collect();
        let most = |trays: &[u32]| trays.iter().sum::<u32>();
        let top = occupied.iter().map(|(_, trays)| most(trays)).max();
        let busiest = occupied.iter().find(|(_, trays)| Some(most(trays)) == top);
        Ok(Dates::Told(Box::new(Calendar {
            start: timetable.starts.date_time(),
            ready: timetable.ready.date_time(),
            waves: task.splits[timetable.split].waves.len(),
            hands_on: Time::from_min(f64::from(timetable.hands_on)),
            busiest: busiest.cloned(),
            occupied,
            limits: schedule::bottleneck(task, timetable)?,
            order_by: self.order_by(&sittings),
            late: self.late(task, &sittings)?,
            otherwise: self.otherwise(task, timetable, by.as_ref())?,
            sittings,
            by,
        })))
    }

    /// The timetable's sittings, in order.
    pub(super) fn sittings(&self, task: &schedule::Task, timetable: &Timetable) -> Vec<Booked> {
        let booked = timetable.booked.iter();
        let mut all: Vec<Booked> = booked
            .map(|booked| self.booked(booked, task, timetable))
            .collect();
        // by wave and face, the last coat
        let mut coats: HashMap<(usize, bool), usize> = HashMap::new();
        for (place, booked) in timetable.booked.iter().enumerate() {
            let sittings = &task.splits[timetable.split].waves[booked.wave].sittings;
            let Some(coat) = sittings[booked.sitting].coat else {
                continue;
            };
            let Some(under) = coats.insert((booked.wave, coat.second), place) else {
                continue;
            };
            let laid = &timetable.booked[under];
            let closes = sittings[laid.sitting].coat.and_then(|coat| coat.closes);
            let closes = closes.map(i64::from);
            let gap = (booked.begins.since(laid.begins)).max(booked.ends.since(laid.ends));
            // its last piece has to come as soon after the last one below it
            let takes = booked.ends.since(booked.begins) - laid.ends.since(laid.begins);
            all[under].next_by = closes
                .filter(|&closes| gap <= closes)
                .and_then(|closes| laid.begins.plus(closes - takes.max(0)))
                .map(Minute::date_time);
        }
        all
    }

    fn booked(
        &self,
        booked: &schedule::Booked,
        task: &schedule::Task,
        timetable: &Timetable,
    ) -> Booked {
        let (group, load) = &self.ways[timetable.split].loads[booked.wave];
        let stint = &self.groups[*group].stints[booked.sitting];
        let wave = &task.splits[timetable.split].waves[booked.wave];
        Booked {
            task: stint.task,
            what: self.words(stint),
            wave: booked.wave + 1,
            pieces: (load.iter())
                .map(|&(piece, count)| (self.bench.pieces[piece].name.clone(), stint.reach(count)))
                .collect(),
            begins: booked.begins.date_time(),
            first_pour: first_pour(booked, stint),
            ends: booked.ends.date_time(),
            next_from: booked.next_from.date_time(),
            next_by: None,
            waits_for: self.waits_for(booked, *group, (task, timetable)),
            lifted: booked.lifted_at.map(Minute::date_time),
            looks: looks(booked, stint),
            trays: match booked.lifted_at {
                Some(_) => wave.trays.clone(),
                None => Vec::new(),
            },
            mixes: stint.mixes(load),
            cupfuls: Vec::new(),
        }
    }

    /// The stage that a wave's next sitting waits for.
    fn waits_for(
        &self,
        booked: &schedule::Booked,
        group: usize,
        (task, timetable): (&schedule::Task, &Timetable),
    ) -> Option<Stage> {
        let stints = &self.groups[group].stints;
        let stint = &stints[booked.sitting];
        let after = |until: Until, ends: Minute| {
            let wait = &task.waits[self.waits.number.get(&until).copied()?];
            wait.ready(ends)
        };
        let there = |until: Until| after(until, booked.ends);
        let own = there(stint.next).unwrap_or(booked.ends);
        let next = stints.get(booked.sitting + 1);
        if booked.next_from > own && next.is_none_or(|next| next.after_through) {
            // of all its coats so far that which is the last to be there
            let coats = timetable
                .booked
                .iter()
                .filter(|coat| coat.wave == booked.wave && coat.sitting <= booked.sitting);
            let last = coats.max_by_key(|coat| after(stints[coat.sitting].through, coat.ends))?;
            return Some(self.through_is(stints[last.sitting].through));
        }
        match stint.next {
            Until::Now | Until::SecondLook => None,
            Until::Recoat(_) => Some(Stage::Recoat),
            Until::Both(step) if there(Until::Handle(step)) < Some(own) => Some(Stage::Recoat),
            Until::Handle(_) | Until::Both(_) => Some(Stage::Handle),
            until @ Until::Through(_) => Some(self.through_is(until)),
        }
    }

    /// What a coat is waited for as being dry through: the later of what its label tells.
    fn through_is(&self, until: Until) -> Stage {
        let Until::Through(step) = until else {
            return Stage::Through;
        };
        let timed = self.bench.steps.iter().find(|timed| timed.step == step);
        match timed.map(|timed| &timed.waits) {
            Some(Waits::Told(told)) => told.through.as_ref().map_or(Stage::Through, |it| it.stage),
            _ => Stage::Through,
        }
    }

    fn words(&self, stint: &Stint) -> String {
        match stint.task {
            Task::Step { step, .. } => self.bench.run.steps[step].name.clone(),
            Task::Look { time: 1 } => "look every piece over".to_owned(),
            Task::Look { .. } => "look every piece over again".to_owned(),
        }
    }

    /// What a supplier brings, and the last day to order it.
    fn order_by(&self, sittings: &[Booked]) -> Vec<OrderBy> {
        let mut orders: Vec<OrderBy> = (self.wanted(sittings).into_iter())
            .map(|wanted| OrderBy {
                by: wanted.last_day(),
                what: wanted.what,
                wanted: wanted.at,
            })
            .collect();
        orders.sort_by_key(|order| order.by);
        orders
    }

    /// Goods that come after the work could take them, if all others were at hand from the start.
    fn late(
        &self,
        task: &schedule::Task,
        sittings: &[Booked],
    ) -> Result<Vec<LateGoods>, NoTimetable> {
        let start = self.bench.run.header.start;
        let Some(start) = start.filter(|_| !self.bench.arrivals.is_empty()) else {
            return Ok(Vec::new());
        };
        let task = task.at_hand();
        let by = self.bench.run.header.ready_by.map(Minute::of);
        let found = self.earliest(&task, Minute::of(start), by)?;
        let could = self.wanted(&self.sittings(&task, &found));
        // both are of all the run's goods that its steps take, in the same order
        let both = could.into_iter().zip(self.wanted(sittings));
        let late = both.filter_map(|(could, is)| {
            let comes = is.comes?.date_time();
            (comes > could.at).then(|| LateGoods {
                by: could.last_day(),
                what: is.what,
                comes,
                step: is.step,
                could: could.at,
                begins: is.at,
            })
        });
        Ok(late.collect())
    }

    /// What a supplier brings that some sittings take, and when they first do.
    pub(super) fn wanted(&self, sittings: &[Booked]) -> Vec<Wanted> {
        let (run, arrivals) = (self.bench.run, self.bench.arrivals);
        let mut all = Vec::new();
        let mut add = |what: &str, delivery, first: Option<&Booked>, comes| {
            if let Some((delivery, first)) = Option::zip(delivery, first) {
                all.push(Wanted {
                    what: what.to_owned(),
                    delivery,
                    step: first.what.clone(),
                    at: first.begins,
                    comes,
                });
            }
        };
        let blanks = (self.bench.pieces.iter()).map(|piece| (piece.name.as_str(), piece.blank));
        let blanks: HashMap<&str, usize> = blanks.collect();
        let mut begun: HashMap<usize, &Booked> = HashMap::new();
        for sitting in sittings {
            for (piece, _) in &sitting.pieces {
                if let Some(&blank) = blanks.get(piece.as_str()) {
                    begun.entry(blank).or_insert(sitting);
                }
            }
        }
        for (index, blank) in run.blanks.iter().enumerate() {
            let first = begun.get(&index).copied();
            add(&blank.name, blank.delivery, first, arrivals.blank(index));
        }
        let first = |takes: &dyn Fn(usize) -> bool| {
            sittings
                .iter()
                .find(|sitting| matches!(sitting.task, Task::Step { step, .. } if takes(step)))
        };
        for (index, coating) in run.coatings.iter().enumerate() {
            let delivery = coating.bottle.and_then(|bottle| bottle.delivery);
            let first = first(&|step| run.steps[step].work.coating() == Some(index));
            add(&coating.name, delivery, first, arrivals.coating(index));
        }
        for (index, supply) in run.supplies.iter().enumerate() {
            let first = first(&|step| run.steps[step].uses.iter().any(|of| of.supply == index));
            add(&supply.name, supply.delivery, first, arrivals.supply(index));
        }
        all
    }
}

/// Goods that a supplier brings, and when they are first taken.
pub(super) struct Wanted {
    pub what: String,
    delivery: Time,
    /// The step that takes them first, in words.
    step: String,
    pub at: DateTime,
    /// When they come. `None`: they need not be ordered, or no start is the maker's own.
    comes: Option<Minute>,
}

impl Wanted {
    /// The last day to order them.
    fn last_day(&self) -> Date {
        let days = SignedDuration::try_from_secs_f64(self.delivery.s()).unwrap_or_default();
        self.at.saturating_sub(days).date()
    }
}

/// When the first piece is at hand: after what is set up.
fn first_pour(booked: &schedule::Booked, stint: &Stint) -> DateTime {
    booked.begins.date_time() + whole(stint.set_up)
}

/// Whole minutes, the last begun one counted.
fn whole(time: Time) -> SignedDuration {
    SignedDuration::from_mins(i64::from(minutes(time)))
}

/// When to look for bubbles after the first pour, which comes once all is set up, and after the
/// last, which comes before the cleaning.
fn looks(booked: &schedule::Booked, stint: &Stint) -> Vec<DateTime> {
    let Some(look) = stint.look else {
        return Vec::new();
    };
    let first = first_pour(booked, stint);
    let last = booked.ends.date_time() - whole(stint.clean_up);
    let mut looks: Vec<DateTime> = [first, last.max(first)]
        .map(|pour| pour + whole(look))
        .to_vec();
    looks.dedup();
    looks
}
