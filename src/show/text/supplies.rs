//! What else pieces take, bottles of several sizes, and what the stock alone makes.

use super::page::Page;
use crate::plan::{CoatingPlan, FromStock, OnSheet, Plan, SizePlan, Stuff, SupplyPlan, Taker};
use crate::quantity::show::significant;
use crate::quantity::{Money, Show, Units, Volume};
use crate::run::Takes;
use crate::show::words;
use crate::space::How;

/// At most this many are named in a row.
const MOST: usize = 4;

/// "62 needed", "7.4 m in 41 pieces", "3 sheets".
pub(in crate::show) fn needed(supply: &SupplyPlan, units: Units) -> String {
    let with = if supply.spares.fraction() > 0.0 {
        format!(", {} spares among them", supply.spares.show(units))
    } else {
        String::new()
    };
    match &supply.stuff {
        Stuff::Each { needed, .. } => format!("{needed} needed{with}"),
        Stuff::Cut { spools, .. } => {
            let cut = spools.cuttings.iter();
            let pieces: u64 = cut
                .map(|way| way.spools * way.pieces.iter().sum::<u64>())
                .sum();
            format!(
                "{} needed, in {pieces} pieces{with}",
                spools.taken.show(units)
            )
        }
        Stuff::Sheet { needed, .. } => match needed {
            1 => format!("1 sheet needed{with}"),
            many => format!("{many} sheets needed{with}"),
        },
    }
}

/// Every supply, then what the stock alone makes.
pub(super) fn write(plan: &Plan, page: &mut Page) {
    let units = plan.header.units;
    if !plan.supplies.is_empty() {
        page.heading("What else it takes");
        for supply in &plan.supplies {
            write_supply(supply, units, page);
        }
    }
    // who tells of no blanks does not ask what they make
    if plan.blanks.iter().any(|blank| blank.have > 0) {
        page.heading("From what is in stock alone, each as if nothing else were made");
        for piece in &plan.from_stock {
            page.item(&from_stock(piece));
        }
    }
}

fn from_stock(piece: &FromStock) -> String {
    let not_counted = if piece.not_counted.is_empty() {
        String::new()
    } else {
        format!(
            "; {} not counted, for the run does not say what is in stock or how far it goes",
            words::list(&piece.not_counted, MOST)
        )
    };
    let runs_out = words::list(&piece.runs_out, MOST);
    if piece.started == 0 {
        return format!(
            "{}: not one, for want of {runs_out}{not_counted}",
            piece.piece
        );
    }
    format!(
        "{}: start {} to end with {}; first to run out: {runs_out}{not_counted}",
        piece.piece, piece.started, piece.good
    )
}

fn write_supply(supply: &SupplyPlan, units: Units, page: &mut Page) {
    let packs = &supply.packs;
    let bought = match (packs.packs, supply.pack_of) {
        (0, _) => "buy none".to_owned(),
        (packs, 1) => format!("buy {packs}"),
        (count, of) => format!("buy {count} x {of} = {}", packs.bought),
    };
    page.item(&format!(
        "{}: {}; {}: {bought}, {}{}",
        supply.name,
        needed(supply, units),
        stock(supply, units),
        left_over(supply, units),
        cost(supply, units)
    ));
    for (place, taker) in supply.takers.iter().enumerate() {
        let lies = match &supply.stuff {
            Stuff::Sheet { lies, .. } => lies[place].as_ref(),
            Stuff::Each { .. } | Stuff::Cut { .. } => None,
        };
        page.under(&taken(taker, lies, units));
    }
    if let Stuff::Cut { spools, .. } = &supply.stuff
        && spools.at_least < spools.new
    {
        page.under(&format!(
            "{} new spools may do with cleverer cutting; fewer can't",
            spools.at_least
        ));
    }
}

pub(in crate::show) fn stock(supply: &SupplyPlan, units: Units) -> String {
    let counted = match &supply.stuff {
        Stuff::Each { have, .. } | Stuff::Sheet { have, .. } => format!("have {have}"),
        Stuff::Cut { have, .. } if have.is_empty() => "have 0".to_owned(),
        Stuff::Cut { have, .. } => {
            let ends: Vec<String> = have.iter().map(|end| end.show(units)).collect();
            format!("have {}", words::list(&ends, MOST))
        }
    };
    match supply.stale {
        Some(_) => format!("{counted} that is within its date"),
        None => counted,
    }
}

