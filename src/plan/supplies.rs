//! What pieces take beside blanks and coatings: findings, cord, paper.

use super::lasts::Lasts;
use super::stock::Stale;
use super::{Notes, PiecePlan, PlanError, Warning, reach};
use crate::consumption::{Cut, PackNeed, Packs, Spools, UseError, spools, with_spares};
use crate::quantity::{Length, Share, Time};
use crate::run::{self, Run, Supply, Takes};
use crate::space::{self, Ground, How, Kind, Rows, SpaceError};

/// One supply.
#[derive(Debug, Clone, PartialEq)]
pub struct SupplyPlan {
    /// What the maker calls it.
    pub name: String,
    /// What it is, and how much of it is needed.
    pub stuff: Stuff,
    /// Spares beyond what the pieces take, counted in what is needed.
    pub spares: Share,
    /// Stock that is not counted, past its date. `None`: all of it counts.
    pub stale: Option<Stale>,
    /// What to buy, in findings, sheets or spools; what that costs and what is left over.
    pub packs: Packs,
    /// How many come in a pack; 1 where they are sold singly.
    pub pack_of: u32,
    /// How long a supplier takes. `None`: not said.
    pub delivery: Option<Time>,
    /// Who takes it, in the run's order of pieces and their steps.
    pub takers: Vec<Taker>,
}

/// What a supply is, and how much of it is needed.
#[derive(Debug, Clone, PartialEq)]
pub enum Stuff {
    /// Findings, bags, cards: counted.
    Each {
        /// How many, spares counted.
        needed: u64,
        /// How many in stock are counted on.
        have: u32,
    },
    /// Cord, chain or wire: cut with no joins.
    Cut {
        /// What a new spool holds.
        spool: Length,
        /// What is left on the open spools that are counted on.
        have: Vec<Length>,
        /// How the spools are cut, spares counted.
        spools: Spools,
    },
    /// Sheets that shapes are cut from.
    Sheet {
        /// How many sheets, spares counted; several kinds of shape share them.
        needed: u64,
        /// How many whole ones in stock are counted on.
        have: u32,
        /// How each kind of shape lies on one; as many as there are takers. `None`: not one fits.
        lies: Vec<Option<OnSheet>>,
    },
}

/// How shapes of one kind lie on a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct OnSheet {
    /// How many there are to a sheet.
    pub count: u32,
    /// How they lie.
    pub how: How,
    /// Their rows; none where they are mixed.
    pub rows: Option<Rows>,
    /// The box of one with its bleed.
    size: [Length; 2],
}

/// A kind of piece that takes of a supply in a step.
#[derive(Debug, Clone, PartialEq)]
pub struct Taker {
    /// The piece.
    pub piece: String,
    /// The step.
    pub step: String,
    /// What one takes.
    pub takes: Takes,
    /// Pieces that come to the step: those started, or after the pieces were looked over those
    /// that are then likely left.
    pub pieces: u64,
    /// Which of the run's pieces.
    index: usize,
    /// Share of those started that comes to the step.
    kept: f64,
    /// How its shape lies on a sheet, if it takes one and it fits.
    lies: Option<OnSheet>,
}

impl Taker {
    /// Which of the run's pieces it is.
    pub(super) fn piece_number(&self) -> usize {
        self.index
    }

    /// Whether it is taken by pieces that were looked over before.
    pub(super) fn is_fitted(&self) -> bool {
        self.kept < 1.0
    }

    /// How many of its shapes lie on a sheet by themselves. `None`: it takes none, or none fits.
    pub(super) fn to_a_sheet(&self) -> Option<u32> {
        self.lies.as_ref().map(|lies| lies.count)
    }
}

/// Who takes what, before it is counted.
#[derive(Clone)]
pub(super) struct Supplies {
    /// Of each of the run's supplies.
    takers: Vec<Vec<Taker>>,
}

impl Supplies {
    /// Gathers the takers, and lays their shapes on the sheets.
    pub(super) fn of(
        run: &Run,
        pieces: &[PiecePlan],
        notes: &mut Notes,
    ) -> Result<Self, PlanError> {
        let mut takers: Vec<Vec<Taker>> = vec![Vec::new(); run.supplies.len()];
        for (index, piece) in pieces.iter().enumerate() {
            let chain = &run.pieces[index].steps;
            for (place, &step) in chain.iter().enumerate() {
                let kept = reach::kept(run, chain, place, piece.scrap);
                let step = &run.steps[step];
                for taken in &step.uses {
                    let supply = &run.supplies[taken.supply];
                    let known = &mut takers[taken.supply];
                    let lies = lies(run, supply, (piece, taken.takes), known, notes)?;
                    known.push(Taker {
                        piece: piece.name.clone(),
                        step: step.name.clone(),
                        takes: taken.takes,
                        pieces: reach::come(piece.start, kept),
                        index,
                        kept,
                        lies,
                    });
                }
            }
        }
        Ok(Self { takers })
    }

