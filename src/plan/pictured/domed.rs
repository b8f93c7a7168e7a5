//! The pieces of a run that have a dome, with what it is worked out from.

use rayon::prelude::*;

use super::{DepthPlan, SectionPlan};
use crate::geometry::{Ask, DomeError, Filled, Filling};
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

/// The sections and the depths of a run's domed pieces. Both of a piece begin with its planned
/// dome, which is worked out once.
pub(super) fn surfaces(
    run: &Run,
    plan: &Plan,
) -> Result<(Vec<SectionPlan>, Vec<DepthPlan>), PlanError> {
    let domed: Vec<Domed> = domed(run, plan).collect();
    let both = domed.par_iter().map(|domed| {
        let filling = domed.filling()?;
        let planned = domed.planned(&filling)?;
        let (section, depth) = rayon::join(
            || super::sections::section(run, domed, &filling, &planned),
            || super::depths::depth(run, domed, &filling, &planned),
        );
        Ok((section?, depth))
    });
    // the first that can't be worked out is told, whichever was first found to be so
    both.collect::<Vec<_>>().into_iter().collect()
}

impl Domed<'_> {
    /// The blank with its coating.
    pub(super) fn filling(&self) -> Result<Filling, PlanError> {
        filling(&self.blank.top, &self.dome.liquid, Filling::new).map_err(|why| self.failed(why))
    }

    /// The fill that is planned.
    pub(super) fn planned<'f>(&self, filling: &'f Filling) -> Result<Filled<'f>, PlanError> {
        let asked = Ask::EdgeAngle(self.fill.dome.edge_angle);
        filling.shape(asked).map_err(|why| self.failed(why))
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
