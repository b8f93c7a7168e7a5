//! How much of each coating, line by line, and how many bottles.

use super::hands::note_pace;
use super::lasts::Lasts;
use super::mixing::{self, Cups, Losses as MixLosses, Refused, Sitting};
use super::sizes::SizesPlan;
use super::small_mix::SmallMix;
use super::stock::Stale;
use super::uses::{Sat, Uses, demand, gathered, number, share, sittings};
use super::visits::Visit;
use super::{Notes, PiecePlan, PlanError, Warning};
use crate::coating::{Key, Source};
use crate::consumption::{Bottles, Lines, Split, Spread, TwoPart, UseError, covers};
use crate::drying::Room;
use crate::quantity::{Area, Length, Mass, Money, Ratio, Show, Volume};
use crate::run::{Run, RunCoating, Work};

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
    /// Sittings at which the tool keeps its share back; of a mixed coating its mixes.
    pub sittings: u32,
    /// The same for each step, by its name, in the run's order.
    pub sittings_by_step: Vec<(String, u32)>,
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
    /// How many mixes it is made in, and what is in each were all alike. `None`: nobody can tell
    /// how long a mix lasts.
    pub each: Option<(u32, Split)>,
    /// The least and the most that a sitting's mixes hold. `None`: they are about alike, or no
    /// sitting is dated.
    pub unlike: Option<[Split; 2]>,
    /// How long it lasts in a cup and how much to mix at once. `None`: nobody tells its
    /// pot life, or it can't be worked out, which is then warned of.
    pub cups: Option<Cups>,
}

/// Plans every coating that some step of some piece uses up.
pub(super) fn plan(
    run: &Run,
    visits: &[Vec<Visit>],
    pieces: &[PiecePlan],
    (sat, lasts): (&Sat, &Lasts),
    notes: &mut Notes,
) -> Result<Vec<CoatingPlan>, PlanError> {
    let uses = gathered(run, visits, pieces, sat)?;
    run.coatings
        .iter()
        .zip(uses)
        .filter(|(_, uses)| !uses.sittings.is_empty())
        .map(|(coating, uses)| {
            one((run, lasts), coating, uses, notes).map_err(|why| PlanError::Use {
                what: coating.name.clone(),
                why,
            })
        })
        .collect()
}

fn one(
    (run, lasts): (&Run, &Lasts),
    coating: &RunCoating,
    uses: Uses,
    notes: &mut Notes,
) -> Result<CoatingPlan, UseError> {
    say_what_is_unknown(coating, notes);
    let sittings = sittings(&uses.sittings);
    let stuff = &coating.coating;
    let amount = demand(stuff, uses.pours, sittings).amount()?;
    let sure = run.header.sure;
    let in_stock = lasts.bottle(coating);
    let bottles = in_stock
        .map(|bottle| amount.bottles(&bottle, sure))
        .transpose()?;
    warn_of_stale(lasts, coating, notes);
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
        sittings_by_step: (uses.sittings.iter())
            .map(|(&step, &times)| (run.steps[step].name.clone(), times))
            .collect(),
        coverage: coverage(run, coating, uses.sittings.keys())?,
        mix: mix(
            (run, coating),
            [amount.lines().mix_now(), amount.mix_for(sure)?],
            (&uses.laid, sittings),
            notes,
        )?,
    })
}

/// Stock past its date is left out of the counting, and that is said.
fn warn_of_stale(lasts: &Lasts, coating: &RunCoating, notes: &mut Notes) {
    let Some(bottle) = coating.bottle.filter(|bottle| bottle.have > 0.0) else {
        return;
    };
    if let Some(past) = lasts.past_coating(coating) {
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
    (laid, sittings): (&[Sitting], u32),
    notes: &mut Notes,
) -> Result<Option<Mix>, UseError> {
    let stuff = &coating.coating;
    let Some(parts) = stuff.two_parts() else {
        return Ok(None);
    };
    let two = TwoPart::from(parts);
    let each = two.split(expected / f64::from(sittings.max(1)))?;
    let expected = two.split(expected)?;
    let cups = cups((run, coating), (&expected, sittings), laid, notes)?;
    let small = cups
        .as_ref()
        .and_then(|cups| SmallMix::of((sittings, each.mass()), cups));
    notes.warnings.extend(small.map(|small| Warning::SmallMix {
        coating: coating.name.clone(),
        small,
    }));
    Ok(Some(Mix {
        volume_ratio: parts.volume_ratio,
        mass_ratio: parts.mass_ratio(),
        each: cups.is_some().then_some((sittings, each)),
        unlike: None,
        cups,
        expected,
        sure: two.split(sure)?,
    }))
}

/// The coating's mixes in the run's room, where that changes in the warmest air in which they may
/// be made.
fn cups(
    (run, coating): (&Run, &RunCoating),
    (expected, mixes): (&Split, u32),
    laid: &[Sitting],
    notes: &mut Notes,
) -> Result<Option<Cups>, UseError> {
    let stuff = &coating.coating;
    let losses = MixLosses {
        drips: share(stuff, Key::Drips),
        tool: stuff.tool().unwrap_or(Volume::ZERO),
    };
    let room = run.room.warmest_at_work(&run.hours);
    let (cups, warnings) = match mixing::plan(stuff, room, (expected, mixes, losses), laid) {
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
            mixes,
            warning,
        });
    }
    if cups.is_some() {
        for sitting in laid {
            sitting.hands_on.note(&sitting.step, notes);
        }
        note_pace(run, notes);
        if matches!(run.room.over_time, Room::Changing(_)) {
            notes.assume_once(
                "air in which mixes are made".to_owned(),
                room.show(run.header.units),
                "the warmest of the hours of work and of the pour; mixes last longer where it is cooler",
            );
        }
    }
    let told = stuff.property(Key::Stirring).map(|told| &told.source);
    if let Some(cups) = &cups
        && told.is_some_and(|source| *source != Source::MakersFile)
    {
        notes.assume(
            format!("{}: stirring", coating.name),
            cups.stirring.show(run.header.units),
            "common practice, no source: tell what its label asks for",
        );
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
