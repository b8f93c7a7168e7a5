//! The corner radius at which no part of the edge stays thin.

use super::blank::Blank;
use super::dome::{Ask, DomeError};
use super::filling::Filling;
use super::liquid::Liquid;
use super::outline::OutlineError;
use super::window::EdgeAngles;
use crate::quantity::{Angle, Length};

/// How near the radius is told, as a share of the largest that fits.
const NEAR: f64 = 0.01;

/// The smallest corner radius at which a target fill stands at the pull-back
/// angle or more all along the edge, to a hundredth of the largest that is
/// looked at: what fits, but no more than a quarter of the shorter extent, for
/// more would be another shape. `None` where the outline has no corners to
/// round, where it needs no mending, or where even the largest would not do.
///
/// # Errors
/// [`DomeError`] where no dome is found on the outline.
pub fn mending_corner(
    blank: &Blank,
    liquid: Liquid,
    angles: EdgeAngles,
) -> Result<Option<Length>, DomeError> {
    let outline = blank.outline();
    if outline.corners().is_empty() || holds(blank, liquid, angles)? {
        return Ok(None);
    }
    // A radius that cannot fit is refused with the largest that can.
    let too_wide = outline.size()[0] + outline.size()[1];
    let Err(OutlineError::Corner { most, .. }) = outline.with_corner(too_wide) else {
        return Ok(None);
    };
    let quarter = outline.across() / 4.0;
    let most = if quarter < most { quarter } else { most };
    let mended = |radius: Length| {
        let rounded = outline.with_corner(radius).ok();
        let rounded = rounded.and_then(|o| Blank::new(o, blank.edge(), blank.wall()).ok());
        // Holes or a wide rounding may leave less room than the corners do.
        rounded.map_or(Ok(false), |blank| holds(&blank, liquid, angles))
    };
    if !mended(most)? {
        return Ok(None);
    }
    let (mut low, mut high) = (Length::ZERO, most);
    while high - low > most * NEAR {
        let middle = (low + high) / 2.0;
        if mended(middle)? {
            high = middle;
        } else {
            low = middle;
        }
    }
    Ok(Some(high))
}

/// Whether a target fill stands at the pull-back angle or more everywhere.
fn holds(blank: &Blank, liquid: Liquid, angles: EdgeAngles) -> Result<bool, DomeError> {
    let filling = Filling::new(blank, liquid, angles)?;
    let filled = filling.shape(Ask::EdgeAngle(angles.target))?;
    // A hair of slack, for the solver's own rounding.
    let least = filled.shape().least_edge_angle() + Angle::from_deg(1e-3);
    Ok(least >= angles.pull_back)
}
