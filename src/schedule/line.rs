//! Sittings put one after another on the maker's line.
//!
//! Given the order of the sittings, each begins at the first minute that is not
//! before the last one's end nor before its wave is ready nor before it may
//! begin at all, that has its trays free, and that its hours allow. Every such
//! minute moves later only if what it waits for does: longer waits and work,
//! goods that come later, fewer hours and trays, or a later start move nothing
//! earlier. As sittings are put in order of time, a tray once
//! taken is only ever freed by what was put before, so trays follow the same rule.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::deadlines::Deadlines;
use super::prepared::{Act, Coat, Flat, Prepared};
use super::wait::{Reach, WaitId, stretched};

/// The maker's line as far as it is filled.
#[derive(Debug, Clone, Default)]
pub(super) struct Line {
    /// The end of the last sitting.
    cursor: i64,
    waves: Vec<Progress>,
    /// By wave and face, the last coat; empty where every coat takes the next at any time.
    coats: Vec<[Option<Laid>; 2]>,
    /// By its place, the minute that a sitting is held back to, so that the next coat on its own comes in time;
    /// empty where every coat takes the next at any time.
    held: Vec<i64>,
    /// A sitting whose coat the last one on it came too late for, and the minute from which it would not.
    late: Option<(usize, i64)>,
    /// When the first sitting begins.
    pub begun: Option<i64>,
    /// By kind: trays in use.
    used: Vec<u32>,
    /// When waves let go of their trays; entries that the wave no longer bears out are skipped.
    releases: BinaryHeap<Reverse<(i64, usize)>>,
    /// When the last wave that is through is done.
    pub finish: i64,
    /// Coats that came later than the one under them takes one.
    pub missed: usize,
}

/// A coat as it was laid.
#[derive(Debug, Clone, Copy)]
struct Laid {
    /// The place of its sitting.
    place: usize,
    begins: i64,
    ends: i64,
}

/// Sittings that are put once more, at the most, while one search holds others back: some tenth of a second. Where
/// no hours fit a coat's window, each round only puts it off by some more.
pub(super) const EFFORT: usize = 1 << 20;

/// How far a wave has come.
#[derive(Debug, Clone, Copy)]
struct Progress {
    /// Sittings done.
    done: usize,
    /// When it is ready for what comes next.
    ready: i64,
    /// When all its coats so far are dry through.
    through: i64,
    /// When all its coats so far may be lifted.
    handled: i64,
    /// Until when it holds its trays, if it does.
    held: Option<i64>,
}

/// A sitting put in its place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Put {
    pub wave: usize,
    pub sitting: usize,
    pub begins: i64,
    pub ends: i64,
    pub next_from: i64,
    pub lifted_at: Option<i64>,
}

impl Line {
    /// Empties the line, with nothing held back.
    pub fn begin(&mut self, flat: &Flat, start: i64) {
        let closing = if flat.closes { flat.acts.len() } else { 0 };
        refill(&mut self.held, closing, i64::MIN);
        self.once_more(flat, start);
    }

    /// Empties the line, and holds back what a timetable of the same split did.
    pub fn begin_held(&mut self, flat: &Flat, start: i64, held: &[i64]) {
        self.held.clear();
        self.held.extend_from_slice(held);
        self.once_more(flat, start);
    }

    /// Empties the line, and holds back what it held back before.
    fn once_more(&mut self, flat: &Flat, start: i64) {
        self.cursor = start;
        self.finish = start;
        self.missed = 0;
        self.late = None;
        self.begun = None;
        let fresh = Progress {
            done: 0,
            ready: start,
            through: start,
            handled: start,
            held: None,
        };
        refill(&mut self.waves, flat.waves(), fresh);
        let closing = if flat.closes { flat.waves() } else { 0 };
        refill(&mut self.coats, closing, [None; 2]);
        refill(&mut self.used, flat.kinds, 0);
        self.releases.clear();
    }

    /// How many sittings of a wave are done.
    pub fn done(&self, wave: usize) -> usize {
        self.waves[wave].done
    }

    /// Takes over another line's state, keeping this one's memory.
    pub fn follow(&mut self, other: &Self) {
        self.cursor = other.cursor;
        self.finish = other.finish;
        self.missed = other.missed;
        self.waves.clone_from(&other.waves);
        self.coats.clone_from(&other.coats);
        self.held.clone_from(&other.held);
        self.late = other.late;
        self.begun = other.begun;
        self.used.clone_from(&other.used);
        self.releases.clone_from(&other.releases);
    }

