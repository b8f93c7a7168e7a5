//! What a plan warns of: data. The words are in `show::words`.

use super::NoTime;
use super::fit::{Asked, CoatsNeeded};
use crate::cure;
use crate::quantity::{Length, Volume};
use crate::run::Fill;

/// A warning with the figures behind it.
#[derive(Debug, Clone, PartialEq)]
pub enum Warning {
    /// More is asked for than the edge holds.
    OverBrim {
        /// The piece.
        piece: String,
        /// The step.
        step: String,
        /// What was asked.
        fill: Fill,
        /// What that comes to.
        asked: Asked,
        /// The brim limit.
        most: Volume,
        /// Its wet height.
        most_peak: Length,
        /// The target fill, with which the plan goes on.
        target: Volume,
        /// Coats that an asked dry height takes.
        coats: Option<CoatsNeeded>,
    },
    /// So little is asked for that the coating shrinks away from the edge.
    UnderPullBack {
        /// The piece.
        piece: String,
        /// The step.
        step: String,
        /// What was asked, dry coats under it included.
        asked: Volume,
        /// The pull-back limit.
        least: Volume,
    },
    /// Earlier coats have filled the piece, so this one adds nothing.
    AlreadyFull {
        /// The piece.
        piece: String,
        /// The step.
        step: String,
    },
    /// A bare porous blank is flooded.
    BarePorous {
        /// The pieces.
        pieces: Vec<String>,
        /// The flood coats that a seal coat should come before.
        before: Vec<String>,
        /// What to seal with.
        sealer: String,
    },
    /// Something about how a step dries in the room.
    Drying {
        /// The step.
        step: String,
        /// The blank that it dries slowest on.
        on: String,
        /// What.
        warning: cure::Warning,
    },
    /// How long a step takes can't be told.
    NoTime {
        /// The step.
        step: String,
        /// Why.
        why: NoTime,
    },
}

impl Warning {
    /// A short fixed name, for machine-readable output.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::OverBrim { .. } => "over-brim",
            Self::UnderPullBack { .. } => "under-pull-back",
            Self::AlreadyFull { .. } => "already-full",
            Self::BarePorous { .. } => "bare-porous",
            Self::Drying { warning, .. } => warning.code(),
            Self::NoTime { .. } => "no-time",
        }
    }

    /// Whether the run can't be done as asked because of it.
    #[must_use]
    pub fn stops(&self) -> bool {
        match self {
            Self::OverBrim { .. } => true,
            Self::Drying { warning, .. } => matches!(
                warning,
                cure::Warning::WillNotDry { .. }
                    | cure::Warning::FilmForming { .. }
                    | cure::Warning::TooColdToCure { .. }
            ),
            Self::UnderPullBack { .. }
            | Self::AlreadyFull { .. }
            | Self::BarePorous { .. }
            | Self::NoTime { .. } => false,
        }
    }
}
