//! What every piece's steps ask of the coatings: pours, sittings, mixes.

use std::collections::BTreeMap;

use super::calendar::Dates;
use super::hands::HandsOn;
use super::lasts::Lasts;
use super::mixing::Sitting;
use super::per_mix::PerMix;
use super::visits::Visit;
use super::{CoatingPlan, PiecePlan, PlanError};
use crate::coating::{Coating, Key};
use crate::consumption::{Brushed, Demand, Losses, Pour, Pours, UseError};
use crate::quantity::{Area, Length, Share, Volume};
use crate::run::{Brush, Run, RunCoating, Work};

/// What one coating is asked for, gathered over the pieces.
#[derive(Default)]
pub(super) struct Uses {
    pub pours: Vec<Pours>,
    /// Which kind of piece each of those is for.
    pub of: Vec<usize>,
    /// What each step lays on each kind of piece.
    pub laid: Vec<Sitting>,
    pub soaks_in: Volume,
    /// What stays on each kind of piece.
    pub by_piece: Vec<(usize, Volume)>,
    /// Sittings by step: coats, times the most visits that any piece makes.
    pub sittings: BTreeMap<usize, u32>,
}

/// How often each step's tool is filled and cleaned, or its cup mixed, by the number of the step.
/// A step that is not in it sits once for each coat.
pub(super) type Sat = BTreeMap<usize, u32>;

/// As the work is laid out; where it can't be, all pieces sit together, and each mix is counted
/// all the same.
pub(super) fn sat(
    run: &Run,
    visits: &[Vec<Visit>],
    (pieces, coatings): (&[PiecePlan], &[CoatingPlan]),
    dates: &Dates,
) -> Sat {
    let mut sat = dates.sat();
    if !sat.is_empty() {
        return sat;
    }
    for (index, step) in run.steps.iter().enumerate() {
        let Some(per_mix) = PerMix::of(run, step, coatings) else {
            continue;
        };
        let coats_of = |visits: &[Visit]| {
            let times = visits.iter().filter(|visit| visit.step == index).count();
            u32::try_from(times)
                .unwrap_or(u32::MAX)
                .saturating_mul(coats(&step.work))
        };
        let kinds: Vec<(u32, u64)> = (visits.iter().zip(pieces))
            .map(|(visits, piece)| (coats_of(visits), piece.start))
            .collect();
        let most = kinds.iter().map(|(coats, _)| *coats).max();
        let mixes: u64 = (1..=most.unwrap_or(0))
            .map(|coat| {
                let there = kinds.iter().enumerate();
                let there: Vec<(usize, u64)> = there
                    .filter(|(_, (coats, _))| *coats >= coat)
                    .map(|(kind, (_, started))| (kind, *started))
                    .collect();
                per_mix.mixes(&there)
            })
            .sum();
        if mixes > 0 {
            sat.insert(index, u32::try_from(mixes).unwrap_or(u32::MAX));
        }
    }
    sat
}

/// Coats of a step on one piece, over all its faces.
fn coats(work: &Work) -> u32 {
    match work {
        Work::Dome(dome) => dome.faces.count(),
        Work::Brush(brush) => brush.coats * brush.faces.count(),
        Work::Draw { .. } | Work::Bare => 0,
    }
}

/// What all kinds of piece ask of each of the run's coatings.
pub(super) fn gathered(
    run: &Run,
    visits: &[Vec<Visit>],
    pieces: &[PiecePlan],
    sat: &Sat,
) -> Result<Vec<Uses>, PlanError> {
    let mut uses: Vec<Uses> = run.coatings.iter().map(|_| Uses::default()).collect();
    for (index, (piece, visits)) in pieces.iter().zip(visits).enumerate() {
        gather(run, (index, piece), visits, &mut uses).map_err(|why| PlanError::Use {
            what: piece.name.clone(),
            why,
        })?;
    }
    for uses in &mut uses {
        for (step, sittings) in &mut uses.sittings {
            *sittings = sat.get(step).copied().unwrap_or(*sittings);
        }
    }
    Ok(uses)
}

