//! The plan: one pure function from a run to its answers.
//!
//! A [`Plan`] is plain data with typed quantities. Ways of showing it read it
//! and work out nothing of their own.

mod abreast;
mod advice;
mod blanks;
mod coatings;
mod drying;
mod fills;
mod fit;
mod handling;
mod made;
mod mixing;
mod pieces;
mod sections;
mod steps;
mod visits;
mod warning;

use std::collections::BTreeSet;

pub use crate::drying::{NoTime, Outlook, StageTimes, TimeBand};
pub use advice::Advice;
pub use blanks::{BlankPlan, ByAverages};
pub use coatings::{CoatingPlan, Coverage, Mix};
pub use drying::Drying;
pub use fit::{Asked, BelowRim, Fit};
pub use made::Lie;
pub use mixing::{AllAtOnce, Cups, LeastMix, OneMix, Serves};
pub use pieces::{FillPlan, PiecePlan};
pub use sections::{Profile, SectionPlan, sections};
pub use steps::{StepKind, StepPlan};
pub use warning::Warning;

use crate::coating::{Cautions, cautions, family};
use crate::consumption::UseError;
use crate::geometry::DomeError;
use crate::run::{Assumption, Header, Room, Run};

/// Everything that a run's plan says.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The run's name, date, sureness and units.
    pub header: Header,
    /// The room that it is planned for.
    pub room: Room,
    /// What is made, and how full; as many as the run has pieces, in its order.
    pub pieces: Vec<PiecePlan>,
    /// What to buy of each coating that is used.
    pub coatings: Vec<CoatingPlan>,
    /// What to start and buy of each blank that is used.
    pub blanks: Vec<BlankPlan>,
    /// The steps that pieces go through, in the run's order.
    pub steps: Vec<StepPlan>,
    /// Steps that the run does not have and should.
    pub advice: Vec<Advice>,
    /// What to look out for.
    pub warnings: Vec<Warning>,
    /// The cautions of each coating in use.
    pub cautions: Vec<FamilyCautions>,
    /// Every default that the run and its plan lean on.
    pub assumptions: Vec<Assumption>,
}

/// The cautions of one kind of coating, and who needs them.
#[derive(Debug, Clone, PartialEq)]
pub struct FamilyCautions {
    /// What the cautions are for, as `data/cautions.toml` calls it.
    pub key: String,
    /// The run's coatings that they are for.
    pub coatings: Vec<String>,
    /// The cautions.
    pub cautions: Cautions,
}

/// Why no plan can be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PlanError {
    /// A dome could not be worked out.
    #[error("\"{step}\" on blank \"{blank}\": {why}")]
    Dome {
        /// The step.
        step: String,
        /// The blank.
        blank: String,
        /// Why.
        why: DomeError,
    },
    /// An amount or a count could not be worked out.
    #[error("\"{what}\": {why}")]
    Use {
        /// The piece, blank or coating.
        what: String,
        /// Why.
        why: UseError,
    },
}

/// Plans a run.
///
/// Nothing outside its argument is looked at: no file, no clock, no chance.
///
/// # Errors
/// [`PlanError`] where a dome or a count lies outside what can be worked out.
/// What a maker asked for and can't have is no error but a [`Warning`] for
/// which [`Warning::stops`] holds.
pub fn plan(run: &Run) -> Result<Plan, PlanError> {
    let mut notes = Notes::default();
    let visits = visits::of(run);
    let pieces = pieces::plan(run, &visits, &mut notes)?;
    let blanks = blanks::plan(run, &pieces)?;
    let steps = steps::plan(run, &pieces, &mut notes);
    let coatings = coatings::plan(run, &visits, &pieces, &mut notes)?;
    let advice = advice::plan(run, &visits, &pieces, &mut notes)?;
    handling::warn(run, &pieces, &mut notes);
    notes.of_the_plan(&coatings, &steps);
    if run.header.ready_by.is_some() {
        notes.assume(
            "ready_by",
            "not checked",
            "no calendar is planned yet: add up the waits, your own hours and a reserve",
        );
    }
    let mut assumptions = run.assumed.clone();
    assumptions.append(&mut notes.assumed);
    Ok(Plan {
        header: run.header.clone(),
        room: run.room.clone(),
        cautions: cautions_in_use(run, &coatings, &steps, &advice),
        pieces,
        coatings,
        blanks,
        steps,
        advice,
        warnings: notes.warnings,
        assumptions,
    })
}

impl Plan {
    /// The warnings for which the run can't be done as asked.
    pub fn stops(&self) -> impl Iterator<Item = &Warning> {
        self.warnings.iter().filter(|warning| warning.stops())
    }
}

/// What a plan leans on and looks out for, gathered as it is made.
#[derive(Debug, Default)]
struct Notes {
    warnings: Vec<Warning>,
    assumed: Vec<Assumption>,
}

impl Notes {
    fn assume(&mut self, key: impl Into<String>, value: impl Into<String>, why: &'static str) {
        self.assumed.push(Assumption {
            key: key.into(),
            value: value.into(),
            why,
        });
    }

    /// What every plan of this kind takes for granted.
    fn of_the_plan(&mut self, coatings: &[CoatingPlan], steps: &[StepPlan]) {
        if !coatings.is_empty() {
            self.assume(
                "sittings",
                "one for each coat of each step, on each face",
                "the tool is cleaned after each coat, and keeps its share back each time",
            );
        }
        if steps.iter().any(|step| step.kind == StepKind::Dome) {
            self.assume(
                "dome depth",
                "the peak's",
                "the deepest place is ready last, so it rules the time",
            );
            self.assume(
                "dry height",
                "wet height times solids",
                "each place is taken to shrink straight down; a flood coat over a dry one fills up to the same surface",
            );
        }
        if steps.iter().any(|step| step.drying.timed().is_some()) {
            self.assume(
                "neighbours",
                "none",
                "each piece is taken to lie alone on a wide shelf; crowded trays dry slower",
            );
            self.assume(
                "label's coat",
                "as deep as usual, or as this one where it is thinner; in an ordinary still room",
                "labels seldom say how thick a coat or how much air their times are for",
            );
        }
    }
}

/// The cautions of the coatings that the steps use, each once, in the run's order.
fn cautions_in_use(
    run: &Run,
    coatings: &[CoatingPlan],
    steps: &[StepPlan],
    advice: &[Advice],
) -> Vec<FamilyCautions> {
    let used: BTreeSet<&str> = coatings
        .iter()
        .map(|coating| coating.name.as_str())
        .chain(steps.iter().filter_map(|step| step.coating.as_deref()))
        .collect();
    let mut found: Vec<FamilyCautions> = Vec::new();
    let own = run
        .coatings
        .iter()
        .filter(|coating| used.contains(coating.name.as_str()));
    let own = own.map(|coating| (coating.name.as_str(), coating.coating.family()));
    // A family that is only advised brings its cautions too.
    let advised = advice.iter().filter(|advice| !advice.from_the_run);
    let advised =
        advised.filter_map(|advice| Some((advice.coating.as_str(), family(&advice.coating)?)));
    for (name, family) in own.chain(advised) {
        let key = &family.cautions;
        if let Some(known) = found.iter_mut().find(|known| known.key == *key) {
            if !known.coatings.iter().any(|coating| coating == name) {
                known.coatings.push(name.to_owned());
            }
        } else if let Some(cautions) = cautions(key) {
            found.push(FamilyCautions {
                key: key.clone(),
                coatings: vec![name.to_owned()],
                cautions,
            });
        }
    }
    found
}