    /// Puts the next sitting of a wave.
    pub fn put(&mut self, task: &Prepared, flat: &Flat, wave: usize) -> Put {
        let act = flat.acts[flat.first[wave] + self.done(wave)];
        let begins = self.opening(task, flat, wave, act);
        self.close(task, &task.reaches, flat, wave, (begins, begins + act.work))
    }

    /// The same, unless that is too late for its wave to be done in time.
    pub fn put_in_time(
        &mut self,
        task: &Prepared,
        flat: &Flat,
        wave: usize,
        deadlines: &Deadlines,
    ) -> Option<Put> {
        let place = flat.first[wave] + self.done(wave);
        let act = flat.acts[place];
        let begins = self.opening(task, flat, wave, act);
        deadlines
            .allow(place, begins)
            .then(|| self.close(task, &task.reaches, flat, wave, (begins, begins + act.work)))
    }

    /// Puts the next sitting of a wave where it would fit as planned, and lets it take as many times
    /// longer as it does: past the end of its spell it goes on in the next.
    pub fn put_stretched(
        &mut self,
        task: &Prepared,
        reaches: &[Reach],
        flat: &Flat,
        wave: usize,
        factor: f64,
    ) -> Put {
        let act = flat.acts[flat.first[wave] + self.done(wave)];
        let begins = self.opening(task, flat, wave, act);
        let work = stretched(act.work, factor);
        let ends = task.working.after(task.hours, begins, work);
        self.close(task, reaches, flat, wave, (begins, ends))
    }

    fn close(
        &mut self,
        task: &Prepared,
        reaches: &[Reach],
        flat: &Flat,
        wave: usize,
        (begins, ends): (i64, i64),
    ) -> Put {
        let sitting = self.done(wave);
        let act = flat.acts[flat.first[wave] + sitting];
        let reach = |wait: WaitId| reaches[wait.0].ready(ends);
        let through = act.through.map_or(ends, reach);
        let through = through.max(self.waves[wave].through);
        let handled = act.lifted.map_or(ends, reach);
        let handled = handled.max(self.waves[wave].handled);
        let mut next_from = act.next.map_or(ends, reach);
        if act.until_through {
            next_from = next_from.max(through);
        }
        if act.until_handled {
            next_from = next_from.max(handled);
        }
        let lifted_at = act.lifted.map(|_| task.working.first(task.hours, handled));
        if let Some(Coat { face, .. }) = act.coat {
            let laid = Laid {
                place: flat.first[wave] + sitting,
                begins,
                ends,
            };
            if let Some(under) = self.coats[wave][face].replace(laid) {
                self.coat_over(flat, under, laid);
            }
        }
        self.begun.get_or_insert(begins);
        self.cursor = ends;
        self.waves[wave].through = through;
        self.waves[wave].handled = handled;
        self.note(flat, wave, next_from, lifted_at);
        Put {
            wave,
            sitting,
            begins,
            ends,
            next_from,
            lifted_at,
        }
    }

    /// Notes a coat that comes later than the one under it takes one.
    fn coat_over(&mut self, flat: &Flat, under: Laid, over: Laid) {
        let closes = flat.acts[under.place]
            .coat
            .map_or(i64::MAX, |coat| coat.closes);
        let gap = (over.begins - under.begins).max(over.ends - under.ends);
        if gap > closes {
            self.missed += 1;
            self.late = Some((under.place, under.begins + gap - closes));
        }
    }

    /// Puts the next sitting of a wave after an order of waves begun at a start, and holds back what
    /// of these has to be for each coat to come in time for the one under it; unless its wave
    /// is then too late.
    ///
    /// A coat that comes too late has the one under it held back by as much, and all is put once
    /// more. Held back so, nothing begins later than it has to in this order, for whatever is put moves
    /// later only if what it waits for does; so the promise of this module holds for coats that must come in
    /// time as well.
    pub fn put_kept(
        &mut self,
        task: &Prepared,
        flat: &Flat,
        (order, start): (&[u32], i64),
        wave: u32,
        (deadlines, effort): (&Deadlines, &mut usize),
    ) -> Option<()> {
        self.put_in_time(task, flat, wave as usize, deadlines)?;
        while let Some((place, from)) = self.late {
            *effort = effort.checked_sub(order.len() + 1)?;
            self.held[place] = from;
            self.once_more(flat, start);
            for &wave in order.iter().chain([&wave]) {
                self.put_in_time(task, flat, wave as usize, deadlines)?;
                if self.late.is_some() {
                    break;
                }
            }
        }
        Some(())
    }

