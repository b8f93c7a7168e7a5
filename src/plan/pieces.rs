//! What is made: how many to start, and how full each piece is.

use super::fills::{Flood, Flooded, Under, peak_for_dry_height};
use super::fit::{CoatsNeeded, Fit};
use super::made::{Domes, NoDome};
use super::visits::Visit;
use super::{Notes, PlanError, Warning};
use crate::consumption::{BlankNeed, combined_loss};
use crate::geometry::{Dome, FillWindow};
use crate::quantity::{Area, Length, Mass, Share, Volume};
use crate::run::{Fill, Piece, Run, Work};

/// One kind of piece.
#[derive(Debug, Clone, PartialEq)]
pub struct PiecePlan {
    /// What the maker calls it.
    pub name: String,
    /// How many saleable ones are wanted.
    pub count: u32,
    /// Which of the run's blanks it is made on.
    pub blank: usize,
    /// That blank's name.
    pub blank_name: String,
    /// Area of the blank's flat top.
    pub top: Area,
    /// Share lost in all its steps together.
    pub lost: Share,
    /// How many to start, to be as sure as wanted of ending with enough.
    pub start: u64,
    /// How many to start by the averages alone.
    pub start_expected: u64,
    /// Its flood coats, in order; none where it has no dome.
    pub fills: Vec<FillPlan>,
}

/// One flood coat on one kind of piece.
#[derive(Debug, Clone, PartialEq)]
pub struct FillPlan {
    /// Which of the run's steps.
    pub step: usize,
    /// That step's name.
    pub step_name: String,
    /// Which of the run's coatings.
    pub coating: usize,
    /// That coating's name.
    pub coating_name: String,
    /// The wet surface, with what dry coats lie under it.
    pub dome: Dome,
    /// The limits and the target.
    pub window: FillWindow,
    /// How what was asked fits.
    pub fit: Fit,
    /// What is poured in this coat: the dome less the dry coats under it.
    pub poured: Volume,
    /// Its mass.
    pub poured_mass: Mass,
    /// What a porous blank that nothing has sealed is taken to drink beside that.
    pub soaks_in: Volume,
    /// Wet depth of this coat at its deepest place.
    pub wet_depth: Length,
    /// Wet mean height: the dome's volume over the top's area.
    pub mean_height: Length,
    /// Height in the middle once dry.
    pub dry_peak: Length,
    /// Mean height once dry.
    pub dry_mean: Length,
    /// Solids by volume that the dry heights rest on.
    pub solids: Share,
    /// What ten pieces gain on the scale in this coat, soaked or not.
    pub ten_gain: Mass,
    /// Flood coats that an asked dry height takes; `None` where none was asked for.
    pub coats_needed: Option<CoatsNeeded>,
}

/// Plans every piece.
pub(super) fn plan(
    run: &Run,
    visits: &[Vec<Visit>],
    notes: &mut Notes,
) -> Result<Vec<PiecePlan>, PlanError> {
    let mut domes = Domes::default();
    run.pieces
        .iter()
        .zip(visits)
        .map(|(piece, visits)| one(run, piece, visits, &mut domes, notes))
        .collect()
}

fn one(
    run: &Run,
    piece: &Piece,
    visits: &[Visit],
    domes: &mut Domes,
    notes: &mut Notes,
) -> Result<PiecePlan, PlanError> {
    let blank = &run.blanks[piece.blank];
    let in_use = |why| PlanError::Use {
        what: piece.name.clone(),
        why,
    };
    let spoilage: Vec<Share> = visits
        .iter()
        .map(|visit| run.steps[visit.step].spoilage)
        .collect();
    let lost = combined_loss(&spoilage).map_err(in_use)?;
    let count = BlankNeed {
        wanted: u64::from(piece.count),
        lost,
        bad: Share::ZERO,
        have: 0,
        pack: 1,
        sure: run.header.sure,
    }
    .count()
    .map_err(in_use)?;
    let outline = super::made::outline(blank.outline).map_err(|why| PlanError::Outline {
        blank: blank.name.clone(),
        why,
    })?;
    Ok(PiecePlan {
        name: piece.name.clone(),
        count: piece.count,
        blank: piece.blank,
        blank_name: blank.name.clone(),
        top: outline.area(),
        lost,
        start: count.start,
        start_expected: count.expected.start,
        fills: fills(run, piece, visits, domes, notes)?,
    })
}

