//! Which whole bottles to buy where a coating is sold in several sizes.

use super::UseError;
use super::amount::Amount;
use super::bottles::Bottle;
use super::check::{self, number};
use crate::quantity::{Money, Share, Volume};

/// Most combinations of bottles that are looked at.
///
/// A choice of ours. A price that saves nothing by the size and sizes that
/// never add up to one another are what it takes to come near it.
pub const MOST_COMBINATIONS: u64 = 2_000_000;

/// Relative slack of a volume or a price: the rounding of turned units.
const SLACK: f64 = 1e-9;

/// Bottles of another size are replaced only where this many or fewer of them do.
const MOST_REPLACED: u64 = 10_000;

/// One size that a coating is sold in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    /// What comes out of a full one, `[m3]`, above 0.
    pub gives: Volume,
    /// What one costs, 0 or more.
    pub price: Money,
}

/// The cheapest whole bottles that cover an amount.
#[derive(Debug, Clone, PartialEq)]
pub struct Cheapest {
    /// How many of each size, `[1]`, in the order that the sizes were given.
    pub counts: Vec<u64>,
    /// What they cost together.
    pub price: Money,
    /// What comes out of them beyond the amount, `[m3]`.
    pub left_over: Volume,
}

/// The cheapest bottles for what an amount lacks after the stock.
#[derive(Debug, Clone, PartialEq)]
pub struct Sized {
    /// Which bottles.
    pub bottles: Cheapest,
    /// The chance that they and the stock suffice, `[1]`.
    pub chance: Share,
}

/// The cheapest combination of whole bottles that gives `lacking` `[m3]`.
///
/// ```text
/// least sum of n_i p_i  with  sum of n_i v_i >= lacking,  n_i whole
/// ```
///
/// Of those that cost the same, the one that leaves less over, then the one
/// of fewer bottles. Exact, not by the price of a millilitre: 70 mL from
/// bottles of 50 at 5.00 and 60 at 5.80 are two of 50, though 60 is the better value.
/// The price never falls as `lacking` grows.
///
/// Every combination that can win is looked at: a branch stops where its
/// price with all that still lacks at the best value is above the best found.
///
/// # Errors
///
/// [`UseError::OutOfRange`] for no size, or a value outside its range,
/// [`UseError::TooMany`] above [`MOST_COMBINATIONS`] or 1 000 000 000 bottles.
///
/// ```
/// use brimful::consumption::sizes::{Size, cheapest};
/// use brimful::quantity::{Money, Volume};
/// let size = |ml, price| Size { gives: Volume::from_ml(ml), price: Money::from_amount(price) };
/// let found = cheapest(&[size(60.0, 7.20), size(250.0, 21.50)], Volume::from_ml(130.0))?;
/// assert_eq!(found.counts, [0, 1]);
/// # Ok::<(), brimful::consumption::UseError>(())
/// ```
pub fn cheapest(sizes: &[Size], lacking: Volume) -> Result<Cheapest, UseError> {
    let lacking = check::volume("what lacks in m3", lacking)?;
    let mut known = Vec::with_capacity(sizes.len());
    for (place, size) in sizes.iter().enumerate() {
        known.push(Known {
            place,
            gives: check::some_volume("what a bottle gives in m3", size.gives)?,
            price: check::not_negative("the price of a bottle", size.price.amount())?,
        });
    }
    check::positive("the count of sizes", number(known.len() as u64))?;
    bring_best_value_first(&mut known);
    let mut search = Search {
        best_value: known[0],
        most: known[1..]
            .iter()
            .map(|size| size.worth_having(&known[0]))
            .collect(),
        others: &known[1..],
        counts: vec![0; sizes.len()],
        looked_at: 0,
        rounding: SLACK * lacking,
        best: None,
    };
    search.add(0, 0.0, lacking)?;
    let best = search.best.unwrap_or_default();
    Ok(Cheapest {
        price: Money::from_amount(best.price),
        left_over: Volume::from_m3(best.left),
        counts: best.counts,
    })
}

/// Puts the size whose millilitre costs least at the front, of equals the largest.
fn bring_best_value_first(sizes: &mut [Known]) {
    let values = sizes.iter().map(Known::value);
    let least = values.fold(f64::INFINITY, f64::min);
    let equal =
        (sizes.iter().enumerate()).filter(|(_, size)| size.value() <= least * (1.0 + SLACK));
    let best = equal.max_by(|a, b| a.1.gives.total_cmp(&b.1.gives));
    if let Some((best, _)) = best {
        sizes.swap(0, best);
    }
}

/// A checked size.
#[derive(Clone, Copy)]
struct Known {
    place: usize,
    gives: f64,
    price: f64,
}

impl Known {
    /// What a cubic metre of it costs.
    fn value(&self) -> f64 {
        self.price / self.gives
    }

