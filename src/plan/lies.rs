//! All pieces on all cores, and how their fills lie while the rest is planned.

use std::collections::HashSet;
use std::iter;

use super::abreast::{beside, cores, on_all_cores};
use super::made::{Contents, Domes, Lies, MOST_LIES};
use super::pieces::{each, fills};
use super::visits::Visit;
use super::watch::Watch;
use super::{Notes, PiecePlan, PlanError, Warning};
use crate::run::{Piece, Run};

/// Plans every piece but for how its fills lie. What is left of that to find out, which takes
/// longer than all else, is handed back: nothing hangs on it, so the plan can go on meanwhile.
pub(super) fn plan<'r>(
    run: &'r Run,
    visits: &'r [Vec<Visit>],
    watch: &'r Watch,
    notes: &mut Notes,
) -> Result<(Vec<PiecePlan>, Left<'r>), PlanError> {
    let left = ahead(run, visits, watch);
    let mut known = Domes::of([&left.known]);
    known.lies_are(Lies::LeftOut);
    Ok((each(run, visits, known, notes)?, left))
}

/// What is left to find out of pieces that are planned but for how they lie.
pub(super) struct Left<'r> {
    run: &'r Run,
    visits: &'r [Vec<Visit>],
    watch: &'r Watch,
    known: Domes,
    kinds: Vec<(Kind<'r>, Domes)>,
}

/// The pieces with how their fills lie, and what is to look out for.
type WithLies = (Vec<PiecePlan>, Vec<Warning>);

impl Left<'_> {
    /// Finds it out on the other cores while something else is done on this one. The pieces
    /// are planned anew with it, and what is to look out for.
    pub(super) fn plan_beside<R>(
        self,
        meanwhile: impl FnOnce() -> R,
    ) -> (R, Result<WithLies, PlanError>) {
        let Self {
            run,
            visits,
            watch,
            known,
            kinds,
        } = self;
        let (done, found) = beside(
            kinds,
            |((piece, visits), mut domes)| {
                domes.lies_are(Lies::Now);
                fills(run, piece, visits, &mut domes, &mut Notes::default()).ok();
                watch.tick();
                domes
            },
            meanwhile,
        );
        let known = Domes::of(iter::once(&known).chain(&found));
        let mut notes = Notes::default();
        let pieces = each(run, visits, known, &mut notes);
        (done, pieces.map(|pieces| (pieces, notes.warnings)))
    }
}

/// A kind of piece, and the steps that it goes through.
type Kind<'r> = (&'r Piece, &'r [Visit]);

/// What one core has found.
#[derive(Default)]
struct Found {
    domes: Domes,
    /// By number, the kinds of which it left out how they lie, each with what is at hand for it.
    left: Vec<(usize, Domes)>,
}

/// The domes of all pieces, on all cores. The same pieces are gone through once
/// more to plan them, in order, so that the plan does not hang on which came first.
/// How the last kinds lie, one for each core but this, is left for later: this one is then at
/// work on the rest of the plan, and the others have nothing to do.
fn ahead<'r>(run: &'r Run, visits: &'r [Vec<Visit>], watch: &'r Watch) -> Left<'r> {
    #[expect(
        clippy::mutable_key_type,
        reason = "what an outline fills in later plays no part in its hash or equality"
    )]
    let mut seen = HashSet::new();
    let kinds: Vec<Kind<'r>> = run
        .pieces
        .iter()
        .zip(visits)
        .filter(|(piece, _)| {
            let on = Contents(run.blanks[piece.blank].top.clone());
            seen.insert((on, piece.steps.as_slice()))
        })
        .map(|(piece, visits)| (piece, visits.as_slice()))
        .collect();
    watch.expect(kinds.len());
    let first_left = kinds.len().saturating_sub(cores() - 1);
    let parts = on_all_cores(&kinds, |found: &mut Found, number, (piece, visits)| {
        // What can't be worked out comes up again when it is planned.
        let work_out = |domes: &mut Domes, lies| {
            domes.lies_are(lies);
            fills(run, piece, visits, domes, &mut Notes::default()).ok();
        };
        if number >= first_left && number < MOST_LIES {
            let mut domes = Domes::of([&found.domes]);
            work_out(&mut domes, Lies::Later);
            found.left.push((number, domes));
        } else {
            let lies = if number < MOST_LIES {
                Lies::Now
            } else {
                Lies::LeftOut
            };
            work_out(&mut found.domes, lies);
            watch.tick();
        }
    });
    let all = parts.iter();
    let known = Domes::of(all.flat_map(|found| {
        let left = found.left.iter().map(|(_, domes)| domes);
        iter::once(&found.domes).chain(left)
    }));
    let left = parts.into_iter().flat_map(|found| found.left);
    Left {
        run,
        visits,
        watch,
        known,
        kinds: left.map(|(number, domes)| (kinds[number], domes)).collect(),
    }
}
