//! What a question about a dome is warned of.

use serde::ser::SerializeStruct;
use serde::{Serialize, Serializer};

use crate::coating::{Concern, PrudentCoat, handling};
use crate::consumption::HoleTrouble;
use crate::quantity::{Length, Share, Show, Units};

/// A warning with the figures behind it. In JSON it is a short fixed name and
/// its words in metric units.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum DomeWarning {
    /// The coat, or the first of several, is deeper than is prudent.
    DeepCoat {
        /// Its wet depth at its deepest place.
        depth: Length,
        /// How deep it may be.
        prudent: PrudentCoat,
    },
    /// So much leaves that it may dry to a saucer.
    Saucer {
        /// Solids by volume.
        solids: Share,
    },
    /// A good part of the edge stands under the pull-back angle.
    ThinEdge {
        /// How much of it.
        share: Share,
    },
    /// A hole may close over, or lies near the edge.
    Hole(HoleTrouble),
}

impl DomeWarning {
    /// A short fixed name, for machine-readable output.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        match self {
            Self::DeepCoat { .. } => "deep-coat",
            Self::Saucer { .. } => "saucer",
            Self::ThinEdge { .. } => "thin-edge",
            Self::Hole(trouble) => trouble.code(),
        }
    }

    /// Its words, without a full stop.
    #[must_use]
    pub fn words(&self, units: Units) -> String {
        match self {
            Self::DeepCoat { depth, prudent } => prudent.words(*depth, units),
            Self::Saucer { solids } => format!(
                "{} solids: {}",
                solids.show(units),
                handling(Concern::Saucer).clause()
            ),
            Self::ThinEdge { share } => format!(
                "{:.0} % of the edge stands under the pull-back angle: {}",
                share.percent(),
                handling(Concern::ThinEdge).clause()
            ),
            Self::Hole(trouble) => trouble.words(units),
        }
    }
}

impl Serialize for DomeWarning {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let mut told = to.serialize_struct("DomeWarning", 2)?;
        told.serialize_field("code", self.code())?;
        told.serialize_field("text", &self.words(Units::Metric))?;
        told.end()
    }
}