/// All that is asked of one of the run's coatings.
pub(super) struct Asked {
    /// Which coating.
    pub coating: usize,
    pub demand: Demand,
    /// Which kind of piece each use is for.
    pub of: Vec<usize>,
}

/// What is asked of each coating that is used, in the run's order.
pub(super) fn asked(
    run: &Run,
    visits: &[Vec<Visit>],
    pieces: &[PiecePlan],
    sat: &Sat,
) -> Result<Vec<Asked>, PlanError> {
    let uses = gathered(run, visits, pieces, sat)?;
    Ok((run.coatings.iter().zip(uses).enumerate())
        .filter(|(_, (_, uses))| !uses.sittings.is_empty())
        .map(|(coating, (stuff, uses))| Asked {
            coating,
            demand: demand(&stuff.coating, uses.pours, sittings(&uses.sittings)),
            of: uses.of,
        })
        .collect())
}

pub(super) fn sittings(by_step: &BTreeMap<usize, u32>) -> u32 {
    by_step.values().copied().fold(0, u32::saturating_add)
}

/// Adds what a piece takes to the uses of its coatings.
fn gather(
    run: &Run,
    (index, piece): (usize, &PiecePlan),
    visits: &[Visit],
    uses: &mut [Uses],
) -> Result<(), UseError> {
    let mut fills = piece.fills.iter();
    for (place, visit) in visits.iter().enumerate() {
        let step = &run.steps[visit.step];
        let (coating, each, soak, (coats, faces)) = match &step.work {
            Work::Dome(dome) => {
                // Fills were planned from these same visits, one for each dome among them.
                let Some(fill) = fills.next() else { continue };
                // each face is a pour of its own, the second on the dry first
                let faces = dome.faces.count();
                let both = f64::from(faces);
                (
                    dome.coating,
                    fill.poured * both,
                    fill.soaks_in * both,
                    (faces, faces),
                )
            }
            Work::Brush(brush) => {
                let film = film(run, piece, visit, brush)?;
                let faces = brush.faces.count();
                let coats = (brush.coats * faces, faces);
                (brush.coating, film.film, film.soak, coats)
            }
            Work::Draw { .. } | Work::Bare => continue,
        };
        let own = &mut uses[coating];
        own.soaks_in = own.soaks_in + soak * number(piece.start);
        let stays = (each + soak) * number(piece.start);
        match own.by_piece.last_mut() {
            Some((of, volume)) if *of == index => *volume = *volume + stays,
            _ => own.by_piece.push((index, stays)),
        }
        let one_coat = (each + soak) / f64::from(coats);
        own.laid.push(Sitting {
            step: step.name.clone(),
            piece: piece.name.clone(),
            of: index,
            each: one_coat,
            first: each / f64::from(coats) + soak / f64::from(faces),
            further: each / f64::from(coats),
            coats: piece.start.saturating_mul(u64::from(coats)),
            coats_on_face: coats / faces,
            started: piece.start,
            time: time(&visits[..place], visit.step),
            hands_on: HandsOn::of(run, step),
        });
        own.of.push(index);
        own.pours.push(Pours {
            started: piece.start,
            pour: Pour {
                each: one_coat,
                scatter: share(&run.coatings[coating].coating, Key::Scatter),
                coats,
            },
        });
        let times = visits.iter().filter(|v| v.step == visit.step).count();
        let times = u32::try_from(times).unwrap_or(u32::MAX);
        let sittings = own.sittings.entry(visit.step).or_default();
        *sittings = (*sittings).max(coats.saturating_mul(times));
    }
    Ok(())
}

/// Which time a step is gone through, after some other visits.
fn time(before: &[Visit], step: usize) -> u32 {
    let before = before.iter().filter(|visit| visit.step == step).count();
    u32::try_from(before).unwrap_or(u32::MAX).saturating_add(1)
}

/// What a brushed step takes on one piece, on all that it covers; the first coat on bare porous ground soaks in.
pub(super) fn film(
    run: &Run,
    piece: &PiecePlan,
    visit: &Visit,
    brush: &Brush,
) -> Result<crate::consumption::BrushedVolume, UseError> {
    let soak = share(&run.coatings[brush.coating].coating, Key::Soak);
    let sides = piece.sides.filter(|_| brush.sides).unwrap_or(Area::ZERO);
    Brushed {
        area: piece.top * f64::from(brush.faces.count()) + sides,
        wet: brush.wet_film,
        coats: brush.coats,
        soak: if visit.thirsty {
            brush.wet_film * soak.fraction()
        } else {
            Length::ZERO
        },
    }
    .volume()
}

