//! What pictures of a plan need beyond the plan itself: surfaces, fields and curves.
//!
//! They cost more to work out than the plan's own answers and are asked for only
//! where a picture is drawn.

mod bottles;
mod coat;
mod costs;
mod cupboards;
mod days;
mod depths;
mod domed;
mod follow;
mod layouts;
mod levels;
mod pours;
mod rooms;
mod round_times;
mod sections;
mod shut_in;

pub use bottles::{AmountAt, AmountPlan, BottleStep, EnoughFor, amounts};
pub use costs::{CostKind, CostPart, CostPlan, costs};
pub use cupboards::{AiringPlan, CupboardPlan, Why, cupboards};
pub use days::{DayPlan, DaysPlan, days};
pub use depths::{Band, DepthPlan, depths};
pub use layouts::{TrayLayout, layouts};
pub use pours::{AirSpell, Measure, PourPlan, StageAt, pours};
pub use rooms::{Cold, EqualTime, InAir, RoomMap, RoomPoint, TooCold, When, rooms};
pub use sections::{Profile, SectionPlan, sections};
pub use shut_in::ShutIn;

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
    let (surfaces, others) = rayon::join(
        || domed::surfaces(run, plan),
        || {
            Ok::<_, PlanError>(Pictured {
                sections: Vec::new(),
                depths: Vec::new(),
                amounts: amounts(run, plan)?,
                days: days(run, plan),
                costs: costs(plan),
                layouts: layouts(run, plan)?,
                rooms: rooms(run, plan)?,
                pours: pours(run, plan)?,
                cupboards: cupboards(run, plan)?,
            })
        },
    );
    let (sections, depths) = surfaces?;
    Ok(Pictured {
        sections,
        depths,
        ..others?
    })
}
