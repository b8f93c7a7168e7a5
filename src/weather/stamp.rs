//! Dates and times as loggers write them.

use jiff::SignedDuration;
use jiff::civil::{Date, DateTime};

use super::notice::DateOrder;

/// A date and a time as they were written, before the order of day and month is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stamp {
    date: Written,
    /// Since midnight, up to and with 24:00.
    clock: SignedDuration,
    pub universal: bool,
}

/// The three numbers of a date.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Written {
    /// In an order that the writing itself tells.
    Known { year: i16, month: i8, day: i8 },
    /// Day and month in one order or the other.
    Either {
        first: i8,
        second: i8,
        year: i16,
        short_year: bool,
    },
    /// Day, month, year, with dots.
    Dotted {
        day: i8,
        month: i8,
        year: i16,
        short_year: bool,
    },
}

impl Stamp {
    /// The order that this date alone settles: one of its first two numbers is no month.
    pub fn settles(&self) -> Option<DateOrder> {
        match self.date {
            Written::Either { first, second, .. } => match (first > 12, second > 12) {
                (true, false) => Some(DateOrder::DayFirst),
                (false, true) => Some(DateOrder::MonthFirst),
                _ => None,
            },
            _ => None,
        }
    }

    /// Whether it makes a difference which of day and month comes first.
    pub fn asks_for_order(&self) -> bool {
        matches!(self.date, Written::Either { first, second, .. } if first != second)
    }

    pub fn has_short_year(&self) -> bool {
        match self.date {
            Written::Known { .. } => false,
            Written::Either { short_year, .. } | Written::Dotted { short_year, .. } => short_year,
        }
    }

    /// The moment, or `None` where the calendar has no such day.
    pub fn at(&self, order: DateOrder) -> Option<DateTime> {
        let (year, month, day) = match self.date {
            Written::Known { year, month, day }
            | Written::Dotted {
                day, month, year, ..
            } => (year, month, day),
            Written::Either {
                first,
                second,
                year,
                ..
            } => match order {
                DateOrder::DayFirst => (year, second, first),
                DateOrder::MonthFirst => (year, first, second),
            },
        };
        let midnight = Date::new(year, month, day)
            .ok()?
            .to_datetime(jiff::civil::Time::midnight());
        midnight.checked_add(self.clock).ok()
    }
}

/// Reads date and time written in one: "2026-11-25T18:30", "25.11.26 18:30:05",
/// "11/25/2026 6:30 PM", or seconds since 1970 in universal time.
pub(super) fn moment(text: &str) -> Option<Stamp> {
    let text = text.trim();
    let Some(cut) = text.find(|c: char| c.is_whitespace() || c == 'T' || c == 't') else {
        return unix(text);
    };
    let (date, rest) = text.split_at(cut);
    let clock = rest.trim_start_matches(|c: char| c.is_whitespace() || c == 'T' || c == 't');
    in_two(date.trim_end_matches(','), clock)
}

/// Reads date and time from two cells.
pub(super) fn in_two(date: &str, clock: &str) -> Option<Stamp> {
    let (clock, universal) = without_zone(clock.trim());
    Some(Stamp {
        date: written(date.trim())?,
        clock: since_midnight(clock)?,
        universal,
    })
}

/// Seconds since 1970-01-01, from 2000 to 2099: nine or ten digits.
pub(super) fn unix(text: &str) -> Option<Stamp> {
    const OF_2000: i64 = 946_684_800;
    const OF_2100: i64 = 4_102_444_800;
    const DAY: i64 = 86_400;
    if !(9..=10).contains(&text.len()) || !text.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let seconds: i64 = text.parse().ok()?;
    if !(OF_2000..OF_2100).contains(&seconds) {
        return None;
    }
    let days = SignedDuration::from_secs(seconds - seconds % DAY);
    let date = Date::new(1970, 1, 1).ok()?.checked_add(days).ok()?;
    Some(Stamp {
        date: Written::Known {
            year: date.year(),
            month: date.month(),
            day: date.day(),
        },
        clock: SignedDuration::from_secs(seconds % DAY),
        universal: true,
    })
}

