//! The pieces that a run makes.

use super::names::Names;
use super::reader::{Book, Limit, Name, Section, Whole};
use super::{Problem, Wholesale, selling, supplier};
use crate::quantity::{Money, Share};

/// One kind of piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// What the maker calls it.
    pub name: String,
    /// How many saleable ones are wanted, from 1 to a million.
    pub count: u32,
    /// Which of the run's blanks it is made on.
    pub blank: usize,
    /// Which of the run's steps it goes through, in order. At least one; the same one may come twice.
    pub steps: Vec<usize>,
    /// Whether it is a magnet: on a tray they jump together.
    pub magnet: bool,
    /// What one is sold for at the fair, tax included. `None`: not said.
    pub price: Option<Money>,
    /// Share of the good ones that are sold at the fair. `None`: as the run's selling says.
    pub sold: Option<Share>,
    /// Those that go to a shop. `None`: none do.
    pub wholesale: Option<Wholesale>,
}

/// Names that a piece refers to.
pub(super) struct Known<'n> {
    pub blanks: &'n Names,
    pub steps: &'n Names,
}

const COUNT: Limit<Whole> = Limit {
    holds: |count| (1..=1_000_000).contains(&count.0),
    reason: "a run makes from 1 to 1000000 of a piece",
};

/// Reads one `[[piece]]`, whose name is already read.
pub(super) fn read(
    mut section: Section,
    name: String,
    known: &Known,
    book: &mut Book,
) -> Option<Piece> {
    let count = section.need(book, "count", &COUNT).and_then(Whole::small);
    let blank = section.need::<Name>(book, "blank", &Limit::ANY);
    let blank = blank.and_then(|blank| {
        known
            .blanks
            .find(blank.as_str(), &section.spot("blank"), book)
    });
    let steps = steps(&mut section, known, book);
    let magnet = section.may(book, "magnet", &Limit::ANY).unwrap_or(false);
    let price = supplier::price(&mut section, book);
    let sold = section.may(book, "sold", &selling::SOLD);
    let wholesale = section
        .table(book, "wholesale", "{ price = 2.60, count = 20 }")
        .and_then(|table| selling::wholesale(table, count, book));
    section.finish(book);
    Some(Piece {
        name,
        count: count?,
        blank: blank?,
        steps: steps?,
        magnet,
        price,
        sold,
        wholesale,
    })
}

fn steps(section: &mut Section, known: &Known, book: &mut Book) -> Option<Vec<usize>> {
    const EXPECTED: &str = "a list of step names, such as [\"seal\", \"dome\"]";
    if !section.has("steps") {
        section.missing("steps", EXPECTED);
    }
    let listed = section.list::<Name>(book, "steps", EXPECTED)?;
    let spot = section.spot("steps");
    if listed.is_empty() {
        let read = book.raw(&spot);
        book.fault(
            &spot,
            Problem::Wrong {
                read,
                expected: EXPECTED.to_owned(),
                nearest: None,
            },
        );
        return None;
    }
    // Each is looked up before any is given up, so that every unknown name is told.
    let found: Vec<Option<usize>> = listed
        .iter()
        .map(|(spot, name)| known.steps.find(name.as_str(), spot, book))
        .collect();
    found.into_iter().collect()
}
