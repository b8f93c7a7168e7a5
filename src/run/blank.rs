//! The blanks that pieces are made on.

use super::reader::{Book, Fallback, Limit, Number, Section, Spot, Whole};
use crate::quantity::{Length, Money, Share};

/// One kind of blank.
#[derive(Debug, Clone, PartialEq)]
pub struct Blank {
    /// What the maker calls it.
    pub name: String,
    /// The outline of its flat top.
    pub outline: Outline,
    /// How thick it is. `None`: not said.
    pub thickness: Option<Length>,
    /// Whether it drinks coating, as bare wood does. `None`: not said.
    pub porous: Option<bool>,
    /// Share that is bad on arrival, less than one.
    pub bad: Share,
    /// How many are in stock.
    pub have: u32,
    /// How they are sold. `None`: one by one, at a price that is not said.
    pub pack: Option<Pack>,
}

/// The outline of a blank's flat top.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Outline {
    /// A circle.
    Round {
        /// Its diameter.
        diameter: Length,
    },
    /// A rectangle, its corners rounded or sharp.
    Rectangle {
        /// One side.
        length: Length,
        /// The other side.
        width: Length,
        /// Radius of the corners: 0 is sharp, at most half of the shorter side.
        corner: Length,
    },
}

/// How blanks are sold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pack {
    /// How many there are in a pack, at least one.
    pub of: u32,
    /// What a pack costs. `None`: not said.
    pub price: Option<Money>,
}

const SIDE: Limit<Length> = Limit {
    holds: |side| side.mm() >= 1.0 && side.mm() <= 1000.0,
    reason: "a blank is from 1 mm to 1000 mm across",
};
const CORNER: Limit<Length> = Limit {
    holds: |corner| corner.mm() >= 0.0,
    reason: "a corner's radius is 0 mm (sharp) or more",
};
const THICKNESS: Limit<Length> = Limit {
    holds: |thickness| thickness.mm() >= 0.05 && thickness.mm() <= 200.0,
    reason: "a blank is from 0.05 mm to 200 mm thick",
};
const BAD: Limit<Share> = Limit {
    holds: |bad| bad.fraction() >= 0.0 && bad.fraction() <= 0.95,
    reason: "the share bad on arrival lies from 0 % to 95 %: with all of them bad, no number of blanks would do",
};
const HAVE: Limit<Whole> = Limit {
    holds: |have| (0..=10_000_000).contains(&have.0),
    reason: "a stock is from 0 to 10000000 blanks",
};
const OF: Limit<Whole> = Limit {
    holds: |of| (1..=1_000_000).contains(&of.0),
    reason: "a pack holds from 1 to 1000000 blanks",
};
/// A price in whole currency units.
pub(super) const PRICE: Limit<Number> = Limit {
    holds: |price| (0.0..=1e9).contains(&price.0),
    reason: "a price is from 0 to 1000000000",
};

const OUTLINE: &str = "an outline: { round = \"38 mm\" } or { rectangle = [\"20 mm\", \"50 mm\"], corner = \"3 mm\" }";

/// Keys of outlines that are meant to be read one day.
const LATER: &[&str] = &[
    "oval", "regular", "across", "points", "unit", "svg", "width",
];

/// Reads one `[[blank]]`, whose name is already read.
pub(super) fn read(mut section: Section, name: String, book: &mut Book) -> Option<Blank> {
    if !section.has("outline") {
        section.missing("outline", OUTLINE);
    }
    let outline = section
        .table(book, "outline", OUTLINE)
        .and_then(|table| outline(table, book));
    let thickness = section.may(book, "thickness", &THICKNESS);
    let porous = section.may(book, "porous", &Limit::ANY);
    let bad = Fallback {
        value: Share::from_percent(3.0),
        words: "3 %",
        why: "typical, from memory",
    };
    let bad = section.or(book, "bad", &BAD, bad);
    let none = Fallback {
        value: Whole(0),
        words: "0",
        why: "the file names no stock",
    };
    let have = section.or(book, "have", &HAVE, none).small();
    let pack = section
        .table(book, "pack", "a pack: { of = 25, price = 6.40 }")
        .map(|table| pack(table, book));
    section.finish(book, &["edge", "wall", "holes"]);
    let pack = match pack {
        Some(pack) => Some(pack?),
        None => None,
    };
    Some(Blank {
        name,
        outline: outline?,
        thickness,
        porous,
        bad,
        have: have?,
        pack,
    })
}

fn outline(mut section: Section, book: &mut Book) -> Option<Outline> {
    let round = section.may(book, "round", &SIDE);
    let sides = section.pair(
        book,
        "rectangle",
        (&SIDE, &SIDE),
        "two sides, such as [\"20 mm\", \"50 mm\"]",
    );
    let corner = section.may(book, "corner", &CORNER);
    let spot = section.own_spot();
    let given = (
        section.has("round"),
        section.has("rectangle"),
        section.has("corner"),
    );
    let corner_spot = section.spot("corner");
    let later = LATER.iter().any(|key| section.has(key));
    section.finish(book, LATER);
    match given {
        (true, true, _) => {
            book.refuse(&spot, "an outline is round or a rectangle, not both");
            None
        }
        (true, false, true) => {
            book.refuse(&corner_spot, "a round outline has no corner");
            None
        }
        (true, false, false) => Some(Outline::Round { diameter: round? }),
        (false, true, has_corner) => {
            let (length, width) = sides?;
            let corner = if has_corner { corner? } else { Length::ZERO };
            rectangle(length, width, corner, &corner_spot, book)
        }
        (false, false, _) => {
            if !later {
                book.refuse(
                    &spot,
                    "the outlines read are round and rectangle, and it has neither",
                );
            }
            None
        }
    }
}

fn rectangle(
    length: Length,
    width: Length,
    corner: Length,
    spot: &Spot,
    book: &mut Book,
) -> Option<Outline> {
    let shorter = if length < width { length } else { width };
    // Half an inch written in mm may miss half of an inch by a rounding, so allow one part in a billion.
    if corner > shorter * (0.5 * (1.0 + 1e-9)) {
        let most = shorter.mm() / 2.0;
        book.refuse(
            spot,
            format!(
                "a corner's radius is at most half of the shorter side, which is {most} mm here"
            ),
        );
        return None;
    }
    Some(Outline::Rectangle {
        length,
        width,
        corner,
    })
}

fn pack(mut section: Section, book: &mut Book) -> Option<Pack> {
    let of = section.need(book, "of", &OF).and_then(Whole::small);
    let price = section
        .may(book, "price", &PRICE)
        .map(|price| Money::from_amount(price.0));
    section.finish(book, &[]);
    Some(Pack { of: of?, price })
}
