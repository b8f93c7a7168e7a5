//! What pieces take beside blanks and coatings: paper, cord, findings, packaging.

use jiff::civil::Date;

use super::reader::{Book, Fallback, Limit, Section, Whole};
use super::{Pack, supplier, tray};
use crate::quantity::{Length, Share, Time};

/// One kind of supply.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    /// What the maker calls it.
    pub name: String,
    /// What it is, and what there is of it.
    pub stuff: Stuff,
    /// How it is sold: findings or sheets in a pack, or spools. `None`: singly, at a price not said.
    pub pack: Option<Pack>,
    /// Spares beyond what the pieces take.
    pub spares: Share,
    /// The day from which what is in stock is no longer used. `None`: it keeps.
    pub best_before: Option<Date>,
    /// How long a supplier takes. `None`: not said.
    pub delivery: Option<Time>,
}

/// What a supply is.
#[derive(Debug, Clone, PartialEq)]
pub enum Stuff {
    /// Findings, bags, cards: counted.
    Each {
        /// How many are in stock.
        have: u32,
    },
    /// Cord, chain or wire: cut from a spool, with no joins.
    Cut {
        /// What a new spool holds.
        spool: Length,
        /// What is left on the spools in stock.
        have: Vec<Length>,
    },
    /// Paper or another sheet that shapes are cut from.
    Sheet {
        /// Its two sides.
        size: [Length; 2],
        /// What stays free along its edges.
        margin: Length,
        /// What stays free between two shapes.
        gap: Length,
        /// How many whole sheets are in stock.
        have: u32,
    },
}

const SHEET: Limit<Length> = Limit {
    holds: |side| (20.0..=5000.0).contains(&side.mm()),
    reason: "a sheet's side is from 20 mm to 5 m",
};
const FREE: Limit<Length> = Limit {
    holds: |free| (0.0..=1000.0).contains(&free.mm()),
    reason: "what stays free is from 0 mm to 1 m wide",
};
const SPOOL: Limit<Length> = Limit {
    holds: |spool| (0.01..=10_000.0).contains(&spool.m()),
    reason: "a spool holds from 10 mm to 10000 m",
};
const OF: Limit<Whole> = Limit {
    holds: |of| (1..=10_000_000).contains(&of.0),
    reason: "a pack holds from 1 to 10000000",
};
const HAVE: Limit<Whole> = Limit {
    holds: |have| (0..=10_000_000).contains(&have.0),
    reason: "a stock is from 0 to 10000000",
};
const SPARES: Limit<Share> = Limit {
    holds: |spares| (0.0..=1.0).contains(&spares.fraction()),
    reason: "spares lie from 0 % to 100 % of what the pieces take",
};

const PRACTICE: &str = "common practice, no source";

/// Reads one `[[supply]]`, whose name is already read.
pub(super) fn read(mut section: Section, name: String, book: &mut Book) -> Option<Supply> {
    let before = book.faults.len();
    let stuff = match (section.has("sheet"), section.has("spool")) {
        (true, true) => {
            let reason = "a supply is a sheet or comes on a spool, not both";
            book.refuse(&section.spot("spool"), reason);
            return None;
        }
        (true, false) => sheet(&mut section, book),
        (false, true) => spool(&mut section, book),
        (false, false) => each(&mut section, book),
    };
    let pack = supplier::pack(&mut section, book, &OF);
    let none = Fallback {
        value: Share::ZERO,
        words: "0 %",
        why: "the file asks for none",
    };
    let spares = section.or(book, "spares", &SPARES, none);
    let best_before = supplier::best_before(&mut section, book);
    let delivery = supplier::delivery(&mut section, book);
    section.finish(book);
    if book.faults.len() > before {
        return None;
    }
    Some(Supply {
        name,
        stuff: stuff?,
        pack,
        spares,
        best_before,
        delivery,
    })
}

fn each(section: &mut Section, book: &mut Book) -> Option<Stuff> {
    section.know("sheet");
    section.know("spool");
    only_of_a_sheet(section, book);
    let have = have(section, book)?;
    Some(Stuff::Each { have })
}

fn sheet(section: &mut Section, book: &mut Book) -> Option<Stuff> {
    let sides = "two sides: [\"148 mm\", \"210 mm\"]";
    let size = section.pair(book, "sheet", (&SHEET, &SHEET), sides);
    let five = Fallback {
        value: Length::from_mm(5.0),
        words: "5 mm",
        why: PRACTICE,
    };
    let margin = section.or(book, "margin", &FREE, five);
    let two = Fallback {
        value: Length::from_mm(2.0),
        words: "2 mm",
        why: PRACTICE,
    };
    let gap = section.or(book, "gap", &FREE, two);
    let have = have(section, book);
    let (length, width) = size?;
    let size = [length, width];
    tray::leaves_room(("sheet", size), margin, section, book);
    Some(Stuff::Sheet {
        size,
        margin,
        gap,
        have: have?,
    })
}

fn spool(section: &mut Section, book: &mut Book) -> Option<Stuff> {
    let spool = section.may(book, "spool", &SPOOL);
    only_of_a_sheet(section, book);
    if !section.has("have") {
        book.assume(section.path("have"), "none", "the file names no stock");
    }
    let left = "what is left on each spool: [\"3.2 m\", \"40 cm\"]";
    let left = section.list::<Length>(book, "have", left);
    let mut have = Vec::new();
    for (spot, length) in left.into_iter().flatten() {
        if length > Length::ZERO && length.m() <= 10_000.0 {
            have.push(length);
        } else {
            book.refuse(
                &spot,
                "more than 0 mm and at most 10000 m is left on a spool",
            );
        }
    }
    Some(Stuff::Cut {
        spool: spool?,
        have,
    })
}

/// Whole ones in stock.
fn have(section: &mut Section, book: &mut Book) -> Option<u32> {
    let none = Fallback {
        value: Whole(0),
        words: "0",
        why: "the file names no stock",
    };
    section.or(book, "have", &HAVE, none).small()
}

fn only_of_a_sheet(section: &mut Section, book: &mut Book) {
    for key in ["margin", "gap"] {
        section.refuse(book, key, "this is of a sheet: it takes sheet beside it");
    }
}
