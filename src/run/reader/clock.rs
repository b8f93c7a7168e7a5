//! Dates and times by the maker's own clock.

use std::fmt;

use jiff::civil::{Date, DateTime, Time as Clock};
use toml::de::DeValue;

use super::{Item, Mistake};

/// A date and time by the maker's own clock.
pub(in crate::run) struct When(pub DateTime);

impl Item for When {
    fn expected() -> String {
        "a date and time by your own clock, such as 2027-04-17T08:00:00".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        let wanted = || Mistake::expected(Self::expected());
        let text = match value {
            DeValue::Datetime(when) if when.offset.is_none() && when.date.is_some() => {
                when.to_string()
            }
            DeValue::String(text) => text.trim().to_owned(),
            _ => return Err(wanted()),
        };
        text.parse().map(Self).map_err(|_| wanted())
    }
}

/// A clock time.
pub(in crate::run) struct ClockTime(pub Clock);

impl Item for ClockTime {
    fn expected() -> String {
        "a clock time, such as \"19:00\"".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        let wanted = || Mistake::expected(Self::expected());
        let text = match value {
            DeValue::Datetime(when) if when.date.is_none() && when.offset.is_none() => {
                when.to_string()
            }
            DeValue::String(text) => text.trim().to_owned(),
            _ => return Err(wanted()),
        };
        text.parse().map(Self).map_err(|_| wanted())
    }
}

/// A day of the calendar.
pub(in crate::run) struct Day(pub Date);

impl Item for Day {
    fn expected() -> String {
        "a date without a time of day, such as 2027-04-04".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        let text = match value {
            DeValue::Datetime(when) => when.to_string(),
            DeValue::String(text) => text.trim().to_owned(),
            _ => return Err(Mistake::expected(Self::expected())),
        };
        date(&text).map(Self).ok_or_else(|| Mistake::Expected {
            expected: Self::expected(),
            nearest: text.get(..10).and_then(date).map(|day| day.to_string()),
        })
    }
}

/// A date written `2027-04-04`. The calendar's own reader would also take a date and time, and drop the time.
fn date(text: &str) -> Option<Date> {
    let dashed = matches!(text.as_bytes(), [_, _, _, _, b'-', _, _, b'-', _, _]);
    dashed.then(|| text.parse().ok()).flatten()
}

/// Two clock times as minutes after midnight, each a time of day by itself. Whether the second is later is
/// for those to check who know what the two mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::run) struct FromTo {
    /// The first, before 24:00.
    pub from: u16,
    /// The second, at most 24:00.
    pub to: u16,
}

impl Item for FromTo {
    fn expected() -> String {
        "two clock times, such as \"18:30-21:30\"".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        let text = value.as_str().unwrap_or_default();
        from_to(text).ok_or_else(|| {
            let meant = text.replace(" to ", "-").replace('.', ":");
            Mistake::Expected {
                expected: Self::expected(),
                nearest: from_to(&meant).map(|it| format!("\"{it}\"")),
            }
        })
    }
}

impl fmt::Display for FromTo {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { from, to } = self;
        write!(
            out,
            "{:02}:{:02}-{:02}:{:02}",
            from / 60,
            from % 60,
            to / 60,
            to % 60
        )
    }
}

fn from_to(text: &str) -> Option<FromTo> {
    let (from, to) = text.split_once(['-', '\u{2013}'])?;
    let (from, to) = (minutes(from)?, minutes(to)?);
    (from < DAY).then_some(FromTo { from, to })
}

/// Minutes in a day.
const DAY: u16 = 24 * 60;

/// Minutes after midnight of a clock time such as `9:30`, 24:00 at most.
fn minutes(text: &str) -> Option<u16> {
    let (hours, minutes) = text.trim().split_once(':')?;
    let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    let written = (1..=2).contains(&hours.len()) && minutes.len() == 2;
    if !(written && digits(hours) && digits(minutes)) {
        return None;
    }
    let (hours, minutes): (u16, u16) = (hours.parse().ok()?, minutes.parse().ok()?);
    let after_midnight = hours * 60 + minutes;
    (minutes < 60 && after_midnight <= DAY).then_some(after_midnight)
}
