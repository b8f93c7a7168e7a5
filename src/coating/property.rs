//! One property of a coating, with where it comes from.

use std::fmt;

use crate::quantity::Measured;

/// Where a figure comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Source {
    /// A usual figure that no opened source was found for.
    TypicalFromMemory,
    /// What the trade says, without one source to name.
    CommonPractice,
    /// A source that can be looked up.
    Published(String),
    /// The maker's own run file.
    MakersFile,
    /// Worked out from other properties, which are named.
    WorkedOut(&'static str),
}

impl Source {
    /// Reads a source as the data files write it.
    pub(super) fn from_words(words: &str) -> Self {
        match words {
            "typical, from memory" => Self::TypicalFromMemory,
            "common practice, no source" => Self::CommonPractice,
            published => Self::Published(published.to_owned()),
        }
    }
}

impl fmt::Display for Source {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TypicalFromMemory => out.write_str("typical, from memory"),
            Self::CommonPractice => out.write_str("common practice, no source"),
            Self::Published(source) => out.write_str(source),
            Self::MakersFile => out.write_str("the maker's file"),
            Self::WorkedOut(from) => write!(out, "worked out from {from}"),
        }
    }
}

/// A property: its value, the range it may lie in where known, its source.
#[derive(Debug, Clone, PartialEq)]
pub struct Property {
    /// The value, in SI units, with its kind.
    pub value: Measured,
    /// The least and most that it usually is. `None`: not known.
    pub range: Option<[Measured; 2]>,
    /// Where the value comes from.
    pub source: Source,
}
