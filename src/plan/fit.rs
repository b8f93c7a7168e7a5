//! How an asked fill lies against the fill window.

use crate::geometry::Dome;
use crate::quantity::{Length, Volume};

/// How an asked fill lies against the fill window.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fit {
    /// Between the pull-back limit and the brim limit.
    Inside,
    /// Below the pull-back limit: the coating shrinks away from the edge.
    UnderPullBack,
    /// Over the brim limit: it runs over. The plan goes on with the target fill.
    OverBrim(Asked),
    /// The coats before it have filled the piece already: nothing is poured.
    AlreadyFull,
}

/// A fill that was asked for and does not stay on the blank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Asked {
    /// Its measures, where any edge up to 110 degrees could hold it.
    pub dome: Option<Dome>,
    /// The dry height asked for, where it was asked by that.
    pub dry_height: Option<Length>,
    /// The volume asked for, where it was asked by volume or weight.
    pub volume: Option<Volume>,
    /// The wet height asked for, where it was asked by that.
    pub peak: Option<Length>,
}

/// Flood coats, each filled up to the target, that give an asked dry height.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CoatsNeeded {
    /// So many, 1 or more.
    Coats(u32),
    /// No number: the target fill itself is no higher than that when nothing is lost.
    BeyondTarget,
}

/// The fewest coats, each filled up to the target's peak, that dry to a height.
///
/// ```text
/// h_n = p (1 - (1 - s)^n)    n = ceil(ln(1 - h / p) / ln(1 - s))
/// ```
///
/// h `[m]` asked dry height, p `[m]` the target's wet peak, s `[1]` solids by volume.
pub(super) fn coats_needed(dry: Length, target_peak: Length, solids: f64) -> CoatsNeeded {
    // One part in a million forgives rounding, so that an exact fit is no coat more.
    let share = dry / target_peak * (1.0 - 1e-6);
    if share <= solids {
        return CoatsNeeded::Coats(1);
    }
    if share >= 1.0 || solids >= 1.0 {
        return CoatsNeeded::BeyondTarget;
    }
    let coats = ((1.0 - share).ln() / (1.0 - solids).ln()).ceil();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "solids are 1 % or more and the share is short of 1 by a millionth, so there are at most some 1400"
    )]
    CoatsNeeded::Coats(coats.max(1.0) as u32)
}
