//! What a bottle's label says about time.

use crate::coating::Source;
use crate::quantity::{Humidity, Temperature, Time};
use crate::stage::Stage;
use std::collections::BTreeMap;

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
    /// How long after the coat went on each stage is reached, where the label says.
    pub times: BTreeMap<Stage, StageTime>,
}

impl Label {
    /// The stage by which a whole coat is judged, and the label's time for it: dry through
    /// where the label names it, else the next best that it names of the whole coat.
    #[must_use]
    pub fn whole(&self) -> Option<(Stage, Time)> {
        [
            Stage::Through,
            Stage::Hard,
            Stage::Bag,
            Stage::Handle,
            Stage::Recoat,
        ]
        .into_iter()
        .find_map(|stage| Some((stage, self.times.get(&stage)?.time)))
    }

    /// The stage that a maker waits for, and the label's time for it: until it can be
    /// handled, else the one that the whole coat is judged by, else its surface's last.
    #[must_use]
    pub fn awaited(&self) -> Option<(Stage, Time)> {
        let handle = self.times.get(&Stage::Handle);
        let handle = handle.map(|told| (Stage::Handle, told.time));
        handle.or_else(|| self.whole()).or_else(|| {
            let mut surface = self.times.iter().rev();
            let (&stage, told) = surface.find(|(stage, _)| stage.is_of_surface())?;
            Some((stage, told.time))
        })
    }

    /// The label's time for a stage, if it has one.
    #[must_use]
    pub fn stage(&self, stage: Stage) -> Option<&StageTime> {
        self.times.get(&stage)
    }
}
