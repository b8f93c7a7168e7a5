//! What a fair leaves when a share of the pieces is sold.

use super::check::{self, CostError};
use super::line::{Basis, Cost};
use super::shared::{times, whole_part};
use super::terms::Terms;
use super::variable::Variable;
use crate::quantity::{Money, Share, Time};

/// One kind of piece, made and offered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Offer {
    /// Good pieces offered, `[1]`.
    pub good: u64,
    /// Good pieces made beyond those, `[1]`: started to be sure of enough, and left over.
    pub spare: u64,
    /// Pieces lost in the work that can still be sold as seconds, `[1]`. Their cost is in v already.
    pub seconds: u64,
    /// A second's price as a share of a good one's, `[1]`, 0 to 1.
    pub second_price: Share,
    /// Share of good pieces, and of seconds, sold at the fair, `[1]`, 0 to 1.
    pub sell_through: Share,
    /// What one good piece costs.
    pub variable: Variable,
    /// Its price.
    pub price: Money,
    /// What is taken out of that.
    pub terms: Terms,
    /// Hands-on time of one good piece, `[s]`: that of a started one over `1 - r`.
    pub hands_on: Time,
}

/// The fair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fair {
    /// F, with selling hours in it if they are paid.
    pub fixed: Money,
    /// What of F is pay for selling hours, 0 to F.
    pub selling_pay: Money,
    /// Hours behind the stall, paid or not, `[s]`.
    pub selling: Time,
    /// The basis on which costs are counted.
    pub basis: Basis,
}

/// What one kind leaves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KindOutcome {
    /// Good pieces sold, `[1]`.
    pub sold: u64,
    /// Seconds sold, `[1]`.
    pub seconds_sold: u64,
    /// Good pieces left over, `[1]`, those made beyond the ones offered among them.
    pub left_over: u64,
    /// Kept of all sales, fees and tax paid.
    pub kept: Money,
    /// v of all good pieces made, sold or not.
    pub cost: Money,
    /// What those left over have cost.
    pub left_at_cost: Money,
    /// What they would leave at full price later, under the same terms.
    pub left_at_price: Money,
}

/// What the fair leaves.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// Each kind, in the order given.
    pub kinds: Vec<KindOutcome>,
    /// Kept of all sales.
    pub kept: Money,
    /// In hand after all costs, those of unsold pieces too; below 0 for a loss.
    pub in_hand: Money,
    /// Profit with what is left over counted at its cost; below 0 for a loss.
    pub profit: Money,
    /// What is left over, at cost.
    pub left_at_cost: Money,
    /// Making and selling, `[s]`.
    pub hours: Time,
    /// What an hour earned; none where no hour is counted.
    pub pay_per_hour: Option<Money>,
}

/// What a fair leaves.
///
/// ```text
/// in hand      = kept - v of all good pieces - F
/// profit       = in hand + v of those left over
/// pay an hour  = (kept - all costs but labour) / (hands-on + selling hours)
/// ```
///
/// Pay an hour counts the pieces left over as unsold for good, so it is the
/// least that the work earned.
///
/// # Errors
///
/// [`CostError`] for a value outside its range.
pub fn outcome(offers: &[Offer], fair: &Fair) -> Result<Outcome, CostError> {
    check::money("the fixed cost", fair.fixed)?;
    let unpaid = check::not_negative(
        "the fixed cost less the pay for selling",
        (fair.fixed - fair.selling_pay).amount(),
    )?;
    check::money("the pay for selling", fair.selling_pay)?;
    check::hours("the selling hours", fair.selling)?;
    let mut kinds = Vec::with_capacity(offers.len());
    let (mut hours, mut labour) = (fair.selling, Money::ZERO);
    for offer in offers {
        kinds.push(kind(offer, fair)?);
        check::hours("the hands-on time in hours", offer.hands_on)?;
        let made = offer.good + offer.spare;
        hours = hours + Time::from_h(times(Money::from_amount(offer.hands_on.h()), made).amount());
        labour = labour + times(offer.variable.labour_each, made);
    }
    let sum = |of: fn(&KindOutcome) -> Money| kinds.iter().map(of).sum::<Money>();
    let (kept, cost) = (sum(|kind| kind.kept), sum(|kind| kind.cost));
    let left_at_cost = sum(|kind| kind.left_at_cost);
    let in_hand = kept - cost - fair.fixed;
    let earned = kept - (cost - labour) - Money::from_amount(unpaid);
    Ok(Outcome {
        kept,
        in_hand,
        profit: in_hand + left_at_cost,
        left_at_cost,
        hours,
        pay_per_hour: (hours > Time::ZERO).then(|| earned / hours.h()),
        kinds,
    })
}

/// How many of some good pieces are sold at the fair where so large a share of them is: whole ones,
/// for half a piece is not sold.
///
/// # Errors
///
/// [`CostError`] for a share past the whole, or too many pieces.
pub fn sold_of(good: u64, sell_through: Share) -> Result<u64, CostError> {
    let through = check::share("the share sold, as a fraction,", sell_through)?;
    whole_part("the pieces offered", good, through)
}

fn kind(offer: &Offer, fair: &Fair) -> Result<KindOutcome, CostError> {
    let through = check::share("the share sold, as a fraction,", offer.sell_through)?;
    let second = check::share("a second's price, as a fraction,", offer.second_price)?;
    let sold = sold_of(offer.good, offer.sell_through)?;
    let seconds_sold = whole_part("the seconds", offer.seconds, through)?;
    let each: Cost = offer.variable.each;
    let v = each.on(fair.basis);
    check::money("the variable cost", v)?;
    let full = offer.terms.kept(offer.price)?;
    let less = offer.terms.kept(offer.price * second)?;
    check::counted("the pieces beyond those offered", offer.spare)?;
    let left_over = offer.good - sold + offer.spare;
    Ok(KindOutcome {
        sold,
        seconds_sold,
        left_over,
        kept: times(full, sold) + times(less, seconds_sold),
        cost: times(v, offer.good + offer.spare),
        left_at_cost: times(v, left_over),
        left_at_price: times(full, left_over),
    })
}
