//! The trays that wet pieces lie on, and the shelves that the trays stand on.

use super::reader::{Book, Fallback, Limit, Number, Section, Whole};
use crate::quantity::{AirChanges, Length};

/// One kind of tray.
#[derive(Debug, Clone, PartialEq)]
pub struct Tray {
    /// What the maker calls it.
    pub name: String,
    /// Its two sides.
    pub size: [Length; 2],
    /// How many there are, at least one.
    pub count: u32,
    /// What stays free along its edges.
    pub margin: Length,
    /// What stays free between two pieces.
    pub gap: Length,
    /// What stays free between two magnets, or they jump together; at least the gap.
    pub magnet_gap: Length,
    /// What covers it while a coat dries. `None`: nothing.
    pub lid: Option<Lid>,
}

/// A lid over a tray.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lid {
    /// Height of the air under it.
    pub height: Length,
    /// How often the room's air replaces that.
    pub air_changes: AirChanges,
    /// How many lids there are; some may be spare. `None`: one for each tray.
    pub count: Option<u32>,
}

/// One kind of shelf: level places for trays, one above the other.
#[derive(Debug, Clone, PartialEq)]
pub struct Shelf {
    /// What the maker calls it.
    pub name: String,
    /// Its length and depth.
    pub size: [Length; 2],
    /// Levels one above the other, at least one.
    pub levels: u32,
    /// How many such shelves there are, at least one.
    pub count: u32,
}

const TRAY_SIZE: Limit<Length> = Limit {
    holds: |size| (20.0..=5000.0).contains(&size.mm()),
    reason: "a tray's side is from 20 mm to 5 m",
};
const SHELF_SIZE: Limit<Length> = Limit {
    holds: |size| (20.0..=5000.0).contains(&size.mm()),
    reason: "a shelf's side is from 20 mm to 5 m",
};
const COUNT: Limit<Whole> = Limit {
    holds: |count| (1..=100_000).contains(&count.0),
    reason: "there are from 1 to 100000 of a kind",
};
const FREE: Limit<Length> = Limit {
    holds: |free| (0.0..=1000.0).contains(&free.mm()),
    reason: "what stays free is from 0 mm to 1 m wide",
};
const LID_HEIGHT: Limit<Length> = Limit {
    holds: |height| (1.0..=1000.0).contains(&height.mm()),
    reason: "the air under a lid is from 1 mm to 1 m high",
};
const CHANGES: Limit<Number> = Limit {
    holds: |changes| (0.0..=1e5).contains(&changes.0),
    reason: "the air under a lid is changed 0 to 100000 times an hour",
};
const LEVELS: Limit<Whole> = Limit {
    holds: |levels| (1..=1000).contains(&levels.0),
    reason: "a shelf has from 1 to 1000 levels",
};
const HEIGHT: Limit<Length> = Limit {
    holds: |height| (20.0..=10_000.0).contains(&height.mm()),
    reason: "a shelf is from 20 mm to 10 m high",
};
const PITCH: Limit<Length> = Limit {
    holds: |pitch| (10.0..=2000.0).contains(&pitch.mm()),
    reason: "levels lie from 10 mm to 2 m one above the other",
};

/// Space between two magnets where the maker names none.
const MAGNETS_APART: Length = Length::from_mm(40.0);

const PRACTICE: &str = "common practice, no source";

/// What a size in a plane looks like.
const SIZE: &str = "two sides: [\"300 mm\", \"400 mm\"]";

/// Reads one `[[tray]]`, whose name is already read. `magnets`: whether the run makes any, so that the space
/// between two is leaned on.
pub(super) fn read(
    mut section: Section,
    name: String,
    magnets: bool,
    book: &mut Book,
) -> Option<Tray> {
    let before = book.faults.len();
    let size = sides(&mut section, &TRAY_SIZE, book);
    let count = count(&mut section, book);
    let ten = Fallback {
        value: Length::from_mm(10.0),
        words: "10 mm",
        why: PRACTICE,
    };
    let gap = section.or(book, "gap", &FREE, ten);
    let margin = section.or_as(book, "margin", &FREE, (gap, mm(gap)), "as wide as the gap");
    let (apart, why) = if gap > MAGNETS_APART {
        (gap, "as wide as the gap")
    } else {
        (MAGNETS_APART, PRACTICE)
    };
    let magnet_gap = if magnets {
        section.or_as(book, "magnet_gap", &FREE, (apart, mm(apart)), why)
    } else {
        section.may(book, "magnet_gap", &FREE).unwrap_or(apart)
    };
    if book.faults.len() == before && magnet_gap < gap {
        let reason = format!(
            "magnets lie no nearer to each other than other pieces, {}",
            mm(gap)
        );
        book.refuse(&section.spot("magnet_gap"), reason);
    }
    let lid = section
        .table(
            book,
            "lid",
            "a lid: { height = \"30 mm\", air_changes = 2 }",
        )
        .and_then(|table| lid(table, book));
    if let Some(size) = size {
        leaves_room(("size", size), margin, &section, book);
    }
    section.finish(book);
    if book.faults.len() > before {
        return None;
    }
    Some(Tray {
        name,
        size: size?,
        count: count?,
        margin,
        gap,
        magnet_gap,
        lid,
    })
}