fn written(text: &str) -> Option<Written> {
    let mark = text.bytes().find(|b| !b.is_ascii_digit())?;
    if !matches!(mark, b'-' | b'/' | b'.') {
        return None;
    }
    let mut parts = text.split(char::from(mark));
    let (a, b, c) = (parts.next()?, parts.next()?, parts.next()?);
    if parts.next().is_some() {
        return None;
    }
    if a.len() == 4 {
        return Some(Written::Known {
            year: year(a)?.0,
            month: small(b)?,
            day: small(c)?,
        });
    }
    let (year, short_year) = year(c)?;
    let (first, second) = (small(a)?, small(b)?);
    Some(if mark == b'.' {
        Written::Dotted {
            day: first,
            month: second,
            year,
            short_year,
        }
    } else {
        Written::Either {
            first,
            second,
            year,
            short_year,
        }
    })
}

/// One or two digits.
fn small(text: &str) -> Option<i8> {
    let plain = (1..=2).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
    plain.then(|| text.parse().ok()).flatten()
}

/// A year from 1900 to 2200, or two digits, which are taken for 20..; and whether it
/// had two.
fn year(text: &str) -> Option<(i16, bool)> {
    match text.len() {
        2 => small(text).map(|short| (2000 + i16::from(short), true)),
        4 if text.bytes().all(|b| b.is_ascii_digit()) => {
            let year: i16 = text.parse().ok()?;
            (1900..=2200).contains(&year).then_some((year, false))
        }
        _ => None,
    }
}

/// The clock without "Z" or an offset such as "+01:00", which leaves the time on the
/// clock there; and whether it was "Z".
fn without_zone(clock: &str) -> (&str, bool) {
    if let Some(bare) = clock.strip_suffix(['Z', 'z']) {
        return (bare, true);
    }
    match clock.find(['+', '-']) {
        Some(at) if is_offset(&clock[at + 1..]) => (clock[..at].trim_end(), false),
        _ => (clock, false),
    }
}

/// "01:00", "0100" or "01".
fn is_offset(text: &str) -> bool {
    let digits = text.bytes().filter(u8::is_ascii_digit).count();
    let colons = text.bytes().filter(|&b| b == b':').count();
    matches!(
        (text.len(), digits, colons),
        (5, 4, 1) | (4, 4, 0) | (2, 2, 0)
    )
}

/// Time since midnight: "18:30", "18:30:05", "18:30:05.250", "6:30 PM", "24:00".
fn since_midnight(clock: &str) -> Option<SignedDuration> {
    let (bare, half) = half_of_day(clock);
    let mut parts = bare.split(':');
    let (hour, minute, second) = (parts.next()?, parts.next()?, parts.next().unwrap_or("0"));
    if parts.next().is_some() {
        return None;
    }
    let (second, fraction) = second.split_once(['.', ',']).unwrap_or((second, ""));
    let (hour, minute, second) = (small(hour)?, small(minute)?, small(second)?);
    let hour = match half {
        None => hour,
        Some(_) if !(1..=12).contains(&hour) => return None,
        Some(Half::Morning) => hour % 12,
        Some(Half::Afternoon) => hour % 12 + 12,
    };
    if minute > 59 || second > 59 {
        return None;
    }
    let seconds = i64::from(hour) * 3600 + i64::from(minute) * 60 + i64::from(second);
    let clock = SignedDuration::new(seconds, nanoseconds(fraction)?);
    let day_ends = SignedDuration::from_hours(24);
    (clock <= day_ends).then_some(clock)
}

enum Half {
    Morning,
    Afternoon,
}

fn half_of_day(clock: &str) -> (&str, Option<Half>) {
    for (ends, half) in [
        (["am", "AM", "a.m.", "A.M."], Half::Morning),
        (["pm", "PM", "p.m.", "P.M."], Half::Afternoon),
    ] {
        if let Some(bare) = ends.iter().find_map(|end| clock.strip_suffix(end)) {
            return (bare.trim_end(), Some(half));
        }
    }
    (clock, None)
}

/// Digits behind the decimal mark of a second; past the ninth they are nothing.
fn nanoseconds(fraction: &str) -> Option<i32> {
    let mut nanoseconds = 0;
    let mut place = 100_000_000;
    for byte in fraction.bytes() {
        if !byte.is_ascii_digit() {
            return None;
        }
        nanoseconds += i32::from(byte - b'0') * place;
        place /= 10;
    }
    Some(nanoseconds)
}
