//! Why the maker's own figures are refused.

use std::fmt;

use crate::coating::Key;
use crate::quantity::{Angle, Measured};

/// Why the maker's own figures can't be laid over a family.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Unfit {
    /// A value of another kind, or past what is believable.
    Value {
        /// The property.
        key: Key,
        /// What it was to be.
        value: Measured,
        /// The limits in words.
        says: &'static str,
    },
    /// Edge angles that do not rise from pull-back over target to brim.
    AnglesOutOfOrder {
        /// Edge angle below which the coating would shrink away.
        pull_back: Angle,
        /// Edge angle to aim at.
        target: Angle,
        /// Edge angle above which it would run over.
        brim: Angle,
    },
}

impl fmt::Display for Unfit {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Value { key, says, .. } => write!(out, "{}: {says}", key.name()),
            Self::AnglesOutOfOrder {
                pull_back,
                target,
                brim,
            } => write!(
                out,
                "the edge angles must rise from pull_back_angle ({} deg) over target_angle ({} deg) to brim_angle ({} deg)",
                degrees(*pull_back),
                degrees(*target),
                degrees(*brim)
            ),
        }
    }
}

/// Degrees to four decimals at most.
fn degrees(angle: Angle) -> f64 {
    (angle.deg() * 1e4).round() / 1e4
}

impl std::error::Error for Unfit {}
