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

/// Flood coats, each filled up to the target where that will do, that give an asked dry height.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CoatsNeeded {
    /// So many, 1 or more.
    Coats(u32),
    /// So many, but each filled past the target, towards the brim.
    PastTarget(u32),
    /// No number: the brim limit itself is no higher than that when nothing is lost.
    BeyondBrim,
}

/// The fewest coats that dry to a height on an edge that holds up to `brim`.
pub(super) fn coats_needed(dry: Length, target: Length, brim: Length, solids: f64) -> CoatsNeeded {
    if let Some(coats) = coats_up_to(target, dry, solids) {
        CoatsNeeded::Coats(coats)
    } else if let Some(coats) = coats_up_to(brim, dry, solids) {
        CoatsNeeded::PastTarget(coats)
    } else {
        CoatsNeeded::BeyondBrim
    }
}

/// The fewest coats, each filled up to a wet peak, that dry to a height.
///
/// ```text
/// h_n = p (1 - (1 - s)^n)    n = ceil(ln(1 - h / p) / ln(1 - s))
/// ```
///
/// h `[m]` asked dry height, p `[m]` wet peak, s `[1]` solids by volume.
fn coats_up_to(peak: Length, dry: Length, solids: f64) -> Option<u32> {
    // One part in a million forgives rounding, so that an exact fit is no coat more.
    let share = dry / peak * (1.0 - 1e-6);
    if share <= solids {
        return Some(1);
    }
    if share >= 1.0 || solids >= 1.0 {
        return None;
    }
    let coats = ((1.0 - share).ln() / (1.0 - solids).ln()).ceil();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "solids are 1 % or more and the share is short of 1 by a millionth, so there are at most some 1400"
    )]
    Some(coats.max(1.0) as u32)
}
