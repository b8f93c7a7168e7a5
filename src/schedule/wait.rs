//! How long a coat takes, by the hour it is begun in.

use super::minute::{DAY, Minute, hour};

/// Which of a task's waits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WaitId(pub usize);

/// Minutes until something is reached, by the clock hour in which the waiting begins.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wait {
    /// For each hour from 0 to 23, `[min]`; steady air has 24 equal figures. None: what is begun
    /// then never gets there, so nothing is.
    pub by_hour: [Option<u32>; 24],
}

impl Wait {
    /// A wait that is the same at every hour, `[min]`.
    #[must_use]
    pub fn steady(minutes: u32) -> Self {
        Self {
            by_hour: [Some(minutes); 24],
        }
    }

    /// When what is begun in a minute is there.
    ///
    /// What is laid later is never there sooner, so a start takes over the
    /// latest end of all starts before it:
    ///
    /// ```text
    /// ready(t) = max over t' <= t of t' + w(hour of t')
    /// ```
    ///
    /// From an hour that has no wait it waits for the next that has one; its first minute still
    /// counts to the hour before.
    ///
    /// None where that is past the year 9999, or no hour has a wait.
    ///
    /// ```
    /// use brimful::schedule::{Minute, Wait};
    /// use jiff::civil::date;
    /// let mut wait = Wait::steady(60);
    /// wait.by_hour[8] = Some(240);
    /// let at = |hour, minute| Minute::of(date(2027, 4, 8).at(hour, minute, 0, 0));
    /// // Begun at 08:59 it takes until 12:59, and what is begun at 09:30 is no sooner.
    /// assert_eq!(wait.ready(at(9, 30)), Some(at(12, 59)));
    /// assert_eq!(wait.ready(at(13, 0)), Some(at(14, 0)));
    /// // What is not begun from 14:00 on is begun at 15:00.
    /// wait.by_hour[14] = None;
    /// assert_eq!(wait.ready(at(14, 30)), Some(at(16, 0)));
    /// ```
    #[must_use]
    pub fn ready(&self, from: Minute) -> Option<Minute> {
        self.by_hour.iter().flatten().next()?;
        let ready = Reach::from(self).ready(from.number());
        from.plus(ready - from.number())
    }

    /// The hours in which nothing is begun.
    pub(super) fn barred(&self) -> Barred {
        let hours = self.by_hour.iter().enumerate();
        let barred = hours.map(|(hour, wait)| u32::from(wait.is_none()) << hour);
        Barred(barred.sum())
    }
}

/// Clock hours in which nothing is begun, a bit for each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub(super) struct Barred(u32);

impl Barred {
    /// The hours that either bars.
    pub fn and(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// Whether an hour is one of them.
    pub fn holds(self, hour: u32) -> bool {
        self.0 >> hour & 1 == 1
    }
}

/// Stands for the wait of an hour that has none.
const NEVER: i64 = i64::MIN / 2;

/// A wait made quick to ask.
#[derive(Debug, Clone)]
pub(super) enum Reach {
    /// As long at every hour.
    Steady(i64),
    /// Another at some.
    ByHour(Box<ByHour>),
}

/// A wait that goes by the hour of its start.
#[derive(Debug, Clone)]
pub(super) struct ByHour {
    wait: [i64; 24],
    /// By the hour of the start: the latest end of all starts in earlier hours, counted from that hour's first minute.
    carried: [i64; 24],
}

impl From<&Wait> for Reach {
    fn from(wait: &Wait) -> Self {
        Self::of(wait.by_hour.map(|wait| wait.map_or(NEVER, i64::from)))
    }
}

impl Reach {
    /// From the minutes of each hour, [`NEVER`] where it has none.
    fn of(wait: [i64; 24]) -> Self {
        if wait.iter().all(|&other| other == wait[0]) {
            Self::Steady(wait[0])
        } else {
            Self::ByHour(Box::new(ByHour::of(wait)))
        }
    }

    /// When what is begun at a minute is there.
    pub fn ready(&self, from: i64) -> i64 {
        match self {
            Self::Steady(wait) => from + wait,
            Self::ByHour(by_hour) => by_hour.ready(from),
        }
    }

