//! The bottle that a coating comes in.

use super::blank::PRICE;
use super::reader::{Book, Contents, Fallback, Limit, Number, Section};
use crate::coating::Coating;
use crate::quantity::{Money, Time, Volume};
use jiff::civil::Date;

/// A bottle, or a kit of two bottles for a coating in two parts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bottle {
    /// How much a full one holds; of both parts together, for a kit.
    pub holds: Volume,
    /// What one costs. `None`: not said.
    pub price: Option<Money>,
    /// How many are in stock; half a bottle is 0.5.
    pub have: f64,
    /// The day from which what is in stock is no longer used. `None`: it keeps.
    pub best_before: Option<Date>,
    /// How long a supplier takes. `None`: not said.
    pub delivery: Option<Time>,
}

/// Another size that the same coating is sold in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    /// How much a full one holds.
    pub holds: Volume,
    /// What one costs.
    pub price: Money,
}

const HAVE: Limit<Number> = Limit {
    holds: |have| (0.0..=100_000.0).contains(&have.0),
    reason: "a stock is from 0 to 100000 bottles",
};

/// Reads a coating's `bottle`. A bottle sold by weight needs the coating's density.
pub(super) fn read(
    mut section: Section,
    coating: Option<&Coating>,
    book: &mut Book,
) -> Option<Bottle> {
    let contents = section.need::<Contents>(book, "holds", &Limit::ANY);
    let price = section
        .may(book, "price", &PRICE)
        .map(|price| Money::from_amount(price.0));
    let none = Fallback {
        value: Number(0.0),
        words: "0",
        why: "the file names no stock",
    };
    let have = section.or(book, "have", &HAVE, none).0;
    let spot = section.spot("holds");
    section.finish(book, &[]);
    let holds = match contents? {
        Contents::Volume(volume) => volume,
        Contents::Mass(mass) => {
            let Some(density) = coating?.density() else {
                book.refuse(
                    &spot,
                    "a bottle by weight needs the coating's density; give it, or give a volume",
                );
                return None;
            };
            mass / density
        }
    };
    if !(0.1..=1e6).contains(&holds.ml()) {
        book.refuse(&spot, "a bottle holds from 0.1 mL to 1000 L");
        return None;
    }
    Some(Bottle {
        holds,
        price,
        have,
        best_before: None,
        delivery: None,
    })
}
