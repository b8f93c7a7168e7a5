//! Pens: coatings that are drawn on as a line.

use super::lasts::Lasts;
use super::stock::Stale;
use super::{Notes, PiecePlan, Warning};
use crate::run::{Run, RunCoating, Work};

/// A pen of the run. How far one goes is not worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnPlan {
    /// What the maker calls it.
    pub name: String,
    /// Its family.
    pub family: String,
    /// The steps that draw with it, in the run's order.
    pub steps: Vec<String>,
    /// Pieces started that come to any of them.
    pub pieces: u64,
    /// How many are in stock and within their date; half a pen is 0.5. `None`: not said.
    pub have: Option<f64>,
    /// How many are past their date. `None`: none is.
    pub stale: Option<Stale>,
}

/// Every coating that some step of some piece draws with.
pub(super) fn plan(
    (run, lasts): (&Run, &Lasts),
    pieces: &[PiecePlan],
    notes: &mut Notes,
) -> Vec<DrawnPlan> {
    (run.coatings.iter().enumerate())
        .filter_map(|(index, coating)| {
            let draws = |step: usize| draws_with(run, step) == Some(index);
            let made = || {
                let all = run.pieces.iter().zip(pieces);
                all.filter(|(piece, _)| piece.steps.iter().any(|&step| draws(step)))
            };
            let steps = (0..run.steps.len())
                .filter(|&step| draws(step))
                .filter(|step| made().any(|(piece, _)| piece.steps.contains(step)))
                .map(|step| run.steps[step].name.clone());
            let steps: Vec<String> = steps.collect();
            (!steps.is_empty()).then(|| DrawnPlan {
                name: coating.name.clone(),
                family: coating.coating.family().name.clone(),
                steps,
                pieces: made().map(|(_, plan)| plan.start).sum(),
                have: lasts.bottle(coating).map(|bottle| bottle.have.number()),
                stale: stale(lasts, coating, notes),
            })
        })
        .collect()
}

/// Pens past their date, which are told.
fn stale(lasts: &Lasts, coating: &RunCoating, notes: &mut Notes) -> Option<Stale> {
    let have = coating.bottle.map(|bottle| bottle.have);
    let have = have.filter(|&have| have > 0.0)?;
    let past = lasts.past_coating(coating)?;
    let stock = Stale::Pens(have);
    notes.warnings.push(Warning::Stale {
        what: coating.name.clone(),
        stock,
        past,
    });
    Some(stock)
}

/// The pens that one kind of piece comes to, by name.
pub(super) fn pens_of(run: &Run, piece: usize) -> Vec<String> {
    let mut pens: Vec<usize> = (run.pieces[piece].steps.iter())
        .filter_map(|&step| draws_with(run, step))
        .collect();
    pens.sort_unstable();
    pens.dedup();
    let names = pens.into_iter().map(|pen| run.coatings[pen].name.clone());
    names.collect()
}

fn draws_with(run: &Run, step: usize) -> Option<usize> {
    match run.steps[step].work {
        Work::Draw { coating } => Some(coating),
        Work::Dome(_) | Work::Brush(_) | Work::Bare => None,
    }
}
