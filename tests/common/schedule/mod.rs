//! A verifier of timetables and a search through every order, both written
//! apart from the engine, and random tasks for them.

#![allow(dead_code, reason = "each test file uses its own part")]

pub mod random;
pub mod slow;

use std::collections::BTreeSet;

use brimful::schedule::{
    Hours, Minute, Shop, Sitting, Split, Task, Timetable, Wait, WaitId, Wave, Window,
};
use jiff::civil::{Date, DateTime, date};

/// A Monday.
pub const MONDAY: Date = date(2027, 3, 1);

pub fn at(date: Date, hour: i8, minute: i8) -> Minute {
    Minute::of(date.at(hour, minute, 0, 0))
}

pub fn window(from: u32, to: u32) -> Window {
    Window { from, to }
}

/// Every day the same windows, awake from 7:00 to 22:30.
pub fn daily(windows: &[Window]) -> Hours {
    let week = std::array::from_fn(|_| windows.to_vec());
    Hours::new(week, &BTreeSet::new(), window(420, 1350)).unwrap()
}

pub fn sitting(work: u32, next: Option<usize>, lifted: Option<usize>) -> Sitting {
    Sitting {
        step: 0,
        work,
        next: next.map(WaitId),
        lifted: lifted.map(WaitId),
        through: None,
        after_through: false,
        as_it_lies: false,
        look: None,
        not_before: None,
        coat: None,
    }
}

pub fn wave(pieces: u32, trays: &[u32], sittings: &[Sitting]) -> Wave {
    Wave {
        group: 0,
        pieces,
        trays: trays.to_vec(),
        sittings: sittings.to_vec(),
    }
}

pub fn task(hours: Hours, trays: &[u32], waits: &[u32], waves: Vec<Wave>) -> Task {
    Task {
        shop: Shop {
            hours,
            trays: trays.to_vec(),
        },
        waits: waits.iter().map(|&wait| Wait::steady(wait)).collect(),
        splits: vec![Split { waves }],
    }
}

/// Minutes since midnight of a date and time.
fn of_day(at: DateTime) -> u32 {
    u32::try_from(i32::from(at.hour()) * 60 + i32::from(at.minute())).unwrap()
}

/// Whether the maker works in a minute, told from the week and the days off as they were given.
fn works(rules: &Rules, at: Minute) -> bool {
    let civil = at.date_time();
    let day = usize::try_from(civil.date().weekday().to_monday_zero_offset()).unwrap();
    let minute = of_day(civil);
    !rules.off.contains(&civil.date())
        && rules.week[day]
            .iter()
            .any(|window| window.from <= minute && minute < window.to)
}

/// The maker's week, apart from [`Hours`].
#[derive(Debug, Clone)]
pub struct Rules {
    pub week: [Vec<Window>; 7],
    pub off: BTreeSet<Date>,
    pub awake: Window,
}

impl Rules {
    pub fn of(hours: &Hours, off: &BTreeSet<Date>) -> Self {
        Self {
            week: hours.windows().clone(),
            off: off.clone(),
            awake: hours.awake(),
        }
    }

    pub fn hours(&self) -> Hours {
        Hours::new(self.week.clone(), &self.off, self.awake).unwrap()
    }
}

/// How long what is begun in a minute takes, if it may be begun then: an hour's first minute
/// counts to the hour before where it has no wait itself.
fn slow_wait(wait: &Wait, at: Minute) -> Option<u32> {
    let at = at.date_time();
    let hour = usize::try_from(at.hour()).unwrap();
    let before = (at.minute() == 0).then(|| wait.by_hour[(hour + 23) % 24]);
    wait.by_hour[hour].or(before.flatten())
}

/// Whether what a sitting waits for is ever there from the hour of a minute.
fn may_lie(task: &Task, sitting: &Sitting, at: Minute) -> bool {
    let hour = usize::try_from(at.date_time().hour()).unwrap();
    let waits = [sitting.next, sitting.lifted, sitting.through];
    let mut waits = waits.into_iter().flatten();
    waits.all(|wait| task.waits[wait.0].by_hour[hour].is_some())
}

/// When something begun in a minute is there, by looking at every start before it; where it may
/// not be begun then, of the first minute in which it may.
pub fn slow_ready(wait: &Wait, from: Minute) -> Minute {
    let from = (0..1440)
        .filter_map(|on| from.plus(on))
        .find(|&at| slow_wait(wait, at).is_some())
        .unwrap();
    let longest = i64::from(wait.by_hour.iter().flatten().max().copied().unwrap());
    (0..=longest + 1)
        .filter_map(|back| {
            let start = from.plus(-back).unwrap();
            start.plus(i64::from(slow_wait(wait, start)?))
        })
        .max()
        .unwrap()
}

