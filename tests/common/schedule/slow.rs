//! The best order of a few sittings, by trying them all, minute by minute.

use brimful::schedule::{Minute, Split, Task, Timetable};

use super::{Rules, of_day, slow_wait, works};

/// Every minute's answers, worked out once: places count minutes from `base`.
pub struct Slow<'a> {
    task: &'a Task,
    base: Minute,
    works: Vec<bool>,
    /// By minute: how many from it on are worked in.
    working: Vec<usize>,
    awake: Vec<bool>,
    /// By wait and minute of the day: how long until it is there.
    reach: Vec<Vec<usize>>,
    /// By wait and minute of the day: how many minutes from it on work that it follows may take up.
    laid: Vec<Vec<usize>>,
    /// Whether each coat must come while the one under it takes it.
    pub keeps: bool,
}

#[derive(Clone)]
struct State {
    free_from: usize,
    done: Vec<usize>,
    ready: Vec<usize>,
    /// By wave: when the last of its coats is dry through.
    through: Vec<usize>,
    /// By wave: when the last of its coats may be lifted.
    handled: Vec<usize>,
    /// By wave, the last stay on trays: from and until.
    stays: Vec<Option<(usize, usize)>>,
    /// By wave and face, when the coat after the last must have begun, and ended.
    closes: Vec<[Option<(usize, usize)>; 2]>,
    finish: usize,
}

impl State {
    fn new(waves: usize, start: usize) -> Self {
        Self {
            free_from: start,
            done: vec![0; waves],
            ready: vec![start; waves],
            through: vec![start; waves],
            handled: vec![start; waves],
            stays: vec![None; waves],
            closes: vec![[None; 2]; waves],
            finish: start,
        }
    }
}

impl<'a> Slow<'a> {
    /// For so many days from a midnight on.
    pub fn of(task: &'a Task, rules: &Rules, base: Minute, days: i64) -> Self {
        let minutes = || (0..days * 1440).map(|past| base.plus(past).unwrap());
        let awake = |at: Minute| {
            let minute = of_day(at.date_time());
            let hours = rules.awake.from..rules.awake.to;
            hours.contains(&minute) || hours.contains(&(minute + 1440))
        };
        // The latest end so far, from starts of ten days before on: no random wait is longer.
        let reach = task.waits.iter().map(|wait| {
            assert!(wait.by_hour.iter().flatten().all(|&wait| wait < 14_400));
            let mut latest = i64::MIN;
            let ends = (-14_400..2880).map(|past| {
                let told = slow_wait(wait, base.plus(past).unwrap());
                latest = latest.max(past + i64::from(told?));
                Some(latest)
            });
            let ends: Vec<Option<i64>> = ends.skip(14_400).collect();
            // what may not be begun in a minute is begun in the next in which it may
            let next = |past: usize| ends[past..].iter().flatten().next().unwrap();
            let each = (0..1440).map(|past| usize::try_from(*next(past)).unwrap() - past);
            each.collect()
        });
        let works: Vec<bool> = minutes().map(|at| works(rules, at)).collect();
        // two days, so that what is laid before midnight goes on
        let laid = task.waits.iter().map(|wait| {
            let may_lie = |minute: usize| wait.by_hour[minute % 1440 / 60].is_some();
            in_a_row(&(0..2880).map(may_lie).collect::<Vec<_>>())
        });
        Self {
            task,
            base,
            working: in_a_row(&works),
            works,
            awake: minutes().map(awake).collect(),
            reach: reach.collect(),
            laid: laid.collect(),
            keeps: false,
        }
    }

    /// The earliest end over all orders up to a limit, or none.
    pub fn earliest(&self, start: Minute, limit: Minute) -> Option<Minute> {
        let place = |at: Minute| usize::try_from(at.since(self.base)).unwrap();
        let (start, limit) = (place(start), place(limit));
        let each = self.task.splits.iter().filter_map(|split| {
            let waves = split.waves.len();
            let state = State::new(waves, start);
            let mut best = None;
            self.deeper(split, &state, limit, &mut best);
            best
        });
        let soonest = i64::try_from(each.min()?).unwrap();
        self.base.plus(soonest)
    }

