//! Steps that the run does not have and should.

use super::drying::{Coat, Drying};
use super::space::SpacePlan;
use super::visits::Visit;
use super::{Notes, PiecePlan, PlanError, Warning};
use crate::coating::{Coating, Key, family};
use crate::consumption::{Brushed, Demand, Lines, Losses, Pour, Pours, UseError};
use crate::drying::footprint;
use crate::drying::{Drier, TimeBand};
use crate::quantity::{Length, Share, Volume};
use crate::run::{Run, Work};

/// The family that is advised where the run has no sealer of its own.
const SEALER: &str = "water-based sealer";

/// A seal coat that is advised, and is no part of the run.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// The flood coats that it should come before.
    pub before: Vec<String>,
    /// The pieces that need it.
    pub pieces: Vec<String>,
    /// What to seal with: one of the run's coatings, or a family.
    pub coating: String,
    /// Whether that is one of the run's own coatings.
    pub from_the_run: bool,
    /// Wet film thickness of the one coat.
    pub wet_film: Length,
    /// What goes on all the started pieces before waste, soak included.
    pub on_pieces: Volume,
    /// The expected amount, line by line.
    pub lines: Lines,
    /// The amount to be as sure as wanted.
    pub needed_sure: Volume,
    /// How long it takes to dry here.
    pub drying: Drying,
    /// Until the flood coat may go on. `None`: not told, or never.
    pub until_recoat: Option<TimeBand>,
}

/// Advises a seal coat for every piece whose bare porous blank is flooded.
pub(super) fn plan(
    run: &Run,
    visits: &[Vec<Visit>],
    pieces: &[PiecePlan],
    space: &SpacePlan,
    notes: &mut Notes,
) -> Result<Vec<Advice>, PlanError> {
    say_what_is_unknown(run, pieces, notes);
    let mut before: Vec<String> = Vec::new();
    let mut needing: Vec<&PiecePlan> = Vec::new();
    for (piece, visits) in pieces.iter().zip(visits) {
        let flooded = visits
            .iter()
            .find(|visit| visit.thirsty && matches!(run.steps[visit.step].work, Work::Dome(_)));
        if let Some(visit) = flooded {
            let step = &run.steps[visit.step].name;
            if !before.contains(step) {
                before.push(step.clone());
            }
            needing.push(piece);
        }
    }
    if needing.is_empty() {
        return Ok(Vec::new());
    }
    let own = run
        .coatings
        .iter()
        .find(|coating| coating.coating.family().name == SEALER);
    let sealer = match own {
        Some(own) => own.coating.clone(),
        None => match family(SEALER) {
            Some(family) => Coating::of(family),
            None => return Ok(Vec::new()),
        },
    };
    let name = own.map_or(SEALER, |own| own.name.as_str());
    notes.warnings.push(Warning::BarePorous {
        pieces: needing.iter().map(|piece| piece.name.clone()).collect(),
        before: before.clone(),
        sealer: name.to_owned(),
    });
    let (amount, wet_film) = amount(&sealer, &needing).map_err(|why| PlanError::Use {
        what: name.to_owned(),
        why,
    })?;
    let drying = slowest(run, space, (&sealer, wet_film), &needing);
    Ok(vec![Advice {
        before,
        pieces: needing.iter().map(|piece| piece.name.clone()).collect(),
        coating: name.to_owned(),
        from_the_run: own.is_some(),
        wet_film,
        on_pieces: amount.lines().on_pieces,
        lines: amount.lines(),
        needed_sure: amount
            .needed_for(run.header.sure)
            .map_err(|why| PlanError::Use {
                what: name.to_owned(),
                why,
            })?,
        until_recoat: drying.timed().and_then(|timed| {
            let recoat = |stage| timed.stages.iter().find(|times| times.stage == stage);
            recoat(crate::stage::Stage::Recoat)
                .or_else(|| recoat(crate::stage::Stage::Handle))?
                .here
        }),
        drying,
    }])
}

/// One coat on every flooded face of every started piece, its soak included.
fn amount(
    sealer: &Coating,
    pieces: &[&PiecePlan],
) -> Result<(crate::consumption::Amount, Length), UseError> {
    let share = |key| sealer.share(key).unwrap_or(Share::ZERO);
    let wet = sealer.wet_film().unwrap_or(Length::ZERO);
    let uses = pieces
        .iter()
        .map(|piece| {
            let film = Brushed {
                area: piece.top * f64::from(flooded_faces(piece)),
                wet,
                coats: 1,
                soak: wet * share(Key::Soak).fraction(),
            };
            Ok(Pours {
                started: piece.start,
                pour: Pour {
                    each: film.volume()?.total(),
                    scatter: share(Key::Scatter),
                    coats: 1,
                },
            })
        })
        .collect::<Result<Vec<_>, UseError>>()?;
    let demand = Demand {
        uses,
        bias: share(Key::Bias),
        losses: Losses {
            drips: share(Key::Drips),
            tool: sealer.tool().unwrap_or(Volume::ZERO),
            sittings: 1,
            heel: share(Key::Heel),
        },
    };
    Ok((demand.amount()?, wet))
}

/// Faces of a piece that some step floods, each of which wants sealing.
fn flooded_faces(piece: &PiecePlan) -> u32 {
    let faces = piece.fills.iter().map(|fill| fill.faces.count());
    faces.max().unwrap_or(1)
}

/// The drying of the coat on the piece where it is slowest.
fn slowest(
    run: &Run,
    space: &SpacePlan,
    (sealer, depth): (&Coating, Length),
    pieces: &[&PiecePlan],
) -> Drying {
    let drier = match Drier::new(sealer, &run.room.over_time) {
        Ok(drier) => drier,
        Err(why) => return Drying::Unknown(why),
    };
    let slowest = pieces
        .iter()
        .map(|piece| Coat {
            depth,
            on: footprint(run.blanks[piece.blank].top.outline()),
            among: space.among(piece.blank),
        })
        .max_by(|a, b| a.slowness(&drier).total_cmp(&b.slowness(&drier)));
    slowest.map_or(Drying::NotNeeded, |coat| coat.outlook(&drier, true))
}

/// A blank that the file calls neither porous nor not is taken for one that drinks nothing.
fn say_what_is_unknown(run: &Run, pieces: &[PiecePlan], notes: &mut Notes) {
    let used: std::collections::BTreeSet<usize> = pieces.iter().map(|piece| piece.blank).collect();
    for index in used {
        let blank = &run.blanks[index];
        if blank.porous.is_none() {
            notes.assume(
                format!("{}: porous", blank.name),
                "no",
                "the file does not say; bare wood, cork and plaster are, and want sealing first",
            );
        }
    }
}