    /// The same times a factor, to the nearest minute.
    pub fn stretch(&self, factor: f64) -> Self {
        let wait = match self {
            Self::Steady(wait) => return Self::Steady(stretched(*wait, factor)),
            Self::ByHour(by_hour) => by_hour.wait,
        };
        // As a rule one hour's wait is the next one's.
        let mut last = (0, 0);
        Self::of(wait.map(|wait| {
            if wait == NEVER {
                return NEVER;
            }
            if wait != last.0 {
                last = (wait, stretched(wait, factor));
            }
            last.1
        }))
    }

    /// The longest time that a start of its own hour takes, `[min]`.
    pub fn longest(&self) -> i64 {
        match self {
            Self::Steady(wait) => *wait,
            Self::ByHour(by_hour) => by_hour.longest(),
        }
    }

    /// The shortest time that any start takes, `[min]`; none where there is no start.
    pub fn shortest(&self) -> i64 {
        match self {
            Self::Steady(wait) => (*wait).max(0),
            Self::ByHour(by_hour) => by_hour.shortest(),
        }
    }

    /// The last minute from which what is begun is there by another.
    pub fn latest(&self, until: i64) -> i64 {
        match self {
            Self::Steady(wait) => until - wait,
            Self::ByHour(by_hour) => by_hour.latest(until),
        }
    }
}

impl ByHour {
    fn of(wait: [i64; 24]) -> Self {
        // Within an hour the last minute's start ends latest, or the next one's first where that
        // hour has no wait. Starts of a day before end a day earlier than today's, so two laps of
        // the clock see all that matter.
        let mut carried = [0; 24];
        let mut latest = NEVER;
        for _lap in 0..2 {
            for hour in 0..24 {
                carried[hour] = latest;
                latest -= 60;
                if wait[hour] != NEVER {
                    let goes_on = wait[(hour + 1) % 24] != NEVER;
                    latest = latest.max(wait[hour] - i64::from(goes_on));
                }
            }
        }
        // What is not begun in an hour is begun in the first minute of the next that has a wait.
        // From the last hour back, and once more for the night across midnight.
        for hour in (0..48).rev().map(|hour| hour % 24) {
            let next = (hour + 1) % 24;
            if wait[hour] == NEVER {
                carried[hour] = 60 + wait[next].max(carried[next]);
            }
        }
        Self { wait, carried }
    }

    fn ready(&self, from: i64) -> i64 {
        let (hour, past) = (hour(from), from.rem_euclid(60));
        if past == 0 && self.wait[hour] == NEVER {
            let before = (hour + 23) % 24;
            if self.wait[before] != NEVER {
                return (from + self.wait[before]).max(from - 60 + self.carried[before]);
            }
        }
        (from + self.wait[hour]).max(from - past + self.carried[hour])
    }

    fn longest(&self) -> i64 {
        self.wait.iter().copied().max().unwrap_or(0)
    }

    fn shortest(&self) -> i64 {
        let told = self.wait.iter().copied().filter(|&wait| wait != NEVER);
        told.min().unwrap_or(0)
    }

    /// By halving, for what is begun later is never there sooner.
    fn latest(&self, until: i64) -> i64 {
        // What is begun in an hour without a wait is begun within a day.
        let (mut in_time, mut late) = (until - self.longest() - DAY, until + 1);
        while late - in_time > 1 {
            let middle = i64::midpoint(in_time, late);
            if self.ready(middle) <= until {
                in_time = middle;
            } else {
                late = middle;
            }
        }
        in_time
    }
}

/// A time multiplied, to the nearest minute; at most about a thousand years, far past what any run reaches.
pub(super) fn stretched(minutes: i64, factor: f64) -> i64 {
    const MOST: f64 = 5e8;
    #[expect(
        clippy::cast_precision_loss,
        clippy::cast_possible_truncation,
        reason = "minutes are far below 2^53, and so is their bound"
    )]
    let product = (minutes as f64 * factor).round().min(MOST) as i64;
    product
}
