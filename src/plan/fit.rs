//! How an asked fill lies against the fill window.

use crate::geometry::Dome;
use crate::quantity::{Angle, Length, Volume};

/// How an asked fill lies against the fill window.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fit {
    /// Between the pull-back limit and the brim limit.
    Inside,
    /// Below the pull-back limit: the coating shrinks away from the edge.
    UnderPullBack,
    /// Over the brim limit: it runs over. The plan goes on with the target fill.
    OverBrim(Asked),
    /// Inside a wall and no higher than its rim: a level film and no dome.
    BelowRim(BelowRim),
    /// The coats before it have filled the piece already: nothing is poured.
    AlreadyFull,
}

/// Where a fill lies that does not reach over a wall's rim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BelowRim {
    /// How far its mean lies below the rim; 0 is level with it.
    pub below: Length,
    /// The most by which it may climb the wall over its middle.
    pub climb: Length,
    /// The most by which its middle may lie below its mean for that.
    pub sag: Length,
}

/// A fill that was asked for and does not stay on the blank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Asked {
    /// Its measures, where any edge that is solved for could hold it.
    pub dome: Option<Dome>,
    /// The dry height asked for, where it was asked by that.
    pub dry_height: Option<Length>,
    /// The volume asked for, where it was asked by volume or weight.
    pub volume: Option<Volume>,
    /// The wet height asked for, where it was asked by that.
    pub peak: Option<Length>,
}

/// A fill for an asked dry height that is past the target, as more coats would not be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fuller {
    /// Coats that the file lists.
    pub listed: u32,
    /// Coats that keep to the target.
    pub coats: u32,
    /// Edge angle that it stands at, in the fullest coat.
    pub stands: Angle,
    /// The target's.
    pub target: Angle,
    /// The brim limit's.
    pub brim: Angle,
}
