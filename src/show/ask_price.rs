//! What a piece costs and must sell for, in words.

use super::lines::Lines;
use super::words;
use crate::ask::{MarginAnswer, PriceAnswer, SoldAnswer};
use crate::quantity::show::significant;
use crate::quantity::{Money, Share, Show, Units};

/// Width of the headings.
const HEADING: usize = 12;

/// The whole answer, for one screen.
#[must_use]
pub fn price_text(answer: &PriceAnswer) -> String {
    let mut lines = Lines::with_headings_of(HEADING);
    lines.plain(&format!(
        "A good piece costs {}, before any stall{}",
        fine(answer.variable_cost),
        answer
            .currency
            .as_ref()
            .map_or_else(String::new, |name| format!("; all money in {name}"))
    ));
    lines.gap();
    lines.list("Piece", piece(answer));
    lines.list("Floor", floors(answer));
    if let Some(words) = kept(answer) {
        lines.line("Kept", &words);
    }
    if let Some(words) = break_even(answer) {
        lines.line("Break-even", &words);
    }
    if let Some(sold) = &answer.at_sold {
        lines.list("Sold", at_sold(sold, answer.fixed));
    }
    if let Some(shop) = &answer.wholesale {
        lines.line("Wholesale", &wholesale(shop, answer.variable_cost));
    }
    lines.into_text()
}

/// Why no number of pieces will do, and what price would; `None` where one will, or no price was
/// asked.
#[must_use]
pub fn no_price(answer: &PriceAnswer) -> Option<String> {
    let (price, kept, least) = (answer.price?, answer.kept?, answer.least_price?);
    let fair = match (answer.floor_tag, answer.at_sold) {
        (Some(floor), Some(sold)) => format!(
            ", and at {} or more {} sold {} for the fair too",
            cents(floor),
            sold.sold,
            words::pay(sold.sold)
        ),
        _ => String::new(),
    };
    Some(format!(
        "no number of pieces will do it at {}: each sold {} and has cost {}; from {} each adds something{fair}",
        cents(price),
        if kept < Money::ZERO {
            format!("leaves a loss of {}", fine(Money::ZERO - kept))
        } else {
            format!("keeps {}", fine(kept))
        },
        fine(answer.variable_cost),
        cents(least)
    ))
}

/// Money as on a tag.
fn cents(money: Money) -> String {
    money.show(Units::Metric)
}

/// Money with a third decimal where it has one.
fn fine(money: Money) -> String {
    let text = format!("{:.3}", money.amount());
    let text = text.strip_suffix('0').unwrap_or(&text).to_owned();
    if text == "-0.00" {
        "0.00".to_owned()
    } else {
        text
    }
}

fn percent(share: Share) -> String {
    share.show(Units::Metric)
}

/// A share as it is reckoned with, to two decimals or as many as it has, up to four.
fn share(lost: Share) -> String {
    let told = format!("{:.4}", lost.fraction());
    let least = told.len() - 2;
    let kept = told.trim_end_matches('0').len().max(least);
    told[..kept].to_owned()
}

/// How the cost of a piece comes out, line by line.
fn piece(answer: &PriceAnswer) -> Vec<String> {
    let mut lines = vec![format!(
        "{} sunk in each started: {} materials, {} labour",
        fine(answer.sunk),
        fine(answer.materials),
        fine(answer.labour)
    )];
    if answer.lost > Share::ZERO {
        lines.push(format!(
            "{} for {} lost in the work: {} / (1 - {}) carries them",
            fine(answer.lost_work),
            percent(answer.lost),
            fine(answer.sunk),
            share(answer.lost)
        ));
    }
    if answer.packaging > Money::ZERO {
        lines.push(format!(
            "{} packaging and findings, fitted after inspection",
            fine(answer.packaging)
        ));
    }
    lines
}

fn floors(answer: &PriceAnswer) -> Vec<String> {
    let exact = |exact: Money, tag: Money| {
        if fine(exact) == cents(tag) {
            cents(tag)
        } else {
            format!("{} on a tag ({} exactly)", cents(tag), fine(exact))
        }
    };
    let mut lines = vec![format!(
        "{} without the fair: below it each sale loses",
        exact(answer.floor_without_fair, answer.floor_without_fair_tag)
    )];
    if let (Some(floor), Some(tag)) = (answer.floor, answer.floor_tag) {
        lines.push(format!(
            "{} with the fair's {} over the number sold",
            exact(floor, tag),
            cents(answer.fixed)
        ));
    }
    lines
}

fn kept(answer: &PriceAnswer) -> Option<String> {
    let (price, kept) = (answer.price?, answer.kept?);
    let mut less = Vec::new();
    if answer.tax > Share::ZERO {
        less.push(format!("{} of tax inside", percent(answer.tax)));
    }
    if answer.card > Share::ZERO {
        less.push(format!("{} by card", percent(answer.card)));
    }
    if answer.fee_each > Money::ZERO {
        less.push(format!("{} of the fee of a sale", fine(answer.fee_each)));
    }
    let less = if less.is_empty() {
        String::new()
    } else {
        format!(", less {}", less.join(", "))
    };
    let times = answer.multiplier.map_or_else(String::new, |ratio| {
        format!(
            "; the price is {} times the piece's cost",
            significant(ratio.number(), 3)
        )
    });
    let kept = if kept < Money::ZERO {
        format!("a loss of {}", fine(Money::ZERO - kept))
    } else {
        fine(kept)
    };
    Some(format!("{kept} of {}{less}{times}", cents(price)))
}

fn break_even(answer: &PriceAnswer) -> Option<String> {
    if let Some(why) = no_price(answer) {
        return Some(why);
    }
    let (count, adds) = (answer.break_even?, answer.contribution?);
    let pieces = if count == 1 { "piece" } else { "pieces" };
    Some(format!(
        "{count} {pieces} sold {} for the fair: {} / {} that each adds, rounded up",
        words::pay(count),
        cents(answer.fixed),
        fine(adds)
    ))
}

fn at_sold(sold: &SoldAnswer, fixed: Money) -> Vec<String> {
    let n = sold.sold;
    let (s, their) = if n == 1 { ("s", "its") } else { ("", "their") };
    let left = if sold.profit < Money::ZERO {
        format!(
            "{n} sold fall{s} {} short of {their} costs and the fair's {}",
            cents(sold.profit * -1.0),
            cents(fixed)
        )
    } else {
        format!(
            "{n} sold leave{s} {} over {their} costs and the fair's {}",
            cents(sold.profit),
            cents(fixed)
        )
    };
    let mut lines = vec![left];
    if let (Some(pay), Some(hours)) = (sold.pay_per_hour, sold.hours) {
        lines.push(format!(
            "{} an hour over all {}: what is left and {} of labour",
            words::gain(pay, Units::Metric),
            hours.show(Units::Metric),
            cents(sold.labour)
        ));
    }
    lines
}

fn wholesale(shop: &MarginAnswer, v: Money) -> String {
    let times = shop.multiplier.map_or_else(String::new, |ratio| {
        format!(
            ", {} times the piece's cost",
            significant(ratio.number(), 3)
        )
    });
    let adds = if shop.contribution < Money::ZERO {
        format!("loses {}", fine(shop.contribution * -1.0))
    } else {
        format!("adds {}", fine(shop.contribution))
    };
    format!(
        "{}{times}: each {adds} over {}, with no stall, card fee or tax",
        cents(shop.price),
        fine(v)
    )
}
