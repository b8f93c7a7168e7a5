//! At which minutes of a day a sitting may begin.

use super::hours::{Hours, Window};
use super::minute::{DAY, weekday};
use super::wait::Barred;

/// The minutes at which something may be begun, by weekday.
#[derive(Debug)]
pub(super) struct Starts {
    /// First and last minute of day of each stretch, in order.
    stretches: [Vec<(i64, i64)>; 7],
}

impl Starts {
    /// Every minute of working time.
    pub fn working(hours: &Hours) -> Self {
        Self::of(hours, 0, None, Barred::default())
    }

    /// Where a sitting lies within one spell, outside of the hours that are barred, and is looked
    /// over while awake.
    pub fn of(hours: &Hours, work: u32, look: Option<u32>, barred: Barred) -> Self {
        let windows = hours.windows();
        Self {
            stretches: std::array::from_fn(|day| {
                let windows = windows[day].iter().flat_map(|&window| open(window, barred));
                let inside = windows.filter_map(|window| fits(window, work));
                let Some(look) = look else {
                    return inside.collect();
                };
                let first = inside.flat_map(|stretch| awake(hours, stretch, i64::from(look)));
                let last = i64::from(work) + i64::from(look);
                first
                    .flat_map(|stretch| awake(hours, stretch, last))
                    .collect()
            }),
        }
    }

    /// Whether there is no such minute in the week.
    pub fn never(&self) -> bool {
        self.stretches.iter().all(Vec::is_empty)
    }

    /// When so much has been done that is begun at such a minute, and done at such minutes only.
    pub fn after(&self, hours: &Hours, from: i64, minutes: i64) -> i64 {
        let (mut at, mut left) = (from, minutes);
        loop {
            let day = at.div_euclid(DAY);
            let minute = at - day * DAY;
            let stretches = &self.stretches[weekday(day)];
            let around = stretches.iter().find(|stretch| minute <= stretch.1);
            let rest = around.map_or(0, |stretch| stretch.1 + 1 - minute);
            if left <= rest {
                return at + left;
            }
            left -= rest;
            at = self.first(hours, at + rest);
        }
    }

    /// The first such minute from one on. There must be one in the week.
    pub fn first(&self, hours: &Hours, from: i64) -> i64 {
        let mut day = from.div_euclid(DAY);
        let mut minute = from - day * DAY;
        loop {
            for &(first, last) in &self.stretches[weekday(day)] {
                if minute <= last && hours.works_on(day) {
                    return day * DAY + minute.max(first);
                }
            }
            day += 1;
            minute = 0;
        }
    }

    /// The last such minute up to one. There must be one in the week.
    pub fn last(&self, hours: &Hours, until: i64) -> i64 {
        let mut day = until.div_euclid(DAY);
        let mut minute = until - day * DAY;
        loop {
            for &(first, last) in self.stretches[weekday(day)].iter().rev() {
                if minute >= first && hours.works_on(day) {
                    return day * DAY + minute.min(last);
                }
            }
            day -= 1;
            minute = DAY;
        }
    }
}

/// The longest part of a spell that is not barred, `[min]`; 0 where there is none.
pub(super) fn longest(hours: &Hours, barred: Barred) -> u32 {
    let windows = hours.windows().iter().flatten();
    let parts = windows.flat_map(|&window| open(window, barred));
    parts.map(Window::length).max().unwrap_or(0)
}

/// The parts of a window that are not barred, in order.
fn open(window: Window, barred: Barred) -> Vec<Window> {
    if barred == Barred::default() {
        return vec![window];
    }
    let mut parts: Vec<Window> = Vec::new();
    for hour in 0..24 {
        let part = Window {
            from: window.from.max(60 * hour),
            to: window.to.min(60 * (hour + 1)),
        };
        if barred.holds(hour) || part.from >= part.to {
            continue;
        }
        match parts.last_mut() {
            Some(last) if last.to == part.from => last.to = part.to,
            _ => parts.push(part),
        }
    }
    parts
}

/// The first and the last minute at which work may begin that must end within a window.
fn fits(window: Window, work: u32) -> Option<(i64, i64)> {
    let (from, to) = (i64::from(window.from), i64::from(window.to));
    let last = (to - i64::from(work)).min(to - 1);
    (from <= last).then_some((from, last))
}

/// The parts of a stretch from whose minutes one is awake so much later.
fn awake(hours: &Hours, (first, last): (i64, i64), later: i64) -> Vec<(i64, i64)> {
    let woken = hours.awake();
    // The waking hours that begin on the day before the first look, on its day, and so on.
    let day = (first + later).div_euclid(DAY);
    (day - 1..=day + 1)
        .filter_map(|day| {
            let up = day * DAY + i64::from(woken.from) - later;
            let asleep = day * DAY + i64::from(woken.to) - later;
            let part = (first.max(up), last.min(asleep - 1));
            (part.0 <= part.1).then_some(part)
        })
        .collect()
}
