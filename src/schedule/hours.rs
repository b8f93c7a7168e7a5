//! The maker's hours, and clock minutes counted from a midnight.

use std::collections::BTreeSet;

use jiff::civil::{Date, DateTime};
use jiff::{SignedDuration, ToSpan};

/// A minute, counted from the midnight that a calendar begins at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Minute(pub i64);

/// Minutes in a day.
pub(super) const DAY: i64 = 24 * 60;

/// How far ahead a place in the maker's hours is looked for, days.
const FAR: i64 = 800;

impl Minute {
    /// So many minutes later.
    #[must_use]
    pub const fn later(self, minutes: u32) -> Self {
        Self(self.0 + minutes as i64)
    }

    fn day(self) -> i64 {
        self.0.div_euclid(DAY)
    }

    fn of_day(self) -> i64 {
        self.0.rem_euclid(DAY)
    }
}

/// A spell of one day: from a minute after midnight to a later one, 1440 at most.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Window {
    /// When it begins.
    pub from: u16,
    /// When it ends.
    pub to: u16,
}

impl Window {
    fn holds(self, of_day: i64) -> bool {
        (i64::from(self.from)..=i64::from(self.to)).contains(&of_day)
    }

    /// How long it is, minutes.
    #[must_use]
    pub fn lasts(self) -> u32 {
        u32::from(self.to.saturating_sub(self.from))
    }
}

/// When the maker works and is awake.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hours {
    /// The date whose midnight is minute 0.
    pub origin: Date,
    /// Spells of work on each day of the week, from Monday; in order, apart.
    pub days: [Vec<Window>; 7],
    /// Dates on which nothing is done.
    pub off: BTreeSet<Date>,
    /// When somebody is awake.
    pub awake: Window,
}

impl Hours {
    /// The minute of a moment, the last begun one.
    #[must_use]
    pub fn minute(&self, at: DateTime) -> Minute {
        let since = at.duration_since(self.origin.at(0, 0, 0, 0));
        Minute(since.as_secs().div_euclid(60))
    }

    /// The moment of a minute; the last that a calendar has, where it lies past that.
    #[must_use]
    pub fn moment(&self, minute: Minute) -> DateTime {
        let since = SignedDuration::from_mins(minute.0);
        let from = self.origin.at(0, 0, 0, 0);
        from.saturating_add(since)
    }

    /// The spells of work on a day counted from the origin.
    fn spells(&self, day: i64) -> &[Window] {
        let monday = i64::from(self.origin.weekday().to_monday_zero_offset());
        let off = !self.off.is_empty()
            && self
                .origin
                .checked_add(day.days())
                .is_ok_and(|date| self.off.contains(&date));
        match usize::try_from((monday + day).rem_euclid(7)) {
            Ok(weekday) if !off => &self.days[weekday],
            _ => &[],
        }
    }

    /// The longest spell of the week, minutes.
    #[must_use]
    pub fn longest(&self) -> u32 {
        let all = self.days.iter().flatten();
        all.map(|window| window.lasts()).max().unwrap_or(0)
    }

    /// The first minute of work at or after one.
    #[must_use]
    pub fn next_at_work(&self, from: Minute) -> Option<Minute> {
        self.fit(from, 0, None)
    }

    /// The first minute from which a sitting of so many minutes lies within one spell of
    /// work, and from whose first and last pour somebody is awake so many minutes later.
    #[must_use]
    pub fn fit(&self, from: Minute, work: u32, look: Option<u32>) -> Option<Minute> {
        let work = i64::from(work);
        for day in from.day()..from.day() + FAR {
            for window in self.spells(day) {
                let earliest = from.0.max(day * DAY + i64::from(window.from));
                let latest = day * DAY + i64::from(window.to) - work;
                if let Some(begins) = self.seen_from(earliest, latest, work, look) {
                    return Some(Minute(begins));
                }
            }
        }
        None
    }

    /// The first minute of some from which both looks fall in waking time.
    fn seen_from(&self, earliest: i64, latest: i64, work: i64, look: Option<u32>) -> Option<i64> {
        let mut begins = earliest;
        let Some(look) = look.map(i64::from) else {
            return (begins <= latest).then_some(begins);
        };
        while begins <= latest {
            let asleep = [begins + look, begins + work + look]
                .into_iter()
                .find(|&at| !self.awake.holds(at.rem_euclid(DAY)));
            let Some(at) = asleep else {
                return Some(begins);
            };
            // on to the next waking
            begins += (i64::from(self.awake.from) - at.rem_euclid(DAY)).rem_euclid(DAY);
        }
        None
    }

    /// Days with work among so many from a day on.
    #[must_use]
    pub fn working_days(&self, from: Minute, days: u32) -> u32 {
        let worked =
            (from.day()..from.day() + i64::from(days)).filter(|&day| !self.spells(day).is_empty());
        u32::try_from(worked.count()).unwrap_or(days)
    }

    /// Minutes of work in a week without days off.
    #[must_use]
    pub fn per_week(&self) -> u32 {
        self.days
            .iter()
            .flatten()
            .map(|window| window.lasts())
            .sum()
    }

    /// The clock hour of a minute, from 0.
    pub(super) fn clock_hour(minute: Minute) -> (usize, i64) {
        let hour = minute.of_day() / 60;
        (
            usize::try_from(hour).unwrap_or(0),
            minute.0.div_euclid(60) * 60,
        )
    }
}
