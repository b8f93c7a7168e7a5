//! Several kinds of piece that pay for one stall.

use super::check::{self, CostError, SLACK, number};
use super::terms::Terms;
use crate::quantity::{Money, Ratio};

/// One kind of piece at the stall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Kind {
    /// Good pieces made, `[1]`: what makes up the mix.
    pub made: u64,
    /// v: what a good one costs.
    pub variable: Money,
    /// Its price.
    pub price: Money,
    /// What is taken out of that.
    pub terms: Terms,
}

impl Kind {
    /// d: what each sold adds, kept less v; below 0 where it loses.
    ///
    /// # Errors
    ///
    /// [`CostError`] for a value outside its range.
    pub fn contribution(&self) -> Result<Money, CostError> {
        check::money("the variable cost", self.variable)?;
        Ok(self.terms.kept(self.price)? - self.variable)
    }
}

/// What one kind has to do with the stall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KindShare {
    /// What each sold adds; below 0 where it loses.
    pub contribution: Money,
    /// How many would pay for the whole stall alone; none where each adds nothing.
    pub alone: Option<u64>,
    /// How many of it are sold when the mix breaks even; none where the mix never does.
    pub in_mix: Option<u64>,
    /// Its share of the fixed cost, by what all of it would contribute; 0 where that is nothing.
    pub fixed: Money,
    /// The price at which one that bears that share, all made being sold, loses nothing, not rounded;
    /// none where none is made.
    pub floor: Option<Money>,
}

/// How several kinds pay for one stall.
#[derive(Debug, Clone, PartialEq)]
pub struct Shared {
    /// Each kind, in the order given.
    pub kinds: Vec<KindShare>,
    /// x: the share of all that is made which must be sold, kind by kind alike, `[1]`;
    /// above 1 where more must be made. None where the mix adds nothing.
    pub sell: Option<Ratio>,
    /// All pieces sold at that, in whole ones; none where the mix adds nothing.
    pub pieces: Option<u64>,
}

/// How several kinds pay for one stall, sold in the mix in which they are made.
///
/// ```text
/// d_i = kept_i - v_i
/// x   = F / sum of n_i d_i            alone_i = ceil(F / d_i)
/// F_i = F n_i max(d_i, 0) / sum of n_j max(d_j, 0)
/// ```
///
/// In the mix `ceil(x n_i)` of a kind are sold, but `floor(x n_i)` of one that
/// loses, so that the whole counts together pay for the stall. Of the fixed
/// cost a kind that loses bears nothing: what it can't earn it can't carry.
///
/// # Errors
///
/// [`CostError`] for a value outside its range.
pub fn shared(kinds: &[Kind], fixed: Money) -> Result<Shared, CostError> {
    let needed = check::money("the fixed cost", fixed)?;
    let mut each = Vec::with_capacity(kinds.len());
    for kind in kinds {
        let made = check::counted("the pieces made", kind.made)?;
        each.push((kind, made, kind.contribution()?.amount()));
    }
    let all: f64 = each.iter().map(|(_, made, d)| made * d).sum();
    let earned: f64 = each.iter().map(|(_, made, d)| made * d.max(0.0)).sum();
    let hair = each
        .iter()
        .map(|(kind, made, _)| made * (kind.price.amount() + kind.variable.amount()))
        .sum::<f64>()
        * SLACK;
    let sell = (all > hair).then(|| needed / all);
    let mut found = Vec::with_capacity(each.len());
    for (kind, made, d) in each {
        let adds = d > (kind.price + kind.variable).amount() * SLACK;
        let bears = if earned > 0.0 {
            made * d.max(0.0) / earned
        } else {
            0.0
        };
        let what = "the pieces to break even";
        found.push(KindShare {
            contribution: Money::from_amount(d),
            alone: adds.then(|| check::ceil(what, needed / d)).transpose()?,
            in_mix: sell
                .map(|x| {
                    if adds {
                        check::ceil(what, x * made)
                    } else {
                        check::floor(what, x * made)
                    }
                })
                .transpose()?,
            fixed: fixed * bears,
            floor: (kind.made > 0)
                .then(|| kind.terms.price_for(kind.variable + fixed * bears / made))
                .transpose()?,
        });
    }
    let pieces = found.iter().map(|kind| kind.in_mix).sum::<Option<u64>>();
    Ok(Shared {
        kinds: found,
        sell: sell.map(Ratio::from_number),
        pieces: pieces.filter(|_| sell.is_some()),
    })
}

/// Wholesale or retail: what a price leaves over the cost of a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margin {
    /// Kept of the price.
    pub kept: Money,
    /// Kept less v; below 0 where it loses.
    pub contribution: Money,
    /// That over the net price, `[1]`; none at a price of nothing.
    pub of_net: Option<Ratio>,
    /// The price paid over v, `[1]`; none where a piece costs nothing.
    pub multiplier: Option<Ratio>,
}

/// What a price leaves over v. Wholesale has no stall and often neither card
/// fee nor tax inside: give each way of selling its own terms.
///
/// ```text
/// of net = (kept - v) / (P / (1 + s))     multiplier = P / v
/// ```
///
/// # Errors
///
/// [`CostError`] for a value outside its range.
pub fn margin(terms: &Terms, v: Money, price: Money) -> Result<Margin, CostError> {
    check::money("the variable cost", v)?;
    let kept = terms.kept(price)?;
    let net = terms.net(price)?;
    let over =
        |part: Money, whole: Money| (whole > Money::ZERO).then(|| Ratio::from_number(part / whole));
    Ok(Margin {
        kept,
        contribution: kept - v,
        of_net: over(kept - v, net),
        multiplier: over(price, v),
    })
}

/// A share of some pieces in whole ones, rounded down: half a piece is not sold.
pub(super) fn whole_part(what: &'static str, pieces: u64, part: f64) -> Result<u64, CostError> {
    check::floor(what, check::counted(what, pieces)? * part).map(|n| n.min(pieces))
}

/// A count times money.
pub(super) fn times(money: Money, count: u64) -> Money {
    money * number(count)
}
