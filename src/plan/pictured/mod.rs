//! What pictures of a plan need beyond the plan itself: surfaces, fields and curves.
//!
//! They cost more to work out than the plan's own answers and are asked for only
//! where a picture is drawn.

mod coat;
mod cupboards;
mod days;
mod follow;
mod levels;
mod rooms;
mod round_times;
mod sections;

pub use cupboards::{AiringPlan, CupboardPlan, Why, cupboards};
pub use days::{AirSpell, Measure, PourPlan, StageAt, pours};
pub use rooms::{Cold, EqualTime, InAir, RoomMap, RoomPoint, TooCold, When, rooms};
pub use sections::{Profile, SectionPlan, sections};

use super::{Plan, PlanError};
use crate::run::Run;

/// Everything that the pictures of a plan show and the plan itself does not hold.
#[derive(Debug, Clone, PartialEq)]
pub struct Pictured {
    /// The domed pieces, cut through.
    pub sections: Vec<SectionPlan>,
    /// How long each coating takes in other rooms.
    pub rooms: Vec<RoomMap>,
    /// The first pour of each domed step, through its hours.
    pub pours: Vec<PourPlan>,
    /// The boxes that coats dry in.
    pub cupboards: Vec<CupboardPlan>,
}

/// Works out what the pictures of a run's plan need.
///
/// # Errors
/// [`PlanError`] where a dome can't be worked out.
pub fn pictured(run: &Run, plan: &Plan) -> Result<Pictured, PlanError> {
    Ok(Pictured {
        sections: sections(run, plan)?,
        rooms: rooms(run, plan)?,
        pours: pours(run, plan)?,
        cupboards: cupboards(run, plan)?,
    })
}
