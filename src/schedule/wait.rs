//! How long a coat takes, by the hour it is begun in.

use super::minute::{Minute, hour};

/// Which of a task's waits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WaitId(pub usize);

/// Minutes until something is reached, by the clock hour in which the waiting begins.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wait {
    /// For each hour from 0 to 23, `[min]`; steady air has 24 equal figures.
    pub by_hour: [u32; 24],
}

impl Wait {
    /// A wait that is the same at every hour, `[min]`.
    #[must_use]
    pub fn steady(minutes: u32) -> Self {
        Self {
            by_hour: [minutes; 24],
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
    /// None where that is past the year 9999.
    ///
    /// ```
    /// use brimful::schedule::{Minute, Wait};
    /// use jiff::civil::date;
    /// let mut wait = Wait::steady(60);
    /// wait.by_hour[8] = 240;
    /// let at = |hour, minute| Minute::of(date(2027, 4, 8).at(hour, minute, 0, 0));
    /// // Begun at 08:59 it takes until 12:59, and what is begun at 09:30 is no sooner.
    /// assert_eq!(wait.ready(at(9, 30)), Some(at(12, 59)));
    /// assert_eq!(wait.ready(at(13, 0)), Some(at(14, 0)));
    /// ```
    #[must_use]
    pub fn ready(&self, from: Minute) -> Option<Minute> {
        let ready = Reach::of(&self.by_hour.map(i64::from)).ready(from.number());
        from.plus(ready - from.number())
    }
}

/// A wait made quick to ask.
#[derive(Debug, Clone)]
pub(super) struct Reach {
    wait: [i64; 24],
    /// By the hour of the start: the latest end of all starts in earlier hours, counted from that hour's first minute.
    carried: [i64; 24],
}

impl Reach {
    pub fn of(wait: &[i64; 24]) -> Self {
        // Within an hour the last minute's start ends latest. Starts of a day
        // before end a day earlier than today's, so two laps of the clock see all that matter.
        let mut carried = [0; 24];
        let mut latest = i64::MIN / 2;
        for _lap in 0..2 {
            for (carried, wait) in carried.iter_mut().zip(wait) {
                *carried = latest;
                latest = (latest - 60).max(wait - 1);
            }
        }
        Self {
            wait: *wait,
            carried,
        }
    }

    /// When what is begun at a minute is there.
    pub fn ready(&self, from: i64) -> i64 {
        let hour = hour(from);
        let begun = from - from.rem_euclid(60);
        (from + self.wait[hour]).max(begun + self.carried[hour])
    }

    /// Makes another wait this one times a factor, to the nearest minute.
    pub fn stretch(&self, factor: f64, into: &mut Self) {
        // As a rule one hour's wait is the next one's.
        let mut last = (self.wait[0], stretched(self.wait[0], factor));
        *into = Self::of(&self.wait.map(|wait| {
            if wait != last.0 {
                last = (wait, stretched(wait, factor));
            }
            last.1
        }));
    }

    /// The shortest time from a start to its end, `[min]`.
    pub fn shortest(&self) -> i64 {
        self.wait.iter().copied().min().unwrap_or(0)
    }

    /// The longest time that a start of its own hour takes, `[min]`.
    pub fn longest(&self) -> i64 {
        self.wait.iter().copied().max().unwrap_or(0)
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