/// The flood coats of a piece, each over the dry ones before it.
fn fills(
    run: &Run,
    piece: &Piece,
    visits: &[Visit],
    domes: &mut Domes,
    notes: &mut Notes,
) -> Result<Vec<FillPlan>, PlanError> {
    let mut under = Under::default();
    let mut peaks: Vec<(usize, Length)> = Vec::new();
    let mut fills = Vec::new();
    for visit in visits {
        let Work::Dome(dome) = &run.steps[visit.step].work else {
            continue;
        };
        let solids = solids(run, dome.coating, notes);
        let flood = Flood {
            on: run.blanks[piece.blank].outline,
            dome,
            solids: solids.fraction(),
            under,
            dry_height_peak: dry_height_peak(dome.fill, visit, visits, &mut peaks, under, solids),
        };
        let flooded = flood
            .work_out(domes)
            .map_err(|why| refused(run, piece, visit, &why))?;
        notes
            .warnings
            .extend(warning(run, piece, visit, dome.fill, &flooded));
        under = flooded.after;
        fills.push(fill_plan(run, visit, dome, solids, &flooded));
    }
    Ok(fills)
}

/// The wet peak for an asked dry height: worked out at the step's first visit, kept for the rest.
fn dry_height_peak(
    fill: Fill,
    visit: &Visit,
    visits: &[Visit],
    peaks: &mut Vec<(usize, Length)>,
    under: Under,
    solids: Share,
) -> Option<Length> {
    let Fill::DryHeight(dry) = fill else {
        return None;
    };
    if let Some((_, peak)) = peaks.iter().find(|(step, _)| *step == visit.step) {
        return Some(*peak);
    }
    let coats = visits.iter().filter(|v| v.step == visit.step).count();
    let coats = i32::try_from(coats).unwrap_or(i32::MAX);
    let peak = peak_for_dry_height(dry, under.peak, solids.fraction(), coats);
    peaks.push((visit.step, peak));
    Some(peak)
}

fn fill_plan(
    run: &Run,
    visit: &Visit,
    dome: &crate::run::Dome,
    solids: Share,
    flooded: &Flooded,
) -> FillPlan {
    let coating = &run.coatings[dome.coating];
    let soak = coating
        .coating
        .share(crate::coating::Key::Soak)
        .unwrap_or(Share::ZERO);
    let soaks_in = if visit.thirsty {
        flooded.poured * soak.fraction()
    } else {
        Volume::ZERO
    };
    let density = dome.liquid.density;
    FillPlan {
        step: visit.step,
        step_name: run.steps[visit.step].name.clone(),
        coating: dome.coating,
        coating_name: coating.name.clone(),
        dome: flooded.dome,
        window: flooded.window,
        fit: flooded.fit,
        poured: flooded.poured,
        poured_mass: flooded.poured * density,
        soaks_in,
        wet_depth: flooded.depth,
        mean_height: flooded.dome.mean_height(),
        dry_peak: flooded.after.peak,
        dry_mean: flooded.after.volume / flooded.dome.outline_area,
        solids,
        ten_gain: (flooded.poured + soaks_in) * density * 10.0,
        coats_needed: flooded.coats_needed,
    }
}

/// Solids by volume; all of it where the coating has no figure, and that is said.
fn solids(run: &Run, coating: usize, notes: &mut Notes) -> Share {
    let coating = &run.coatings[coating];
    coating.coating.solids().unwrap_or_else(|| {
        let key = format!("{}: solids", coating.name);
        if notes.assumed.iter().all(|assumed| assumed.key != key) {
            notes.assume(
                key,
                "100 %",
                "its family has no figure, so no shrinkage is counted",
            );
        }
        Share::from_fraction(1.0)
    })
}

fn warning(
    run: &Run,
    piece: &Piece,
    visit: &Visit,
    fill: Fill,
    flooded: &Flooded,
) -> Option<Warning> {
    let (piece, step) = (piece.name.clone(), run.steps[visit.step].name.clone());
    match flooded.fit {
        Fit::Inside => None,
        Fit::UnderPullBack => Some(Warning::UnderPullBack {
            piece,
            step,
            asked: flooded.dome.volume,
            least: flooded.window.pull_back.volume,
        }),
        Fit::AlreadyFull => Some(Warning::AlreadyFull { piece, step }),
        Fit::OverBrim(asked) => Some(Warning::OverBrim {
            piece,
            step,
            fill,
            asked,
            most: flooded.window.brim.volume,
            room: flooded.room,
            most_peak: flooded.window.brim.peak,
            target: flooded.window.target.volume,
            coats: flooded.coats_needed,
        }),
    }
}

fn refused(run: &Run, piece: &Piece, visit: &Visit, why: &NoDome) -> PlanError {
    let blank = run.blanks[piece.blank].name.clone();
    match why {
        NoDome::Outline(why) => PlanError::Outline {
            blank,
            why: why.clone(),
        },
        NoDome::Dome(why) => PlanError::Dome {
            step: run.steps[visit.step].name.clone(),
            blank,
            why: *why,
        },
    }
}
