//! The pieces of a run that have a dome, with what it is worked out from.

use crate::geometry::{DomeError, Filling};
use crate::plan::made::filling;
use crate::plan::{FillPlan, Fit, PiecePlan, Plan, PlanError};
use crate::run::{Blank, Dome, Run, Work};

/// A piece with its first fill that makes a dome.
pub(super) struct Domed<'a> {
    pub(super) piece: &'a PiecePlan,
    pub(super) fill: &'a FillPlan,
    pub(super) dome: &'a Dome,
    pub(super) blank: &'a Blank,
}

/// A run's domed pieces in order; a piece whose fills all stay below a wall's rim, or add nothing to
/// one that does, is left out.
pub(super) fn domed<'a>(run: &'a Run, plan: &'a Plan) -> impl Iterator<Item = Domed<'a>> {
    plan.pieces.iter().filter_map(|piece| {
        let mut fills = piece.fills.iter();
        let fill = fills.find(|fill| !matches!(fill.fit, Fit::BelowRim(_) | Fit::AlreadyFull))?;
        let Work::Dome(dome) = &run.steps[fill.step].work else {
            return None;
        };
        Some(Domed {
            piece,
            fill,
            dome,
            blank: &run.blanks[piece.blank],
        })
    })
}

impl Domed<'_> {
    /// The blank with its coating.
    pub(super) fn filling(&self) -> Result<Filling, PlanError> {
        filling(&self.blank.top, &self.dome.liquid, Filling::new).map_err(|why| self.failed(why))
    }

    /// That its dome can't be worked out.
    pub(super) fn failed(&self, why: DomeError) -> PlanError {
        PlanError::Dome {
            step: self.fill.step_name.clone(),
            blank: self.blank.name.clone(),
            why,
        }
    }
}
