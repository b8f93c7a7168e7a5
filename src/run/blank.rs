//! The blanks that pieces are made on.

use super::reader::{Book, Fallback, Limit, Section, Whole};
use super::{Pack, outline, supplier};
use crate::geometry::{self, BlankError, Outline};
use crate::quantity::{Length, Share, Time};

/// One kind of blank.
#[derive(Debug, Clone, PartialEq)]
pub struct Blank {
    /// What the maker calls it.
    pub name: String,
    /// Its top as a coating meets it: outline, holes, edge and wall.
    pub top: geometry::Blank,
    /// How thick it is. `None`: not said.
    pub thickness: Option<Length>,
    /// Whether it drinks coating, as bare wood does. `None`: not said.
    pub porous: Option<bool>,
    /// Share that is bad on arrival, less than one.
    pub bad: Share,
    /// How many are in stock.
    pub have: u32,
    /// How long a supplier takes. `None`: not said.
    pub delivery: Option<Time>,
    /// How they are sold. `None`: one by one, at a price that is not said.
    pub pack: Option<Pack>,
}

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
/// Reads one `[[blank]]`, whose name is already read.
pub(super) fn read(mut section: Section, name: String, book: &mut Book) -> Option<Blank> {
    let outline = outline::read(&mut section, book);
    let thickness = section.may(book, "thickness", &THICKNESS);
    let sharp = Fallback {
        value: Length::ZERO,
        words: "0 mm",
        why: "taken as sharp",
    };
    let edge = section.or(book, "edge", &Limit::ANY, sharp);
    let wall = section.may(book, "wall", &Limit::ANY);
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
    let delivery = supplier::delivery(&mut section, book);
    let pack = supplier::pack(&mut section, book, &OF);
    let rim = Rim {
        edge,
        wall: wall.unwrap_or(Length::ZERO),
        thickness,
    };
    let top = outline.and_then(|outline| rim.around(outline, &section, book));
    section.finish(book);
    Some(Blank {
        name,
        top: top?,
        thickness,
        porous,
        bad,
        have: have?,
        delivery,
        pack,
    })
}

/// What goes around a top.
struct Rim {
    edge: Length,
    wall: Length,
    thickness: Option<Length>,
}

impl Rim {
    /// The top with its rim; one that does not fit it is a mistake.
    fn around(
        &self,
        outline: Outline,
        section: &Section,
        book: &mut Book,
    ) -> Option<geometry::Blank> {
        if self
            .thickness
            .is_some_and(|thickness| self.edge > thickness)
        {
            let reason = "the edge's radius is at most the blank's thickness";
            book.refuse(&section.spot("edge"), reason);
            return None;
        }
        geometry::Blank::new(outline, self.edge, self.wall)
            .map_err(|why| {
                let key = match why {
                    BlankError::Wall { .. } | BlankError::WallWithHoles => "wall",
                    _ => "edge",
                };
                book.refuse(&section.spot(key), why.to_string());
            })
            .ok()
    }
}
