//! Which steps a piece goes through, and what lies under each.

use crate::run::{Run, Work};

/// The family that sticks a print down but does not seal what is under it.
const GLUE: &str = "water-based glue";

/// One time that one piece goes through one step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Visit {
    /// Which of the run's steps.
    pub step: usize,
    /// Whether the blank still drinks: it is porous, and nothing has sealed it yet.
    pub thirsty: bool,
}

/// The visits of each of the run's pieces, in order.
pub(super) fn of(run: &Run) -> Vec<Vec<Visit>> {
    run.pieces
        .iter()
        .map(|piece| {
            let mut thirsty = run.blanks[piece.blank].porous == Some(true);
            piece
                .steps
                .iter()
                .map(|&step| {
                    let visit = Visit { step, thirsty };
                    thirsty &= !seals(run, step);
                    visit
                })
                .collect()
        })
        .collect()
}

/// Whether a step leaves a blank sealed: any film does but glue's and ink's.
pub(super) fn seals(run: &Run, step: usize) -> bool {
    match run.steps[step].work {
        Work::Dome(_) => true,
        Work::Brush(brush) => run.coatings[brush.coating].coating.family().name != GLUE,
        Work::Draw { .. } | Work::Bare => false,
    }
}
