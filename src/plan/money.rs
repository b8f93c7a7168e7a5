//! What pieces cost, what they must sell for, and what the fair leaves.

use super::till::Till;
use super::{Notes, PlanError, Warning};
use crate::cost::{
    Basis, BreakEven, CostError, Fair, FixedLine, Floor, Kind, Margin, Offer, Outcome, PieceLines,
    Shared, Terms, Variable, break_even, fixed_cost, floor_with_fair, floor_without_fair, margin,
    outcome, shared, sold_of,
};
use crate::quantity::{Money, Ratio, Share, Time};
use crate::run::Selling;

/// The money of a run.
#[derive(Debug, Clone, PartialEq)]
pub struct MoneyPlan {
    /// What it is in.
    pub currency: String,
    /// What the fair costs whatever is sold, line by line.
    pub fixed: Vec<FixedLine>,
    /// The sum of those.
    pub fixed_total: Money,
    /// What an hour's work is paid. `None`: it is not counted.
    pub labour: Option<Money>,
    /// What the fair takes out of a price.
    pub terms: Terms,
    /// Each kind of piece, in the run's order.
    pub pieces: Vec<PieceMoney>,
    /// How the kinds that go to the fair at a price pay for the stall together; its kinds are those, in
    /// the run's order. `None`: none does.
    pub shared: Option<Shared>,
    /// What is left when as much is sold as the run says, of the kinds that are sold there; its kinds
    /// are those, in the run's order. `None`: none is.
    pub outcome: Option<Outcome>,
    /// Kinds that go to the fair and have no price, so that they are in neither of those.
    pub no_price: Vec<String>,
    /// Good ones for the fair of all kinds that have a price.
    pub offered: u64,
    /// What the pieces for shops leave over their cost, and of a kind that all goes there over that of all that come
    /// good; apart from the fair. `None`: none go there.
    pub shops: Option<Money>,
    /// What has to be paid now for all that is bought.
    pub to_buy: Money,
    /// What is used and has no price, or no amount, as pens and a sheet that no shape fits on, so that costs leave it out.
    pub unpriced: Vec<String>,
}

/// The money of one kind of piece.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceMoney {
    /// The piece's name.
    pub name: String,
    /// What it is made of, line by line.
    pub lines: PieceLines,
    /// What one good piece costs.
    pub variable: Variable,
    /// Good ones for the fair, and for shops.
    pub for_fair: u64,
    /// Good ones beyond those wanted, on average: started to be sure of enough. None where on average fewer come good.
    pub spare: u64,
    /// Pieces expected to be fit as seconds, on average.
    pub seconds: u64,
    /// What a second is sold for at the fair. `None`: seconds are not sold, or nothing has a price.
    pub second_price: Option<Money>,
    /// Pieces expected to be scrap, on average.
    pub scrap: u64,
    /// Share of those for the fair that are sold there.
    pub sold: Share,
    /// The lowest price that loses nothing, the fair aside.
    pub floor: Floor,
    /// The same with the fair spread over all pieces sold, alike for each. `None`: none is sold.
    pub floor_with_fair: Option<Floor>,
    /// At its price. `None`: it has none.
    pub at_price: Option<AtPrice>,
    /// In a shop. `None`: none go there.
    pub wholesale: Option<AtShop>,
}

/// A piece at its price.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtPrice {
    /// The price.
    pub price: Money,
    /// What it leaves.
    pub margin: Margin,
    /// How many would pay for the whole fair by themselves.
    pub break_even: BreakEven,
}

/// Pieces that go to a shop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtShop {
    /// What the shop pays for one.
    pub price: Money,
    /// How many go there.
    pub count: u32,
    /// What one leaves: no card fee, no stall.
    pub margin: Margin,
    /// Whether each pays for itself.
    pub break_even: BreakEven,
}

/// Works out a run's money; `None` where it says nothing of selling.
pub(super) fn plan(till: &Till, notes: &mut Notes) -> Result<Option<MoneyPlan>, PlanError> {
    let Some(selling) = &till.run.selling else {
        return Ok(None);
    };
    let found = money(till, selling).map_err(|why| PlanError::Cost { why })?;
    warn(&found, notes);
    Ok(Some(found))
}