    /// Puts a whole order of waves from a start on, holding back as [`put_kept`](Self::put_kept) does; when the
    /// first begins, or none as soon as some are too late.
    pub fn all_kept(
        &mut self,
        task: &Prepared,
        flat: &Flat,
        (order, start): (&[u32], i64),
        deadlines: &Deadlines,
    ) -> Option<i64> {
        self.begin(flat, start);
        let mut effort = EFFORT;
        for (place, &wave) in order.iter().enumerate() {
            let before = (&order[..place], start);
            self.put_kept(task, flat, before, wave, (deadlines, &mut effort))?;
        }
        self.begun
    }

    /// The minutes that sittings are held back to, by their places.
    pub fn held(&self) -> &[i64] {
        &self.held
    }

    /// Puts a whole order of waves from a start on, with some sittings held back.
    pub fn all(
        &mut self,
        task: &Prepared,
        flat: &Flat,
        order: &[u32],
        (start, held): (i64, &[i64]),
    ) -> Vec<Put> {
        self.begin_held(flat, start, held);
        let waves = order.iter();
        waves
            .map(|&wave| self.put(task, flat, wave as usize))
            .collect()
    }

    /// Puts a whole order of waves from a start on; when the first begins, or none as soon as
    /// some are too late.
    pub fn all_in_time(
        &mut self,
        task: &Prepared,
        flat: &Flat,
        (order, start): (&[u32], i64),
        deadlines: &Deadlines,
    ) -> Option<i64> {
        self.begin(flat, start);
        for &wave in order {
            self.put_in_time(task, flat, wave as usize, deadlines)?;
        }
        self.begun
    }

    /// Notes what a sitting that was put leaves behind.
    fn note(&mut self, flat: &Flat, wave: usize, next_from: i64, lifted_at: Option<i64>) {
        let progress = &mut self.waves[wave];
        progress.done += 1;
        progress.ready = next_from;
        if progress.done == flat.sittings(wave) {
            self.finish = self.finish.max(next_from);
        }
        if let Some(until) = lifted_at {
            if progress.held.is_none() {
                for (used, need) in self.used.iter_mut().zip(flat.trays_of(wave)) {
                    *used += need;
                }
            }
            progress.held = Some(until);
            self.releases.push(Reverse((until, wave)));
        }
    }

    /// The first minute at which a sitting may begin.
    fn opening(&mut self, task: &Prepared, flat: &Flat, wave: usize, act: Act) -> i64 {
        let starts = &task.starts[act.starts];
        let place = flat.first[wave] + self.done(wave);
        let held = self.held.get(place).copied().unwrap_or(i64::MIN);
        let ready = self.waves[wave].ready.max(act.not_before).max(held);
        let mut at = self.cursor.max(ready);
        loop {
            at = starts.first(task.hours, at);
            self.let_go(flat, at);
            if act.lifted.is_none()
                || self.waves[wave].held.is_some()
                || self.free(&task.task.shop.trays, flat.trays_of(wave))
            {
                return at;
            }
            match self.releases.peek() {
                Some(&Reverse((next, _))) => at = at.max(next),
                None => unreachable!("a wave's trays are fewer than there are"),
            }
        }
    }

    fn free(&self, have: &[u32], need: &[u32]) -> bool {
        let kinds = self.used.iter().zip(need).zip(have);
        let mut fits = kinds.map(|((used, need), have)| used.saturating_add(*need) <= *have);
        fits.all(|fits| fits)
    }

    /// Frees the trays that are let go of up to a minute, and forgets entries that no longer hold.
    fn let_go(&mut self, flat: &Flat, until: i64) {
        while let Some(&Reverse((at, wave))) = self.releases.peek() {
            let holds = self.waves[wave].held == Some(at);
            if holds && at > until {
                return;
            }
            self.releases.pop();
            if holds {
                self.waves[wave].held = None;
                for (used, need) in self.used.iter_mut().zip(flat.trays_of(wave)) {
                    *used -= need;
                }
            }
        }
    }
}

fn refill<T: Clone>(of: &mut Vec<T>, len: usize, value: T) {
    of.clear();
    of.resize(len, value);
}