/// What is asked of a coating, with its family's losses.
pub(super) fn demand(stuff: &Coating, uses: Vec<Pours>, sittings: u32) -> Demand {
    Demand {
        uses,
        bias: share(stuff, Key::Bias),
        losses: Losses {
            drips: share(stuff, Key::Drips),
            tool: stuff.tool().unwrap_or(Volume::ZERO),
            sittings,
            heel: share(stuff, Key::Heel),
        },
    }
}

/// What one kind of piece takes of a coating.
pub(super) struct OneKind {
    pours: Vec<Pours>,
    /// How each step sits.
    sittings: Vec<Sits>,
}

/// How one step sits for one kind of piece.
struct Sits {
    /// Coats of it on a piece.
    coats: u32,
    /// Into how many waves the calendar splits so many started; all at once without a calendar.
    waves: (u64, u64),
    /// How many pieces one mix serves. `None`: nothing is mixed.
    one_mix: Option<u64>,
}

impl Sits {
    /// Sittings or mixes for so many started, in waves as large as the calendar's. A mix begun for
    /// the last few of a wave is not kept for the next.
    fn times(&self, started: u64) -> u32 {
        let (waves, of) = self.waves;
        let waves = started.saturating_mul(waves).div_ceil(of.max(1)).max(1);
        let each = match self.one_mix {
            // at most: the sum of ceil(x_i / serves) over the waves' x_i
            Some(serves) => (started + waves.saturating_mul(serves - 1)) / serves,
            None => waves,
        };
        let each = u32::try_from(each.max(1)).unwrap_or(u32::MAX);
        each.saturating_mul(self.coats)
    }
}

/// What one kind of piece alone takes of each of the run's coatings; `None` where it takes none.
pub(super) fn for_one_kind(
    run: &Run,
    (index, piece): (usize, &PiecePlan),
    visits: &[Visit],
    (coatings, dates): (&[CoatingPlan], &Dates),
) -> Result<Vec<Option<OneKind>>, UseError> {
    let mut uses: Vec<Uses> = run.coatings.iter().map(|_| Uses::default()).collect();
    gather(run, (index, piece), visits, &mut uses)?;
    let one = uses.into_iter().map(|uses| {
        let sittings = uses.sittings.iter().map(|(&step, &coats)| Sits {
            coats,
            waves: (dates.waves(step, &piece.name, coats), piece.start),
            one_mix: PerMix::of_one(run, &run.steps[step], coatings, index),
        });
        (!uses.pours.is_empty()).then(|| OneKind {
            sittings: sittings.collect(),
            pours: uses.pours,
        })
    });
    Ok(one.collect())
}

impl OneKind {
    /// Whether the stock does, as surely as the run wants, for so many pieces started.
    pub(super) fn stock_does(
        &self,
        (run, lasts): (&Run, &Lasts),
        coating: &RunCoating,
        started: u64,
    ) -> bool {
        let pours = self.pours.iter().map(|pours| Pours { started, ..*pours });
        let sittings = self.sittings.iter().map(|sits| sits.times(started));
        let sittings = sittings.fold(0, u32::saturating_add);
        let amount = demand(&coating.coating, pours.collect(), sittings).amount();
        let bottles = lasts.bottle(coating).zip(amount.ok());
        bottles.is_some_and(|(bottle, amount)| {
            (amount.bottles(&bottle, run.header.sure)).is_ok_and(|bottles| bottles.buy == 0)
        })
    }
}

pub(super) fn share(coating: &Coating, key: Key) -> Share {
    coating.share(key).unwrap_or(Share::ZERO)
}

#[expect(
    clippy::cast_precision_loss,
    reason = "counts are at most a thousand million"
)]
pub(super) const fn number(count: u64) -> f64 {
    count as f64
}
