//! What the run file tells of and no piece comes to: a slip, or money spent for nothing.

use super::{Notes, Warning};
use crate::run::Run;

/// What kind of thing is not used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unused {
    /// A blank.
    Blank,
    /// A coating.
    Coating,
    /// A supply.
    Supply,
    /// A step.
    Step,
}

/// Which of the run's things some piece uses, in its order.
pub(super) struct Used {
    pub coatings: Vec<bool>,
    pub supplies: Vec<bool>,
    blanks: Vec<bool>,
    steps: Vec<bool>,
}

/// What the pieces' blanks and steps use.
pub(super) fn used(run: &Run) -> Used {
    let mut steps = vec![false; run.steps.len()];
    let mut blanks = vec![false; run.blanks.len()];
    for piece in &run.pieces {
        blanks[piece.blank] = true;
        for &step in &piece.steps {
            steps[step] = true;
        }
    }
    let mut coatings = vec![false; run.coatings.len()];
    let mut supplies = vec![false; run.supplies.len()];
    for (step, _) in run.steps.iter().zip(&steps).filter(|(_, used)| **used) {
        if let Some(coating) = step.work.coating() {
            coatings[coating] = true;
        }
        for taken in &step.uses {
            supplies[taken.supply] = true;
        }
    }
    Used {
        coatings,
        supplies,
        blanks,
        steps,
    }
}

/// Warns of each that is not used, by its name.
pub(super) fn warn(run: &Run, notes: &mut Notes) {
    let used = used(run);
    let blank = run.blanks.iter().map(|blank| &blank.name);
    let coating = run.coatings.iter().map(|coating| &coating.name);
    let supply = run.supplies.iter().map(|supply| &supply.name);
    let step = run.steps.iter().map(|step| &step.name);
    note(Unused::Blank, blank, &used.blanks, notes);
    note(Unused::Coating, coating, &used.coatings, notes);
    note(Unused::Supply, supply, &used.supplies, notes);
    note(Unused::Step, step, &used.steps, notes);
}

fn note<'r>(
    what: Unused,
    names: impl Iterator<Item = &'r String>,
    used: &[bool],
    notes: &mut Notes,
) {
    let idle = names.zip(used).filter(|(_, used)| !**used);
    notes
        .warnings
        .extend(idle.map(|(name, _)| Warning::NotUsed {
            what,
            name: name.clone(),
        }));
}
