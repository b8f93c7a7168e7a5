//! What is made: how many to start, and how full each piece is.

use super::fills::{Flood, Flooded, Under};
use super::fit::{Fit, Fuller};
use super::made::{Domes, Lie};
use super::visits::Visit;
use super::{Notes, PlanError, Warning};
use crate::coating::edge_may_draw_back;
use crate::consumption::{
    BlankNeed, Blanks, CoatsNeeded, Faces, combined_loss, peak_for_dry_height, side_area,
};
use crate::geometry::{Blank, Dome, DomeError, FillWindow};
use crate::quantity::{Area, Length, Mass, Share, Show, Volume};
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
    /// That blank's top.
    pub on: Blank,
    /// Whether it holds a magnet.
    pub magnet: bool,
    /// Area of the blank's flat top.
    pub top: Area,
    /// Area of its sides. `None`: its thickness is not said.
    pub sides: Option<Area>,
    /// Share of those started that does not end as good: scrap and seconds.
    pub lost: Share,
    /// Share of those started that ends as scrap: lost in a step, or found bad when looked over.
    pub scrap: Share,
    /// How many to start, to be as sure as wanted of ending with enough.
    pub start: u64,
    /// The chance that enough of those come out good.
    pub start_chance: Share,
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
    /// Which faces it goes on; all the amounts are for one.
    pub faces: Faces,
    /// The wet surface, with what dry coats lie under it; a level film where it
    /// lies below a wall's rim.
    pub dome: Dome,
    /// The limits and the target.
    pub window: FillWindow,
    /// What fills a walled blank level with its rim. `None`: it has no wall.
    pub rim: Option<Volume>,
    /// How what was asked fits.
    pub fit: Fit,
    /// What dry coats lie under this one; nothing under the first.
    pub under: Volume,
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
    /// How it lies. `None`: no dome stands, or that was not worked out; it is for
    /// the first hundred kinds of fill.
    pub lie: Option<Lie>,
    /// What ten pieces gain on the scale in this coat, soaked or not.
    pub ten_gain: Mass,
    /// Flood coats that an asked dry height takes; `None` where none was asked for.
    pub coats_needed: Option<CoatsNeeded>,
    /// How full it is where the file lists too few coats to keep to the target for that.
    pub fuller: Option<Fuller>,
}

impl FillPlan {
    /// What this coat adds up to a volume of the whole dome. `None`: the dry coats under it
    /// reach as far.
    #[must_use]
    pub fn pour_up_to(&self, whole: Volume) -> Option<Volume> {
        let more = whole - self.under;
        (more.m3() > 0.0).then_some(more)
    }
}

/// The same without how the fills lie, which takes longer than all else.
pub(super) fn plan_without_lies(
    run: &Run,
    visits: &[Vec<Visit>],
    notes: &mut Notes,
) -> Result<Vec<PiecePlan>, PlanError> {
    each(run, visits, Domes::without_lies(), notes)
}

/// All pieces in order, with the domes that are known.
pub(super) fn each(
    run: &Run,
    visits: &[Vec<Visit>],
    mut domes: Domes,
    notes: &mut Notes,
) -> Result<Vec<PiecePlan>, PlanError> {
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
    let looked_over = run
        .inspection
        .map_or([Share::ZERO; 2], |looks| [looks.late, looks.seconds]);
    let scrap = combined_loss(&[&spoilage[..], &looked_over[..1]].concat()).map_err(in_use)?;
    let lost = combined_loss(&[scrap, looked_over[1]]).map_err(in_use)?;
    let count = to_start(run, piece, u64::from(piece.count), lost)?;
    Ok(PiecePlan {
        name: piece.name.clone(),
        count: piece.count,
        blank: piece.blank,
        blank_name: blank.name.clone(),
        magnet: piece.magnet,
        on: blank.top.clone(),
        top: blank.top.outline().area(),
        sides: blank
            .thickness
            .map(|thickness| side_area(blank.top.outline().perimeter(), thickness)),
        lost,
        scrap,
        start: count.start,
        start_chance: count.start_chance,
        start_expected: count.expected.start,
        fills: fills(run, piece, visits, domes, notes)?,
    })
}

/// A kind of piece planned for another number of it: all else stays.
pub(super) fn recount(run: &Run, piece: &Piece, known: &PiecePlan) -> Result<PiecePlan, PlanError> {
    let count = to_start(run, piece, u64::from(piece.count), known.lost)?;
    Ok(PiecePlan {
        count: piece.count,
        start: count.start,
        start_chance: count.start_chance,
        start_expected: count.expected.start,
        ..known.clone()
    })
}

/// How many to start so that as many as are wanted come good.
pub(super) fn to_start(
    run: &Run,
    piece: &Piece,
    wanted: u64,
    lost: Share,
) -> Result<Blanks, PlanError> {
    BlankNeed {
        wanted,
        lost,
        bad: Share::ZERO,
        have: 0,
        pack: 1,
        sure: run.header.sure,
    }
    .count()
    .map_err(|why| PlanError::Use {
        what: piece.name.clone(),
        why,
    })
}