    /// The same with each coat in time for the one under it: where one is not, the sitting under it is held
    /// back and its order gone through again from the start.
    pub fn earliest_held(&self, start: Minute, limit: Minute) -> Option<Minute> {
        let place = |at: Minute| usize::try_from(at.since(self.base)).unwrap();
        let (start, limit) = (place(start), place(limit));
        let each = self.task.splits.iter().filter_map(|split| {
            let mut best = None;
            let held: Vec<_> = (split.waves.iter())
                .map(|wave| vec![start; wave.sittings.len()])
                .collect();
            self.deeper_held(split, (&mut Vec::new(), held), (start, limit), &mut best);
            best
        });
        let soonest = i64::try_from(each.min()?).unwrap();
        self.base.plus(soonest)
    }

    fn deeper_held(
        &self,
        split: &Split,
        (order, held): (&mut Vec<usize>, Vec<Vec<usize>>),
        (start, limit): (usize, usize),
        best: &mut Option<usize>,
    ) {
        for wave in 0..split.waves.len() {
            let done = order.iter().filter(|&&of| of == wave).count();
            if done == split.waves[wave].sittings.len() {
                continue;
            }
            let limit = best.map_or(limit, |best| best - 1);
            let mut held = held.clone();
            order.push(wave);
            if let Some((finish, _)) =
                self.held_back(split, order, &mut held, (start, limit), false)
            {
                let all: usize = split.waves.iter().map(|wave| wave.sittings.len()).sum();
                if order.len() == all {
                    *best = Some(finish);
                } else {
                    self.deeper_held(split, (order, held), (start, limit), best);
                }
            }
            order.pop();
        }
    }

    /// When each sitting of a timetable of the first split begins, put in the same order from a start and
    /// held back so, minute by minute.
    pub fn begins_held(&self, made: &Timetable, start: Minute, limit: Minute) -> Vec<Minute> {
        let place = |at: Minute| usize::try_from(at.since(self.base)).unwrap();
        let split = &self.task.splits[0];
        let order: Vec<usize> = made.booked.iter().map(|booked| booked.wave).collect();
        let mut held: Vec<_> = (split.waves.iter())
            .map(|wave| vec![place(start); wave.sittings.len()])
            .collect();
        let until = (place(start), place(limit));
        let (_, begins) = self
            .held_back(split, &order, &mut held, until, true)
            .unwrap();
        let minute = |place: usize| self.base.plus(i64::try_from(place).unwrap()).unwrap();
        begins.into_iter().map(minute).collect()
    }

