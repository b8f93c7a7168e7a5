//! What a bottle's label says about time.

use crate::coating::Source;
use crate::quantity::{Humidity, Temperature, Time};

/// A stage of drying or cure, as ASTM D1640 and ISO 9117 define them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stage {
    /// No longer sticky to a light touch.
    TackFree,
    /// Dry to handle: can be picked up and moved.
    Handle,
    /// Ready for the next coat.
    Recoat,
    /// Dry through the whole film.
    Through,
}

impl Stage {
    /// Every stage, in the order that they are shown.
    pub const ALL: [Self; 4] = [Self::TackFree, Self::Handle, Self::Recoat, Self::Through];

    /// Its name in the files and in JSON.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::TackFree => "tack_free",
            Self::Handle => "handle",
            Self::Recoat => "recoat",
            Self::Through => "through",
        }
    }
}

/// A stage's time with its source.
#[derive(Debug, Clone, PartialEq)]
pub struct StageTime {
    /// How long after the coat went on.
    pub time: Time,
    /// Where the figure comes from.
    pub source: Source,
}

/// The label: when each stage is reached in the air that it names.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// Air temperature that the times hold at.
    pub temperature: Temperature,
    /// Relative humidity that the times hold at.
    pub humidity: Humidity,
    /// Where the two come from.
    pub at_source: Source,
    /// No longer sticky.
    pub tack_free: Option<StageTime>,
    /// Dry to handle.
    pub handle: Option<StageTime>,
    /// Ready for the next coat.
    pub recoat: Option<StageTime>,
    /// Dry through.
    pub through: Option<StageTime>,
}

impl Label {
    /// The label's time for a stage, if it has one.
    #[must_use]
    pub const fn stage(&self, stage: Stage) -> Option<&StageTime> {
        match stage {
            Stage::TackFree => self.tack_free.as_ref(),
            Stage::Handle => self.handle.as_ref(),
            Stage::Recoat => self.recoat.as_ref(),
            Stage::Through => self.through.as_ref(),
        }
    }
}
