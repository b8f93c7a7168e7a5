//! What to buy, in words: each thing with what is in stock of it and what is needed.

use super::supplies::cheapest;
use crate::plan::{BlankPlan, CoatingPlan, DrawnPlan, Plan, Stuff, SupplyPlan};
use crate::quantity::{Show, Units};
use crate::show::mixing::TOGETHER;
use crate::show::words;

/// One thing to buy.
pub(super) struct Buying {
    /// "2 packs of disc magnet (25)".
    pub packs: String,
    /// ", with the 12 in stock", or nothing.
    stock: String,
    /// "62 needed with spares".
    needed: String,
}

impl Buying {
    /// "2 packs of disc magnet (25), with the 12 in stock".
    fn in_short(&self) -> String {
        format!("{}{}", self.packs, self.stock)
    }

    /// "2 packs of disc magnet (25), with the 12 in stock: 62 needed with spares".
    pub(super) fn in_full(&self) -> String {
        format!("{}: {}", self.in_short(), self.needed)
    }
}

/// What has to be bought, each in a few words.
#[must_use]
pub fn to_buy(plan: &Plan) -> Vec<String> {
    let units = plan.header.units;
    let coatings = plan.coatings.iter().map(|coating| bottles(coating, units));
    let pens = plan.drawn.iter().map(pen);
    let blanks = plan.blanks.iter().map(blanks);
    let supplies = plan.supplies.iter().map(|of| supply(of, units));
    (coatings.chain(pens).chain(blanks).chain(supplies))
        .map(|thing| thing.in_short())
        .collect()
}

/// "3 packs of beech disc (25), with the 12 in stock: start 67 to end with 60".
pub(super) fn blanks(blank: &BlankPlan) -> Buying {
    let packs = match (blank.packs, blank.pack_of) {
        (0, _) => format!("no more {}", blank.name),
        (packs, 1) => format!("{packs} {}", blank.name),
        (1, of) => format!("1 pack of {} ({of})", blank.name),
        (packs, of) => format!("{packs} packs of {} ({of})", blank.name),
    };
    let stock = if blank.have > 0 {
        format!(", with the {} in stock", blank.have)
    } else {
        String::new()
    };
    Buying {
        packs,
        stock,
        needed: format!("start {} to end with {}", blank.start, blank.wanted),
    }
}

/// "3 bottles of dome glaze (60 mL): uses 139 mL, 158 mL to be sure; 2 would do 1 time in 3".
pub(super) fn bottles(coating: &CoatingPlan, units: Units) -> Buying {
    let amounts = format!(
        "uses {}, {} to be sure",
        coating.needed.show(units),
        coating.needed_sure.show(units)
    );
    let name = &coating.name;
    let kit = coating
        .mix
        .as_ref()
        .map_or_else(String::new, |_| format!(", {TOGETHER}"));
    let (Some(bottle), Some(bottles)) = (&coating.bottle, &coating.bottles) else {
        return Buying {
            packs: format!("{} of {name}", coating.needed_sure.show(units)),
            stock: ", if not in stock".to_owned(),
            needed: format!("no bottle or price is told of; {amounts}"),
        };
    };
    if let Some(cheapest) = cheapest(coating, units) {
        return Buying {
            packs: format!("{name}{kit}, the cheapest way: {cheapest}"),
            stock: String::new(),
            needed: amounts,
        };
    }
    let holds = format!("{}{kit}", bottle.holds.show(units));
    let (packs, stock) = match bottles.buy {
        0 => (format!("no {name}"), STOCK_DOES),
        1 => (format!("1 bottle of {name} ({holds})"), ""),
        many => (format!("{many} bottles of {name} ({holds})"), ""),
    };
    let fewer = bottles
        .chances
        .iter()
        .find(|near| near.bottles + 1 == bottles.buy && near.chance.percent() >= 2.0)
        .map(|near| {
            let count = match near.bottles {
                0 => "the stock alone".to_owned(),
                count => count.to_string(),
            };
            format!("; {count} would do {}", words::chance(near.chance))
        })
        .unwrap_or_default();
    Buying {
        packs,
        stock: stock.to_owned(),
        needed: format!("{amounts}{fewer}"),
    }
}

const STOCK_DOES: &str = ", the stock does";

/// "night pen for 12 pieces, if not in stock: how far one goes is not worked out".
pub(super) fn pen(pen: &DrawnPlan) -> Buying {
    Buying {
        packs: format!("{} for {}", pen.name, words::pieces(pen.pieces)),
        stock: format!(", {}", words::pens(pen)),
        needed: "how far one goes is not worked out".to_owned(),
    }
}

/// "2 packs of disc magnet (25): 62 needed with spares".
pub(super) fn supply(supply: &SupplyPlan, units: Units) -> Buying {
    let name = &supply.name;
    let packs = match (supply.packs.packs, supply.pack_of, &supply.stuff) {
        (0, ..) => format!("no more {name}"),
        (1, 1, Stuff::Cut { spool, .. }) => format!("1 spool of {name} ({})", spool.show(units)),
        (many, 1, Stuff::Cut { spool, .. }) => {
            format!("{many} spools of {name} ({})", spool.show(units))
        }
        (1, 1, Stuff::Sheet { .. }) => format!("1 sheet of {name}"),
        (many, 1, Stuff::Sheet { .. }) => format!("{many} sheets of {name}"),
        (many, 1, Stuff::Each { .. }) => format!("{many} {name}"),
        (1, of, _) => format!("1 pack of {name} ({of})"),
        (many, of, _) => format!("{many} packs of {name} ({of})"),
    };
    let stock = match &supply.stuff {
        _ if supply.packs.packs == 0 => STOCK_DOES.to_owned(),
        Stuff::Each { have, .. } | Stuff::Sheet { have, .. } if *have > 0 => {
            format!(", with the {have} in stock")
        }
        Stuff::Cut { have, .. } if !have.is_empty() => ", with the open ones in stock".to_owned(),
        Stuff::Each { .. } | Stuff::Cut { .. } | Stuff::Sheet { .. } => String::new(),
    };
    Buying {
        packs,
        stock,
        needed: super::supplies::needed(supply, units),
    }
}
