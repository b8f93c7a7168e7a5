//! Money as JSON, in the run's currency.

use serde::Serialize;

use crate::cost::{BreakEven, Cost, Line};
use crate::plan::{MoneyPlan, PieceMoney, Plan};
use crate::quantity::{Money, Ratio};

#[derive(Serialize)]
pub(super) struct MoneyJson<'p> {
    currency: &'p str,
    /// Cost of a good piece, by its name.
    per_piece: Vec<AmountJson<'p>>,
    /// Lowest price of each without the fair, by its name.
    floor: Vec<AmountJson<'p>>,
    /// Pieces sold in the mix that pay for the fair. `None`: no number does, or none has a price.
    break_even: Option<u64>,
    break_even_share_of_made: Option<f64>,
    /// Good ones for the fair of all kinds that have a price.
    offered: u64,
    /// Whether `break_even` is more than that.
    break_even_over_offered: bool,
    /// Kinds that go to the fair without a price: neither `break_even` nor `left` counts them.
    no_price: &'p [String],
    fixed: f64,
    fixed_lines: Vec<AmountJson<'p>>,
    card_fee_percent: f64,
    sale_fee: f64,
    pieces_per_sale: f64,
    sales_tax_percent: f64,
    labour_per_h: Option<f64>,
    pieces: Vec<PieceJson<'p>>,
    left: Option<LeftJson>,
    shops: Option<f64>,
    to_buy: f64,
    unpriced: &'p [String],
}

#[derive(Serialize)]
struct AmountJson<'p> {
    what: &'p str,
    amount: f64,
}

#[derive(Serialize)]
struct CostJson {
    used: f64,
    bought: f64,
}

#[derive(Serialize)]
struct LineJson<'p> {
    what: &'p str,
    used: f64,
    bought: f64,
}

#[derive(Serialize)]
struct PieceJson<'p> {
    piece: &'p str,
    variable_cost: CostJson,
    sunk_per_started: CostJson,
    lost_percent: f64,
    started_lines: Vec<LineJson<'p>>,
    labour_min_per_started: f64,
    labour_per_started: f64,
    fitted_lines: Vec<LineJson<'p>>,
    floor: f64,
    floor_exact: f64,
    floor_with_fair: Option<f64>,
    price: Option<f64>,
    kept: Option<f64>,
    contribution: Option<f64>,
    price_over_cost: Option<f64>,
    break_even_alone: Option<u64>,
    least_price: Option<f64>,
    for_fair: u64,
    sold_percent: f64,
    spare: u64,
    seconds: u64,
    second_price: Option<f64>,
    scrap: u64,
    wholesale: Option<ShopJson>,
}

#[derive(Serialize)]
struct ShopJson {
    count: u32,
    price: f64,
    contribution: f64,
    price_over_cost: Option<f64>,
}

#[derive(Serialize)]
struct LeftJson {
    kept: f64,
    in_hand: f64,
    profit: f64,
    left_over_at_cost: f64,
    hours: f64,
    pay_per_h: Option<f64>,
}

fn cost(cost: Cost) -> CostJson {
    CostJson {
        used: cost.used.amount(),
        bought: cost.bought.amount(),
    }
}

fn line(line: &Line) -> LineJson<'_> {
    LineJson {
        what: &line.name,
        used: line.cost.used.amount(),
        bought: line.cost.bought.amount(),
    }
}

/// A plan's money; none where the run says nothing of selling.
pub(super) fn money(plan: &Plan) -> Option<MoneyJson<'_>> {
    plan.money.as_ref().map(of)
}

fn of(money: &MoneyPlan) -> MoneyJson<'_> {
    let each = |amount: &dyn Fn(&PieceMoney) -> Money| {
        let pieces = money.pieces.iter();
        pieces
            .map(|piece| AmountJson {
                what: &piece.name,
                amount: amount(piece).amount(),
            })
            .collect()
    };
    let shared = money.shared.as_ref();
    MoneyJson {
        currency: &money.currency,
        per_piece: each(&|piece| piece.variable.each.used),
        floor: each(&|piece| piece.floor.tag),
        break_even: shared.and_then(|shared| shared.pieces),
        break_even_share_of_made: shared.and_then(|shared| Some(shared.sell?.number())),
        offered: money.offered,
        break_even_over_offered: money.needs_more_than_made(),
        no_price: &money.no_price,
        fixed: money.fixed_total.amount(),
        fixed_lines: (money.fixed.iter())
            .map(|line| AmountJson {
                what: &line.name,
                amount: line.amount.amount(),
            })
            .collect(),
        card_fee_percent: money.terms.card.percent(),
        sale_fee: money.terms.sale_fee.amount(),
        pieces_per_sale: money.terms.per_sale.number(),
        sales_tax_percent: money.terms.tax.percent(),
        labour_per_h: money.labour.map(Money::amount),
        pieces: money.pieces.iter().map(piece).collect(),
        left: money.outcome.as_ref().map(|left| LeftJson {
            kept: left.kept.amount(),
            in_hand: left.in_hand.amount(),
            profit: left.profit.amount(),
            left_over_at_cost: left.left_at_cost.amount(),
            hours: left.hours.h(),
            pay_per_h: left.pay_per_hour.map(Money::amount),
        }),
        shops: money.shops.map(Money::amount),
        to_buy: money.to_buy.amount(),
        unpriced: &money.unpriced,
    }
}

fn piece(piece: &PieceMoney) -> PieceJson<'_> {
    let (alone, least) = match piece.at_price.map(|at| at.break_even) {
        Some(BreakEven::Pieces { count, .. }) => (Some(count), None),
        Some(BreakEven::Never { least_price, .. }) => (None, Some(least_price.amount())),
        None => (None, None),
    };
    PieceJson {
        piece: &piece.name,
        variable_cost: cost(piece.variable.each),
        sunk_per_started: cost(piece.variable.sunk),
        lost_percent: piece.lines.lost.percent(),
        started_lines: piece.lines.started.iter().map(line).collect(),
        labour_min_per_started: piece.lines.labour.time.min(),
        labour_per_started: piece.variable.labour.amount(),
        fitted_lines: piece.lines.fitted.iter().map(line).collect(),
        floor: piece.floor.tag.amount(),
        floor_exact: piece.floor.exact.amount(),
        floor_with_fair: piece.floor_with_fair.map(|floor| floor.tag.amount()),
        price: piece.at_price.map(|at| at.price.amount()),
        kept: piece.at_price.map(|at| at.margin.kept.amount()),
        contribution: piece.at_price.map(|at| at.margin.contribution.amount()),
        price_over_cost: piece
            .at_price
            .and_then(|at| Some(at.margin.multiplier?.number())),
        break_even_alone: alone,
        least_price: least,
        for_fair: piece.for_fair,
        sold_percent: piece.sold.percent(),
        spare: piece.spare,
        seconds: piece.seconds,
        second_price: piece.second_price.map(Money::amount),
        scrap: piece.scrap,
        wholesale: piece.wholesale.map(|shop| ShopJson {
            count: shop.count,
            price: shop.price.amount(),
            contribution: shop.margin.contribution.amount(),
            price_over_cost: shop.margin.multiplier.map(Ratio::number),
        }),
    }
}