pub(in crate::show) fn left_over(supply: &SupplyPlan, units: Units) -> String {
    let Stuff::Cut { spools, .. } = &supply.stuff else {
        return format!("{} left over", supply.packs.left_over);
    };
    let ends = spools.cuttings.iter().filter(|way| way.left.mm() >= 1.0);
    let ends: Vec<String> = ends
        .map(|way| match way.spools {
            1 => way.left.show(units),
            many => format!("{many} x {}", way.left.show(units)),
        })
        .collect();
    let whole = match supply.packs.left_over {
        0 => String::new(),
        whole => format!(" and {whole} whole"),
    };
    if ends.is_empty() {
        format!("no ends left over{whole}")
    } else {
        format!("ends of {} left over{whole}", words::list(&ends, MOST))
    }
}

fn cost(supply: &SupplyPlan, units: Units) -> String {
    let (Some(bought), Some(used)) = (supply.packs.price, supply.packs.used_cost) else {
        return String::new();
    };
    format!(
        "; {} to pay, and what is used up is worth {}",
        bought.show(units),
        used.show(units)
    )
}
/// "mooring fob: 45 come to "hang", 1 each".
pub(in crate::show) fn taken(taker: &Taker, lies: Option<&OnSheet>, units: Units) -> String {
    let each = match taker.takes {
        Takes::Count(1) => "1 each".to_owned(),
        Takes::Count(many) => format!("{many} each"),
        Takes::Length(length) => format!("{} each", length.show(units)),
        Takes::Shape { bleed } if bleed.mm() > 0.0 => {
            format!("a shape each, {} larger all around", bleed.show(units))
        }
        Takes::Shape { .. } => "a shape each".to_owned(),
    };
    let lies = lies
        .map(|lies| format!("; {} to a sheet, {}", lies.count, how(lies)))
        .unwrap_or_default();
    format!(
        "{}: {} come to \"{}\", {each}{lies}",
        taker.piece, taker.pieces, taker.step
    )
}

fn how(lies: &OnSheet) -> String {
    let rows = lies.rows.as_ref().map(|rows| {
        let count = rows.counts.len();
        let plural = if count == 1 { "row" } else { "rows" };
        let least = rows.counts.iter().min().copied().unwrap_or_default();
        let most = rows.counts.iter().max().copied().unwrap_or_default();
        let of = if least == most {
            format!("{most}")
        } else {
            format!("{most} and {least}")
        };
        format!("{count} {plural} of {of}")
    });
    let Some(rows) = rows else {
        return "in no rows".to_owned();
    };
    let lie = match lies.how {
        How::Straight => "straight",
        How::Staggered => "every other one shifted along",
        How::Slanted => "each shifted along from the last",
        How::Alternating => "pieces turned about by turns",
        How::Mixed => "some turned",
    };
    format!("in {rows}, {lie}")
}

/// "1 bottle of 250 mL and 2 bottles of 60 mL": what to buy of several sizes.
/// `None`: nothing, or only bottles of the size that the rest of the plan speaks of.
pub(super) fn cheapest(coating: &CoatingPlan, units: Units) -> Option<String> {
    let sizes = &coating.sizes.as_ref()?.sizes;
    let others = sizes.iter().skip(1).any(|size| size.buy > 0);
    others.then(|| bottles(sizes, units))
}

fn bottles(sizes: &[SizePlan], units: Units) -> String {
    let bought = sizes.iter().filter(|size| size.buy > 0);
    let bought: Vec<String> = bought
        .map(|size| match size.buy {
            1 => format!("1 bottle of {}", size.holds.show(units)),
            many => format!("{many} bottles of {}", size.holds.show(units)),
        })
        .collect();
    words::list(&bought, MOST)
}

/// The cheapest bottles and what a millilitre costs in each size.
pub(super) fn write_sizes(coating: &CoatingPlan, units: Units, page: &mut Page) {
    let Some(sizes) = &coating.sizes else {
        return;
    };
    let each: Vec<String> = sizes
        .sizes
        .iter()
        .map(|size| {
            format!(
                "{} at {}: {}",
                size.holds.show(units),
                size.price.show(units),
                per_unit(size.per_ml, units)
            )
        })
        .collect();
    let buy = if sizes.sizes.iter().all(|size| size.buy == 0) {
        "nothing to buy".to_owned()
    } else {
        format!(
            "cheapest to buy: {}, {} in all; enough: {}",
            bottles(&sizes.sizes, units),
            sizes.price.show(units),
            words::percent(sizes.chance)
        )
    };
    let unit = match units {
        Units::Metric => "mL",
        Units::Us => "fluid ounce",
    };
    page.under(&format!("{buy}. What a {unit} costs, {}", each.join("; ")));
}

/// What a millilitre or a fluid ounce costs in three figures, for it costs little.
fn per_unit(per_ml: Money, units: Units) -> String {
    let millilitres = match units {
        Units::Metric => 1.0,
        Units::Us => Volume::from_us_fl_oz(1.0).ml(),
    };
    significant(per_ml.amount() * millilitres, 3)
}
