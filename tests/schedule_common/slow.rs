//! The best order of a few sittings, by trying them all, minute by minute.

use brimful::schedule::{Minute, Split, Task};

use super::{Rules, of_day, slow_ready, works};

/// A sitting put in its place.
#[derive(Clone, Copy)]
struct Put {
    wave: usize,
    lifted: Option<Minute>,
    begins: Minute,
}

#[derive(Clone)]
struct State {
    free_from: Minute,
    done: Vec<usize>,
    ready: Vec<Minute>,
    puts: Vec<Put>,
    finish: Minute,
}

/// The earliest end over all orders up to a limit, or none.
pub fn earliest(task: &Task, rules: &Rules, start: Minute, limit: Minute) -> Option<Minute> {
    let each = task.splits.iter().filter_map(|split| {
        let state = State {
            free_from: start,
            done: vec![0; split.waves.len()],
            ready: vec![start; split.waves.len()],
            puts: Vec::new(),
            finish: start,
        };
        let mut best = None;
        deeper(task, rules, split, &state, limit, &mut best);
        best
    });
    each.min()
}

fn deeper(
    task: &Task,
    rules: &Rules,
    split: &Split,
    state: &State,
    limit: Minute,
    best: &mut Option<Minute>,
) {
    let left = |wave: usize| state.done[wave] < split.waves[wave].sittings.len();
    if (0..split.waves.len()).all(|wave| !left(wave)) {
        *best = Some(best.map_or(state.finish, |best| best.min(state.finish)));
        return;
    }
    for wave in (0..split.waves.len()).filter(|&wave| left(wave)) {
        let limit = best.map_or(limit, |best| best.plus(-1).unwrap());
        let Some(next) = put(task, rules, split, state, wave, limit) else {
            continue;
        };
        deeper(task, rules, split, &next, limit, best);
    }
}

/// Puts a wave's next sitting at the first minute that breaks no rule.
fn put(
    task: &Task,
    rules: &Rules,
    split: &Split,
    state: &State,
    wave: usize,
    limit: Minute,
) -> Option<State> {
    let sitting = &split.waves[wave].sittings[state.done[wave]];
    let mut begins = state.free_from.max(state.ready[wave]);
    while !allowed(task, rules, split, state, wave, begins) {
        begins = begins.plus(1)?;
        if begins > limit {
            return None;
        }
    }
    let ends = begins.plus(i64::from(sitting.work))?;
    let next = sitting
        .next
        .map_or(ends, |wait| slow_ready(&task.waits[wait.0], ends));
    let lifted = sitting.lifted.map(|wait| {
        let mut minute = slow_ready(&task.waits[wait.0], ends);
        while !works(rules, minute) {
            minute = minute.plus(1).unwrap();
        }
        minute
    });
    let mut after = state.clone();
    after.free_from = ends;
    after.done[wave] += 1;
    after.ready[wave] = next;
    after.puts.push(Put {
        wave,
        lifted,
        begins,
    });
    after.finish = after.finish.max(next);
    (after.finish <= limit).then_some(after)
}

fn allowed(
    task: &Task,
    rules: &Rules,
    split: &Split,
    state: &State,
    wave: usize,
    begins: Minute,
) -> bool {
    let sitting = &split.waves[wave].sittings[state.done[wave]];
    let last = begins.plus(i64::from(sitting.work.max(1)) - 1).unwrap();
    if !works(rules, begins) || !works(rules, last) {
        return false;
    }
    if !(0..i64::from(sitting.work)).all(|minute| works(rules, begins.plus(minute).unwrap())) {
        return false;
    }
    if begins.date_time().date() != last.date_time().date() {
        return false;
    }
    for pour in [begins, begins.plus(i64::from(sitting.work)).unwrap()] {
        let Some(look) = sitting.look else { continue };
        let minute = of_day(pour.plus(i64::from(look)).unwrap().date_time());
        let awake = |minute: u32| rules.awake.from <= minute && minute < rules.awake.to;
        if !awake(minute) && !awake(minute + 1440) {
            return false;
        }
    }
    sitting.lifted.is_none() || trays_free(task, split, state, wave, begins)
}

/// Whether a wave's trays are free in a minute, or its own from before.
fn trays_free(task: &Task, split: &Split, state: &State, wave: usize, at: Minute) -> bool {
    let holds = |wave: usize| {
        let last = state.puts.iter().rev();
        let mut last = last.filter(|put| put.wave == wave && put.lifted.is_some());
        last.next()
            .is_some_and(|put| put.begins <= at && put.lifted.unwrap() > at)
    };
    holds(wave)
        || task.shop.trays.iter().enumerate().all(|(kind, &have)| {
            let used: u32 = (0..split.waves.len())
                .filter(|&other| holds(other))
                .map(|other| split.waves[other].trays[kind])
                .sum();
            used + split.waves[wave].trays[kind] <= have
        })
}
