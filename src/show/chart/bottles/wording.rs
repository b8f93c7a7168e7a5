//! What the picture of a coating's bottles says.

use super::Bottles;
use crate::plan::{BottleStep, EnoughFor};
use crate::quantity::{Show, Units, Volume};
use crate::show::draw::{Words, clean};
use crate::show::words;

/// A volume in the picture's unit.
pub(super) fn in_unit(units: Units, volume: Volume) -> f64 {
    match units {
        Units::Metric => volume.ml(),
        Units::Us => volume.us_fl_oz(),
    }
}

pub(super) const fn unit(units: Units) -> &'static str {
    match units {
        Units::Metric => "mL",
        Units::Us => "fl oz",
    }
}

fn pieces(count: u64) -> String {
    match count {
        1 => "1 piece".to_owned(),
        many => format!("{many} pieces"),
    }
}

/// "1 bottle of 250 mL and 2 of 60 mL".
fn bought(bottles: &Bottles<'_>, step: &BottleStep) -> Vec<String> {
    let each = step.buy.iter().enumerate().map(|(place, (holds, count))| {
        let what = match (place, count) {
            (0, 1) => " bottle",
            (0, _) => " bottles",
            _ => "",
        };
        format!("{count}{what} of {}", holds.show(bottles.units))
    });
    each.collect()
}

/// The finding, in a sentence.
pub(super) fn title(bottles: &Bottles<'_>) -> String {
    let amount = bottles.amount;
    let name = format!("\u{2068}{}\u{2069}", clean(&amount.coating));
    let planned = pieces(amount.planned.pieces);
    let Some(step) = amount.steps.get(amount.bought) else {
        return format!(
            "{name}: {} for {planned}, to be {}",
            amount.planned.needed_sure.show(bottles.units),
            sure(bottles)
        );
    };
    let mut what = bought(bottles, step);
    let many = step.buy.iter().map(|(_, count)| count).sum::<u64>() + u64::from(amount.in_stock);
    if amount.in_stock {
        what.insert(0, "the stock".to_owned());
    }
    let is = if many == 1 { "is" } else { "are" };
    let more = match step.enough_for {
        EnoughFor::Over(most) => format!(
            "and over {} more",
            most.saturating_sub(amount.planned.pieces)
        ),
        EnoughFor::Pieces(most) => match most.saturating_sub(amount.planned.pieces) {
            0 => "and no more".to_owned(),
            more => format!("and {more} more"),
        },
    };
    format!(
        "{name}: {} {is} enough for {planned}, {more}",
        words::list(&what, what.len())
    )
}

/// What the planned pieces take, in a sentence.
pub(super) fn under(bottles: &Bottles<'_>) -> String {
    let amount = bottles.amount;
    let sittings = match (amount.sittings, amount.mixed) {
        (1, false) => "the one sitting".to_owned(),
        (1, true) => "the one mix".to_owned(),
        (many, false) => format!("the {many} sittings"),
        (many, true) => format!("the {many} mixes"),
    };
    let kept = match amount.kinds {
        1 => format!("{sittings} kept"),
        _ => format!("the mix of kinds and {sittings} kept"),
    };
    let take = match amount.planned.pieces {
        1 => "takes",
        _ => "take",
    };
    format!(
        "{} {take} {} on average and {} to be {}; {kept}.",
        words::heading(&pieces(amount.planned.pieces)),
        amount.planned.needed.show(bottles.units),
        amount.planned.needed_sure.show(bottles.units),
        sure(bottles)
    )
}

/// "95 % sure".
pub(super) fn sure(bottles: &Bottles<'_>) -> String {
    format!("{} sure", bottles.amount.sure.show(bottles.units))
}

/// The two lines beside the end of a curve.
pub(super) fn curve(
    bottles: &Bottles<'_>,
    name: &str,
    (count, volume): (u64, Volume),
) -> [String; 2] {
    [
        name.to_owned(),
        format!("{} for {}", volume.show(bottles.units), pieces(count)),
    ]
}

/// The two lines beside a step.
pub(super) fn step(bottles: &Bottles<'_>, step: &BottleStep, over_break: bool) -> [String; 2] {
    let mut what: Vec<String> = (step.buy.iter())
        .map(|(holds, count)| format!("{count} × {}", holds.show(bottles.units)))
        .collect();
    if bottles.amount.in_stock || what.is_empty() {
        what.insert(0, "stock".to_owned());
    }
    let higher = if over_break { ", over the break" } else { "" };
    [
        format!("{}{higher}", what.join(" + ")),
        format!(
            "{}, enough for {}",
            step.covers.show(bottles.units),
            reach(step.enough_for)
        ),
    ]
}

fn reach(enough_for: EnoughFor) -> String {
    match enough_for {
        EnoughFor::Pieces(count) => count.to_string(),
        EnoughFor::Over(count) => format!("over {count}"),
    }
}

/// Title and description for someone who can't see the picture.
pub(super) fn words(bottles: &Bottles<'_>) -> Words {
    let amount = bottles.amount;
    let mut sentences = vec![under(bottles)];
    if let Some(last) = amount.curve.last() {
        sentences.push(format!(
            "{} would take {} on average and {} to be {}.",
            words::heading(&pieces(last.pieces)),
            last.needed.show(bottles.units),
            last.needed_sure.show(bottles.units),
            sure(bottles)
        ));
    }
    for step in &amount.steps {
        let mut what = bought(bottles, step);
        if amount.in_stock || what.is_empty() {
            what.insert(0, "the stock".to_owned());
        }
        sentences.push(format!(
            "{}: {}, enough for {}.",
            words::heading(&words::list(&what, what.len())),
            step.covers.show(bottles.units),
            reach(step.enough_for)
        ));
    }
    Words {
        title: format!("{}.", title(bottles)),
        description: sentences.join(" "),
    }
}