    /// When an order is through and each of its sittings begins, with what has to be held back held back,
    /// or none past a limit.
    fn held_back(
        &self,
        split: &Split,
        order: &[usize],
        held: &mut [Vec<usize>],
        (start, limit): (usize, usize),
        by_minutes: bool,
    ) -> Option<(usize, Vec<usize>)> {
        'again: loop {
            let mut all = Vec::with_capacity(order.len());
            let mut state = State::new(split.waves.len(), start);
            let mut laid: Vec<Vec<(usize, usize)>> = vec![Vec::new(); split.waves.len()];
            for &wave in order {
                let at = state.done[wave];
                let mut own = state.clone();
                own.ready[wave] = own.ready[wave].max(held[wave][at]);
                state = self.put(split, &own, wave, limit)?;
                let sittings = &split.waves[wave].sittings;
                let ends = state.free_from;
                laid[wave].push((ends - sittings[at].work as usize, ends));
                all.push(ends - sittings[at].work as usize);
                let Some(coat) = sittings[at].coat else {
                    continue;
                };
                let mut under = (0..at).rev();
                let on_it =
                    |&of: &usize| sittings[of].coat.is_some_and(|it| it.second == coat.second);
                let Some(under) = under.find(on_it) else {
                    continue;
                };
                let closes = sittings[under].coat.and_then(|coat| coat.closes);
                let ((from, to), (begins, ends)) = (laid[wave][under], laid[wave][at]);
                let gap = (begins - from).max(ends - to);
                let past = closes.map_or(0, |closes| gap.saturating_sub(closes as usize));
                if past > 0 {
                    held[wave][under] = from + if by_minutes { 1 } else { past };
                    continue 'again;
                }
            }
            return Some((state.finish, all));
        }
    }

    fn deeper(&self, split: &Split, state: &State, limit: usize, best: &mut Option<usize>) {
        let left = |wave: usize| state.done[wave] < split.waves[wave].sittings.len();
        if (0..split.waves.len()).all(|wave| !left(wave)) {
            *best = Some(state.finish);
            return;
        }
        for wave in (0..split.waves.len()).filter(|&wave| left(wave)) {
            let limit = best.map_or(limit, |best| best - 1);
            if let Some(next) = self.put(split, state, wave, limit) {
                self.deeper(split, &next, limit, best);
            }
        }
    }

    /// Puts a wave's next sitting at the first minute that breaks no rule.
    fn put(&self, split: &Split, state: &State, wave: usize, limit: usize) -> Option<State> {
        let sitting = &split.waves[wave].sittings[state.done[wave]];
        let mut begins = state.free_from.max(state.ready[wave]);
        if let Some(from) = sitting.not_before {
            let from = from.since(self.base).max(0);
            begins = begins.max(usize::try_from(from).unwrap());
        }
        while !self.allowed(split, state, wave, begins) {
            begins += 1;
            if begins > limit {
                return None;
            }
        }
        let ends = begins + sitting.work as usize;
        let reach = |wait: usize| ends + self.reach[wait][ends % 1440];
        let next = sitting.next.map_or(ends, |wait| reach(wait.0));
        let mut after = state.clone();
        if let Some(wait) = sitting.through {
            after.through[wave] = state.through[wave].max(reach(wait.0));
        }
        let following = split.waves[wave].sittings.get(state.done[wave] + 1);
        let next = if following.is_none_or(|following| following.after_through) {
            next.max(after.through[wave])
        } else {
            next
        };
        if let Some(wait) = sitting.lifted {
            after.handled[wave] = state.handled[wave].max(reach(wait.0));
        }
        let next = if sitting.as_it_lies && following.is_some() {
            next
        } else {
            next.max(after.handled[wave])
        };
        if sitting.lifted.is_some() {
            let mut until = after.handled[wave];
            while !self.works[until] {
                until += 1;
            }
            let from = match state.stays[wave] {
                Some((from, before)) if begins < before => from,
                _ => begins,
            };
            after.stays[wave] = Some((from, until));
        }
        if let Some(coat) = sitting.coat {
            let under = &mut after.closes[wave][usize::from(coat.second)];
            if self.keeps && under.is_some_and(|under| begins > under.0 || ends > under.1) {
                return None;
            }
            let closes = coat.closes.map(|closes| closes as usize);
            *under = closes.map(|closes| (begins + closes, ends + closes));
        }
        after.free_from = ends;
        after.done[wave] += 1;
        after.ready[wave] = next;
        after.finish = after.finish.max(next);
        (after.finish <= limit).then_some(after)
    }

    fn allowed(&self, split: &Split, state: &State, wave: usize, begins: usize) -> bool {
        let sitting = &split.waves[wave].sittings[state.done[wave]];
        let ends = begins + sitting.work as usize;
        let looked = sitting.look.is_none_or(|look| {
            self.awake[begins + look as usize] && self.awake[ends + look as usize]
        });
        let waits = [sitting.next, sitting.lifted, sitting.through];
        let long = (ends - begins).max(1);
        let mut waits = waits.iter().flatten();
        let inside = self.working[begins] >= long
            && waits.all(|wait| self.laid[wait.0][begins % 1440] >= long);
        looked && inside && (sitting.lifted.is_none() || self.free(split, state, wave, begins))
    }

    /// Whether a wave's trays are free in a minute, or its own from before.
    fn free(&self, split: &Split, state: &State, wave: usize, at: usize) -> bool {
        let holds = |wave: usize| state.stays[wave].is_some_and(|(_, until)| until > at);
        holds(wave)
            || self
                .task
                .shop
                .trays
                .iter()
                .enumerate()
                .all(|(kind, &have)| {
                    let others = (0..split.waves.len()).filter(|&other| holds(other));
                    let used: u32 = others.map(|other| split.waves[other].trays[kind]).sum();
                    used + split.waves[wave].trays[kind] <= have
                })
    }
}

/// How many in a row are so, from each on.
fn in_a_row(so: &[bool]) -> Vec<usize> {
    let mut row = 0;
    let mut rows: Vec<usize> = (so.iter().rev())
        .map(|&so| {
            row = if so { row + 1 } else { 0 };
            row
        })
        .collect();
    rows.reverse();
    rows
}