fn money(till: &Till, selling: &Selling) -> Result<MoneyPlan, CostError> {
    let fixed = fixed(selling)?;
    let fixed_total = fixed_cost(&fixed);
    let terms = Terms {
        card: selling.card_fee,
        tax: selling.sales_tax,
        sale_fee: selling.sale_fee,
        per_sale: Ratio::from_number(selling.pieces_per_sale),
    };
    let mut unpriced = Vec::new();
    let lines = till.lines(selling, &mut unpriced)?;
    let sold = (till.run.pieces.iter())
        .map(|piece| sold_of(for_fair(piece), piece.sold.unwrap_or(selling.sold)));
    let all_sold = sold.sum::<Result<u64, CostError>>()?;
    let pieces = lines
        .into_iter()
        .enumerate()
        .map(|(index, lines)| {
            let costs = Costs {
                terms,
                fixed: fixed_total,
                all_sold,
            };
            one(till, selling, (index, lines), &costs)
        })
        .collect::<Result<Vec<_>, CostError>>()?;
    let kinds: Vec<Kind> = (pieces.iter())
        .filter_map(|piece| {
            Some(Kind {
                made: piece.for_fair,
                variable: piece.variable.each.used,
                price: piece.at_fair()?.price,
                terms,
            })
        })
        .collect();
    let shared = (!kinds.is_empty())
        .then(|| shared(&kinds, fixed_total))
        .transpose()?;
    let outcome = left(till, selling, &pieces, (terms, fixed_total))?;
    let to_shops = pieces.iter().filter_map(|piece| {
        let shop = piece.wholesale?;
        // of a kind that goes to the fair too what is over stays there
        let over = if piece.for_fair > 0 { 0 } else { piece.spare };
        let leaves = shop.margin.contribution * f64::from(shop.count);
        Some(leaves - piece.variable.each.used * number(over))
    });
    let to_shops: Vec<Money> = to_shops.collect();
    let shops = (!to_shops.is_empty()).then(|| to_shops.into_iter().sum());
    let priced = |piece: &&PieceMoney| piece.at_price.is_some();
    let offered = pieces.iter().filter(priced).map(|piece| piece.for_fair);
    let no_price = (pieces.iter())
        .filter(|piece| piece.for_fair > 0 && piece.at_price.is_none())
        .map(|piece| piece.name.clone());
    unpriced.sort();
    unpriced.dedup();
    Ok(MoneyPlan {
        currency: selling.currency.clone(),
        fixed,
        fixed_total,
        labour: selling.labour,
        terms,
        offered: offered.sum(),
        no_price: no_price.collect(),
        pieces,
        shared,
        outcome,
        shops,
        to_buy: till.to_buy(),
        unpriced,
    })
}

/// What the fair costs, line by line.
fn fixed(selling: &Selling) -> Result<Vec<FixedLine>, CostError> {
    let mut lines = Vec::new();
    for (name, amount) in &selling.fees {
        lines.push(FixedLine::paid(name.as_str(), *amount)?);
    }
    for kit in &selling.kit {
        lines.push(FixedLine::kit(
            kit.name.as_str(),
            kit.price,
            u64::from(kit.fairs),
        )?);
    }
    if let (true, Some(hours), Some(rate)) = (selling.stall_paid, selling.at_stall, selling.labour)
    {
        lines.push(FixedLine::selling("hours at the stall", hours, rate)?);
    }
    Ok(lines)
}

/// Pieces wanted that don't go to a shop.
fn for_fair(piece: &crate::run::Piece) -> u64 {
    let shop = piece.wholesale.map_or(0, |shop| shop.count);
    u64::from(piece.count.saturating_sub(shop))
}

/// What all kinds have in common.
struct Costs {
    terms: Terms,
    fixed: Money,
    all_sold: u64,
}

fn one(
    till: &Till,
    selling: &Selling,
    (index, lines): (usize, PieceLines),
    costs: &Costs,
) -> Result<PieceMoney, CostError> {
    let (piece, plan) = (&till.run.pieces[index], &till.pieces[index]);
    let variable = lines.variable()?;
    let v = variable.each.used;
    let at_price = piece
        .price
        .map(|price| {
            Ok::<_, CostError>(AtPrice {
                price,
                margin: margin(&costs.terms, v, price)?,
                break_even: break_even(&costs.terms, v, costs.fixed, price)?,
            })
        })
        .transpose()?;
    // a shop pays by invoice, without the fair's card fee
    let in_shop = Terms {
        card: Share::ZERO,
        tax: Share::ZERO,
        sale_fee: Money::ZERO,
        per_sale: Ratio::from_number(1.0),
    };
    let wholesale = piece
        .wholesale
        .map(|shop| {
            Ok::<_, CostError>(AtShop {
                price: shop.price,
                count: shop.count,
                margin: margin(&in_shop, v, shop.price)?,
                break_even: break_even(&in_shop, v, Money::ZERO, shop.price)?,
            })
        })
        .transpose()?;
    let scrap = part(plan.start, plan.scrap);
    let seconds = till
        .run
        .inspection
        .map_or(0, |looks| part(plan.start - scrap, looks.seconds));
    Ok(PieceMoney {
        name: plan.name.clone(),
        variable,
        lines,
        for_fair: for_fair(piece),
        spare: plan
            .start
            .saturating_sub(scrap + seconds + u64::from(plan.count)),
        seconds,
        second_price: (piece.price.zip(selling.seconds))
            .map(|(price, share)| price * share.fraction()),
        scrap,
        sold: piece.sold.unwrap_or(selling.sold),
        floor: floor_without_fair(&costs.terms, v)?,
        floor_with_fair: (costs.all_sold > 0)
            .then(|| floor_with_fair(&costs.terms, v, costs.fixed, costs.all_sold))
            .transpose()?,
        at_price,
        wholesale,
    })
}

