//! A record: readings in rising time, and what was odd about them.

use jiff::SignedDuration;
use jiff::civil::DateTime;

use super::notice::Notice;
use super::reading::{Reading, moment, time_between};
use super::unread::Problem;
use crate::quantity::{Show, Time, Units};

/// Usual interval above which a notice tells that readings are far apart.
const FAR_APART: Time = Time::from_h(2.0);
/// Usual interval above which a record is refused: a night would fall between two readings.
const TOO_FAR_APART: Time = Time::from_h(6.0);
/// A gap of more usual intervals than this is told (common practice, no source).
const GAP_IS_TOLD: f64 = 3.0;

/// Readings of the air in local clock time, at least two, their times strictly rising.
///
/// Clock time is kept as it is written. Nothing is known here of time zones, so an
/// hour that a change of the clock repeats is left out (with a [`Notice`]), and one
/// that it skips passes as an hour.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    readings: Vec<Reading>,
    usual: Time,
    notices: Vec<Notice>,
}

/// Why a part of a record, or a record put together by hand, is none.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NoRecord {
    /// Fewer than two readings.
    #[error("{0} readings make no record, expected at least 2")]
    TooFew(usize),
    /// Readings lie further apart than 6 h.
    #[error("readings lie {} apart, expected at most 6 h", .0.show(Units::Metric))]
    TooSparse(Time),
    /// A reading does not come after the one before it.
    #[error("a reading at {} comes after one at {}", moment(*.read), moment(*.after))]
    NotRising {
        /// Its time.
        read: DateTime,
        /// The time before it.
        after: DateTime,
    },
}

impl NoRecord {
    /// The same as the fault of a file, with the first row that was not a reading.
    pub(super) fn problem(self, skipped: Option<(usize, String)>) -> Problem {
        match self {
            Self::TooFew(rows) => Problem::TooFew { rows, skipped },
            Self::TooSparse(usual) => Problem::TooSparse { usual },
            Self::NotRising { read, after } => Problem::NotRising { read, after },
        }
    }
}

impl Record {
    /// A record of these readings, with notices of the gaps between them added to
    /// those found before.
    ///
    /// # Errors
    /// [`NoRecord`] for fewer than two readings, times that don't rise, or a usual
    /// interval above 6 h.
    pub fn new(readings: Vec<Reading>, notices: Vec<Notice>) -> Result<Self, NoRecord> {
        if readings.len() < 2 {
            return Err(NoRecord::TooFew(readings.len()));
        }
        for pair in readings.windows(2) {
            if pair[1].at <= pair[0].at {
                return Err(NoRecord::NotRising {
                    read: pair[1].at,
                    after: pair[0].at,
                });
            }
        }
        let usual = usual_interval(&readings);
        if usual > TOO_FAR_APART {
            return Err(NoRecord::TooSparse(usual));
        }
        let mut record = Self {
            readings,
            usual,
            notices,
        };
        if usual > FAR_APART {
            record.notices.push(Notice::Sparse { usual });
        }
        let gaps: Vec<Notice> = record.gaps().collect();
        record.notices.extend(gaps);
        Ok(record)
    }

    /// The readings, their times strictly rising.
    #[must_use]
    pub fn readings(&self) -> &[Reading] {
        &self.readings
    }

    /// What was odd about the record; gaps last, in the order of their times.
    #[must_use]
    pub fn notices(&self) -> &[Notice] {
        &self.notices
    }

    /// The usual interval between readings: the median.
    #[must_use]
    pub fn usual_interval(&self) -> Time {
        self.usual
    }

    /// How long a reading can hold until the next: 2 h or two usual intervals,
    /// whichever is longer (common practice, no source). Over a longer gap nothing
    /// is invented: there the reading holds one usual interval, and then nothing is
    /// known.
    #[must_use]
    pub fn longest_hold(&self) -> Time {
        let two = self.usual * 2.0;
        if two > FAR_APART { two } else { FAR_APART }
    }

    /// The first reading's time, and the moment up to which the last one holds, one
    /// usual interval after it. There may be gaps between.
    #[must_use]
    pub fn span(&self) -> (DateTime, DateTime) {
        let last = self.readings.len() - 1;
        (self.readings[0].at, self.held_until(last))
    }

    /// The readings of one month, 1 to 12, of every year in the record.
    ///
    /// # Errors
    /// [`NoRecord::TooFew`] where the month has fewer than two readings,
    /// [`NoRecord::TooSparse`] where those lie further apart than 6 h.
    pub fn month(&self, month: i8) -> Result<Self, NoRecord> {
        self.only(|reading| reading.at.month() == month)
    }

    /// The readings from one moment up to, and without, another.
    ///
    /// # Errors
    /// As [`Record::month`].
    pub fn between(&self, from: DateTime, to: DateTime) -> Result<Self, NoRecord> {
        self.only(|reading| (from..to).contains(&reading.at))
    }

    fn only(&self, keep: impl Fn(&Reading) -> bool) -> Result<Self, NoRecord> {
        let kept = self.readings.iter().filter(|reading| keep(reading));
        Self::new(kept.copied().collect(), self.notices_of_the_file())
    }

    /// The same times and notices with other readings.
    pub(super) fn with_readings(&self, readings: Vec<Reading>) -> Self {
        debug_assert_eq!(readings.len(), self.readings.len(), "the times stay");
        Self {
            readings,
            usual: self.usual,
            notices: self.notices.clone(),
        }
    }

    /// The notices that reading the file gave, without those of the intervals.
    fn notices_of_the_file(&self) -> Vec<Notice> {
        let of_intervals =
            |notice: &&Notice| matches!(notice, Notice::Gap { .. } | Notice::Sparse { .. });
        let notices = self.notices.iter();
        notices.filter(|n| !of_intervals(n)).cloned().collect()
    }

    fn gaps(&self) -> impl Iterator<Item = Notice> {
        let longest = self.longest_hold();
        let told = self.usual * GAP_IS_TOLD;
        self.readings.windows(2).filter_map(move |pair| {
            let (from, to) = (pair[0].at, pair[1].at);
            let step = time_between(from, to);
            let held = step <= longest;
            (!held || step > told).then_some(Notice::Gap { from, to, held })
        })
    }

    /// The moment up to which a reading holds: the next one's, or one usual interval
    /// later before a long gap and at the end.
    pub(super) fn held_until(&self, index: usize) -> DateTime {
        let at = self.readings[index].at;
        match self.readings.get(index + 1) {
            Some(next) if time_between(at, next.at) <= self.longest_hold() => next.at,
            // Saturates only beyond the year 9999, which no file that is read has.
            _ => at.saturating_add(SignedDuration::from_secs_f64(self.usual.s())),
        }
    }
}

/// The median of the steps, in a time that grows with their number.
fn usual_interval(readings: &[Reading]) -> Time {
    let mut steps: Vec<SignedDuration> = readings
        .windows(2)
        .map(|pair| pair[1].at.duration_since(pair[0].at))
        .collect();
    let middle = (steps.len() - 1) / 2;
    let (_, median, _) = steps.select_nth_unstable(middle);
    Time::from_s(median.as_secs_f64())
}
