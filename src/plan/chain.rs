//! The sittings that pieces go through one after the other, and how long each takes.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::hands::HandsOn;
use super::per_mix::PerMix;
use super::reach;
use super::recoat::{Facing, no_window};
use super::steps::Timed;
use super::waits::Waits;
use super::{CoatingPlan, Drying, Notes, PiecePlan};
use crate::coating::Coating;
use crate::consumption::Faces;
use crate::quantity::{Show, Time, Units};
use crate::run::{Needs, Run, Step};
use crate::schedule::OnFace;

/// Pieces that go through the same steps.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Group {
    /// Which of the run's pieces.
    pub pieces: Vec<usize>,
    /// What is done to them, in order.
    pub stints: Vec<Stint>,
}

/// What a sitting is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Task {
    /// A coat of a step, or the whole of a step without one.
    Step {
        /// Which of the run's steps.
        step: usize,
        /// Which of its coats, from 1, over all its faces.
        coat: u32,
        /// How many those are.
        of: u32,
    },
    /// Looking the pieces over, the first or the second time.
    Look {
        /// Which time, from 1.
        time: u32,
    },
}

/// One sitting's worth of work on a piece.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Stint {
    pub task: Task,
    /// Hands-on time for one piece, as the maker or a guess has it.
    pub each: Time,
    /// Before the first piece; once for each mix, where it is mixed.
    pub set_up: Time,
    /// After the last piece.
    pub clean_up: Time,
    /// How its pieces are shared out among mixes. `None`: nothing is mixed, or nobody can tell.
    pub per_mix: Option<Arc<PerMix>>,
    /// Share of the pieces started that come this far.
    pub kept: f64,
    /// What is waited for before the next sitting.
    pub next: Until,
    /// What is waited for before the pieces are lifted off their trays.
    pub lifted: Until,
    /// What its coat is dry through by; the steps that need that, and being ready, wait for it.
    pub through: Until,
    /// Whether all coats before it must be dry through.
    pub after_through: bool,
    /// How long after a pour bubbles must be looked for.
    pub look: Option<Time>,
    /// The coat that it lays.
    pub coat: Option<OnFace>,
}

/// What is waited for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Until {
    /// Nothing.
    Now,
    /// Until a step's coat takes the next.
    Recoat(usize),
    /// Until it may be picked up.
    Handle(usize),
    /// Until it may be picked up and takes another coat.
    Both(usize),
    /// Until it is dry through and may lie against others.
    Through(usize),
    /// Until the second look.
    SecondLook,
}

/// A step whose times can't be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Untold(pub usize);

/// The groups of a run, and the first step whose times can't be told. Guesses are written down.
pub(super) fn groups(
    run: &Run,
    pieces: &[PiecePlan],
    steps: &[Timed],
    coatings: &[CoatingPlan],
    notes: &mut Notes,
) -> (Vec<Group>, Option<Untold>) {
    let mut found: BTreeMap<&[usize], Group> = BTreeMap::new();
    let mut order: Vec<&[usize]> = Vec::new();
    let mut untold = None;
    let per_mix = run
        .steps
        .iter()
        .map(|step| PerMix::of(run, step, coatings).map(Arc::new));
    let per_mix: Vec<_> = per_mix.collect();
    for (index, piece) in run.pieces.iter().enumerate() {
        let key = piece.steps.as_slice();
        if let Some(group) = found.get_mut(key) {
            group.pieces.push(index);
            continue;
        }
        let mut making = Making {
            run,
            steps,
            per_mix: &per_mix,
            notes: &mut *notes,
            untold: None,
            facing: Facing::default(),
        };
        let group = Group {
            pieces: vec![index],
            stints: making.stints(key, &pieces[index]),
        };
        untold = untold.or(making.untold);
        found.insert(key, group);
        order.push(key);
    }
    let groups = order.iter().filter_map(|key| found.remove(key)).collect();
    (groups, untold)
}

/// A group's stints in the making.
struct Making<'p> {
    run: &'p Run,
    steps: &'p [Timed],
    /// Of each of the run's steps.
    per_mix: &'p [Option<Arc<PerMix>>],
    notes: &'p mut Notes,
    /// The first step whose times can't be told.
    untold: Option<Untold>,
    facing: Facing,
}

