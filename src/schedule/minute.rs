//! Points in time, in whole minutes of the maker's own clock.

use jiff::SignedDuration;
use jiff::civil::{Date, DateTime};

/// Minutes in a day.
pub(super) const DAY: i64 = 1440;

/// How far ahead a run may reach, `[min]`: a hundred years.
pub(super) const HORIZON: i64 = 36_525 * DAY;

/// Midnight of minute 0, a Thursday.
const ORIGIN: DateTime = DateTime::constant(1970, 1, 1, 0, 0, 0, 0);

/// A minute of the maker's own clock, `[min]` since the midnight that began 1 January 1970.
///
/// There are no time zones and no clock changes: a schedule of a few weeks is
/// kept by the clock on the wall, and is an hour out where that is moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Minute(i64);

impl Minute {
    /// The minute that a date and a time lie in.
    #[must_use]
    pub fn of(at: DateTime) -> Self {
        Self(at.duration_since(ORIGIN).as_secs().div_euclid(60))
    }

    /// The minute so many minutes later, or earlier where negative; none outside
    /// of the years -9999 to 9999.
    #[must_use]
    pub fn plus(self, minutes: i64) -> Option<Self> {
        let moved = self.0.checked_add(minutes)?;
        civil(moved).map(|_| Self(moved))
    }

    /// Minutes from an earlier minute to this one, `[min]`; negative if it is later.
    #[must_use]
    pub fn since(self, earlier: Self) -> i64 {
        self.0 - earlier.0
    }

    /// The date and the time.
    ///
    /// # Panics
    ///
    /// Never: a minute is only made from a date, or after asking whether there is one.
    #[must_use]
    pub fn date_time(self) -> DateTime {
        civil(self.0).expect("a minute is made only where there is a date")
    }

    /// The clock hour it lies in, 0 to 23.
    #[must_use]
    pub fn hour(self) -> usize {
        hour(self.0)
    }

    /// The number behind it, for the module's own reckoning.
    pub(super) fn number(self) -> i64 {
        self.0
    }

    /// A minute of the module's own reckoning, which stays within its horizon.
    pub(super) fn reckoned(number: i64) -> Self {
        debug_assert!(civil(number).is_some(), "{number} has no date");
        Self(number)
    }
}

fn civil(number: i64) -> Option<DateTime> {
    let seconds = number.checked_mul(60)?;
    ORIGIN.checked_add(SignedDuration::from_secs(seconds)).ok()
}

/// The clock hour of a minute, 0 to 23.
pub(super) fn hour(minute: i64) -> usize {
    usize::try_from(minute.rem_euclid(DAY) / 60).expect("an hour of the day")
}

/// A date's number, counted from minute 0's.
pub(super) fn day_of(date: Date) -> i64 {
    Minute::of(date.at(0, 0, 0, 0)).0 / DAY
}

/// The weekday of a day's number, Monday 0.
pub(super) fn weekday(day: i64) -> usize {
    // Day 0 is a Thursday.
    usize::try_from((day + 3).rem_euclid(7)).expect("a weekday")
}

/// The number of the last day there is.
pub(super) fn last_day() -> i64 {
    day_of(Date::MAX)
}