    /// Whether a kind of piece takes of a supply.
    pub(super) fn is_taken_by(&self, supply: usize, piece: usize) -> bool {
        self.takers[supply].iter().any(|taker| taker.index == piece)
    }

    /// Whether the stock of a supply does for so many of one kind of piece.
    pub(super) fn stock_does(
        &self,
        (run, lasts): (&Run, &Lasts),
        supply: usize,
        (piece, started): (usize, u64),
    ) -> bool {
        let takers = self.takers[supply].iter();
        let here = takers.filter(|taker| taker.index == piece);
        let counts: Vec<(&Taker, u64)> = here
            .map(|taker| (taker, reach::come(started, taker.kept)))
            .collect();
        let fits = |&(taker, count): &(&Taker, u64)| {
            count == 0 || taker.lies.is_some() || !matches!(taker.takes, Takes::Shape { .. })
        };
        counts.iter().all(fits)
            && count(lasts, &run.supplies[supply], &counts).is_ok_and(|(_, packs)| packs.buy == 0)
    }

    /// Plans every supply that some piece takes.
    pub(super) fn plan(
        self,
        run: &Run,
        lasts: &Lasts,
        notes: &mut Notes,
    ) -> Result<Vec<SupplyPlan>, PlanError> {
        (run.supplies.iter().zip(self.takers))
            .filter(|(_, takers)| !takers.is_empty())
            .map(|(supply, takers)| one(lasts, supply, takers, notes))
            .collect()
    }
}

fn one(
    lasts: &Lasts,
    supply: &Supply,
    takers: Vec<Taker>,
    notes: &mut Notes,
) -> Result<SupplyPlan, PlanError> {
    let counts: Vec<(&Taker, u64)> = takers.iter().map(|taker| (taker, taker.pieces)).collect();
    let (stuff, packs) = count(lasts, supply, &counts)?;
    Ok(SupplyPlan {
        name: supply.name.clone(),
        stuff,
        spares: supply.spares,
        stale: stale(lasts, supply, notes),
        packs,
        pack_of: supply.pack.map_or(1, |pack| pack.of),
        delivery: supply.delivery,
        takers,
    })
}

/// Stock past its date, which is told.
fn stale(lasts: &Lasts, supply: &Supply, notes: &mut Notes) -> Option<Stale> {
    let past = lasts.past_supply(supply)?;
    let stock = in_stock(supply)?;
    notes.warnings.push(Warning::Stale {
        what: supply.name.clone(),
        stock,
        past,
    });
    Some(stock)
}

/// What there is in stock. `None`: nothing.
pub(super) fn in_stock(supply: &Supply) -> Option<Stale> {
    match &supply.stuff {
        run::Stuff::Each { have: 0 } | run::Stuff::Sheet { have: 0, .. } => None,
        run::Stuff::Cut { have, .. } if have.is_empty() => None,
        run::Stuff::Each { have } => Some(Stale::Each(*have)),
        run::Stuff::Cut { have, .. } => Some(Stale::Spools(have.len())),
        run::Stuff::Sheet { have, .. } => Some(Stale::Sheets(*have)),
    }
}

/// What so many pieces of each taker need of a supply, and what to buy.
fn count(
    lasts: &Lasts,
    supply: &Supply,
    takers: &[(&Taker, u64)],
) -> Result<(Stuff, Packs), PlanError> {
    let counts = lasts.past_supply(supply).is_none();
    match &supply.stuff {
        run::Stuff::Each { have } => each(supply, if counts { *have } else { 0 }, takers),
        run::Stuff::Cut { spool, have } => {
            cut(supply, *spool, if counts { have } else { &[] }, takers)
        }
        run::Stuff::Sheet {
            size,
            margin,
            gap,
            have,
        } => {
            let ground = Ground {
                size: *size,
                margin: *margin,
                gap: *gap,
            };
            sheet(supply, &ground, if counts { *have } else { 0 }, takers)
        }
    }
    .map_err(|why| match why {
        Why::Use(why) => PlanError::Use {
            what: supply.name.clone(),
            why,
        },
        Why::Space(why) => PlanError::Space {
            what: supply.name.clone(),
            why,
        },
    })
}

enum Why {
    Use(UseError),
    Space(SpaceError),
}

impl From<UseError> for Why {
    fn from(why: UseError) -> Self {
        Self::Use(why)
    }
}

impl From<SpaceError> for Why {
    fn from(why: SpaceError) -> Self {
        Self::Space(why)
    }
}

