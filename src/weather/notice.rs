//! What was odd about a record that was read all the same.

use std::fmt;

use jiff::civil::DateTime;

use super::reading::{moment, time_between};
use crate::quantity::{Humidity, Show, Time, Units};

/// Something odd that was found while reading. Lines count from 1.
#[derive(Debug, Clone, PartialEq)]
pub enum Notice {
    /// No readings for longer than usual.
    Gap {
        /// The last reading before it.
        from: DateTime,
        /// The first after it.
        to: DateTime,
        /// Whether the reading before it is held across, which is so for a short
        /// gap ([`Record::longest_hold`](super::Record::longest_hold)).
        held: bool,
    },
    /// Readings lie further apart than 2 h.
    Sparse {
        /// The usual interval.
        usual: Time,
    },
    /// Rows with text or blank cells where a reading should be.
    Skipped {
        /// How many.
        rows: usize,
        /// The first one's line.
        line: usize,
    },
    /// Rows that say themselves that a value is missing.
    Missing {
        /// How many.
        rows: usize,
        /// The first one's line.
        line: usize,
    },
    /// Rows left out because their times don't come after the row before: the
    /// clock was put back, or the times repeat.
    NotRising {
        /// How many.
        rows: usize,
        /// The first one's line.
        line: usize,
        /// The first one's time.
        read: DateTime,
        /// The time that it should come after.
        after: DateTime,
    },
    /// Humidities above 100 %, read as 100 %.
    AboveSaturation {
        /// How many.
        rows: usize,
        /// The first one's line.
        line: usize,
        /// The highest of them.
        most: Humidity,
    },
    /// Relative humidity was worked out from the dew point.
    FromDewPoint {
        /// For how many rows.
        rows: usize,
    },
    /// The last line broke off and was left out.
    Unfinished {
        /// Its line.
        line: usize,
    },
    /// The file had its newest row first and was turned round.
    NewestFirst,
    /// Times are in universal time and were not moved to a local clock.
    Universal,
    /// Years had two digits.
    ShortYear {
        /// A date as it stands in the file.
        read: String,
        /// What it was taken for.
        taken: DateTime,
    },
    /// The order of day and month was settled by a number above 12.
    Settled {
        /// The order.
        order: DateOrder,
        /// The line that settles it.
        line: usize,
    },
}

/// Which of the first two numbers of a date is the day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DateOrder {
    /// Day, month, year.
    DayFirst,
    /// Month, day, year.
    MonthFirst,
}

impl fmt::Display for DateOrder {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Self::DayFirst => "day, month, year",
            Self::MonthFirst => "month, day, year",
        })
    }
}

/// "1 row", "12 rows".
pub(super) fn rows(count: usize) -> String {
    if count == 1 {
        "1 row".to_owned()
    } else {
        format!("{count} rows")
    }
}

impl fmt::Display for Notice {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Gap { from, to, held } => write!(
                out,
                "no readings from {} to {} ({}): {}",
                moment(*from),
                moment(*to),
                time_between(*from, *to).show(Units::Metric),
                if *held {
                    "the reading before is held"
                } else {
                    "nothing is known of the air there"
                }
            ),
            Self::Sparse { usual } => write!(
                out,
                "readings lie {} apart: what happens between them is not seen",
                usual.show(Units::Metric)
            ),
            Self::Skipped { rows: count, line } => write!(
                out,
                "{} with text or blank cells skipped, the first on line {line}",
                rows(*count)
            ),
            Self::Missing { rows: count, line } => write!(
                out,
                "{} marked as missing, the first on line {line}",
                rows(*count)
            ),
            Self::NotRising {
                rows: count,
                line,
                read,
                after,
            } => write!(
                out,
                "{} left out: the clock goes back or repeats, first on line {line}, where {} follows {}",
                rows(*count),
                moment(*read),
                moment(*after)
            ),
            Self::AboveSaturation {
                rows: count,
                line,
                most,
            } => write!(
                out,
                "{} with a humidity above 100 % (up to {} %), first on line {line}: read as 100 %",
                rows(*count),
                most.percent()
            ),
            Self::FromDewPoint { rows: count } => write!(
                out,
                "humidity worked out from the dew point in {}",
                rows(*count)
            ),
            Self::Unfinished { line } => write!(out, "the last line, {line}, breaks off: left out"),
            Self::NewestFirst => out.write_str("the newest row comes first: read from the end"),
            Self::Universal => out.write_str(
                "times are in universal time (UTC), not moved: the clock on the wall may differ",
            ),
            Self::ShortYear { read, taken } => write!(
                out,
                "years have two digits: \"{read}\" is taken for {}",
                taken.date()
            ),
            Self::Settled { order, line } => {
                write!(out, "dates are {order}: line {line} settles it")
            }
        }
    }
}