/// The flood coats of a piece, each over the dry ones before it.
pub(super) fn fills(
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
            on: &run.blanks[piece.blank].top,
            dome,
            solids,
            under,
            dry_height_peak: dry_height_peak(dome.fill, visit, visits, &mut peaks, under, solids),
        };
        let flooded = flood
            .work_out(domes)
            .map_err(|why| refused(run, piece, visit, why))?;
        notes
            .warnings
            .extend(warning(run, piece, visit, dome.fill, &flooded));
        let fuller = fuller(&flooded, coats_listed(visit, visits));
        let told = fills.iter().any(|fill: &FillPlan| fill.step == visit.step);
        notes
            .warnings
            .extend(fuller.filter(|_| !told).map(|fuller| Warning::PastTarget {
                piece: piece.name.clone(),
                step: run.steps[visit.step].name.clone(),
                fuller,
            }));
        under = flooded.after;
        let lie = match flooded.fit {
            Fit::Inside | Fit::OverBrim(_) => {
                domes.lie(flood.on, &dome.liquid, flooded.dome.volume)
            }
            Fit::UnderPullBack | Fit::BelowRim(_) | Fit::AlreadyFull => None,
        };
        let thin = lie
            .map(|lie| lie.thin)
            .filter(|&share| edge_may_draw_back(share));
        notes.warnings.extend(thin.map(|share| Warning::ThinEdge {
            piece: piece.name.clone(),
            step: run.steps[visit.step].name.clone(),
            share,
        }));
        fills.push(FillPlan {
            lie,
            fuller,
            ..fill_plan(run, visit, &flood, &flooded)
        });
    }
    if !fills.is_empty() {
        note_inner_corners(run, piece, notes);
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
    let peak = peak_for_dry_height(dry, under.peak, solids, coats_listed(visit, visits));
    peaks.push((visit.step, peak));
    Some(peak)
}

/// That sharp inner corners were taken as rounded, once for each blank.
fn note_inner_corners(run: &Run, piece: &Piece, notes: &mut Notes) {
    let blank = &run.blanks[piece.blank];
    let Some(eased) = blank.top.eased() else {
        return;
    };
    let key = format!("{}: inner corners", blank.name);
    if notes.assumed.iter().all(|assumed| assumed.key != key) {
        notes.assume(
            key,
            format!("rounded to {}", eased.radius.show(run.header.units)),
            "a sharp one would run over at any fill",
        );
    }
}

/// What fills a walled blank level with its rim.
fn rim(on: &Blank) -> Option<Volume> {
    (on.wall() > Length::ZERO).then(|| on.outline().area() * on.wall())
}

fn fill_plan(run: &Run, visit: &Visit, flood: &Flood, flooded: &Flooded) -> FillPlan {
    let (dome, solids) = (flood.dome, flood.solids);
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
        faces: dome.faces,
        dome: flooded.dome,
        window: flooded.window,
        rim: rim(flood.on),
        fit: flooded.fit,
        under: flood.under.volume,
        poured: flooded.poured,
        poured_mass: flooded.poured * density,
        soaks_in,
        wet_depth: flooded.depth,
        mean_height: flooded.dome.mean_height(),
        dry_peak: flooded.after.peak,
        dry_mean: flooded.after.volume / flooded.dome.outline_area,
        solids,
        lie: None,
        ten_gain: (flooded.poured + soaks_in) * density * 10.0,
        coats_needed: flooded.coats_needed,
        fuller: None,
    }
}

/// How often the file lists the visit's step for the piece.
fn coats_listed(visit: &Visit, visits: &[Visit]) -> u32 {
    let coats = visits.iter().filter(|v| v.step == visit.step).count();
    u32::try_from(coats).unwrap_or(u32::MAX)
}

/// How full a fill is that more coats would keep to the target; `None` for any other.
fn fuller(flooded: &Flooded, listed: u32) -> Option<Fuller> {
    let (window, stands) = (&flooded.window, flooded.dome.edge_angle);
    match (flooded.fit, flooded.coats_needed) {
        (Fit::Inside, Some(CoatsNeeded::Coats(coats)))
            if coats > listed && stands > window.target.edge_angle =>
        {
            Some(Fuller {
                listed,
                coats,
                stands,
                target: window.target.edge_angle,
                brim: window.brim.edge_angle,
            })
        }
        _ => None,
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
    let on = &run.blanks[piece.blank].top;
    let (piece, step) = (piece.name.clone(), run.steps[visit.step].name.clone());
    match flooded.fit {
        Fit::Inside => None,
        Fit::UnderPullBack => Some(Warning::UnderPullBack {
            piece,
            step,
            asked: flooded.dome.volume,
            least: flooded.window.pull_back.volume,
        }),
        Fit::BelowRim(below) => Some(Warning::BelowRim {
            piece,
            step,
            asked: flooded.dome.volume,
            rim: below,
            level: rim(on)?,
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

fn refused(run: &Run, piece: &Piece, visit: &Visit, why: DomeError) -> PlanError {
    PlanError::Dome {
        step: run.steps[visit.step].name.clone(),
        blank: run.blanks[piece.blank].name.clone(),
        why,
    }
}
