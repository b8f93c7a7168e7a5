//! What a step takes beside blanks and coatings.

use toml::de::DeValue;

use super::names::Names;
use super::reader::{Book, Fallback, Item, Limit, Mistake, Name, Section, Spot};
use super::{Stuff, Supply};
use crate::quantity::Length;

/// What one piece takes of a supply in a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Use {
    /// Which of the run's supplies.
    pub supply: usize,
    /// How much.
    pub takes: Takes,
}

/// How much of a supply a piece takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Takes {
    /// So many.
    Count(u32),
    /// So long a piece of it.
    Length(Length),
    /// A shape like the blank's top, so much larger all around.
    Shape {
        /// How far it goes beyond the top's edge.
        bleed: Length,
    },
}

/// How much a file says that a piece takes, before it is known of what.
#[derive(Clone, Copy)]
enum PerPiece {
    Count(i64),
    Length(Length),
}

impl Item for PerPiece {
    fn expected() -> String {
        "how much a piece takes: a whole number, or a length such as \"450 mm\"".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        match value {
            DeValue::Integer(whole) if whole.radix() == 10 => whole
                .as_str()
                .parse()
                .map(Self::Count)
                .map_err(|_| Mistake::expected(Self::expected())),
            DeValue::String(text) => text.parse().map(Self::Length).map_err(Mistake::Quantity),
            _ => Err(Mistake::expected(Self::expected())),
        }
    }
}

const BLEED: Limit<Length> = Limit {
    holds: |bleed| (0.0..=100.0).contains(&bleed.mm()),
    reason: "a shape goes 0 mm to 100 mm beyond the top's edge",
};

/// The supplies that steps can name: those that are wrong in themselves are `None`.
#[derive(Clone, Copy)]
pub(super) struct Known<'n> {
    pub names: &'n Names,
    pub supplies: &'n [Option<Supply>],
}

/// Reads a step's `supplies`. What can't be read is told in the book and left out.
pub(super) fn read(step: &mut Section, known: Known, book: &mut Book) -> Vec<Use> {
    let expected = "a list of supplies: [{ name = \"cord\", per_piece = \"450 mm\" }]";
    let uses = step.tables_in(book, "supplies", expected);
    uses.into_iter()
        .filter_map(|section| one(section, known, book))
        .collect()
}

fn one(mut section: Section, known: Known, book: &mut Book) -> Option<Use> {
    let name = section.need::<Name>(book, "name", &Limit::ANY);
    let index = name.and_then(|name| known.names.find(name.as_str(), &section.spot("name"), book));
    let supply = index.and_then(|index| known.supplies[index].as_ref());
    let takes = if let Some(supply) = supply {
        takes(&mut section, supply, book)
    } else {
        // of what is not known, but each can still be read
        section.may::<PerPiece>(book, "per_piece", &Limit::ANY);
        section.may(book, "bleed", &BLEED);
        None
    };
    section.finish(book);
    Some(Use {
        supply: index?,
        takes: takes?,
    })
}

fn takes(section: &mut Section, supply: &Supply, book: &mut Book) -> Option<Takes> {
    let name = &supply.name;
    if matches!(supply.stuff, Stuff::Sheet { .. }) {
        let reason = format!(
            "{name} is a sheet, and a shape like the blank's top is cut from it; it may have a bleed"
        );
        section.refuse(book, "per_piece", &reason);
        let none = Fallback {
            value: Length::ZERO,
            words: "0 mm",
            why: "cut to the edge of the blank's top",
        };
        let bleed = section.or(book, "bleed", &BLEED, none);
        return Some(Takes::Shape { bleed });
    }
    let reason = format!("{name} is no sheet, so no shape is cut from it");
    section.refuse(book, "bleed", &reason);
    let per_piece = section.need::<PerPiece>(book, "per_piece", &Limit::ANY)?;
    amount(per_piece, supply, &section.spot("per_piece"), book)
}

/// What a piece takes, if it suits the supply.
fn amount(per_piece: PerPiece, supply: &Supply, spot: &Spot, book: &mut Book) -> Option<Takes> {
    let name = &supply.name;
    match (&supply.stuff, per_piece) {
        (Stuff::Each { .. }, PerPiece::Count(count)) => {
            let count = u32::try_from(count).ok();
            if let Some(count) = count.filter(|count| (1..=10_000).contains(count)) {
                return Some(Takes::Count(count));
            }
            book.refuse(spot, "a piece takes from 1 to 10000 of a supply");
        }
        (Stuff::Cut { spool, .. }, PerPiece::Length(length)) => {
            if length.mm() >= 1.0 && length <= *spool {
                return Some(Takes::Length(length));
            }
            let whole = super::tray::mm(*spool);
            let reason = format!(
                "a piece takes from 1 mm to a whole spool, {whole}: it is cut without a join"
            );
            book.refuse(spot, reason);
        }
        (Stuff::Cut { .. }, PerPiece::Count(_)) => {
            let reason = format!(
                "{name} comes on a spool, so a piece takes a length of it, such as \"450 mm\""
            );
            book.refuse(spot, reason);
        }
        (_, _) => {
            let reason =
                format!("{name} is counted, so a piece takes a whole number of it, such as 1");
            book.refuse(spot, reason);
        }
    }
    None
}