impl Making<'_> {
    fn stints(&mut self, chain: &[usize], piece: &PiecePlan) -> Vec<Stint> {
        let run = self.run;
        let coated = |step: usize| run.steps[step].work.coating().is_some();
        let last_coated = chain.iter().rposition(|&step| coated(step));
        let mut stints: Vec<Stint> = Vec::new();
        for (place, &step) in chain.iter().enumerate() {
            let timed = self.steps.iter().find(|timed| timed.step == step);
            if let Some(timed) = timed.filter(|_| coated(step)) {
                self.coats(timed, After::of(run, chain, place), &mut stints);
                if Some(place) == last_coated {
                    stints.extend(looks(run, piece));
                }
            } else {
                let kept = reach::kept(run, chain, place, piece.scrap);
                let stint = bare(run, step, kept, self.notes);
                stints.push(Stint {
                    after_through: needs_through(run, chain, place),
                    ..stint
                });
            }
        }
        if last_coated.is_none() {
            // with nothing to dry the pieces are looked over at the end
            stints.extend(looks(run, piece));
        }
        stints
    }

    /// The coats of a step, one sitting each. Where more coats follow, what comes next waits until
    /// the last of these takes one, be it another coat or work between the two.
    fn coats(&mut self, timed: &Timed, after: After, stints: &mut Vec<Stint>) {
        let (run, index) = (self.run, timed.step);
        let step = &run.steps[index];
        let (dries, through) = match &timed.waits {
            Waits::Told(told) => (true, told.through.is_some()),
            // a fill that adds nothing has nothing to dry
            Waits::None if timed.plan.drying == Drying::NotNeeded => (false, false),
            Waits::None | Waits::Untold => {
                self.untold.get_or_insert(Untold(index));
                (false, false)
            }
        };
        let on_face = timed.plan.coats;
        let of = on_face * timed.plan.faces.count();
        let coating = step.work.coating().map(|of| &run.coatings[of].coating);
        let (set_up, clean_up) = one_offs(step, coating, self.notes);
        // where its label leaves no time for the next coat it gets hard first, to be sanded
        let gets_hard = no_window(run, timed).is_some();
        for coat in 1..=of {
            let next = if !dries {
                Until::Now
            } else if coat == of {
                match after {
                    After::NoCoat => Until::Handle(index),
                    After::PickedUp => Until::Both(index),
                    After::AsItLies if gets_hard => Until::Both(index),
                    After::AsItLies => Until::Recoat(index),
                }
            } else if coat % on_face == 0 {
                Until::Handle(index)
            } else if gets_hard {
                Until::Both(index)
            } else {
                Until::Recoat(index)
            };
            stints.push(Stint {
                task: Task::Step {
                    step: index,
                    coat,
                    of,
                },
                each: hands_on(run, step, self.notes),
                set_up,
                clean_up,
                per_mix: self.per_mix[index].clone(),
                kept: 1.0,
                next,
                lifted: if dries {
                    Until::Handle(index)
                } else {
                    Until::Now
                },
                through: if through {
                    Until::Through(index)
                } else {
                    Until::Now
                },
                after_through: false,
                look: look(timed),
                coat: Some(self.facing.on_face(run, timed, coat)),
            });
        }
    }
}

/// How the next coat follows the step at a place of a chain.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum After {
    /// None does.
    NoCoat,
    /// The piece is picked up first, for work between the two or to be turned over.
    PickedUp,
    /// Straight away, on the face that lies up: as one coat of a step follows another.
    AsItLies,
}

impl After {
    /// A step for both faces ends on the second, and the next such step begins with the first; a step
    /// for one face is taken to coat the one that lies up, for no file says which.
    pub(super) fn of(run: &Run, chain: &[usize], place: usize) -> Self {
        let coated = |&step: &usize| run.steps[step].work.coating().is_some();
        let both = |&step: &usize| run.steps[step].work.faces() == Some(Faces::Both);
        match chain[place + 1..].iter().position(coated) {
            None => Self::NoCoat,
            Some(0) if !(both(&chain[place + 1]) && chain[..=place].iter().any(both)) => {
                Self::AsItLies
            }
            Some(_) => Self::PickedUp,
        }
    }
}

/// Whether the step at a place of a chain waits until all coats before it are dry through: what
/// comes after the last coat does, unless the file has it otherwise.
pub(super) fn needs_through(run: &Run, chain: &[usize], place: usize) -> bool {
    let coated = |&step: &usize| run.steps[step].work.coating().is_some();
    let more_coats = chain[place..].iter().any(coated);
    match run.steps[chain[place]].needs {
        Some(Needs::Through) => true,
        Some(Needs::Handle) => false,
        None => !more_coats,
    }
}

