//! How many of the pieces started come as far as a step.

use crate::quantity::Share;
use crate::run::Run;

/// Share of the pieces started that come to the step at `place` of their `chain`.
///
/// What is spoilt is taken to be found when the pieces are looked over, after the last coat: up
/// to there every piece takes its share of the work and of the stuff, and after it only what is
/// no `scrap`. With nothing to dry the pieces are looked over at the end.
pub(super) fn kept(run: &Run, chain: &[usize], place: usize, scrap: Share) -> f64 {
    let coated = |&step: &usize| run.steps[step].work.coating().is_some();
    let looked_over = chain.iter().rposition(coated);
    if run.inspection.is_some() && looked_over.is_some_and(|last| place > last) {
        1.0 - scrap.fraction()
    } else {
        1.0
    }
}

/// How many of the pieces started that share is, on average and rounded up.
pub(super) fn come(started: u64, kept: f64) -> u64 {
    #[expect(
        clippy::cast_precision_loss,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a share of a count of a thousand million at most"
    )]
    let come = (started as f64 * kept).ceil() as u64;
    come.min(started)
}
