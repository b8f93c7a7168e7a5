//! A piece from above, with the depth of its coat.

use crate::plan::{DepthPlan, Fit, Plan};
use crate::show::chart::{self, Care, Deeper, Depth, Drawn};
use crate::show::draw::{DrawError, Picture};
use crate::show::outline;

/// A piece from above, with the depth of its coat.
///
/// # Errors
/// Those of [`chart::depth`].
pub fn depth(map: &DepthPlan, plan: &Plan) -> Result<Picture, DrawError> {
    let units = plan.header.units;
    let edge = map.top.outline();
    chart::depth(&Depth {
        piece: &map.piece,
        blank: &outline::described(&map.top, units),
        outline: &edge.drawn(edge.across() * 5e-5),
        wall: map.top.wall(),
        peak: map.peak,
        deepest: map.deepest,
        bands: (map.bands.iter().enumerate())
            .map(|(index, band)| Deeper {
                than: band.over,
                rings: &band.rings,
                // Every other eighth: the quarters.
                labelled: index % 2 == 1,
            })
            .collect(),
        half_as_deep: map.half_as_deep,
        thin: &map.thin,
        thin_edge: &map.thin_edge,
        thin_share: map.thin_share,
        pull_back: map.pull_back,
        drawn: match map.fit {
            Fit::Inside | Fit::BelowRim(_) | Fit::AlreadyFull => Drawn::Asked,
            Fit::UnderPullBack => Drawn::PullsBack,
            Fit::OverBrim(_) => Drawn::Target,
        },
        care: Care::of_coating(&plan.cautions, &map.coating),
        units,
    })
}
