//! When the maker works, and when the maker is awake.

use std::collections::BTreeSet;

use jiff::civil::{Date, Time};
use thiserror::Error;

use super::minute::{DAY, Minute, day_of, last_day, weekday};

/// A stretch of a day, `[min]` since its midnight; `to` is no longer part of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Window {
    /// Its first minute, 0 to 1439.
    pub from: u32,
    /// The first minute after it.
    pub to: u32,
}

impl Window {
    /// The stretch between two times of one day; seconds are dropped.
    #[must_use]
    pub fn between(from: Time, to: Time) -> Self {
        Self {
            from: minute_of_day(from),
            to: minute_of_day(to),
        }
    }

    /// Its length, `[min]`.
    #[must_use]
    pub fn length(self) -> u32 {
        self.to.saturating_sub(self.from)
    }
}

fn minute_of_day(time: Time) -> u32 {
    u32::try_from(i32::from(time.hour()) * 60 + i32::from(time.minute())).expect("a time of day")
}

/// One working window on one date; `to` is no longer part of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spell {
    /// Its first minute.
    pub from: Minute,
    /// The first minute after it.
    pub to: Minute,
}

/// Why a maker's hours can't be taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum HoursError {
    /// A working window that ends before it begins, or lies outside of its day.
    #[error(
        "working hours must begin before they end, within one day of 1440 minutes, not from minute {} to {}", .0.from, .0.to
    )]
    Window(Window),
    /// Two working windows of one weekday that overlap.
    #[error("two working windows of one day overlap: minutes {} to {} and {} to {}", .0.from, .0.to, .1.from, .1.to)]
    Overlap(Window, Window),
    /// Waking hours of no length, longer than a day, or that begin outside of it.
    #[error(
        "waking hours must begin within the day and last up to 1440 minutes, not from minute {} to {}", .0.from, .0.to
    )]
    Awake(Window),
}

/// The maker's week: working windows, days off, waking hours.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hours {
    /// By weekday, Monday first; in order, none touching another.
    windows: [Vec<Window>; 7],
    awake: Window,
    /// Numbers of the days off, in order.
    off: Vec<i64>,
}

impl Hours {
    /// Checks a maker's week.
    ///
    /// `by_weekday` holds the working windows of each weekday, Monday first, within
    /// 0 to 1440 minutes and none across midnight; windows that touch become one.
    /// `awake` may run past midnight: up to 30 minutes past is `to: 1470`.
    ///
    /// # Errors
    ///
    /// [`HoursError`] for a window of no length or outside of its day, for two that overlap.
    pub fn new(
        by_weekday: [Vec<Window>; 7],
        days_off: &BTreeSet<Date>,
        awake: Window,
    ) -> Result<Self, HoursError> {
        let len = i64::from(awake.length());
        if len == 0 || len > DAY || i64::from(awake.from) >= DAY {
            return Err(HoursError::Awake(awake));
        }
        let mut windows = by_weekday;
        for day in &mut windows {
            *day = in_order(day)?;
        }
        Ok(Self {
            windows,
            awake,
            off: days_off.iter().map(|&date| day_of(date)).collect(),
        })
    }

    /// The working windows of a weekday, Monday first, in order.
    #[must_use]
    pub fn windows(&self) -> &[Vec<Window>; 7] {
        &self.windows
    }

    /// When the maker is awake.
    #[must_use]
    pub fn awake(&self) -> Window {
        self.awake
    }

    /// Whether the maker is awake in a minute.
    #[must_use]
    pub fn is_awake(&self, at: Minute) -> bool {
        let past = (at.number() - i64::from(self.awake.from)).rem_euclid(DAY);
        past < i64::from(self.awake.length())
    }

    /// The longest working window of the week, `[min]`; 0 without working hours.
    #[must_use]
    pub fn longest_spell(&self) -> u32 {
        let all = self.windows.iter().flatten();
        all.map(|window| window.length()).max().unwrap_or(0)
    }

    /// Working time in a week without days off, `[min]`.
    #[must_use]
    pub fn minutes_a_week(&self) -> u32 {
        self.windows.iter().flatten().map(|w| w.length()).sum()
    }

    /// Weekdays with working hours, 0 to 7.
    #[must_use]
    pub fn days_a_week(&self) -> u32 {
        self.windows
            .iter()
            .map(|day| u32::from(!day.is_empty()))
            .sum()
    }

    /// The spells that end after a minute, in order. They go on to the year 9999, unless there are no working hours at all.
    pub fn spells(&self, from: Minute) -> impl Iterator<Item = Spell> {
        let first = from.number().div_euclid(DAY);
        let days = if self.minutes_a_week() == 0 {
            0
        } else {
            last_day() - first
        };
        (first..first + days)
            .filter(|&day| self.works_on(day))
            .flat_map(|day| {
                let windows = self.windows[weekday(day)].iter();
                windows.map(move |window| (day * DAY, *window))
            })
            .filter(move |(midnight, window)| midnight + i64::from(window.to) > from.number())
            .map(|(midnight, window)| Spell {
                from: Minute::reckoned(midnight + i64::from(window.from)),
                to: Minute::reckoned(midnight + i64::from(window.to)),
            })
    }

    /// Whether a day is none of the days off.
    pub(super) fn works_on(&self, day: i64) -> bool {
        self.off.is_empty() || self.off.binary_search(&day).is_err()
    }
}

/// Windows in order, checked, those that touch made one.
fn in_order(day: &[Window]) -> Result<Vec<Window>, HoursError> {
    let mut sorted = day.to_vec();
    sorted.sort_unstable();
    let mut joined: Vec<Window> = Vec::with_capacity(sorted.len());
    for window in sorted {
        if window.from >= window.to || i64::from(window.to) > DAY {
            return Err(HoursError::Window(window));
        }
        match joined.last_mut() {
            Some(last) if window.from < last.to => {
                return Err(HoursError::Overlap(*last, window));
            }
            Some(last) if window.from == last.to => last.to = window.to,
            _ => joined.push(window),
        }
    }
    Ok(joined)
}
