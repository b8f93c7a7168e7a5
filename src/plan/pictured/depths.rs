//! How deep the coat lies over each place of a piece.

use super::domed::{Domed, domed};
use crate::geometry::{Blank, Filled, Filling, Ring, ThinCorner, ring_area};
use crate::plan::{Fit, Plan, PlanError};
use crate::quantity::{Angle, Length, Share};
use crate::run::Run;

/// What lies over a height.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// The height over the flat top, or over a wall's floor.
    pub over: Length,
    /// The lines about all places where the coat's surface is higher.
    pub rings: Vec<Ring>,
}

/// One kind of piece from above, with the depth of its coat.
#[derive(Debug, Clone, PartialEq)]
pub struct DepthPlan {
    /// The piece's name.
    pub piece: String,
    /// The coating that is poured, by name.
    pub coating: String,
    /// The blank's top, sharp inner corners rounded as they were solved.
    pub top: Blank,
    /// How what was asked fits.
    pub fit: Fit,
    /// How deep the coat is at its deepest, over the flat top or a wall's floor.
    pub peak: Length,
    /// Where that is.
    pub deepest: [Length; 2],
    /// What lies over eighths of the peak; with a wall over eighths of what stands above it.
    pub bands: Vec<Band>,
    /// The share of the top on which the coat is at least half as deep as the peak.
    pub half_as_deep: Share,
    /// How far in from each outward corner it is less than that; none with a wall.
    pub thin: Vec<ThinCorner>,
    /// The stretches of the edge that stand under the pull-back angle; none with a wall.
    pub thin_edge: Vec<Vec<[Length; 2]>>,
    /// The pull-back angle.
    pub pull_back: Angle,
    /// The share of the edge that those are.
    pub thin_share: Share,
}

/// Bands from the edge to the peak.
const BANDS: u32 = 8;

/// The depths of a run's domed pieces, one for each, in order; a piece whose
/// fills all stay below a wall's rim has none.
///
/// # Errors
/// [`PlanError`] where a dome can't be worked out.
pub fn depths(run: &Run, plan: &Plan) -> Result<Vec<DepthPlan>, PlanError> {
    domed(run, plan)
        .map(|domed| {
            let filling = domed.filling()?;
            let planned = domed.planned(&filling)?;
            Ok(depth(run, &domed, &filling, &planned))
        })
        .collect()
}

/// The depths of one of them, planned so full.
pub(super) fn depth(run: &Run, domed: &Domed, filling: &Filling, planned: &Filled) -> DepthPlan {
    DepthPlan {
        piece: domed.piece.name.clone(),
        coating: run.coatings[domed.dome.coating].name.clone(),
        fit: domed.fill.fit,
        ..of(filling.blank(), planned, domed.dome.liquid.pull_back)
    }
}

fn of(top: &Blank, filled: &Filled, pull_back: Angle) -> DepthPlan {
    let (peak, wall) = (filled.dome.peak, top.wall());
    let over: Vec<Length> = (1..BANDS)
        .map(|n| wall + (peak - wall) * (f64::from(n) / f64::from(BANDS)))
        .collect();
    let mut heights = over.clone();
    heights.push(peak / 2.0);
    let mut rings = filled.rings(&heights);
    let half = rings.pop().unwrap_or_default();
    let open = wall <= Length::ZERO;
    let mut depth = DepthPlan {
        piece: String::new(),
        coating: String::new(),
        top: top.clone(),
        fit: Fit::Inside,
        peak,
        deepest: filled.shape().highest(),
        bands: over
            .into_iter()
            .zip(rings)
            .map(|(over, rings)| Band { over, rings })
            .collect(),
        half_as_deep: Share::from_fraction(ring_area(&half) / top.outline().area()),
        thin: Vec::new(),
        thin_edge: Vec::new(),
        pull_back,
        thin_share: Share::ZERO,
    };
    if open {
        depth.thin = filled.thin_corners(peak / 2.0);
        depth.thin_edge = filled.shape().thin_edge(pull_back);
        depth.thin_share = filled.shape().thin_share(pull_back);
    }
    depth
}
