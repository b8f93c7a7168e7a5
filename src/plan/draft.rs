//! A run planned as far as its dates, and the same with fewer pieces.

use std::collections::{BTreeMap, BTreeSet};

use super::lasts::Lasts;
use super::orders::{self, Arrivals};
use super::planner::{self, Bench};
use super::uses::Sat;
use super::{
    CoatingPlan, Notes, PiecePlan, PlanError, blanks, coatings, pieces, space, steps, visits,
};
use crate::quantity::Share;
use crate::run::Run;
use jiff::civil::DateTime;

/// A run planned as far as its dates.
#[derive(Clone)]
pub(super) struct Draft {
    pieces: Vec<PiecePlan>,
    space: space::SpacePlan,
    steps: Vec<steps::Timed>,
    coatings: Vec<CoatingPlan>,
    /// What has to be ordered beside the blanks and coatings that are found to be here.
    bought: BTreeSet<String>,
}

impl Draft {
    /// Of a run that has such goods to order, beside its blanks and coatings.
    pub(super) fn of(run: &Run, bought: &BTreeSet<String>) -> Result<Self, PlanError> {
        let visits = visits::of(run);
        let pieces = pieces::plan_without_lies(run, &visits, &mut Notes::default())?;
        Self::with(run, pieces, bought)
    }

    /// With the pieces of another run where these have the same domes.
    pub(super) fn like(run: &Run, other: &Run, known: &Self) -> Result<Self, PlanError> {
        // the domes know of no delivery
        let [one, other] = [run, other].map(orders::at_hand);
        let same = one.header == other.header
            && one.pieces == other.pieces
            && one.blanks == other.blanks
            && one.steps == other.steps
            && one.coatings == other.coatings
            && one.inspection == other.inspection;
        if same {
            Self::with(run, known.pieces.clone(), &known.bought)
        } else {
            Self::of(run, &known.bought)
        }
    }

    fn with(
        run: &Run,
        pieces: Vec<PiecePlan>,
        bought: &BTreeSet<String>,
    ) -> Result<Self, PlanError> {
        let notes = &mut Notes::default();
        let space = space::plan(run, &pieces, notes)?;
        let steps = steps::plan(run, &pieces, &space, false, notes);
        let sat = Sat::new();
        let coatings = coatings::plan(
            run,
            &visits::of(run),
            &pieces,
            (&sat, &Lasts::begun(run)),
            notes,
        )?;
        Ok(Self {
            pieces,
            space,
            steps,
            coatings,
            bought: bought.clone(),
        })
    }

    /// The same with the waits of its own crowd.
    fn dried_anew(self, run: &Run) -> Self {
        let notes = &mut Notes::default();
        Self {
            steps: steps::plan(run, &self.pieces, &self.space, false, notes),
            ..self
        }
    }

    /// When the run is likely ready, begun as soon as can be.
    pub(super) fn likely_ready(&self, run: &Run) -> Option<DateTime> {
        let arrivals = self.arrivals(run).ok()?;
        planner::soonest(&self.bench(run, &arrivals))
    }

    /// By name, when the run first takes each of the goods that have a time of delivery, were all at hand.
    pub(super) fn first_uses(&self, run: &Run) -> Option<BTreeMap<String, DateTime>> {
        planner::first_uses(&self.bench(run, &Arrivals::default()))
    }

    fn bench<'p>(&'p self, run: &'p Run, arrivals: &'p Arrivals) -> Bench<'p> {
        Bench {
            run,
            pieces: &self.pieces,
            space: &self.space,
            steps: &self.steps,
            coatings: &self.coatings,
            arrivals,
        }
    }

    /// From when what has to be ordered is there.
    fn arrivals(&self, run: &Run) -> Result<Arrivals, PlanError> {
        // to count blanks takes long, and may not be needed
        let all = Arrivals::of(run, &|_| true);
        if all.is_empty() {
            return Ok(all);
        }
        let blanks = blanks::plan(run, &self.pieces)?;
        let own: BTreeSet<&str> = orders::to_order((&self.coatings, &[]), &blanks, &[]).collect();
        Ok(Arrivals::of(run, &|what| {
            own.contains(what) || self.bought.contains(what)
        }))
    }
}

/// A run of which fewer pieces are made.
///
/// Fewer pieces than a tray holds lie less crowded and dry sooner, and to work out how much sooner
/// costs most of a plan. It is not done where even the waits of one piece of each kind come too late.
pub(super) struct Fewer<'a> {
    run: &'a Run,
    deadline: DateTime,
    all: &'a Draft,
    /// With one piece of each kind. `None`: its waits are the same.
    least: Option<Draft>,
}

