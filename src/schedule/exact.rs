//! Every order of a few sittings.
//!
//! Sittings never begin later for being booked as soon as they can be, so among all the
//! timetables that keep an order the one of [`Bench`] is ready soonest, and the best order
//! is the best timetable. Whether a task is small enough goes by its number of sittings
//! alone, so that this leaves the search monotone.

use super::engine::{Bench, Step};
use super::hours::Minute;
use super::task::{Split, Task};

/// The most sittings of which every order is tried.
const FEW: usize = 8;

/// Whether every order is tried.
pub(super) fn is_small(split: &Split) -> bool {
    split.sittings() <= FEW
}

/// The order that is ready soonest, by a minute at the latest.
pub(super) fn soonest(
    task: &Task,
    split: usize,
    start: Minute,
    by: Minute,
) -> Option<(Vec<Step>, Minute)> {
    let mut search = Search {
        split: &task.splits[split],
        by,
        best: None,
    };
    let done = vec![0; search.split.waves.len()];
    let bench = Bench::new(task, search.split, start);
    search.go_on(&bench, &done, &mut Vec::new(), start);
    search.best
}

struct Search<'t> {
    split: &'t Split,
    by: Minute,
    best: Option<(Vec<Step>, Minute)>,
}

impl Search<'_> {
    fn go_on(&mut self, bench: &Bench, done: &[u32], order: &mut Vec<Step>, ready: Minute) {
        if order.len() == self.split.sittings() {
            self.best = Some((order.clone(), ready));
            self.by = Minute(ready.0 - 1);
            return;
        }
        for wave in 0..done.len() {
            if self.is_repeat(wave, done) {
                continue;
            }
            let number = u32::try_from(wave).unwrap_or(u32::MAX);
            let mut bench = bench.clone();
            let Some(booked) = bench.book((number, done[wave])) else {
                continue;
            };
            let ready = ready.max(booked.next_from);
            if ready > self.by || bench.free() > self.by {
                continue;
            }
            let mut done = done.to_vec();
            order.push((number, done[wave]));
            done[wave] += 1;
            self.go_on(&bench, &done, order, ready);
            order.pop();
        }
    }

    /// Whether a wave is done, or is just like another of its group that stands before it
    /// and has not come further.
    fn is_repeat(&self, wave: usize, done: &[u32]) -> bool {
        let waves = &self.split.waves;
        done[wave] as usize == waves[wave].sittings.len()
            || (0..wave).any(|other| done[other] == done[wave] && waves[other] == waves[wave])
    }
}
