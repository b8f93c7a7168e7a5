//! The batch code: what ties a piece to the run that it came from.

use jiff::civil::Date;

use super::Dates;
use crate::run::Header;

/// The first letters of the run's name, four at most, and the day of its first sitting: year,
/// month and day in two digits each: "HF-270407". Without a calendar it is the day that the run
/// names as its start; without that the letters stand alone, and the day is written by hand.
pub(super) fn of(header: &Header, dates: &Dates) -> String {
    let letters: String = header
        .name
        .split_whitespace()
        .filter_map(|word| word.chars().find(|c| c.is_alphanumeric()))
        .flat_map(char::to_uppercase)
        .take(4)
        .collect();
    let letters = if letters.is_empty() { "RUN" } else { &letters };
    match day(header, dates) {
        Some(day) => format!("{letters}-{}", day.strftime("%y%m%d")),
        None => letters.to_owned(),
    }
}

fn day(header: &Header, dates: &Dates) -> Option<Date> {
    let first = match dates {
        Dates::Told(calendar) => Some(calendar.start),
        Dates::Undated(_) | Dates::Untold { .. } | Dates::Never(_) => header.start,
    };
    first.map(jiff::civil::DateTime::date)
}
