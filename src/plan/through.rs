//! What is done before a coat is dry through, or without its label telling when that is.

use std::collections::BTreeMap;

use super::chain::needs_through;
use super::steps::Timed;
use super::waits::{ToldWaits, Waits};
use super::{Notes, Warning};
use crate::run::{Needs, Run, Work};

/// Warns of steps and of pieces that are told as ready which rest on a coat that may be soft inside.
pub(super) fn warn(run: &Run, steps: &[Timed], notes: &mut Notes) {
    let mut early: BTreeMap<usize, Early> = BTreeMap::new();
    for piece in &run.pieces {
        let chain = piece.steps.as_slice();
        let coated = |step: usize| told(steps, step).map(|told| (step, told));
        let Some((last, (_, last_told))) = (chain.iter().enumerate().rev())
            .find_map(|(place, &step)| Some((place, coated(step)?)))
        else {
            continue;
        };
        for (place, step, waits) in
            (chain[..=last].iter().enumerate()).filter_map(|(place, &step)| {
                let (_, waits) = coated(step)?;
                Some((place, step, waits))
            })
        {
            if matches!(run.steps[step].work, Work::Draw { .. }) {
                continue;
            }
            // thin coats whose label tells no more are as good as through by the last one's
            let matters = place == last
                || match &waits.through {
                    Some(through) => through.band.likely > last_told.handle.band.likely,
                    None => matches!(run.steps[step].work, Work::Dome(_)),
                };
            let untold = waits.through.is_none();
            let early = early.entry(step).or_default();
            early.ready |= untold && matters;
            for later in place + 1..chain.len() {
                let asked = run.steps[chain[later]].needs == Some(Needs::Through);
                let comes_after = matters && later > last;
                let goes_by_less = comes_after && !needs_through(run, chain, later);
                if goes_by_less || (untold && (asked || comes_after)) {
                    early.add(&run.steps[chain[later]].name);
                }
            }
        }
    }
    for (step, early) in early {
        let Some(waits) = told(steps, step).filter(|_| early.ready || !early.what.is_empty())
        else {
            continue;
        };
        notes.warnings.push(Warning::BeforeThrough {
            step: run.steps[step].name.clone(),
            what: early.what,
            ready: early.ready,
            waits: (waits.handle.stage, waits.handle.band),
            through: (waits.through.as_ref()).map(|through| (through.stage, through.band)),
        });
    }
}

/// What comes before a coat is dry through.
#[derive(Default)]
struct Early {
    /// The steps, each once.
    what: Vec<String>,
    /// Whether being ready does too.
    ready: bool,
}

impl Early {
    fn add(&mut self, step: &str) {
        if self.what.iter().all(|known| known != step) {
            self.what.push(step.to_owned());
        }
    }
}

/// The waits of a step's coat, where they are told.
fn told(steps: &[Timed], step: usize) -> Option<&ToldWaits> {
    let timed = steps.iter().find(|timed| timed.step == step)?;
    match &timed.waits {
        Waits::Told(told) => Some(told),
        Waits::None | Waits::Untold => None,
    }
}
