//! The batch code: what ties a piece to the run that it came from.

use jiff::civil::Date;

use super::Dates;
use crate::run::Header;

/// The first letters of the run's name, four at most, and the day of its first sitting: year,
/// month and day in two digits each. Without a calendar the day is that of the date that it
/// begins or must be ready, and without that there is none.
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
        _ => header.start.or(header.ready_by),
    };
    first.map(jiff::civil::DateTime::date)
}
