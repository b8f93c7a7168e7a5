//! One pour through its hours.

use crate::plan::{Plan, PourPlan};
use crate::show::chart::{self, Care, Pour};
use crate::show::draw::{DrawError, Picture};

/// One pour through its hours.
///
/// # Errors
/// Those of [`chart::pour`].
pub fn pour(pour: &PourPlan, plan: &Plan) -> Result<Picture, DrawError> {
    chart::pour(&Pour {
        plan: pour,
        care: Care::of_coating(&plan.cautions, &pour.coating),
        units: plan.header.units,
    })
}