/// What is left of the kinds that are sold at the fair once as much is sold as the run says. `None`: none is.
fn left(
    till: &Till,
    selling: &Selling,
    pieces: &[PieceMoney],
    (terms, fixed): (Terms, Money),
) -> Result<Option<Outcome>, CostError> {
    let offers: Vec<Offer> = (pieces.iter().enumerate())
        .filter(|(_, piece)| piece.is_sold_at_fair())
        .filter_map(|(index, piece)| {
            let kept = 1.0 - till.pieces[index].lost.fraction();
            Some(Offer {
                sell_through: piece.sold,
                good: piece.for_fair,
                spare: if piece.for_fair > 0 { piece.spare } else { 0 },
                seconds: piece.seconds,
                second_price: selling.seconds.unwrap_or(Share::ZERO),
                variable: piece.variable,
                price: piece.at_price?.price,
                terms,
                hands_on: piece.lines.labour.time / kept,
            })
        })
        .collect();
    if offers.is_empty() {
        return Ok(None);
    }
    let paid = match (selling.stall_paid, selling.at_stall, selling.labour) {
        (true, Some(hours), Some(rate)) => rate * hours.h(),
        _ => Money::ZERO,
    };
    let fair = Fair {
        fixed,
        selling_pay: paid,
        selling: selling.at_stall.unwrap_or(Time::ZERO),
        basis: Basis::Used,
    };
    outcome(&offers, &fair).map(Some)
}

impl PieceMoney {
    /// At its price, if any go to the fair.
    #[must_use]
    pub fn at_fair(&self) -> Option<AtPrice> {
        self.at_price.filter(|_| self.for_fair > 0)
    }

    /// Whether any are sold at the fair, be it only as seconds.
    #[must_use]
    pub fn is_sold_at_fair(&self) -> bool {
        let seconds = self.seconds > 0 && self.second_price.is_some();
        self.at_price.is_some() && (self.for_fair > 0 || seconds)
    }
}

impl MoneyPlan {
    /// Whether more of the kinds with a price would have to be sold to pay for the fair than go there.
    #[must_use]
    pub fn needs_more_than_made(&self) -> bool {
        let pieces = self.shared.as_ref().and_then(|shared| shared.pieces);
        pieces.is_some_and(|pieces| pieces > self.offered)
    }
}

/// That the fair is never paid for, or that a kind is sold at a loss.
fn warn(money: &MoneyPlan, notes: &mut Notes) {
    let shared = money.shared.as_ref();
    // a fair that costs nothing is paid for by none
    let costs = money.fixed_total > Money::ZERO;
    let never = costs && shared.is_some_and(|shared| shared.sell.is_none());
    for piece in &money.pieces {
        if let Some(at) = piece.at_fair()
            && let BreakEven::Never { least_price, .. } = at.break_even
        {
            notes.warnings.push(Warning::SoldAtALoss {
                piece: piece.name.clone(),
                price: at.price,
                shop: false,
                least: least_price,
                never,
            });
        }
        if let Some(shop) = piece.wholesale
            && let BreakEven::Never { least_price, .. } = shop.break_even
        {
            notes.warnings.push(Warning::SoldAtALoss {
                piece: piece.name.clone(),
                price: shop.price,
                shop: true,
                least: least_price,
                never: false,
            });
        }
    }
}

/// A share of a count, to the nearest whole one: on average.
fn part(count: u64, share: Share) -> u64 {
    let part = (number(count) * share.fraction()).round();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a share of a count of a thousand million at most"
    )]
    let part = part as u64;
    part
}

#[expect(
    clippy::cast_precision_loss,
    reason = "counts are at most a thousand million"
)]
pub(super) const fn number(count: u64) -> f64 {
    count as f64
}
