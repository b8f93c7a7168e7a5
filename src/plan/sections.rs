//! The surfaces that a picture of a piece cut through needs.

use super::made::{liquid, outline};
use super::{FillPlan, Plan, PlanError};
use crate::geometry::{Ask, Dome, DomeError, Top};
use crate::quantity::Length;
use crate::run::{Outline, Run, Work};

/// One dome's surface across the middle of its piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    /// Its measures.
    pub dome: Dome,
    /// Distance from the left edge, and height over the top, from edge to edge.
    pub surface: Vec<(Length, Length)>,
}

/// One kind of piece, cut through.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionPlan {
    /// The piece's name.
    pub piece: String,
    /// The blank's outline.
    pub outline: Outline,
    /// The blank's width along the cut.
    pub width: Length,
    /// The blank's thickness. `None`: not said.
    pub thickness: Option<Length>,
    /// The planned fill of its first flood coat.
    pub target: Profile,
    /// The least that stays out at the edge.
    pub pull_back: Profile,
    /// The most that the edge holds.
    pub brim: Profile,
    /// The planned fill once dry, where it shrinks.
    pub dry: Option<Vec<(Length, Length)>>,
}

/// The sections of a run's domed pieces, one for each, in order.
///
/// # Errors
/// [`PlanError`] where a dome can't be worked out.
pub fn sections(run: &Run, plan: &Plan) -> Result<Vec<SectionPlan>, PlanError> {
    plan.pieces
        .iter()
        .filter_map(|piece| Some((piece, piece.fills.first()?)))
        .filter_map(|(piece, fill)| match &run.steps[fill.step].work {
            Work::Dome(dome) => Some((piece, fill, dome)),
            _ => None,
        })
        .map(|(piece, fill, dome)| {
            let blank = &run.blanks[piece.blank];
            let failed = |why| PlanError::Dome {
                step: fill.step_name.clone(),
                blank: blank.name.clone(),
                why,
            };
            let outline = outline(blank.outline).map_err(|why| PlanError::Outline {
                blank: blank.name.clone(),
                why,
            })?;
            let (liquid, angles) = liquid(&dome.liquid);
            let top = Top::new(&outline, liquid).map_err(failed)?;
            let target = profile(&top, Ask::EdgeAngle(fill.dome.edge_angle)).map_err(failed)?;
            Ok(SectionPlan {
                piece: piece.name.clone(),
                outline: blank.outline,
                width: outline.across(),
                thickness: blank.thickness,
                dry: dry(fill, &target),
                target,
                pull_back: profile(&top, Ask::EdgeAngle(angles.pull_back)).map_err(failed)?,
                brim: profile(&top, Ask::EdgeAngle(angles.brim)).map_err(failed)?,
            })
        })
        .collect()
}

fn profile(top: &Top, ask: Ask) -> Result<Profile, DomeError> {
    let shape = top.shape(ask)?;
    Ok(Profile {
        dome: shape.dome,
        surface: shape.section(),
    })
}

/// Each place shrinks straight down to its solids.
fn dry(fill: &FillPlan, wet: &Profile) -> Option<Vec<(Length, Length)>> {
    let solids = fill.solids.fraction();
    (solids < 1.0).then(|| {
        wet.surface
            .iter()
            .map(|&(across, up)| (across, up * solids))
            .collect()
    })
}
