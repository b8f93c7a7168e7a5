//! How far a coating's bottles go.

use crate::plan::{AmountPlan, Plan};
use crate::show::chart::{self, Bottles, Care};
use crate::show::draw::{DrawError, Picture};

/// A coating's amount against the number of pieces, with its bottles.
///
/// # Errors
/// Those of [`chart::bottles`].
pub fn bottles(amount: &AmountPlan, plan: &Plan) -> Result<Picture, DrawError> {
    chart::bottles(&Bottles {
        amount,
        care: Care::of_coating(&plan.cautions, &amount.coating),
        units: plan.header.units,
    })
}