impl<'a> Fewer<'a> {
    pub(super) fn of(run: &'a Run, all: &'a Draft, deadline: DateTime) -> Result<Self, PlanError> {
        let mut few = run.clone();
        for piece in &mut few.pieces {
            piece.count = piece.count.min(1);
        }
        let (few, least) = recounted(few, all)?;
        let differs = !least.space.as_crowded_as(&all.space);
        Ok(Self {
            run,
            deadline,
            all,
            least: differs.then(|| least.dried_anew(&few)),
        })
    }

    /// So large a share of the pieces, if they are ready in time.
    pub(super) fn ready(&self, share: f64) -> Result<Option<Ready>, PlanError> {
        let (run, draft) = cut(self.run, self.all, share)?;
        let in_time = |draft: &Draft| {
            let ready = draft.likely_ready(&run);
            ready.filter(|&ready| ready <= self.deadline)
        };
        if draft.space.as_crowded_as(&self.all.space) {
            return Ok(in_time(&draft).map(|at| Ready { at, run, draft }));
        }
        // with a kind left out they may be fewer still
        let least = (self.least.as_ref()).filter(|_| run.pieces.len() == self.run.pieces.len());
        if let Some(least) = least {
            let quickest = Draft {
                steps: least.steps.clone(),
                ..draft.clone()
            };
            if in_time(&quickest).is_none() {
                return Ok(None);
            }
        }
        let draft = draft.dried_anew(&run);
        Ok(in_time(&draft).map(|at| Ready { at, run, draft }))
    }
}

/// A run that is ready.
pub(super) struct Ready {
    /// Likely when.
    pub at: DateTime,
    pub run: Run,
    pub draft: Draft,
}

impl Ready {
    /// How many pieces it is.
    pub(super) fn pieces(&self) -> u64 {
        self.kinds().iter().map(|(_, count)| count).sum()
    }

    /// How many of each kind it is, of which there are any.
    pub(super) fn kinds(&self) -> Vec<(String, u64)> {
        let some = self.run.pieces.iter().filter(|piece| piece.count > 0);
        some.map(|piece| (piece.name.clone(), u64::from(piece.count)))
            .collect()
    }

    /// How often it is ready by a date.
    pub(super) fn chance(&self, by: DateTime) -> Option<Share> {
        let arrivals = self.draft.arrivals(&self.run).ok()?;
        planner::soonest_chance(&self.draft.bench(&self.run, &arrivals), by)
    }
}

/// The same run with so large a share of its pieces, as much of each kind.
fn cut(run: &Run, draft: &Draft, share: f64) -> Result<(Run, Draft), PlanError> {
    let mut run = run.clone();
    // what is cut from each is carried on, so that kinds of one are cut too
    let (mut asked, mut given) = (0.0, 0.0);
    for piece in &mut run.pieces {
        asked += f64::from(piece.count) * share;
        let fewer = (asked - given + 1e-9)
            .floor()
            .clamp(0.0, f64::from(piece.count));
        given += fewer;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "no more than a count"
        )]
        let fewer = fewer as u32;
        piece.count = fewer;
    }
    recounted(run, draft)
}

/// A run with its pieces counted again, and those left out of which there are none. The waits stay.
fn recounted(mut run: Run, draft: &Draft) -> Result<(Run, Draft), PlanError> {
    let kept: Vec<bool> = run.pieces.iter().map(|piece| piece.count > 0).collect();
    let mut pieces = Vec::new();
    for (piece, known) in run.pieces.iter().zip(&draft.pieces) {
        pieces.push(pieces::recount(&run, piece, known)?);
    }
    let mut keep = kept.iter();
    run.pieces.retain(|_| *keep.next().unwrap_or(&false));
    let mut keep = kept.iter();
    pieces.retain(|_| *keep.next().unwrap_or(&false));
    let draft = Draft {
        space: draft.space.only(&kept).crowded_by(&run, &pieces)?,
        pieces,
        steps: draft.steps.clone(),
        coatings: draft.coatings.clone(),
        bought: draft.bought.clone(),
    };
    Ok((run, draft))
}

/// A run of which there are fewer pieces than its draft is for, or none of a kind, if it is ready.
pub(super) fn ready_with_fewer(others: Run, draft: &Draft) -> Result<Option<Ready>, PlanError> {
    let (run, draft) = recounted(others, draft)?;
    let draft = draft.dried_anew(&run);
    let ready = draft.likely_ready(&run);
    Ok(ready.map(|at| Ready { at, run, draft }))
}