/// Checks a timetable against its task from scratch; says what is wrong.
pub fn verify(task: &Task, rules: &Rules, made: &Timetable) -> Result<(), String> {
    let split = task.splits.get(made.split).ok_or("no such split")?;
    let mut done = vec![0; split.waves.len()];
    let mut ready: Vec<Option<Minute>> = vec![None; split.waves.len()];
    let mut through: Vec<Vec<Minute>> = vec![Vec::new(); split.waves.len()];
    let mut handled: Vec<Vec<Minute>> = vec![Vec::new(); split.waves.len()];
    let mut stays: Vec<Vec<(Minute, Minute)>> = vec![Vec::new(); split.waves.len()];
    let (mut before, mut work) = (None, 0);
    for booked in &made.booked {
        let wave = split.waves.get(booked.wave).ok_or("no such wave")?;
        if booked.sitting != done[booked.wave] {
            return Err(format!("wave {} out of order", booked.wave));
        }
        done[booked.wave] += 1;
        let sitting = wave.sittings.get(booked.sitting).ok_or("one too many")?;
        work += sitting.work;
        if booked.ends.since(booked.begins) != i64::from(sitting.work) {
            return Err("a sitting has not its length".into());
        }
        for minute in 0..i64::from(sitting.work.max(1)) {
            let minute = booked.begins.plus(minute).unwrap();
            if !works(rules, minute)
                || minute.date_time().date() != booked.begins.date_time().date()
            {
                return Err(format!(
                    "at work {} outside of the hours",
                    minute.date_time()
                ));
            }
            if !may_lie(task, sitting, minute) {
                return Err(format!("begun {}, never there", minute.date_time()));
            }
            if minute < booked.spell.from || minute >= booked.spell.to {
                return Err("not within its spell".into());
            }
        }
        if before.is_some_and(|before| booked.begins < before) {
            return Err("two sittings at once".into());
        }
        before = Some(booked.ends);
        if sitting.not_before.is_some_and(|from| booked.begins < from) {
            return Err("begun before its goods are there".into());
        }
        if ready[booked.wave].is_some_and(|ready| booked.begins < ready) {
            return Err(format!("wave {} is not ready", booked.wave));
        }
        let reach = |wait: WaitId| slow_ready(&task.waits[wait.0], booked.ends);
        let mut next = sitting.next.map_or(booked.ends, reach);
        let coats = &mut through[booked.wave];
        coats.extend(sitting.through.map(reach));
        let following = wave.sittings.get(booked.sitting + 1);
        if following.is_none_or(|following| following.after_through) {
            next = coats.iter().copied().fold(next, Minute::max);
        }
        let lifts = &mut handled[booked.wave];
        lifts.extend(sitting.lifted.map(reach));
        if !sitting.as_it_lies || following.is_none() {
            next = lifts.iter().copied().fold(next, Minute::max);
        }
        if booked.next_from != next {
            return Err("a wrong wait".into());
        }
        ready[booked.wave] = Some(next);
        let lifted = sitting.lifted.map(|_| {
            let mut minute = lifts.iter().copied().max().unwrap();
            while !works(rules, minute) {
                minute = minute.plus(1).unwrap();
            }
            minute
        });
        if booked.lifted_at != lifted {
            return Err("lifted at a wrong minute".into());
        }
        if let Some(lifted) = lifted {
            let stays = &mut stays[booked.wave];
            match stays.last_mut() {
                Some((_, until)) if booked.begins < *until => *until = lifted,
                _ => stays.push((booked.begins, lifted)),
            }
        }
        check_looks(rules, sitting, booked.begins, booked.ends)?;
    }
    for (wave, done) in split.waves.iter().zip(&done) {
        if wave.sittings.len() != *done {
            return Err("a sitting is missing".into());
        }
    }
    if made.booked.first().map(|first| first.begins) != Some(made.starts) {
        return Err("begins at another minute".into());
    }
    if ready.iter().max() != Some(&Some(made.ready)) {
        return Err("ready at another minute".into());
    }
    let missed = missed(split, made);
    if made.missed != missed {
        return Err(format!("{missed} coats come too late, not {}", made.missed));
    }
    if made.hands_on != work {
        return Err("another sum of work".into());
    }
    check_trays(task, split, &stays, made)
}

/// Coats that come later than the one under them takes one.
fn missed(split: &Split, made: &Timetable) -> usize {
    let mut coats: Vec<[Option<(Minute, Minute, i64)>; 2]> = vec![[None; 2]; split.waves.len()];
    let mut missed = 0;
    for booked in &made.booked {
        let Some(coat) = split.waves[booked.wave].sittings[booked.sitting].coat else {
            continue;
        };
        let under = &mut coats[booked.wave][usize::from(coat.second)];
        if let Some((begins, ends, closes)) = *under {
            let gap = (booked.begins.since(begins)).max(booked.ends.since(ends));
            missed += usize::from(gap > closes);
        }
        let closes = coat.closes.map(i64::from);
        *under = closes.map(|closes| (booked.begins, booked.ends, closes));
    }
    missed
}

fn check_looks(
    rules: &Rules,
    sitting: &Sitting,
    begins: Minute,
    ends: Minute,
) -> Result<(), String> {
    for pour in [begins, ends] {
        let Some(look) = sitting.look else { continue };
        let look = pour.plus(i64::from(look)).unwrap();
        let minute = of_day(look.date_time());
        let awake = rules.awake;
        let awake_at = |minute: u32| awake.from <= minute && minute < awake.to;
        if !awake_at(minute) && !awake_at(minute + 1440) {
            return Err(format!("a look at {} in sleep", look.date_time()));
        }
    }
    Ok(())
}

/// Counts trays at every minute at which a stay begins or ends.
fn check_trays(
    task: &Task,
    split: &Split,
    stays: &[Vec<(Minute, Minute)>],
    made: &Timetable,
) -> Result<(), String> {
    let edges: BTreeSet<Minute> = stays
        .iter()
        .flatten()
        .flat_map(|&(from, until)| [from, until])
        .collect();
    for &edge in &edges {
        for (kind, &have) in task.shop.trays.iter().enumerate() {
            let there = |&&(from, until): &&(Minute, Minute)| from <= edge && edge < until;
            let used: u32 = stays
                .iter()
                .zip(&split.waves)
                .filter(|(stays, _)| stays.iter().any(|stay| there(&stay)))
                .map(|(_, wave)| wave.trays[kind])
                .sum();
            if used > have {
                return Err(format!("{used} trays of {have} in use"));
            }
            let told = made.occupancy().iter().rev().find(|step| step.0 <= edge);
            if told.map_or(0, |step| step.1[kind]) != used {
                return Err("other trays in use than told".into());
            }
        }
    }
    Ok(())
}
