//! What a piece must sell for, and how many sold pay for the fair.

use serde::Serialize;

use super::number::{h, money, number, percent_share};
use crate::cost::{
    BreakEven, Cost, CostError, Labour, Line, Margin, PieceLines, Terms, Variable, break_even,
    floor_with_fair, floor_without_fair, margin,
};
use crate::quantity::{Money, Ratio, Share, Time};

/// What a piece must sell for, asked with its costs added up beforehand.
#[derive(Debug, Clone, PartialEq)]
pub struct PriceQuestion {
    /// Fixed cost of the fair: stall, travel, a share of the tent.
    pub fixed: Money,
    /// The price asked of a buyer; without one only the floors are told.
    pub price: Option<Money>,
    /// What is taken out of a price.
    pub terms: Terms,
    /// Materials of one started piece.
    pub materials: Money,
    /// Labour of one started piece.
    pub labour: Money,
    /// Packaging and findings of one good piece.
    pub packaging: Money,
    /// Share of started pieces lost in the work.
    pub lost: Share,
    /// Pieces sold at the fair, at least one.
    pub sold: Option<u64>,
    /// All hours, making and selling, above 0.
    pub hours: Option<Time>,
    /// A shop's price, paid without stall, card fee or tax.
    pub wholesale: Option<Money>,
    /// What the money is called, a few letters.
    pub currency: Option<String>,
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PriceRefusal {
    /// A figure is outside its range.
    #[error(transparent)]
    Cost(#[from] CostError),
    /// Hours that earn nothing can't be told without a number sold and a price.
    #[error("pay for an hour is told from what is sold: give --price and --sold with --hours")]
    HoursAlone,
    /// No time at all.
    #[error("the hours must be above 0, and at most 10000 h")]
    Hours,
    /// No name of a currency.
    #[error("a currency is named by 1 to 5 letters or its sign, like EUR, not \"{0}\"")]
    Currency(String),
}

/// What some number sold leaves.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SoldAnswer {
    /// Pieces sold.
    pub sold: u64,
    /// Over all costs, unsold pieces counted at their cost; below 0 for a loss.
    #[serde(serialize_with = "money")]
    pub profit: Money,
    /// Labour that these pieces have paid.
    #[serde(serialize_with = "money")]
    pub labour: Money,
    /// Profit and labour over all hours.
    #[serde(serialize_with = "money")]
    pub pay_per_hour: Option<Money>,
    /// Those hours.
    #[serde(rename = "hours_h", serialize_with = "h")]
    pub hours: Option<Time>,
}

/// What a price leaves over the cost of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MarginAnswer {
    /// The price.
    #[serde(serialize_with = "money")]
    pub price: Money,
    /// Kept of it.
    #[serde(serialize_with = "money")]
    pub kept: Money,
    /// Kept less the variable cost; below 0 where each loses.
    #[serde(serialize_with = "money")]
    pub contribution: Money,
    /// That over the net price, as a fraction.
    #[serde(serialize_with = "number")]
    pub margin: Option<Ratio>,
    /// The price over the variable cost.
    #[serde(serialize_with = "number")]
    pub multiplier: Option<Ratio>,
}

impl MarginAnswer {
    fn of(price: Money, margin: Margin) -> Self {
        Self {
            price,
            kept: margin.kept,
            contribution: margin.contribution,
            margin: margin.of_net,
            multiplier: margin.multiplier,
        }
    }
}

/// What a piece costs and must sell for. Money in the currency named, if any.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PriceAnswer {
    /// The currency.
    pub currency: Option<String>,
    /// Materials of a started piece.
    #[serde(serialize_with = "money")]
    pub materials: Money,
    /// Labour of a started piece.
    #[serde(serialize_with = "money")]
    pub labour: Money,
    /// Both.
    #[serde(serialize_with = "money")]
    pub sunk: Money,
    /// Share lost in the work.
    #[serde(rename = "lost_percent", serialize_with = "percent_share")]
    pub lost: Share,
    /// What lost pieces add to every good one.
    #[serde(serialize_with = "money")]
    pub lost_work: Money,
    /// Fitted after inspection.
    #[serde(serialize_with = "money")]
    pub packaging: Money,
    /// One good piece, all told.
    #[serde(serialize_with = "money")]
    pub variable_cost: Money,
    /// Fixed cost of the fair.
    #[serde(serialize_with = "money")]
    pub fixed: Money,
    /// Card fee, a share of the price.
    #[serde(rename = "card_percent", serialize_with = "percent_share")]
    pub card: Share,
    /// Sales tax on the net price.
    #[serde(rename = "tax_percent", serialize_with = "percent_share")]
    pub tax: Share,
    /// Fixed fee of a sale, a piece.
    #[serde(serialize_with = "money")]
    pub fee_each: Money,
    /// The floor without the fair, not rounded.
    #[serde(serialize_with = "money")]
    pub floor_without_fair: Money,
    /// The same up to the next whole cent.
    #[serde(serialize_with = "money")]
    pub floor_without_fair_tag: Money,
    /// The floor with the fair at the number sold, not rounded.
    #[serde(serialize_with = "money")]
    pub floor: Option<Money>,
    /// The same up to the next whole cent.
    #[serde(serialize_with = "money")]
    pub floor_tag: Option<Money>,
    /// The price asked.
    #[serde(serialize_with = "money")]
    pub price: Option<Money>,
    /// Kept of the price.
    #[serde(serialize_with = "money")]
    pub kept: Option<Money>,
    /// Kept less the variable cost.
    #[serde(serialize_with = "money")]
    pub contribution: Option<Money>,
    /// Price over variable cost.
    #[serde(serialize_with = "number")]
    pub multiplier: Option<Ratio>,
    /// Pieces that pay for the fair; missing where no number does.
    pub break_even: Option<u64>,
    /// Where no number does: the least price at which each piece adds something.
    #[serde(serialize_with = "money")]
    pub least_price: Option<Money>,
    /// What the number sold leaves.
    pub at_sold: Option<SoldAnswer>,
    /// Sold to a shop.
    pub wholesale: Option<MarginAnswer>,
}

