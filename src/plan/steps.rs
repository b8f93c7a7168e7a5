//! The steps, and how long each coat takes in the room.

use std::collections::BTreeSet;

use super::abreast::on_all_cores;
use super::drying::{Coat, Drying};
use super::left::{Further, LeftAlone};
use super::space::SpacePlan;
use super::waits::Waits;
use super::{Notes, PiecePlan, Warning};
use crate::consumption::Faces;
use crate::cure::transfer::Footprint;
use crate::drying::footprint;
use crate::drying::{Drier, TimeBand};
use crate::quantity::{Length, Share, Time};
use crate::run::{Run, Work};

/// What a step does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StepKind {
    /// Floods a dome.
    Dome,
    /// Brushes a thin film.
    Brush,
    /// Draws with ink.
    Draw,
    /// Uses no coating.
    Bare,
}

/// One step of the run.
#[derive(Debug, Clone, PartialEq)]
pub struct StepPlan {
    /// What the maker calls it.
    pub name: String,
    /// What it does.
    pub kind: StepKind,
    /// The coating's name, if it uses one.
    pub coating: Option<String>,
    /// The pieces that go through it.
    pub pieces: Vec<String>,
    /// Coats that it lays on a face.
    pub coats: u32,
    /// Which faces it coats, one after the other.
    pub faces: Faces,
    /// Wet depth of one coat: a brushed film's, or a dome's at its peak. `None`: none is known.
    pub depth: Option<Length>,
    /// The blank on which it dries slowest, which rules the times. `None` where nothing dries.
    pub slowest_on: Option<String>,
    /// How long it takes here.
    pub drying: Drying,
    /// How long each of its coats is left alone. `None`: nothing dries, it is never dry to handle, or
    /// that can't be told.
    pub left_alone: Option<LeftAlone>,
    /// From the first coat until the last may be handled, over all its coats and faces.
    /// `None`: not told, or never.
    pub until_handled: Option<TimeBand>,
    /// Hands-on time for one piece. `None`: not said.
    pub hands_on: Option<Time>,
    /// Share of pieces lost in it.
    pub spoilage: Share,
}

/// A thin line of ink, whose depth its law does not ask for.
const INK_LINE: Length = Length::from_mm(0.05);

/// A coat that some piece gets in a step.
#[derive(Clone, Copy)]
struct Laid {
    blank: usize,
    coat: Coat,
}

/// One step, and what the calendar must know of it.
#[derive(Clone)]
pub(super) struct Timed {
    /// Which of the run's steps.
    pub step: usize,
    /// What is told of it.
    pub plan: StepPlan,
    /// How long its coats take.
    pub waits: Waits,
}

/// Plans every step that some piece goes through; what would help is worked out only
/// where they are looked at closely.
pub(super) fn plan(
    run: &Run,
    pieces: &[PiecePlan],
    space: &SpacePlan,
    closely: bool,
    notes: &mut Notes,
) -> Vec<Timed> {
    let gone: Vec<(usize, Gone)> = gone_through(run, pieces, space)
        .into_iter()
        .enumerate()
        .filter(|(_, gone)| !gone.pieces.is_empty())
        .collect();
    let parts = on_all_cores(
        &gone,
        |found: &mut Vec<(usize, Dried)>, number, (step, gone)| {
            found.push((number, Dried::of(run, *step, gone, closely)));
        },
    );
    let mut dried: Vec<(usize, Dried)> = parts.into_iter().flatten().collect();
    dried.sort_by_key(|(number, _)| *number);
    gone.into_iter()
        .zip(dried)
        .map(|((step, gone), (_, dried))| one(run, step, (gone, dried), notes))
        .collect()
}

/// How a step's slowest coat dries.
struct Dried {
    drying: Drying,
    slowest: Option<Laid>,
    waits: Waits,
}

impl Dried {
    fn of(run: &Run, step: usize, gone: &Gone, closely: bool) -> Self {
        let coating = run.steps[step].work.coating();
        let coating = coating.map(|coating| &run.coatings[coating].coating);
        let (drying, slowest) = match coating {
            None => (Drying::NotNeeded, None),
            Some(coating) => dry(run, coating, &gone.laid, closely),
        };
        let slowest = slowest.copied();
        let waits = Waits::of(
            run,
            coating,
            slowest.as_ref().map(|laid| &laid.coat),
            &drying,
        );
        Self {
            drying,
            slowest,
            waits,
        }
    }
}

/// What goes through one step: which pieces, and the distinct coats they get.
#[derive(Default)]
struct Gone {
    pieces: Vec<String>,
    laid: Vec<Laid>,
    seen: BTreeSet<[u64; 5]>,
}

impl Gone {
    fn lay(&mut self, blank: usize, coat: Coat) {
        if coat.depth.m() > 0.0 && self.seen.insert(bits(&coat)) {
            self.laid.push(Laid { blank, coat });
        }
    }
}

fn gone_through(run: &Run, pieces: &[PiecePlan], space: &SpacePlan) -> Vec<Gone> {
    let mut gone: Vec<Gone> = run.steps.iter().map(|_| Gone::default()).collect();
    for (piece, made) in run.pieces.iter().zip(pieces) {
        let on = footprint(run.blanks[piece.blank].top.outline());
        let among = space.among(piece.blank);
        let once: BTreeSet<usize> = piece.steps.iter().copied().collect();
        for &step in &once {
            gone[step].pieces.push(piece.name.clone());
            let depth = match run.steps[step].work {
                Work::Brush(brush) => brush.wet_film,
                Work::Draw { .. } => INK_LINE,
                Work::Dome(_) | Work::Bare => continue,
            };
            gone[step].lay(piece.blank, Coat { depth, on, among });
        }
        for fill in &made.fills {
            let depth = fill.wet_depth;
            gone[fill.step].lay(piece.blank, Coat { depth, on, among });
        }
    }
    gone
}

