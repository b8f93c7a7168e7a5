//! The cheapest bottles of a coating that is sold in several sizes.

use crate::consumption::{Amount, Bottle, UseError};
use crate::quantity::{Money, Share, Volume};
use crate::run::Size;

/// The cheapest whole bottles of several sizes, to be as sure as wanted of enough.
#[derive(Debug, Clone, PartialEq)]
pub struct SizesPlan {
    /// The sizes: the run's bottle first, then the others in the run's order.
    pub sizes: Vec<SizePlan>,
    /// What the bottles to buy cost together.
    pub price: Money,
    /// What comes out of stock and bottles beyond what makes it sure.
    pub left_over: Volume,
    /// The chance that the stock and these bottles suffice.
    pub chance: Share,
}

/// One size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SizePlan {
    /// What a full one holds.
    pub holds: Volume,
    /// What one costs.
    pub price: Money,
    /// What a millilitre of its contents costs.
    pub per_ml: Money,
    /// How many to buy.
    pub buy: u64,
}

impl SizesPlan {
    pub(super) fn of(
        amount: &Amount,
        (bottle, price): (&Bottle, Money),
        also_sold: &[Size],
        sure: Share,
    ) -> Result<Self, UseError> {
        let others: Vec<(Volume, Money)> = also_sold
            .iter()
            .map(|size| (size.holds, size.price))
            .collect();
        let found = amount.cheapest_bottles(bottle, price, &others, sure)?;
        let sizes = [(bottle.holds, price)]
            .into_iter()
            .chain(others)
            .zip(&found.bottles.counts)
            .map(|((holds, price), &buy)| SizePlan {
                holds,
                price,
                per_ml: price / holds.ml(),
                buy,
            })
            .collect();
        Ok(Self {
            sizes,
            price: found.bottles.price,
            left_over: found.bottles.left_over,
            chance: found.chance,
        })
    }
}
