//! How damp the air gets in a cupboard or under a lid.

use crate::plan::{CupboardPlan, Plan};
use crate::show::chart::{self, Care, Cupboard};
use crate::show::draw::{DrawError, Picture};

/// How damp the air gets in a cupboard or under a lid.
///
/// # Errors
/// Those of [`chart::cupboard`].
pub fn cupboard(shut: &CupboardPlan, plan: &Plan) -> Result<Picture, DrawError> {
    chart::cupboard(&Cupboard {
        plan: shut,
        care: Care::of_coating(&plan.cautions, &shut.coating),
        units: plan.header.units,
    })
}
