//! What pictures of a plan need beyond the plan itself: surfaces, fields and curves.
//!
//! They cost more to work out than the plan's own answers and are asked for only
//! where a picture is drawn.

mod bottles;
mod costs;
mod days;

pub use bottles::{AmountAt, AmountPlan, BottleStep, EnoughFor, amounts};
pub use costs::{CostKind, CostPart, CostPlan, costs};
pub use days::{DayPlan, DaysPlan, days};
mod depths;
mod layouts;
mod sections;

pub use depths::{Band, DepthPlan, depths};
pub use layouts::{TrayLayout, layouts};
pub use sections::{Profile, SectionPlan, sections};

use super::{Plan, PlanError};
use crate::run::Run;

/// Everything that the pictures of a plan show and the plan itself does not hold.
#[derive(Debug, Clone, PartialEq)]
pub struct Pictured {
    /// The domed pieces, cut through.
    pub sections: Vec<SectionPlan>,
    /// Each coating's amount against the number of pieces.
    pub amounts: Vec<AmountPlan>,
    /// The days of the calendar. `None`: there is no calendar.
    pub days: Option<DaysPlan>,
    /// What each kind of piece costs, in parts.
    pub costs: Vec<CostPlan>,
    /// The domed pieces from above, with the depth of their coats.
    pub depths: Vec<DepthPlan>,
    /// The trays in use, full of each kind of piece.
    pub layouts: Vec<TrayLayout>,
}

/// Works out what the pictures of a run's plan need.
///
/// # Errors
/// [`PlanError`] where a dome can't be worked out.
pub fn pictured(run: &Run, plan: &Plan) -> Result<Pictured, PlanError> {
    Ok(Pictured {
        sections: sections(run, plan)?,
        amounts: amounts(run, plan)?,
        days: days(run, plan),
        costs: costs(plan),
        depths: depths(run, plan)?,
        layouts: layouts(run, plan)?,
    })
}
