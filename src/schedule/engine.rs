//! Laying sittings out in time, in a given order.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::hours::Minute;
use super::task::{Split, Task, Wait};
use super::timetable::Booked;

/// One sitting of one wave.
pub(super) type Step = (u32, u32);

/// Sittings laid out one after another: each begins at the first minute at which the
/// maker is free, its wave is ready for it, there are trays, it fits in a spell of work
/// and somebody is awake to look.
///
/// For a given order every one of those minutes only moves later when a wait, a sitting or
/// the start does, and only sooner with more hours or trays. So does the end.
#[derive(Clone)]
pub(super) struct Bench<'t> {
    task: &'t Task,
    split: &'t Split,
    /// What sittings wait for: the task's own, or as a draw of chance has it.
    waits: &'t [Wait],
    /// From when the maker is free.
    free: Minute,
    /// From when each wave may go on.
    ready: Vec<Minute>,
    /// Trays of each kind that lie empty.
    empty: Vec<u32>,
    /// When trays are lifted: wave and the count of its holdings so far.
    lifts: BinaryHeap<Reverse<(Minute, u32, u32)>>,
    /// Holdings of each wave so far, and whether the last one is still on.
    holdings: Vec<(u32, bool)>,
}

impl<'t> Bench<'t> {
    pub fn new(task: &'t Task, split: &'t Split, start: Minute) -> Self {
        Self {
            task,
            split,
            waits: &task.waits,
            free: start,
            ready: vec![start; split.waves.len()],
            empty: task.trays.clone(),
            lifts: BinaryHeap::new(),
            holdings: vec![(0, false); split.waves.len()],
        }
    }

    /// The same with other waits, as many as the task has.
    pub fn waiting(self, waits: &'t [Wait]) -> Self {
        Self { waits, ..self }
    }

    /// From when the maker is free.
    pub fn free(&self) -> Minute {
        self.free
    }

    /// Books the next sitting of a wave. `None`: it never fits.
    pub fn book(&mut self, step: Step) -> Option<Booked> {
        self.book_taking(step, None)
    }

    /// The same, where it takes another time than planned: it is begun where the plan
    /// fits, and runs on past the spell of work if it must.
    pub fn book_taking(
        &mut self,
        (wave_number, sitting_number): Step,
        takes: Option<u32>,
    ) -> Option<Booked> {
        let wave_index = wave_number as usize;
        let wave = &self.split.waves[wave_index];
        let sitting = &wave.sittings[sitting_number as usize];
        let mut from = self.free.max(self.ready[wave_index]);
        let holds = self.holdings[wave_index].1;
        loop {
            from = self.task.hours.fit(from, sitting.work, sitting.look)?;
            self.lift_until(from);
            let held_on = holds && self.holdings[wave_index].1;
            if sitting.lifted.is_none() || held_on || self.has(&wave.trays) {
                break;
            }
            // on to the next lifting
            let Reverse((next, ..)) = *self.lifts.peek()?;
            from = next;
        }
        let ends = from.later(takes.unwrap_or(sitting.work));
        let next_from = sitting
            .next
            .map_or(ends, |wait| self.waits[wait].ready(ends));
        let lifted = match sitting.lifted {
            Some(wait) => {
                let may_be = self.waits[wait].ready(ends);
                Some(self.task.hours.next_at_work(may_be)?)
            }
            None => None,
        };
        self.hold(wave_index, lifted);
        self.free = ends;
        self.ready[wave_index] = next_from;
        Some(Booked {
            wave: wave_index,
            sitting: sitting_number as usize,
            begins: from,
            ends,
            next_from,
            lifted,
        })
    }

    fn has(&self, wanted: &[u32]) -> bool {
        self.empty
            .iter()
            .zip(wanted)
            .all(|(empty, wanted)| empty >= wanted)
    }

    /// Lifts all that may be lifted by a minute.
    fn lift_until(&mut self, now: Minute) {
        while let Some(&Reverse((at, wave, holding))) = self.lifts.peek() {
            let on = self.holdings[wave as usize] == (holding, true);
            if on && at > now {
                break;
            }
            self.lifts.pop();
            if on {
                self.lift(wave as usize);
            }
        }
    }

    fn lift(&mut self, wave: usize) {
        self.holdings[wave].1 = false;
        for (empty, trays) in self.empty.iter_mut().zip(&self.split.waves[wave].trays) {
            *empty += trays;
        }
    }

    /// A wave goes on: what it held it holds no longer, but for what it takes now.
    fn hold(&mut self, wave: usize, until: Option<Minute>) {
        if self.holdings[wave].1 {
            self.lift(wave);
        }
        if let Some(until) = until {
            for (empty, trays) in self.empty.iter_mut().zip(&self.split.waves[wave].trays) {
                *empty -= trays;
            }
            let (count, _) = self.holdings[wave];
            self.holdings[wave] = (count + 1, true);
            let number = u32::try_from(wave).unwrap_or(u32::MAX);
            self.lifts.push(Reverse((until, number, count + 1)));
        }
    }
}