/// What a piece costs, must sell for, and how many pay for the fair.
///
/// # Errors
///
/// [`PriceRefusal`] for figures outside their ranges. That no number of
/// pieces will do is an answer, not an error.
pub fn price(question: &PriceQuestion) -> Result<PriceAnswer, PriceRefusal> {
    check(question)?;
    let variable = variable(question)?;
    let (v, terms) = (variable.each.used, &question.terms);
    let alone = floor_without_fair(terms, v)?;
    let fair = question
        .sold
        .map(|sold| floor_with_fair(terms, v, question.fixed, sold))
        .transpose()?;
    let retail = question
        .price
        .map(|price| margin(terms, v, price))
        .transpose()?;
    let even = question
        .price
        .map(|price| break_even(terms, v, question.fixed, price))
        .transpose()?;
    let wholesale = question
        .wholesale
        .map(|price| Ok::<_, CostError>(MarginAnswer::of(price, margin(&Terms::NONE, v, price)?)))
        .transpose()?;
    let (count, least_price) = match even {
        Some(BreakEven::Pieces { count, .. }) => (Some(count), None),
        Some(BreakEven::Never { least_price, .. }) => (None, Some(least_price)),
        None => (None, None),
    };
    Ok(PriceAnswer {
        currency: question.currency.clone(),
        materials: variable.materials.used,
        labour: variable.labour,
        sunk: variable.sunk.used,
        lost: question.lost,
        lost_work: variable.lost_work.used,
        packaging: variable.fitted.used,
        variable_cost: v,
        fixed: question.fixed,
        card: terms.card,
        tax: terms.tax,
        fee_each: terms.fee_each()?,
        floor_without_fair: alone.exact,
        floor_without_fair_tag: alone.tag,
        floor: fair.map(|fair| fair.exact),
        floor_tag: fair.map(|fair| fair.tag),
        price: question.price,
        kept: retail.map(|retail| retail.kept),
        contribution: retail.map(|retail| retail.contribution),
        multiplier: retail.and_then(|retail| retail.multiplier),
        break_even: count,
        least_price,
        at_sold: retail.and_then(|retail| at_sold(question, &variable, &retail)),
        wholesale,
    })
}

fn check(question: &PriceQuestion) -> Result<(), PriceRefusal> {
    if let Some(name) = &question.currency {
        let letters = name.chars().count();
        if !(1..=5).contains(&letters) || name.chars().any(|c| c.is_control() || c.is_whitespace())
        {
            return Err(PriceRefusal::Currency(name.clone()));
        }
    }
    match question.hours {
        Some(_) if question.sold.is_none() || question.price.is_none() => {
            Err(PriceRefusal::HoursAlone)
        }
        Some(hours) if !(hours > Time::ZERO && hours.h() <= 1e4) => Err(PriceRefusal::Hours),
        _ => Ok(()),
    }
}

fn variable(question: &PriceQuestion) -> Result<Variable, CostError> {
    PieceLines {
        started: vec![Line::new("materials", Cost::plain(question.materials))],
        labour: Labour {
            time: Time::from_h(1.0),
            hour: question.labour,
        },
        lost: question.lost,
        fitted: vec![Line::new("packaging", Cost::plain(question.packaging))],
    }
    .variable()
}

/// What the number sold leaves; none where no number is given.
fn at_sold(question: &PriceQuestion, variable: &Variable, retail: &Margin) -> Option<SoldAnswer> {
    let sold = question.sold?;
    #[expect(
        clippy::cast_precision_loss,
        reason = "the floor has refused counts above 1e9"
    )]
    let n = sold as f64;
    let profit = retail.contribution * n - question.fixed;
    let labour = variable.labour_each * n;
    Some(SoldAnswer {
        sold,
        profit,
        labour,
        pay_per_hour: question.hours.map(|hours| (profit + labour) / hours.h()),
        hours: question.hours,
    })
}
