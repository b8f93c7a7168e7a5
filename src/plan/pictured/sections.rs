//! The surfaces that a picture of a piece cut through needs.

use super::domed::{Domed, domed};
use crate::geometry::{Ask, Blank, Dome, Filled, Filling};
use crate::plan::{FillPlan, Plan, PlanError};
use crate::quantity::{Length, Volume};
use crate::run::Run;

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
    /// The coating that is poured, by name.
    pub coating: String,
    /// The blank's top.
    pub top: Blank,
    /// The blank's width along the cut.
    pub width: Length,
    /// Where the cut leaves the blank in between: from and to, as distances from
    /// its first edge.
    pub gaps: Vec<[Length; 2]>,
    /// The blank's thickness. `None`: not said.
    pub thickness: Option<Length>,
    /// Whether it drinks coating, as bare wood does. `None`: not said.
    pub porous: Option<bool>,
    /// What lies dry under that coat: what stays below a wall's rim makes no dome.
    pub under: Volume,
    /// The planned fill of its first flood coat that makes a dome, with what lies under it.
    pub target: Profile,
    /// The least that stays out at the edge. `None`: a wall holds less too.
    pub pull_back: Option<Profile>,
    /// The most that the edge holds.
    pub brim: Profile,
    /// The planned fill once dry, where it shrinks.
    pub dry: Option<Vec<(Length, Length)>>,
}

/// The sections of a run's domed pieces, one for each, in order; a piece whose
/// fills all stay below a wall's rim has none.
///
/// # Errors
/// [`PlanError`] where a dome can't be worked out.
pub fn sections(run: &Run, plan: &Plan) -> Result<Vec<SectionPlan>, PlanError> {
    domed(run, plan)
        .map(|domed| {
            let filling = domed.filling()?;
            let planned = domed.planned(&filling)?;
            section(run, &domed, &filling, &planned)
        })
        .collect()
}

/// The section of one of them, planned so full.
pub(super) fn section(
    run: &Run,
    domed: &Domed,
    filling: &Filling,
    planned: &Filled,
) -> Result<SectionPlan, PlanError> {
    let (blank, dome) = (domed.blank, domed.dome);
    let at = |angle| {
        let filled = filling.shape(Ask::EdgeAngle(angle));
        filled
            .map(|filled| profile(&filled))
            .map_err(|why| domed.failed(why))
    };
    let target = profile(planned);
    let open = blank.top.wall() == Length::ZERO;
    Ok(SectionPlan {
        piece: domed.piece.name.clone(),
        coating: run.coatings[dome.coating].name.clone(),
        top: blank.top.clone(),
        width: filling.blank().outline().cut_width(),
        gaps: filling.blank().outline().cut_gaps(),
        thickness: blank.thickness,
        porous: blank.porous,
        dry: dry(domed.fill, &target),
        under: domed.fill.under,
        target,
        pull_back: open.then(|| at(dome.liquid.pull_back)).transpose()?,
        brim: at(dome.liquid.brim)?,
    })
}

fn profile(filled: &Filled) -> Profile {
    Profile {
        dome: filled.dome,
        surface: filled.section(),
    }
}

/// Each place shrinks straight down to its solids, over what lies dry and level under it.
fn dry(fill: &FillPlan, wet: &Profile) -> Option<Vec<(Length, Length)>> {
    let solids = fill.solids.fraction();
    let floor = Length::from_m(fill.under.m3() / fill.dome.outline_area.m2());
    (solids < 1.0).then(|| {
        wet.surface
            .iter()
            .map(|&(across, up)| (across, floor + (up - floor) * solids))
            .collect()
    })
}