/// Looking a piece over, twice; nothing where the run does not say so.
fn looks(run: &Run, piece: &PiecePlan) -> Vec<Stint> {
    let Some(inspection) = run.inspection else {
        return Vec::new();
    };
    let found_late = (1.0 - piece.scrap.fraction()) / (1.0 - inspection.late.fraction());
    let look = |(time, kept, next)| Stint {
        task: Task::Look { time },
        each: inspection.hands_on,
        set_up: Time::ZERO,
        clean_up: Time::ZERO,
        per_mix: None,
        kept,
        next,
        lifted: Until::Now,
        through: Until::Now,
        after_through: false,
        look: None,
        coat: None,
    };
    [(1, 1.0, Until::SecondLook), (2, found_late, Until::Now)]
        .map(look)
        .to_vec()
}

/// A step without a coating.
fn bare(run: &Run, index: usize, kept: f64, notes: &mut Notes) -> Stint {
    let step = &run.steps[index];
    Stint {
        task: Task::Step {
            step: index,
            coat: 1,
            of: 1,
        },
        each: hands_on(run, step, notes),
        set_up: step.set_up.unwrap_or(Time::ZERO),
        clean_up: step.clean_up.unwrap_or(Time::ZERO),
        per_mix: None,
        kept,
        next: Until::Now,
        lifted: Until::Now,
        through: Until::Now,
        after_through: false,
        look: None,
        coat: None,
    }
}

/// When to look for bubbles in a poured coat.
fn look(timed: &Timed) -> Option<Time> {
    Some(timed.plan.drying.timed()?.bubbles?.look)
}

/// Minutes before and after a sitting; guessed where the file does not say.
fn one_offs(step: &Step, coating: Option<&Coating>, notes: &mut Notes) -> (Time, Time) {
    let guess = |told: Option<Time>, key: &str, usual: Time, notes: &mut Notes| {
        told.unwrap_or_else(|| {
            notes.assume_once(
                format!("{}: {key}", step.name),
                usual.show(Units::Metric),
                "typical, from memory: time your own",
            );
            usual
        })
    };
    let mixed = coating.filter(|coating| coating.two_parts().is_some());
    let stirring = mixed.and_then(Coating::stirring).unwrap_or(Time::ZERO);
    let usual = Time::from_min(if mixed.is_some() { 8.0 } else { 5.0 });
    let usual = if stirring > usual { stirring } else { usual };
    let set_up = match step.set_up {
        Some(told) if told < stirring => {
            notes.assume_once(
                format!("{}: set_up", step.name),
                stirring.show(Units::Metric),
                "each mix is stirred for so long, which is part of it",
            );
            stirring
        }
        told => guess(told, "set_up", usual, notes),
    };
    let after = Time::from_min(5.0);
    (set_up, guess(step.clean_up, "clean_up", after, notes))
}

/// Hands-on time for one piece; guessed where the file does not say.
fn hands_on(run: &Run, step: &Step, notes: &mut Notes) -> Time {
    let hands_on = HandsOn::of(run, step);
    hands_on.note(&step.name, notes);
    hands_on.figure
}

impl Stint {
    /// How long the sitting takes with so many pieces of each kind started, the hands being so many
    /// times as slow as the figure.
    pub(super) fn lasts(&self, started: &[(usize, u64)], slower: f64) -> Time {
        let here = self.reach(started.iter().map(|(_, count)| count).sum());
        let mixes = self.mixes(started).unwrap_or(1);
        self.each * (number(here) * slower) + self.set_up * number(mixes) + self.clean_up
    }

    /// How many mixes the sitting takes. `None`: nothing is mixed, or nobody can tell.
    pub(super) fn mixes(&self, started: &[(usize, u64)]) -> Option<u64> {
        let per_mix = self.per_mix.as_ref()?;
        let come = (started.iter()).map(|&(piece, count)| (piece, self.reach(count)));
        Some(per_mix.mixes(&come.collect::<Vec<_>>()))
    }

    /// How many of the pieces started come this far, on average.
    pub(super) fn reach(&self, started: u64) -> u64 {
        reach::come(started, self.kept)
    }
}

#[expect(
    clippy::cast_precision_loss,
    reason = "counts are at most a thousand million"
)]
const fn number(count: u64) -> f64 {
    count as f64
}