fn one(run: &Run, index: usize, (gone, dried): (Gone, Dried), notes: &mut Notes) -> Timed {
    let Dried {
        drying,
        slowest,
        waits,
    } = dried;
    let step = &run.steps[index];
    let (kind, coats) = match step.work {
        Work::Dome(_) => (StepKind::Dome, 1),
        Work::Brush(brush) => (StepKind::Brush, brush.coats),
        Work::Draw { .. } => (StepKind::Draw, 1),
        Work::Bare => (StepKind::Bare, 1),
    };
    let faces = step.work.faces().unwrap_or_default();
    let coating = step.work.coating().map(|index| &run.coatings[index]);
    let on = slowest.map(|laid| run.blanks[laid.blank].name.clone());
    warn(&step.name, on.as_deref(), &drying, notes);
    if (drying.timed()).is_some_and(|timed| timed.before_the_lamp() > Time::ZERO) {
        notes.assume_once(
            format!("{}: under the lamp", step.name),
            "all pieces of a sitting in one load, once the last is looked over".to_owned(),
            "the file tells no size of the lamp; with more loads it takes the time under it for each",
        );
    }
    let left_alone = LeftAlone::of(run, index, &drying, coats);
    let plan = StepPlan {
        name: step.name.clone(),
        kind,
        coating: coating.map(|coating| coating.name.clone()),
        pieces: gone.pieces,
        coats,
        faces,
        depth: slowest
            .filter(|_| kind != StepKind::Draw)
            .map(|laid| laid.coat.depth),
        slowest_on: on,
        left_alone,
        until_handled: left_alone.and_then(|left| until_handled(&left, coats, faces)),
        drying,
        hands_on: step.hands_on,
        spoilage: step.spoilage,
    };
    Timed {
        step: index,
        plan,
        waits,
    }
}

/// The drying of the slowest of the coats laid.
fn dry<'l>(
    run: &Run,
    coating: &crate::coating::Coating,
    laid: &'l [Laid],
    closely: bool,
) -> (Drying, Option<&'l Laid>) {
    let drier = match Drier::new(coating, &run.room.over_time) {
        Ok(drier) => drier,
        Err(why) => return (Drying::Unknown(why), None),
    };
    let slowness = |laid: &Laid| {
        // An equally slow coat that is deeper is the one to watch.
        (laid.coat.slowness(&drier), laid.coat.depth.m())
    };
    let slowest = match laid {
        // Alone it needs no comparing.
        [only] => Some(only),
        many => many
            .iter()
            .map(|laid| (slowness(laid), laid))
            .max_by(|((a, a_depth), _), ((b, b_depth), _)| {
                a.total_cmp(b).then(a_depth.total_cmp(b_depth))
            })
            .map(|(_, laid)| laid),
    };
    let Some(slowest) = slowest else {
        return (Drying::NotNeeded, None);
    };
    let mut drying = slowest.coat.outlook(&drier, closely);
    if let Drying::Timed(timed) = &mut drying {
        // a room too warm for its law has said so where the mixes are planned
        let warmest = run.room.warmest_at_work(&run.hours);
        timed.pot_life = drier.pot_life_at(warmest).ok().flatten();
    }
    (drying, Some(slowest))
}

/// From the first coat to handling the last: each coat but a face's last waits until it takes the
/// next, and a face must be dry to handle before the piece is turned.
fn until_handled(left: &LeftAlone, coats: u32, faces: Faces) -> Option<TimeBand> {
    let last = left.hands_off;
    let between = f64::from(coats.saturating_sub(1));
    // a wait may have no upper end, so that none is not the same as no times that
    let wait = match left.next_coat {
        _ if coats <= 1 => TimeBand::NONE,
        Further::No => last,
        Further::After(band) => band,
        Further::Never => return None,
    };
    let turns = f64::from(faces.count());
    Some(TimeBand {
        low: (wait.low * between + last.low) * turns,
        likely: (wait.likely * between + last.likely) * turns,
        high: (wait.high * between + last.high) * turns,
    })
}

fn warn(step: &str, on: Option<&str>, drying: &Drying, notes: &mut Notes) {
    match drying {
        Drying::NotNeeded => {}
        Drying::Unknown(why) => notes.warnings.push(Warning::NoTime {
            step: step.to_owned(),
            why: why.clone(),
        }),
        Drying::Timed(timed) => {
            for warning in &timed.warnings {
                notes.warnings.push(Warning::Drying {
                    step: step.to_owned(),
                    on: on.unwrap_or_default().to_owned(),
                    warning: warning.clone(),
                });
            }
        }
    }
}

/// The coat's numbers, to tell it from others.
fn bits(coat: &Coat) -> [u64; 5] {
    let [a, b, c] = match coat.on {
        Footprint::Disc { diameter } => [diameter.m(), f64::NAN, 0.0],
        Footprint::Rectangle { length, width } => [length.m(), width.m(), 0.0],
    };
    let crowd = coat.among.tray.map_or(0.0, |tray| f64::from(tray.pieces));
    [a, b, c, coat.depth.m(), crowd].map(f64::to_bits)
}