    /// The most bottles of this size that may be better than some of the best value's.
    ///
    /// `k` of them that bottles of the best value replace at no less volume for less money,
    /// or at the same volume for the same money, are never needed.
    fn worth_having(&self, best: &Self) -> u64 {
        let replaced = |&k: &u64| {
            let volume = number(k) * self.gives;
            let instead = ((volume / best.gives) * (1.0 - SLACK)).ceil();
            let (here, there) = (number(k) * self.price, instead * best.price);
            let same = |a: f64, b: f64| (a - b).abs() <= SLACK * a.abs().max(b.abs());
            let equal = same(here, there) && same(volume, instead * best.gives);
            (there < here && !same(here, there)) || equal
        };
        (1..=MOST_REPLACED)
            .find(replaced)
            .map_or(u64::MAX, |k| k - 1)
    }
}

/// A combination that covers the amount.
#[derive(Default)]
struct Found {
    counts: Vec<u64>,
    price: f64,
    left: f64,
}

struct Search<'s> {
    best_value: Known,
    others: &'s [Known],
    most: Vec<u64>,
    counts: Vec<u64>,
    looked_at: u64,
    /// What lacks no more than this lacks for the rounding of sums only, `[m3]`.
    rounding: f64,
    best: Option<Found>,
}

impl Search<'_> {
    /// Adds bottles of each of the other sizes from `depth` on, then as many of the best value as lack.
    fn add(&mut self, depth: usize, price: f64, lacking: f64) -> Result<(), UseError> {
        let Some(&size) = self.others.get(depth) else {
            return self.fill(price, lacking);
        };
        let value = self.best_value.value();
        for n in 0..=self.most[depth] {
            let (price, lacking) = (
                price + number(n) * size.price,
                lacking - number(n) * size.gives,
            );
            let least = price + lacking.max(0.0) * value;
            let beaten = |best: &Found| least > best.price + SLACK * (1.0 + best.price);
            if self.best.as_ref().is_some_and(beaten) {
                break;
            }
            self.counts[size.place] = n;
            self.add(depth + 1, price, lacking)?;
            if lacking <= self.rounding {
                break;
            }
        }
        self.counts[size.place] = 0;
        Ok(())
    }

    fn fill(&mut self, price: f64, lacking: f64) -> Result<(), UseError> {
        self.looked_at += 1;
        check::at_most(
            "the combinations of bottles",
            self.looked_at,
            MOST_COMBINATIONS,
        )?;
        let best = self.best_value;
        let still = (lacking - self.rounding).max(0.0);
        let n = check::ceil("the bottles to buy", still / best.gives)?;
        self.counts[best.place] = n;
        let found = Found {
            counts: self.counts.clone(),
            price: price + number(n) * best.price,
            left: (number(n) * best.gives - lacking).max(0.0),
        };
        if self.best.as_ref().is_none_or(|best| found.beats(best)) {
            self.best = Some(found);
        }
        Ok(())
    }
}

impl Found {
    fn beats(&self, other: &Self) -> bool {
        let same = |a: f64, b: f64| (a - b).abs() <= SLACK * a.abs().max(b.abs());
        let bottles = |found: &Self| found.counts.iter().sum::<u64>();
        if !same(self.price, other.price) {
            return self.price < other.price;
        }
        if !same(self.left, other.left) && (self.left - other.left).abs() > 1e-15 {
            return self.left < other.left;
        }
        bottles(self) < bottles(other)
    }
}

impl Amount {
    /// The cheapest whole bottles of several sizes for this amount after the stock
    /// of the bottle told first, and the chance that they suffice.
    ///
    /// `others` `[m3]` is what a full one of each other size holds, with its price;
    /// every bottle keeps the same share back.
    ///
    /// # Errors
    ///
    /// As [`cheapest`], and those of a bottle or a sureness outside its range.
    pub fn cheapest_bottles(
        &self,
        bottle: &Bottle,
        price: Money,
        others: &[(Volume, Money)],
        sure: Share,
    ) -> Result<Sized, UseError> {
        let stock = bottle.comes_out_of_stock(self.heel())?;
        let out = 1.0 - self.heel();
        let sizes: Vec<Size> = [(bottle.holds, price)]
            .iter()
            .chain(others)
            .map(|&(holds, price)| Size {
                gives: holds * out,
                price,
            })
            .collect();
        let lacking = (self.mix_for(sure)?.m3() - stock).max(0.0);
        let bottles = cheapest(&sizes, Volume::from_m3(lacking))?;
        let bought: f64 = (sizes.iter().zip(&bottles.counts))
            .map(|(size, &n)| size.gives.m3() * number(n))
            .sum();
        Ok(Sized {
            chance: self.chance(Volume::from_m3(stock + bought)),
            bottles,
        })
    }
}