fn in_packs(supply: &Supply, needed: u64, have: u64) -> Result<Packs, UseError> {
    PackNeed {
        needed,
        have,
        pack: supply.pack.map_or(1, |pack| u64::from(pack.of)),
        price: supply.pack.and_then(|pack| pack.price),
    }
    .count()
}

fn each(supply: &Supply, have: u32, takers: &[(&Taker, u64)]) -> Result<(Stuff, Packs), Why> {
    let mut taken = 0_u64;
    for (taker, pieces) in takers {
        if let Takes::Count(count) = taker.takes {
            taken = taken.saturating_add(pieces.saturating_mul(u64::from(count)));
        }
    }
    let needed = with_spares(taken, supply.spares)?;
    let packs = in_packs(supply, needed, u64::from(have))?;
    Ok((Stuff::Each { needed, have }, packs))
}

fn cut(
    supply: &Supply,
    spool: Length,
    have: &[Length],
    takers: &[(&Taker, u64)],
) -> Result<(Stuff, Packs), Why> {
    // takers of one length are one kind of cut
    let mut cuts: Vec<Cut> = Vec::new();
    for &(taker, pieces) in takers {
        let Takes::Length(length) = taker.takes else {
            continue;
        };
        match cuts.iter_mut().find(|cut| cut.length == length) {
            Some(cut) => cut.pieces = cut.pieces.saturating_add(pieces),
            None => cuts.push(Cut { length, pieces }),
        }
    }
    for cut in &mut cuts {
        cut.pieces = with_spares(cut.pieces, supply.spares)?;
    }
    let spools = spools(&cuts, spool, have)?;
    let mut packs = in_packs(supply, spools.new, 0)?;
    // cord from open spools is used up as well, and what stays on them is not
    let price = supply.pack.and_then(|pack| Some((pack.price?, pack.of)));
    packs.used_cost = price.map(|(price, of)| price * (spools.taken / (spool * f64::from(of))));
    let have = have.to_vec();
    Ok((
        Stuff::Cut {
            spool,
            have,
            spools,
        },
        packs,
    ))
}

fn sheet(
    supply: &Supply,
    ground: &Ground,
    have: u32,
    takers: &[(&Taker, u64)],
) -> Result<(Stuff, Packs), Why> {
    let mut kinds: Vec<Kind> = Vec::new();
    for (taker, pieces) in takers {
        let Some(lies) = &taker.lies else {
            continue;
        };
        let same = |kind: &&mut Kind| kind.size == lies.size && kind.per_ground == lies.count;
        match kinds.iter_mut().find(same) {
            Some(kind) => kind.pieces = kind.pieces.saturating_add(*pieces),
            None => kinds.push(Kind {
                per_ground: lies.count,
                size: lies.size,
                pieces: *pieces,
            }),
        }
    }
    for kind in &mut kinds {
        kind.pieces = with_spares(kind.pieces, supply.spares)?;
    }
    let needed = space::share(&kinds, ground)?.grounds;
    let packs = in_packs(supply, needed, u64::from(have))?;
    let lies = takers.iter().map(|(taker, _)| taker.lies.clone()).collect();
    Ok((Stuff::Sheet { needed, have, lies }, packs))
}

/// How a piece's shape lies on a sheet of the supply; one that fits on none is told.
fn lies(
    run: &Run,
    supply: &Supply,
    (piece, takes): (&PiecePlan, Takes),
    known: &[Taker],
    notes: &mut Notes,
) -> Result<Option<OnSheet>, PlanError> {
    let (
        run::Stuff::Sheet {
            size, margin, gap, ..
        },
        Takes::Shape { bleed },
    ) = (&supply.stuff, takes)
    else {
        return Ok(None);
    };
    let alike =
        |taker: &&Taker| run.pieces[taker.index].blank == piece.blank && taker.takes == takes;
    let lies = if let Some(known) = known.iter().find(alike) {
        known.lies.clone()
    } else {
        let ground = Ground {
            size: *size,
            margin: *margin,
            gap: *gap,
        };
        let outline = piece.on.outline();
        let laid = space::lay(outline, &space::with_bleed(ground, bleed)).map_err(|why| {
            PlanError::Space {
                what: supply.name.clone(),
                why,
            }
        })?;
        (laid.count > 0).then(|| OnSheet {
            count: laid.count,
            how: laid.how,
            rows: laid.rows,
            size: outline.size().map(|side| side + bleed + bleed),
        })
    };
    if lies.is_none() {
        notes.warnings.push(Warning::FitsNoSheet {
            supply: supply.name.clone(),
            piece: piece.name.clone(),
        });
    }
    Ok(lies)
}
