//! How much of each coating, line by line, and how many bottles.

use std::collections::BTreeMap;

use super::mixing::{self, Cups, Losses as MixLosses, Refused, Sitting};
use super::sizes::SizesPlan;
use super::stock::{self, Stale};
use super::visits::Visit;
use super::{Notes, PiecePlan, PlanError, Warning};
use crate::coating::{Coating, Key};
use crate::consumption::{
    Bottles, Brushed, Demand, Lines, Losses, Pour, Pours, Split, Spread, TwoPart, UseError, covers,
};
use crate::quantity::{Area, Length, Mass, Money, Ratio, Share, Volume};
use crate::run::{Brush, Run, RunCoating, Work};

/// One coating of the run.
#[derive(Debug, Clone, PartialEq)]
pub struct CoatingPlan {
    /// What the maker calls it.
    pub name: String,
    /// Its family.
    pub family: String,
    /// The expected amount, line by line.
    pub lines: Lines,
    /// Of what goes on the pieces, what is taken to soak into bare ground.
    pub soaks_in: Volume,
    /// The expected amount: all the lines.
    pub needed: Volume,
    /// The expected amount's mass, where its density is known.
    pub needed_mass: Option<Mass>,
    /// The amount to be as sure as wanted of having enough.
    pub needed_sure: Volume,
    /// The spread of the needed amount, in its two parts.
    pub spread: Spread,
    /// What its bottle holds and costs, and how many are in stock. `None`: not said.
    pub bottle: Option<crate::run::Bottle>,
    /// Bottles to buy, and the chances near that number. `None` without a bottle.
    pub bottles: Option<Bottles>,
    /// The cheapest bottles where it is sold in several sizes. `None`: it comes in one.
    pub sizes: Option<SizesPlan>,
    /// What the bottles cost, of several sizes the cheapest. `None`: none to buy, or no price is given.
    pub price: Option<Money>,
    /// Sittings at which the tool keeps its share back.
    pub sittings: u32,
    /// What it covers as a brushed film, for each step that brushes it.
    pub coverage: Vec<Coverage>,
    /// The two parts, where it has two.
    pub mix: Option<Mix>,
    /// What of it stays on the run's pieces, by the number of the piece.
    pub by_piece: Vec<(usize, Volume)>,
}

/// What a coating covers at a step's wet film thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct Coverage {
    /// The step.
    pub step: String,
    /// Wet film thickness of one coat.
    pub wet_film: Length,
    /// Area that a litre covers, before losses.
    pub by_litre: Area,
    /// Area that one full bottle covers, before losses. `None` without a bottle.
    pub by_bottle: Option<Area>,
}

/// A two-part coating's parts, over the whole run.
#[derive(Debug, Clone, PartialEq)]
pub struct Mix {
    /// Part A over part B, by volume.
    pub volume_ratio: Ratio,
    /// Part A over part B, by weight.
    pub mass_ratio: Ratio,
    /// The expected mix in cups, heel not counted.
    pub expected: Split,
    /// The mix in cups to be as sure as wanted.
    pub sure: Split,
    /// How long it lasts in a cup and how much to mix at once. `None`: nobody tells its
    /// pot life, or it can't be worked out, which is then warned of.
    pub cups: Option<Cups>,
}

/// What one coating is asked for, gathered over the pieces.
#[derive(Default)]
struct Uses {
    pours: Vec<Pours>,
    /// Which kind of piece each of those is for.
    of: Vec<usize>,
    /// What each step lays on each kind of piece.
    laid: Vec<Sitting>,
    soaks_in: Volume,
    /// What stays on each kind of piece.
    by_piece: Vec<(usize, Volume)>,
    /// Sittings by step: coats, times the most visits that any piece makes.
    sittings: BTreeMap<usize, u32>,
}

/// How often each step's tool is filled and cleaned, or its cup mixed, as the calendar has
/// it; by the number of the step. Empty where there is no calendar.
pub(super) type Sat = BTreeMap<usize, u32>;

