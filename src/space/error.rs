//! Why there is no answer about space.

use thiserror::Error;

use crate::quantity::Length;

/// Why there is no answer about space.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SpaceError {
    /// A side of a tray, sheet or shelf is no length above nothing, or longer than 100 m.
    #[error("{what} is above 0 mm and at most 100 m long, not {} mm", read.mm())]
    Side {
        /// Which side.
        what: &'static str,
        /// What was read.
        read: Length,
    },
    /// A gap or a margin is negative, or wider than 100 m.
    #[error("{what} is from 0 mm to 100 m, not {} mm", read.mm())]
    Space {
        /// Which of them.
        what: &'static str,
        /// What was read.
        read: Length,
    },
    /// More pieces may lie there than are laid out one by one.
    #[error(
        "up to {most} pieces are laid out on one tray or sheet, and {might:.0} might lie on this one"
    )]
    TooMany {
        /// How many its area would hold.
        might: f64,
        /// The most.
        most: u32,
    },
    /// A kind of which pieces are wanted, though none fits.
    #[error(
        "none of kind {kind} fits (kinds counted from 0), so its {pieces} pieces have no place"
    )]
    NoneFits {
        /// The kind's place in the list, from 0.
        kind: usize,
        /// Pieces wanted of it.
        pieces: u64,
    },
    /// A count past what is counted.
    #[error("up to {most} {what} are counted, not {read}")]
    Count {
        /// What is counted.
        what: &'static str,
        /// What was read.
        read: u64,
        /// The most.
        most: u64,
    },
}

/// The longest side, mm.
const LONGEST: f64 = 100_000.0;

/// A side, mm.
pub(super) fn side(what: &'static str, read: Length) -> Result<f64, SpaceError> {
    let mm = read.mm();
    if mm > 0.0 && mm <= LONGEST {
        Ok(mm)
    } else {
        Err(SpaceError::Side { what, read })
    }
}

/// A gap or a margin, mm.
pub(super) fn space(what: &'static str, read: Length) -> Result<f64, SpaceError> {
    let mm = read.mm();
    if (0.0..=LONGEST).contains(&mm) {
        Ok(mm)
    } else {
        Err(SpaceError::Space { what, read })
    }
}
