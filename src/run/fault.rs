//! What is wrong with a run file: data, with the words in one place.

use std::fmt;

use crate::quantity::Unreadable;

/// One mistake in a run file.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// The file's name as the caller gave it.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// The key's path, such as `piece[0].count`; empty for the file as a whole.
    pub key: String,
    /// What is wrong.
    pub problem: Problem,
}

/// What is wrong at one place.
#[derive(Debug, Clone, PartialEq)]
pub enum Problem {
    /// The text isn't TOML from here on.
    Syntax {
        /// What the TOML reader says.
        message: String,
    },
    /// The file is not text in UTF-8.
    NotText,
    /// The file has nothing in it.
    Empty,
    /// A key that must be there isn't.
    Missing {
        /// What it would hold.
        expected: String,
    },
    /// A key that means nothing here.
    UnknownKey {
        /// The known key that is nearest, if one is near.
        nearest: Option<String>,
        /// Every key that is read here.
        known: Vec<&'static str>,
    },
    /// A key that means something, but elsewhere.
    Misplaced {
        /// Where it belongs.
        belongs: &'static str,
    },
    /// A value of the wrong kind, or one that can't be read.
    Wrong {
        /// The value as it stands in the file.
        read: String,
        /// What was expected.
        expected: String,
        /// What was probably meant, as the file would write it, if that can be guessed.
        nearest: Option<String>,
    },
    /// A quantity that can't be read.
    Unreadable(Unreadable),
    /// The name of something that the file doesn't describe.
    UnknownName {
        /// The name as it stands in the file.
        read: String,
        /// What kind of thing it should name.
        what: &'static str,
        /// The known name that is nearest, if one is near.
        nearest: Option<String>,
        /// The names that would do.
        known: Known,
    },
    /// A name that something else of the same kind already has.
    NameTaken {
        /// The name.
        read: String,
        /// The line that has it first.
        line: usize,
    },
    /// A value that can be read but can't be.
    Refused {
        /// The value as it stands in the file.
        read: String,
        /// Why it can't be.
        reason: String,
    },
}

/// Names that would do, where an unknown one was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Known {
    /// The first few of them.
    pub first: Vec<String>,
    /// How many there are in all.
    pub count: usize,
}

impl fmt::Display for Problem {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Syntax { message } => write!(out, "this is not TOML: {message}"),
            Self::NotText => out.write_str("this is not text: a run file is TOML in UTF-8"),
            Self::Empty => out.write_str(
                "there is nothing in this file; a run needs at least one [[piece]] and a [room]",
            ),
            Self::Missing { expected } => write!(out, "left out, but needed: {expected}"),
            Self::UnknownKey {
                nearest: Some(nearest),
                ..
            } => write!(out, "no such key here; did you mean \"{nearest}\"?"),
            Self::UnknownKey { known, .. } => {
                write!(out, "no such key here; the keys are {}", known.join(", "))
            }
            Self::Misplaced { belongs } => write!(out, "no such key here; it belongs {belongs}"),
            Self::Wrong {
                read,
                expected,
                nearest,
            } => {
                write!(out, "read {read}, expected {expected}")?;
                meant(out, nearest.as_deref())
            }
            Self::Unreadable(unreadable) if unreadable.read.trim().is_empty() => {
                write!(out, "read \"\": {unreadable}")
            }
            Self::Unreadable(unreadable) => write!(out, "read {unreadable}"),
            Self::UnknownName {
                read,
                what,
                nearest: Some(nearest),
                ..
            } => {
                write!(out, "read {read}, but no {what} is called that")?;
                meant(out, Some(&format!("\"{nearest}\"")))
            }
            Self::UnknownName {
                read, what, known, ..
            } if known.count == 0 => {
                write!(out, "read {read}, but this file describes no {what}")
            }
            Self::UnknownName {
                read, what, known, ..
            } => {
                write!(
                    out,
                    "read {read}, but no {what} is called that; there is {}",
                    quoted(known)
                )
            }
            Self::NameTaken { read, line } => {
                write!(out, "read {read}, but line {line} already uses this name")
            }
            Self::Refused { read, reason } => write!(out, "read {read}: {reason}"),
        }
    }
}

fn meant(out: &mut fmt::Formatter<'_>, nearest: Option<&str>) -> fmt::Result {
    match nearest {
        Some(nearest) => write!(out, "; did you mean {nearest}?"),
        None => Ok(()),
    }
}

/// The names, each in quotes.
fn quoted(known: &Known) -> String {
    let mut told: Vec<String> = known
        .first
        .iter()
        .map(|name| format!("\"{name}\""))
        .collect();
    if known.count > told.len() {
        told.push(format!("and {} more", known.count - told.len()));
    }
    told.join(", ")
}

impl fmt::Display for Fault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            file,
            line,
            column,
            key,
            problem,
        } = self;
        write!(out, "{file}:{line}:{column}: ")?;
        if !key.is_empty() {
            write!(out, "{key}: ")?;
        }
        write!(out, "{problem}")
    }
}

impl std::error::Error for Fault {}

/// Every mistake in one file, in the order of its lines. Never empty.
#[derive(Debug, Clone, PartialEq)]
pub struct Faults(Vec<Fault>);

impl Faults {
    /// The faults in the order of their lines. There must be at least one.
    pub(super) fn of(mut faults: Vec<Fault>) -> Self {
        debug_assert!(
            !faults.is_empty(),
            "a run that was not read has a fault to show for it"
        );
        faults.sort_by(|a, b| (a.line, a.column, &a.key).cmp(&(b.line, b.column, &b.key)));
        Self(faults)
    }

    /// The faults in the order of their lines.
    #[must_use]
    pub fn as_slice(&self) -> &[Fault] {
        &self.0
    }
}

impl fmt::Display for Faults {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, fault) in self.0.iter().enumerate() {
            if index > 0 {
                out.write_str("\n")?;
            }
            write!(out, "{fault}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Faults {}
