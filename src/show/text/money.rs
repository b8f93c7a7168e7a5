//! What pieces cost and must sell for, in words.

use super::page::Page;
use crate::cost::{BreakEven, KindOutcome, Line, Margin};
use crate::plan::{MoneyPlan, PieceMoney, Plan};
use crate::quantity::show::significant;
use crate::quantity::{Money, Show, Units};
use crate::show::words;

/// The lines of the first screen.
pub(super) fn first_screen(plan: &Plan) -> Vec<String> {
    let Some(money) = &plan.money else {
        return Vec::new();
    };
    let units = plan.header.units;
    let mut lines: Vec<String> = (money.pieces.iter())
        .map(|piece| in_short(piece, units))
        .collect();
    lines.extend(together(money, units));
    lines
}

/// "tide magnet: 2.31 a good one; loses under 2.36, at 4.50 leaves 2.10".
fn in_short(piece: &PieceMoney, units: Units) -> String {
    let leaves = |where_to: &str, price: Money, margin: Margin| {
        format!(
            ", {where_to} {} leaves {}",
            price.show(units),
            words::gain(margin.contribution, units)
        )
    };
    let at = match (piece.at_fair(), piece.wholesale) {
        (Some(fair), _) => leaves("at", fair.price, fair.margin),
        (None, Some(shop)) => leaves("to a shop at", shop.price, shop.margin),
        (None, None) => String::new(),
    };
    let work = if piece.variable.labour > Money::ZERO {
        "work included"
    } else {
        "work not counted"
    };
    format!(
        "{}: {} a good one, {work}; loses under {}{at}",
        piece.name,
        piece.variable.each.used.show(units),
        piece.floor.tag.show(units)
    )
}

/// How the kinds pay for the fair together.
fn together(money: &MoneyPlan, units: Units) -> Option<String> {
    let free = money.fixed_total == Money::ZERO;
    let fixed = money.fixed_total.show(units);
    if money.offered == 0 && !free {
        return Some(format!(
            "the fair costs {fixed} {}, and no piece that goes there has a price to pay for it",
            money.currency
        ));
    }
    let without = match money.no_price.as_slice() {
        [] => String::new(),
        [one] => format!("; {one} is not counted in this, for it has no price"),
        many => format!(
            "; {} are not counted in this, for they have no price",
            words::list(many, 4)
        ),
    };
    let leaves = money.outcome.as_ref().map(|left| {
        let hour = left
            .pay_per_hour
            .map(|pay| {
                let pay = words::gain(pay, units);
                // the wage is no cost of such an hour but a part of what it earns
                let wage = money.labour.filter(|rate| *rate > Money::ZERO);
                let wage = wage.map_or("", |_| ", wage included");
                format!(", {pay} for each hour {}{wage}", worked(money))
            })
            .unwrap_or_default();
        format!(
            "sold as planned, the fair leaves {}, what is unsold paid for{hour}{without}",
            words::gain(left.in_hand, units)
        )
    });
    if free {
        return leaves;
    }
    let shared = money.shared.as_ref()?;
    let Some(pieces) = shared.pieces else {
        return Some(format!(
            "no number of pieces pays for the fair's {fixed} {}",
            money.currency
        ));
    };
    let leaves = leaves.map_or_else(String::new, |leaves| format!("; {leaves}"));
    let in_the_mix = if shared.kinds.len() > 1 {
        " in the mix"
    } else {
        ""
    };
    let over = if money.needs_more_than_made() {
        format!(", more than the {} that you make", money.offered)
    } else {
        String::new()
    };
    Some(format!(
        "{pieces} sold{in_the_mix} {} for the fair's {fixed} {}{over}{leaves}",
        words::pay(pieces),
        money.currency
    ))
}

/// Which hours earn so much each.
fn worked(money: &MoneyPlan) -> &'static str {
    if money.shops.is_some() {
        "worked for it"
    } else {
        "worked"
    }
}

/// Line by line.
pub(super) fn write(plan: &Plan, page: &mut Page) {
    let Some(money) = &plan.money else {
        return;
    };
    let units = plan.header.units;
    page.heading(&format!("Money, in {}", money.currency));
    let fixed: Vec<String> = (money.fixed.iter())
        .map(|line| format!("{} {}", line.amount.show(units), line.name))
        .collect();
    if fixed.is_empty() {
        page.item("the file names nothing that the fair costs");
    } else {
        page.item(&format!(
            "the fair costs {}: {}",
            money.fixed_total.show(units),
            fixed.join(", ")
        ));
    }
    page.item(&format!(
        "of a price are kept: the price {}, less {} by card{}",
        match money.terms.tax.fraction() {
            tax if tax > 0.0 => format!("without {} tax", money.terms.tax.show(units)),
            _ => "as it stands".to_owned(),
        },
        money.terms.card.show(units),
        if money.terms.sale_fee > Money::ZERO {
            format!(
                " and {} {}",
                money.terms.sale_fee.show(units),
                words::a_sale(money.terms.per_sale)
            )
        } else {
            String::new()
        }
    ));
    for piece in &money.pieces {
        write_piece(piece, money, units, page);
    }
    write_together(money, units, page);
    page.item(&format!(
        "to pay now for all that is bought: {}",
        money.to_buy.show(units)
    ));
    if !money.unpriced.is_empty() {
        page.item(&format!(
            "without a price or an amount, and so left out of all this: {}",
            money.unpriced.join(", ")
        ));
    }
}

