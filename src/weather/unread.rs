//! Why a file of readings was refused: data, with the words in one place.

use std::fmt;

use jiff::civil::DateTime;

use super::notice::rows;
use super::reading::moment;
use crate::quantity::{Show, Temperature, Time, Units};

/// A file that could not be read: what is wrong with it, in the order of its lines.
#[derive(Debug, Clone, PartialEq)]
pub struct Unread {
    /// The file's name as the caller gave it.
    pub file: String,
    /// What is wrong, at most [`Unread::MOST_TOLD`]; never empty.
    pub faults: Vec<Fault>,
    /// How many more there are.
    pub more: usize,
}

impl Unread {
    /// How many faults are told before the rest are only counted.
    pub const MOST_TOLD: usize = 10;

    pub(super) fn one(file: &str, fault: Fault) -> Self {
        Self {
            file: file.to_owned(),
            faults: vec![fault],
            more: 0,
        }
    }
}

/// One mistake in a file of readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// Line, from 1.
    pub line: usize,
    /// The column's heading as it stands in the file, or the field's name in a
    /// format without headings; empty for a line as a whole.
    pub heading: String,
    /// What is wrong.
    pub problem: Problem,
}

/// What is wrong at one place.
#[derive(Debug, Clone, PartialEq)]
pub enum Problem {
    /// There is nothing in the file.
    Empty,
    /// The file is not text.
    NotText,
    /// No line near the top has headings that mean anything here.
    NoHeadings,
    /// The line with the headings lacks a column.
    NoColumn {
        /// What the column would hold.
        missing: &'static str,
    },
    /// Two columns could be the same thing.
    TwoColumns {
        /// What both could be.
        what: &'static str,
        /// The other heading.
        other: String,
    },
    /// The heading of a temperature names no unit.
    NoUnit {
        /// A number from the column.
        read: f64,
    },
    /// Humidities that never pass 1 under a heading without "%".
    NoPercent {
        /// The highest of them.
        most: f64,
    },
    /// Something that can't be read.
    Wrong {
        /// What stands in the file.
        read: String,
        /// What was expected.
        expected: &'static str,
    },
    /// A value that can be read but can't be.
    Refused {
        /// What stands in the file.
        read: String,
        /// Why it can't be.
        reason: &'static str,
    },
    /// A date that can be read two ways.
    TwoDates {
        /// What stands in the file.
        read: String,
        /// The moment if the day comes first.
        day_first: DateTime,
        /// The moment if the month comes first.
        month_first: DateTime,
    },
    /// Dates in two orders.
    MixedDates {
        /// What stands in the file; here the day comes first.
        read: String,
        /// The line that has the month first.
        line: usize,
    },
    /// A row with more or fewer cells than the others.
    Cells {
        /// How many it has.
        read: usize,
        /// How many were expected.
        expected: usize,
    },
    /// A quotation mark that is not closed on its line.
    OpenQuote,
    /// Times run backward by more than a change of the clock.
    Backward {
        /// The time of this row.
        read: DateTime,
        /// The time that it should come after.
        after: DateTime,
    },
    /// A row does not come after the one before it, in a file where clocks are never
    /// put back.
    NotRising {
        /// The time of this row.
        read: DateTime,
        /// The time that it should come after.
        after: DateTime,
    },
    /// Fewer than two rows are readings.
    TooFew {
        /// How many are.
        rows: usize,
        /// The first row that is not, and what stands there.
        skipped: Option<(usize, String)>,
    },
    /// Readings lie too far apart to tell what the air did between them.
    TooSparse {
        /// The usual interval.
        usual: Time,
    },
}

impl fmt::Display for Problem {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => out.write_str("there is nothing in this file"),
            Self::NotText => out.write_str(
                "this is not text: expected a table in UTF-8, UTF-16 with its mark, or Latin-1",
            ),
            Self::NoHeadings => out.write_str(
                "no headings found in the first lines: expected one line that names a time, \
                 a temperature and a relative humidity",
            ),
            Self::NoColumn { missing } => write!(out, "no heading here names {missing}"),
            Self::TwoColumns { what, other } => write!(
                out,
                "this could be {what}, and so could \"{other}\": take one of them out"
            ),
            Self::NoUnit { read } => write!(
                out,
                "no unit in the heading: {read} would be {read} °C, or {:.1} °C if it is in °F; \
                 write (C) or (F) behind the heading",
                Temperature::from_fahrenheit(*read).celsius()
            ),
            Self::NoPercent { most } => write!(
                out,
                "never above {most}, and no % in the heading: it would be {most} %, or {} % if it \
                 is a fraction; write (%) behind the heading, and per cents below it",
                most * 100.0
            ),
            Self::Wrong { read, expected } => write!(out, "read \"{read}\", expected {expected}"),
            Self::Refused { read, reason } => write!(out, "read \"{read}\": {reason}"),
            Self::TwoDates {
                read,
                day_first,
                month_first,
            } => write!(
                out,
                "read \"{read}\", which is {} if the day comes first and {} if the month does; \
                 write D/M/Y or M/D/Y behind the heading",
                day_first.date(),
                month_first.date()
            ),
            Self::MixedDates { read, line } => write!(
                out,
                "read \"{read}\", where the day comes first, but on line {line} the month does"
            ),
            Self::Cells { read, expected } => {
                write!(out, "read {read} cells, expected {expected}")
            }
            Self::OpenQuote => out.write_str("a quotation mark is not closed on this line"),
            Self::Backward { read, after } => write!(
                out,
                "{} comes after {}: times run backward by more than a change of the clock",
                moment(*read),
                moment(*after)
            ),
            Self::NotRising { read, after } => write!(
                out,
                "{} follows {}, expected a later time",
                moment(*read),
                moment(*after)
            ),
            Self::TooFew {
                rows: count,
                skipped,
            } => {
                write!(out, "{} could be read, expected at least 2", rows(*count))?;
                match skipped {
                    Some((line, read)) => write!(out, "; on line {line} stands \"{read}\""),
                    None => Ok(()),
                }
            }
            Self::TooSparse { usual } => write!(
                out,
                "readings lie {} apart, expected at most 6 h",
                usual.show(Units::Metric)
            ),
        }
    }
}

impl fmt::Display for Unread {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, fault) in self.faults.iter().enumerate() {
            if index > 0 {
                out.write_str("\n")?;
            }
            write!(out, "{}:{}: ", self.file, fault.line)?;
            if !fault.heading.is_empty() {
                write!(out, "{}: ", fault.heading)?;
            }
            write!(out, "{}", fault.problem)?;
        }
        if self.more > 0 {
            write!(out, "\n{}: {} more like these", self.file, self.more)?;
        }
        Ok(())
    }
}

impl std::error::Error for Unread {}

/// Collects faults, and counts those past the first few.
#[derive(Debug, Default)]
pub(super) struct Faults {
    told: Vec<Fault>,
    more: usize,
}

impl Faults {
    pub fn add(&mut self, line: usize, heading: &str, problem: Problem) {
        if self.told.len() < Unread::MOST_TOLD {
            self.told.push(Fault {
                line,
                heading: super::text::shown(heading),
                problem,
            });
        } else {
            self.more += 1;
        }
    }

    pub fn is_empty(&self) -> bool {
        self.told.is_empty()
    }

    /// The refusal of the file, its faults in the order of their lines.
    pub fn refusal(mut self, file: &str) -> Unread {
        self.told.sort_by_key(|fault| fault.line);
        Unread {
            file: file.to_owned(),
            faults: self.told,
            more: self.more,
        }
    }
}
