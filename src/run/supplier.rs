//! What a supplier's terms are: packs, prices, days of delivery, and how long stock keeps.

use jiff::civil::Date;

use super::reader::{Book, Day, Limit, Number, Section, Whole};
use crate::quantity::{Money, Time};

/// How blanks or supplies are sold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pack {
    /// How many there are in a pack, at least one.
    pub of: u32,
    /// What a pack costs. `None`: not said.
    pub price: Option<Money>,
}

const PRICE: Limit<Number> = Limit {
    holds: |price| (0.0..=1e9).contains(&price.0),
    reason: "a price is from 0 to 1000000000",
};
const DELIVERY: Limit<Time> = Limit {
    holds: |time| time.s() >= 0.0 && time.days() <= 365.0,
    reason: "a delivery takes from 0 days to a year",
};

/// A `price` in whole currency units that may be left out.
pub(super) fn price(section: &mut Section, book: &mut Book) -> Option<Money> {
    let price = section.may(book, "price", &PRICE)?;
    Some(Money::from_amount(price.0))
}

/// A `price` that must be there.
pub(super) fn needed_price(section: &mut Section, book: &mut Book) -> Option<Money> {
    let price = section.need(book, "price", &PRICE)?;
    Some(Money::from_amount(price.0))
}

/// Money for this fair under `key`.
pub(super) fn fee(section: &mut Section, book: &mut Book, key: &'static str) -> Option<Money> {
    let fee = section.may(book, key, &PRICE)?;
    Some(Money::from_amount(fee.0))
}

/// How long a supplier takes, under `delivery`.
pub(super) fn delivery(section: &mut Section, book: &mut Book) -> Option<Time> {
    section.may(book, "delivery", &DELIVERY)
}

/// The day from which stock is no longer used, under `best_before`.
pub(super) fn best_before(section: &mut Section, book: &mut Book) -> Option<Date> {
    let day = section.may::<Day>(book, "best_before", &Limit::ANY)?;
    Some(day.0)
}

/// Reads a `pack`, whose size must lie in `of`. `None` where there is none; one that is wrong is told in the book.
pub(super) fn pack(section: &mut Section, book: &mut Book, of: &Limit<Whole>) -> Option<Pack> {
    let mut pack = section.table(book, "pack", "a pack: { of = 25, price = 6.40 }")?;
    let of = pack.need(book, "of", of).and_then(Whole::small);
    let price = price(&mut pack, book);
    pack.finish(book);
    Some(Pack { of: of?, price })
}
