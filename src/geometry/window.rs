//! The fill window: what a top may carry.

use super::dome::{Ask, Dome, DomeError, Top};
use crate::quantity::Angle;

/// The edge angles that bound and aim a fill.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeAngles {
    /// Below this the coating shrinks away from the edge.
    pub pull_back: Angle,
    /// What to aim at.
    pub target: Angle,
    /// Above this the coating runs over.
    pub brim: Angle,
}

/// The domes at the bounds of the fill window, and at its target.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FillWindow {
    /// The least that covers: the pull-back limit.
    pub pull_back: Dome,
    /// The target fill.
    pub target: Dome,
    /// The most that stays: the brim limit.
    pub brim: Dome,
}

impl Top {
    /// The fill window for these edge angles. The largest angle along the
    /// outline decides all three.
    ///
    /// # Errors
    /// As [`Top::dome`].
    pub fn window(&self, angles: EdgeAngles) -> Result<FillWindow, DomeError> {
        // The other two begin at the target's dome.
        let target = self.shape(Ask::EdgeAngle(angles.target))?;
        let near = target.surface.as_ref();
        let [pull_back, brim] = [angles.pull_back, angles.brim].map(|angle| {
            let shape = self.shape_near(Ask::EdgeAngle(angle), near);
            shape.map(|shape| shape.dome)
        });
        Ok(FillWindow {
            pull_back: pull_back?,
            target: target.dome,
            brim: brim?,
        })
    }
}
