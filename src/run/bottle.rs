//! The bottle that a coating comes in.

use super::reader::{Book, Contents, Fallback, Limit, Number, Section, Spot};
use super::supplier;
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
    let price = supplier::price(&mut section, book);
    let none = Fallback {
        value: Number(0.0),
        words: "0",
        why: "the file names no stock",
    };
    let have = section.or(book, "have", &HAVE, none).0;
    let best_before = supplier::best_before(&mut section, book);
    let delivery = supplier::delivery(&mut section, book);
    let spot = section.spot("holds");
    section.finish(book);
    Some(Bottle {
        holds: holds(&contents?, &spot, coating, book)?,
        price,
        have,
        best_before,
        delivery,
    })
}

/// Reads the other sizes that a coating is `also_sold` in. `None` where there is a mistake.
pub(super) fn sizes(
    sections: Vec<Section>,
    (coating, bottle): (Option<&Coating>, Option<&Bottle>),
    book: &mut Book,
) -> Option<Vec<Size>> {
    let before = book.faults.len();
    let mut taken: Vec<Volume> = bottle.iter().map(|bottle| bottle.holds).collect();
    let mut sizes = Vec::new();
    for mut section in sections {
        let contents = section.need::<Contents>(book, "holds", &Limit::ANY);
        let price = supplier::needed_price(&mut section, book);
        let spot = section.spot("holds");
        section.finish(book);
        let holds = contents.and_then(|contents| holds(&contents, &spot, coating, book));
        let (Some(holds), Some(price)) = (holds, price) else {
            continue;
        };
        if taken.iter().any(|&other| same(other, holds)) {
            book.refuse(
                &spot,
                "this size is told already; each size has one price here",
            );
        }
        taken.push(holds);
        sizes.push(Size { holds, price });
    }
    (book.faults.len() == before).then_some(sizes)
}

/// Whether two bottles hold the same, but for what turning units loses.
fn same(one: Volume, other: Volume) -> bool {
    (one / other - 1.0).abs() < 1e-9
}

/// What a bottle holds, as a volume.
fn holds(
    contents: &Contents,
    spot: &Spot,
    coating: Option<&Coating>,
    book: &mut Book,
) -> Option<Volume> {
    let holds = match *contents {
        Contents::Volume(volume) => volume,
        Contents::Mass(mass) => {
            // a coating that is wrong in itself has been told already
            let Some(density) = coating?.density() else {
                book.refuse(
                    spot,
                    "a bottle by weight needs the coating's density; give it, or give a volume",
                );
                return None;
            };
            mass / density
        }
    };
    if !(0.1..=1e6).contains(&holds.ml()) {
        book.refuse(spot, "a bottle holds from 0.1 mL to 1000 L");
        return None;
    }
    Some(holds)
}