/// Reads one `[[shelf]]`, whose name is already read.
pub(super) fn read_shelf(mut section: Section, name: String, book: &mut Book) -> Option<Shelf> {
    let before = book.faults.len();
    let size = sides(&mut section, &SHELF_SIZE, book);
    let count = count(&mut section, book);
    let levels = if section.has("height") {
        section.refuse(
            book,
            "levels",
            "height and pitch already say how many levels there are; keep one of the two",
        );
        levels_in(&mut section, book)
    } else {
        section.know("height");
        let lonely = "a pitch divides a height: give height beside it, or levels alone";
        section.refuse(book, "pitch", lonely);
        let one = Fallback {
            value: Whole(1),
            words: "1",
            why: "the file names neither levels nor a height",
        };
        section.or(book, "levels", &LEVELS, one).small()
    };
    section.finish(book);
    if book.faults.len() > before {
        return None;
    }
    Some(Shelf {
        name,
        size: size?,
        levels: levels?,
        count: count?,
    })
}

/// Whole levels that a shelf's height has room for.
fn levels_in(section: &mut Section, book: &mut Book) -> Option<u32> {
    let height = section.may(book, "height", &HEIGHT);
    let hundred = Fallback {
        value: Length::from_mm(100.0),
        words: "100 mm",
        why: PRACTICE,
    };
    let pitch = section.or(book, "pitch", &PITCH, hundred);
    // what turning units loses must not cost a level
    let levels = (height? / pitch + 1e-9).floor();
    if levels < 1.0 {
        let reason = format!(
            "not one level fits in at a pitch of {}; a single board is levels = 1",
            mm(pitch)
        );
        book.refuse(&section.spot("height"), reason);
        return None;
    }
    (1..=1000).find(|&whole| f64::from(whole) >= levels)
}

/// The two sides of a tray or a shelf, which must be there.
fn sides(section: &mut Section, limit: &Limit<Length>, book: &mut Book) -> Option<[Length; 2]> {
    if !section.has("size") {
        section.missing("size", SIZE);
    }
    let (one, other) = section.pair(book, "size", (limit, limit), SIZE)?;
    Some([one, other])
}

fn count(section: &mut Section, book: &mut Book) -> Option<u32> {
    let one = Fallback {
        value: Whole(1),
        words: "1",
        why: "the file names one and no number",
    };
    section.or(book, "count", &COUNT, one).small()
}

fn lid(mut section: Section, book: &mut Book) -> Option<Lid> {
    let height = section.need(book, "height", &LID_HEIGHT);
    let loose = Fallback {
        value: Number(0.5),
        words: "0.5",
        why: "typical, from memory",
    };
    let changes = section.or(book, "air_changes", &CHANGES, loose);
    let count = section.may(book, "count", &COUNT).and_then(Whole::small);
    section.finish(book);
    Some(Lid {
        height: height?,
        air_changes: AirChanges::from_per_h(changes.0),
        count,
    })
}

/// Refuses margins that take up a whole side of what `key` gives the size of.
pub(super) fn leaves_room(
    (key, size): (&str, [Length; 2]),
    margin: Length,
    section: &Section,
    book: &mut Book,
) {
    let Some(narrow) = size.into_iter().find(|&one| margin * 2.0 >= one) else {
        return;
    };
    let reason = format!(
        "a margin of {} on both sides leaves nothing of {}",
        mm(margin),
        mm(narrow)
    );
    let key = if section.has("margin") { "margin" } else { key };
    book.refuse(&section.spot(key), reason);
}

/// A length in millimetres, with at most four decimals.
pub(super) fn mm(length: Length) -> String {
    format!("{} mm", (length.mm() * 1e4).round() / 1e4)
}
