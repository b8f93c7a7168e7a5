//! A plan's supplies, sizes of bottles and stock as JSON.

use serde::Serialize;

use crate::plan::{FromStock, SizesPlan, Stale, Stuff, SupplyPlan, Taker};
use crate::quantity::{Length, Money, Time};
use crate::run::Takes;

#[derive(Serialize)]
pub(super) struct SupplyJson<'p> {
    name: &'p str,
    kind: &'static str,
    /// Findings or sheets.
    needed: Option<u64>,
    needed_mm: Option<f64>,
    spares_percent: f64,
    have: Option<u32>,
    have_mm: Option<Vec<f64>>,
    stale: Option<f64>,
    spool_mm: Option<f64>,
    /// New spools that no way of cutting goes under.
    spools_at_least: Option<u64>,
    buy: u64,
    packs: u64,
    pack_of: u32,
    bought: u64,
    left_over: u64,
    price: Option<f64>,
    used_cost: Option<f64>,
    delivery_days: Option<f64>,
    cuttings: Vec<CuttingJson<'p>>,
    takers: Vec<TakerJson<'p>>,
}

/// Spools cut alike.
#[derive(Serialize)]
struct CuttingJson<'p> {
    spools: u64,
    new: bool,
    holds_mm: f64,
    /// From each, in the order in which lengths are first taken.
    pieces: &'p [u64],
    left_mm: f64,
}

#[derive(Serialize)]
struct TakerJson<'p> {
    piece: &'p str,
    step: &'p str,
    pieces: u64,
    each: Option<u32>,
    each_mm: Option<f64>,
    bleed_mm: Option<f64>,
    per_sheet: Option<u32>,
}

#[derive(Serialize)]
pub(super) struct SizesJson {
    price: f64,
    left_over_ml: f64,
    chance_percent: f64,
    each: Vec<SizeJson>,
}

#[derive(Serialize)]
struct SizeJson {
    holds_ml: f64,
    price: f64,
    price_per_ml: f64,
    buy: u64,
}

#[derive(Serialize)]
pub(super) struct FromStockJson<'p> {
    piece: &'p str,
    start: u64,
    good: u64,
    runs_out: &'p [String],
    not_counted: &'p [String],
}

impl<'p> SupplyJson<'p> {
    pub(super) fn of(supply: &'p SupplyPlan) -> Self {
        let packs = &supply.packs;
        let (kind, needed, have) = match &supply.stuff {
            Stuff::Each { needed, have } => ("each", Some(*needed), Some(*have)),
            Stuff::Sheet { needed, have, .. } => ("sheet", Some(*needed), Some(*have)),
            Stuff::Cut { .. } => ("cut", None, None),
        };
        let cut = match &supply.stuff {
            Stuff::Cut {
                spool,
                have,
                spools,
            } => Some((spool, have, spools)),
            Stuff::Each { .. } | Stuff::Sheet { .. } => None,
        };
        Self {
            name: &supply.name,
            kind,
            needed,
            needed_mm: cut.map(|(_, _, spools)| spools.taken.mm()),
            spares_percent: supply.spares.percent(),
            have,
            have_mm: cut.map(|(_, have, _)| have.iter().map(|end| end.mm()).collect()),
            stale: supply.stale.map(stale),
            spool_mm: cut.map(|(spool, ..)| spool.mm()),
            spools_at_least: cut.map(|(_, _, spools)| spools.at_least),
            buy: packs.buy,
            packs: packs.packs,
            pack_of: supply.pack_of,
            bought: packs.bought,
            left_over: packs.left_over,
            price: packs.price.map(Money::amount),
            used_cost: packs.used_cost.map(Money::amount),
            delivery_days: supply.delivery.map(Time::days),
            cuttings: cut
                .iter()
                .flat_map(|(_, _, spools)| &spools.cuttings)
                .map(|way| CuttingJson {
                    spools: way.spools,
                    new: way.new,
                    holds_mm: way.holds.mm(),
                    pieces: &way.pieces,
                    left_mm: way.left.mm(),
                })
                .collect(),
            takers: (supply.takers.iter().enumerate())
                .map(|(place, taker)| TakerJson::of(taker, &supply.stuff, place))
                .collect(),
        }
    }
}

impl<'p> TakerJson<'p> {
    fn of(taker: &'p Taker, stuff: &Stuff, place: usize) -> Self {
        let lies = match stuff {
            Stuff::Sheet { lies, .. } => lies[place].as_ref(),
            Stuff::Each { .. } | Stuff::Cut { .. } => None,
        };
        let (mut each, mut length, mut bleed) = (None, None, None);
        match taker.takes {
            Takes::Count(count) => each = Some(count),
            Takes::Length(of) => length = Some(of),
            Takes::Shape { bleed: by } => bleed = Some(by),
        }
        Self {
            piece: &taker.piece,
            step: &taker.step,
            pieces: taker.pieces,
            each,
            each_mm: length.map(Length::mm),
            bleed_mm: bleed.map(Length::mm),
            per_sheet: lies.map(|lies| lies.count),
        }
    }
}

impl SizesJson {
    pub(super) fn of(sizes: &SizesPlan) -> Self {
        Self {
            price: sizes.price.amount(),
            left_over_ml: sizes.left_over.ml(),
            chance_percent: sizes.chance.percent(),
            each: sizes
                .sizes
                .iter()
                .map(|size| SizeJson {
                    holds_ml: size.holds.ml(),
                    price: size.price.amount(),
                    price_per_ml: size.per_ml.amount(),
                    buy: size.buy,
                })
                .collect(),
        }
    }
}

impl<'p> FromStockJson<'p> {
    pub(super) fn of(piece: &'p FromStock) -> Self {
        Self {
            piece: &piece.piece,
            start: piece.started,
            good: piece.good,
            runs_out: &piece.runs_out,
            not_counted: &piece.not_counted,
        }
    }
}

/// How many findings, sheets or open spools, bottles or pens.
pub(super) fn stale(stock: Stale) -> f64 {
    match stock {
        Stale::Bottles(count) | Stale::Pens(count) => count,
        Stale::Each(count) | Stale::Sheets(count) => f64::from(count),
        Stale::Spools(count) => f64::from(u32::try_from(count).unwrap_or(u32::MAX)),
    }
}