fn write_piece(piece: &PieceMoney, money: &MoneyPlan, units: Units, page: &mut Page) {
    page.item(&format!(
        "{}: {} a good one counting what is used, {} counting all that is bought",
        piece.name,
        piece.variable.each.used.show(units),
        piece.variable.each.bought.show(units)
    ));
    let minutes = piece.lines.labour.time.show(units);
    let work = match money.labour {
        Some(rate) => format!(
            ", {} for {minutes} of work at {} an hour",
            piece.variable.labour.show(units),
            rate.show(units)
        ),
        None => format!("; {minutes} of work, not paid"),
    };
    page.under(&format!(
        "sunk in each one started: {}{work}; over {} that come good that is {}",
        lines(&piece.lines.started, units),
        (crate::quantity::Share::from_fraction(1.0 - piece.lines.lost.fraction())).show(units),
        (piece.variable.sunk.used + piece.variable.lost_work.used).show(units)
    ));
    if !piece.lines.fitted.is_empty() {
        page.under(&format!(
            "fitted to good ones: {}",
            lines(&piece.lines.fitted, units)
        ));
    }
    page.under(&format!(
        "lowest price {}{}; on average {}, {} scrap and {} good ones more than wanted",
        piece.floor.tag.show(units),
        piece
            .floor_with_fair
            .filter(|_| money.fixed_total > Money::ZERO)
            .map_or_else(String::new, |floor| format!(
                ", or {} if every piece sold carries an equal part of the fair",
                floor.tag.show(units)
            )),
        counted_seconds(piece.seconds),
        piece.scrap,
        piece.spare
    ));
    if let Some(at) = piece.at_fair() {
        let even = match at.break_even {
            _ if money.fixed_total == Money::ZERO => String::new(),
            BreakEven::Pieces { count, .. } => format!("; alone, {count} would pay for the fair"),
            BreakEven::Never { least_price, .. } => format!(
                "; no number of them pays for the fair; it takes {} or more",
                least_price.show(units)
            ),
        };
        page.under(&format!(
            "at {}: {} kept, {} over its cost{}{even}",
            at.price.show(units),
            words::gain(at.margin.kept, units),
            words::gain(at.margin.contribution, units),
            multiplier(at.margin.multiplier)
        ));
    }
    if let Some(shop) = piece.wholesale {
        page.under(&format!(
            "{} to a shop at {}: {} over its cost{}",
            shop.count,
            shop.price.show(units),
            words::gain(shop.margin.contribution, units),
            multiplier(shop.margin.multiplier)
        ));
    }
}

fn multiplier(times: Option<crate::quantity::Ratio>) -> String {
    times.map_or_else(String::new, |times| {
        format!(" (price {} times cost)", significant(times.number(), 3))
    })
}

fn lines(lines: &[Line], units: Units) -> String {
    if lines.is_empty() {
        return "nothing with a price".to_owned();
    }
    let told: Vec<String> = lines
        .iter()
        .map(|line| format!("{} {}", line.cost.used.show(units), line.name))
        .collect();
    told.join(", ")
}

/// What becomes of a kind's seconds: "; of 2 seconds 1 sold at 2.70".
fn seconds(piece: &PieceMoney, kind: &KindOutcome, units: Units) -> String {
    match (piece.seconds, piece.second_price) {
        (0, _) => String::new(),
        (all, Some(price)) => format!(
            "; of {} {} sold at {}",
            counted_seconds(all),
            kind.seconds_sold,
            price.show(units)
        ),
        (all, None) => format!("; {} not sold", counted_seconds(all)),
    }
}

fn counted_seconds(count: u64) -> String {
    match count {
        1 => "1 second".to_owned(),
        many => format!("{many} seconds"),
    }
}

/// What the hours are that the fair has to pay for.
fn hours_of(money: &MoneyPlan) -> &'static str {
    if money.shops.is_some() {
        "of selling and of work on what goes to the fair, those for the shops' pieces left out"
    } else {
        "of work and selling"
    }
}

fn write_together(money: &MoneyPlan, units: Units, page: &mut Page) {
    if let Some(words) = together(money, units) {
        page.item(&words);
    }
    if let Some(shared) = money
        .shared
        .as_ref()
        .filter(|_| money.fixed_total > Money::ZERO)
    {
        let priced = money
            .pieces
            .iter()
            .filter(|piece| piece.at_fair().is_some());
        for (piece, share) in priced.zip(&shared.kinds) {
            if let Some(count) = share.in_mix {
                page.under(&format!(
                    "{count} × {}, which bears {} of it by what it leaves",
                    piece.name,
                    share.fixed.show(units)
                ));
            }
        }
    }
    if let Some(shops) = money.shops {
        page.under(&format!(
            "shops leave {} over cost beside that",
            words::gain(shops, units)
        ));
    }
    if let Some(left) = &money.outcome {
        let sold = money.pieces.iter().filter(|piece| piece.is_sold_at_fair());
        for (piece, kind) in sold.zip(&left.kinds) {
            page.under(&format!(
                "{}: {} sold, {} left over, worth {} at cost{}",
                piece.name,
                kind.sold,
                kind.left_over,
                kind.left_at_cost.show(units),
                seconds(piece, kind, units)
            ));
        }
        page.under(&format!(
            "{} {}; {} if what is left over is counted at its cost",
            words::work(left.hours),
            hours_of(money),
            words::gain(left.profit, units)
        ));
    }
}
