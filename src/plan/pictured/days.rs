//! The days of a calendar, with the maker's hours on each.

use jiff::civil::{Date, DateTime};

use crate::plan::{Calendar, Dates, Plan};
use crate::run::{ClockSpan, Hours, Run};

/// The days that a picture of the calendar has a row for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DaysPlan {
    /// The days, in order.
    pub days: Vec<DayPlan>,
    /// When the maker is awake.
    pub awake: ClockSpan,
    /// Trays of all kinds that can be used at once. `None`: no trays are told of.
    pub trays: Option<u32>,
    /// Whether days without a sitting are left out, there being so many.
    pub only_worked: bool,
    /// Days left out at the end.
    pub left_out: usize,
}

/// One day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DayPlan {
    /// Its date.
    pub date: Date,
    /// The spells of work; none on a day off.
    pub open: Vec<ClockSpan>,
    /// Whether it is one of the maker's days off.
    pub off: bool,
    /// The most trays in use at once.
    pub most_trays: u32,
}

/// Most days that are drawn: ten weeks.
const MOST_DAYS: usize = 70;
/// A date to be ready by that lies further off than this after the last piece has no day of its
/// own.
const DAYS_ON: i32 = 3;

/// The days from the start of the work to its end; `None` where the plan has no calendar.
#[must_use]
pub fn days(run: &Run, plan: &Plan) -> Option<DaysPlan> {
    let Dates::Told(calendar) = &plan.dates else {
        return None;
    };
    let all = span(calendar);
    let only_worked = all.len() > MOST_DAYS;
    let worked = |date: &Date| {
        let begun = |sitting: &crate::plan::Booked| sitting.begins.date() == *date;
        !only_worked || calendar.sittings.iter().any(begun)
    };
    let mut days: Vec<DayPlan> = (all.into_iter().filter(worked))
        .map(|date| day(date, &run.hours, calendar))
        .collect();
    let left_out = days.len().saturating_sub(MOST_DAYS);
    days.truncate(MOST_DAYS);
    let trays = &plan.space.trays;
    Some(DaysPlan {
        days,
        awake: run.hours.awake,
        trays: (!trays.is_empty()).then(|| trays.iter().map(|tray| tray.usable).sum()),
        only_worked,
        left_out,
    })
}

/// Every date from the first sitting's to the one on which all is ready, and on to the one
/// that it must be ready by where that is near.
fn span(calendar: &Calendar) -> Vec<Date> {
    let first = calendar.start.date();
    let ready = calendar.ready.date();
    let due = calendar.by.as_ref().map(|by| by.deadline.date());
    let near = |due: &Date| (*due - ready).get_days() <= DAYS_ON && *due > ready;
    let last = due.filter(near).unwrap_or(ready);
    std::iter::successors(Some(first), |date| date.tomorrow().ok())
        .take_while(|date| *date <= last)
        .collect()
}

fn day(date: Date, hours: &Hours, calendar: &Calendar) -> DayPlan {
    let off = hours.off.contains(&date);
    let weekday = date.weekday().to_monday_zero_offset();
    let open = usize::try_from(weekday)
        .ok()
        .and_then(|weekday| hours.days.get(weekday));
    DayPlan {
        date,
        open: open.filter(|_| !off).cloned().unwrap_or_default(),
        off,
        most_trays: most_trays(date.at(0, 0, 0, 0), calendar),
    }
}

/// The most trays in use at once from a midnight to the next.
fn most_trays(midnight: DateTime, calendar: &Calendar) -> u32 {
    let next = midnight.date().tomorrow().map(|date| date.at(0, 0, 0, 0));
    let sum = |(_, trays): &(DateTime, Vec<u32>)| trays.iter().sum::<u32>();
    let changes = &calendar.occupied;
    let before = changes.iter().rev().find(|(at, _)| *at <= midnight);
    let within = changes
        .iter()
        .filter(|(at, _)| *at > midnight && next.as_ref().is_ok_and(|next| at < next));
    before.into_iter().chain(within).map(sum).max().unwrap_or(0)
}