/// Plans every coating that some step of some piece uses up.
pub(super) fn plan(
    run: &Run,
    visits: &[Vec<Visit>],
    pieces: &[PiecePlan],
    sat: &Sat,
    notes: &mut Notes,
) -> Result<Vec<CoatingPlan>, PlanError> {
    let uses = gathered(run, visits, pieces, sat)?;
    run.coatings
        .iter()
        .zip(uses)
        .filter(|(_, uses)| !uses.sittings.is_empty())
        .map(|(coating, uses)| {
            one(run, coating, uses, notes).map_err(|why| PlanError::Use {
                what: coating.name.clone(),
                why,
            })
        })
        .collect()
}

/// What all kinds of piece ask of each of the run's coatings.
fn gathered(
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

fn sittings(by_step: &BTreeMap<usize, u32>) -> u32 {
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
    for visit in visits {
        let step = &run.steps[visit.step];
        let (coating, each, soak, coats) = match &step.work {
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
                    faces,
                )
            }
            Work::Brush(brush) => {
                let film = film(run, piece, visit, brush)?;
                let coats = brush.coats * brush.faces.count();
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
            each: one_coat,
            coats: piece.start.saturating_mul(u64::from(coats)),
            hands_on: step.hands_on,
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

fn one(
    run: &Run,
    coating: &RunCoating,
    uses: Uses,
    notes: &mut Notes,
) -> Result<CoatingPlan, UseError> {
    say_what_is_unknown(coating, notes);
    let sittings = sittings(&uses.sittings);
    let stuff = &coating.coating;
    let amount = demand(stuff, uses.pours, sittings).amount()?;
    let sure = run.header.sure;
    let in_stock = stock::bottle(run, coating);
    let bottles = in_stock
        .map(|bottle| amount.bottles(&bottle, sure))
        .transpose()?;
    warn_of_stale(run, coating, notes);
    let price = coating.bottle.and_then(|bottle| bottle.price);
    let sizes = match (in_stock, price, coating.also_sold.as_slice()) {
        (Some(bottle), Some(price), [_, ..]) => Some(SizesPlan::of(
            &amount,
            (&bottle, price),
            &coating.also_sold,
            sure,
        )?),
        _ => None,
    };
    let needed = amount.lines().needed();
    Ok(CoatingPlan {
        name: coating.name.clone(),
        family: stuff.family().name.clone(),
        lines: amount.lines(),
        soaks_in: uses.soaks_in,
        needed,
        needed_mass: stuff.density().map(|density| needed * density),
        needed_sure: amount.needed_for(sure)?,
        spread: amount.spread(),
        bottle: coating.bottle,
        price: bottles.as_ref().filter(|bottles| bottles.buy > 0).and_then(
            |bottles| match &sizes {
                Some(sizes) => Some(sizes.price),
                None => Some(price? * number(bottles.buy)),
            },
        ),
        sizes,
        bottles,
        sittings,
        by_piece: uses.by_piece,
        coverage: coverage(run, coating, uses.sittings.keys())?,
        mix: mix(
            (run, coating),
            [amount.lines().mix_now(), amount.mix_for(sure)?],
            &uses.laid,
            notes,
        )?,
    })
}

/// What is asked of a coating, with its family's losses.
fn demand(stuff: &Coating, uses: Vec<Pours>, sittings: u32) -> Demand {
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
    sittings: u32,
}

/// What one kind of piece alone takes of each of the run's coatings; `None` where it takes none.
pub(super) fn for_one_kind(
    run: &Run,
    piece: &PiecePlan,
    visits: &[Visit],
) -> Result<Vec<Option<OneKind>>, UseError> {
    let mut uses: Vec<Uses> = run.coatings.iter().map(|_| Uses::default()).collect();
    gather(run, (0, piece), visits, &mut uses)?;
    let one = uses.into_iter().map(|uses| {
        let sittings = sittings(&uses.sittings);
        (!uses.pours.is_empty()).then_some(OneKind {
            pours: uses.pours,
            sittings,
        })
    });
    Ok(one.collect())
}

impl OneKind {
    /// Whether the stock does, as surely as the run wants, for so many pieces started.
    pub(super) fn stock_does(&self, run: &Run, coating: &RunCoating, started: u64) -> bool {
        let pours = self.pours.iter().map(|pours| Pours { started, ..*pours });
        let amount = demand(&coating.coating, pours.collect(), self.sittings).amount();
        let bottles = stock::bottle(run, coating).zip(amount.ok());
        bottles.is_some_and(|(bottle, amount)| {
            (amount.bottles(&bottle, run.header.sure)).is_ok_and(|bottles| bottles.buy == 0)
        })
    }
}

/// Stock past its date is left out of the counting, and that is said.
fn warn_of_stale(run: &Run, coating: &RunCoating, notes: &mut Notes) {
    let Some(bottle) = coating.bottle.filter(|bottle| bottle.have > 0.0) else {
        return;
    };
    if let Some(past) = stock::past(run, bottle.best_before) {
        notes.warnings.push(Warning::Stale {
            what: coating.name.clone(),
            stock: Stale::Bottles(bottle.have),
            past,
        });
    }
}

fn coverage<'s>(
    run: &Run,
    coating: &RunCoating,
    steps: impl Iterator<Item = &'s usize>,
) -> Result<Vec<Coverage>, UseError> {
    let litre = Volume::from_ml(1000.0);
    steps
        .filter_map(|&step| match &run.steps[step].work {
            Work::Brush(brush) => Some((&run.steps[step].name, brush.wet_film)),
            _ => None,
        })
        .map(|(step, wet_film)| {
            Ok(Coverage {
                step: step.clone(),
                wet_film,
                by_litre: covers(litre, wet_film)?,
                by_bottle: coating
                    .bottle
                    .map(|bottle| covers(bottle.holds, wet_film))
                    .transpose()?,
            })
        })
        .collect()
}

fn mix(
    (run, coating): (&Run, &RunCoating),
    [expected, sure]: [Volume; 2],
    laid: &[Sitting],
    notes: &mut Notes,
) -> Result<Option<Mix>, UseError> {
    let stuff = &coating.coating;
    let Some(parts) = stuff.two_parts() else {
        return Ok(None);
    };
    let two = TwoPart::from(parts);
    let expected = two.split(expected)?;
    Ok(Some(Mix {
        volume_ratio: parts.volume_ratio,
        mass_ratio: parts.mass_ratio(),
        cups: cups((run, coating), &expected, laid, notes)?,
        expected,
        sure: two.split(sure)?,
    }))
}

/// The coating's mixes in the run's room, at its first pour.
fn cups(
    (run, coating): (&Run, &RunCoating),
    expected: &Split,
    laid: &[Sitting],
    notes: &mut Notes,
) -> Result<Option<Cups>, UseError> {
    let stuff = &coating.coating;
    let losses = MixLosses {
        drips: share(stuff, Key::Drips),
        tool: stuff.tool().unwrap_or(Volume::ZERO),
    };
    let room = run.room.over_time.first_air().temperature();
    let (cups, warnings) = match mixing::plan(stuff, room, (expected, losses), laid) {
        Ok(planned) => planned,
        Err(Refused::Use(why)) => return Err(why),
        Err(Refused::NoTime(why)) => {
            let step = coating.name.clone();
            notes.warnings.push(Warning::NoTime { step, why });
            return Ok(None);
        }
    };
    for warning in warnings {
        notes.warnings.push(Warning::AllAtOnce {
            coating: coating.name.clone(),
            warning,
        });
    }
    if cups
        .as_ref()
        .is_some_and(|cups| cups.label.mass.is_assumed())
    {
        notes.assume(
            format!("{}: pot_life_mass", coating.name),
            "its family's",
            "its label names no mass: at the worst the pot life is that of a thin coat",
        );
    }
    Ok(cups)
}

/// A loss that the coating's family has no figure for is counted as none, and that is said.
fn say_what_is_unknown(coating: &RunCoating, notes: &mut Notes) {
    for key in [Key::Scatter, Key::Bias, Key::Drips, Key::Tool, Key::Heel] {
        if coating.coating.property(key).is_none() {
            notes.assume(
                format!("{}: {}", coating.name, key.name()),
                "none",
                "its family has no figure",
            );
        }
    }
}

fn share(coating: &Coating, key: Key) -> Share {
    coating.share(key).unwrap_or(Share::ZERO)
}

#[expect(
    clippy::cast_precision_loss,
    reason = "counts are at most a thousand million"
)]
const fn number(count: u64) -> f64 {
    count as f64
}
