//! Reading the outline of a blank's flat top, and the holes in it.

use super::reader::{Book, Fallback, FileName, LengthUnit, Limit, Point, Section, Spot, Whole};
use crate::geometry::{Hole, Outline, OutlineError};
use crate::quantity::{Length, Offset};

/// What an outline looks like in the file.
pub(super) const EXPECTED: &str = "an outline: { round = \"38 mm\" }, { rectangle = [\"20 mm\", \"50 mm\"], corner = \"3 mm\" }, \
     { oval = [\"25 mm\", \"18 mm\"] }, { regular = 6, across = \"25 mm\" }, \
     { points = [[0, 0], [30, 0], [15, 20]], unit = \"mm\" } or { svg = \"leaf.svg\", width = \"40 mm\" }";

const SIDE: Limit<Length> = Limit {
    holds: |side| is_side(*side),
    reason: SIDE_REASON,
};
const SIDE_REASON: &str = "a blank is from 1 mm to 1000 mm across";
const CORNER: Limit<Length> = Limit {
    holds: |corner| corner.mm() >= 0.0,
    reason: "a corner's radius is 0 mm (sharp) or more",
};
/// What a count can hold: the geometry says how many sides there may be.
const SIDES: Limit<Whole> = Limit {
    holds: |sides| u32::try_from(sides.0).is_ok(),
    reason: "a regular outline has from 3 to 100 sides",
};
const HOLE: Limit<Length> = Limit {
    holds: |across| across.mm() >= 0.1 && across.mm() <= 1000.0,
    reason: "a hole is from 0.1 mm to 1000 mm across",
};

fn is_side(side: Length) -> bool {
    side.mm() >= 1.0 && side.mm() <= 1000.0
}

/// One way to give an outline.
struct Way {
    /// The key that it goes by.
    key: &'static str,
    /// What it is called.
    called: &'static str,
    /// The keys that must stand beside it, with what they hold.
    needs: &'static [(&'static str, &'static str)],
    /// The keys that may stand beside it.
    takes: &'static [&'static str],
}

impl Way {
    /// Whether a key may stand beside it.
    fn knows(&self, key: &str) -> bool {
        self.takes.contains(&key) || self.needs.iter().any(|(needed, _)| *needed == key)
    }
}

const WAYS: [Way; 6] = [
    Way {
        key: "round",
        called: "a round outline",
        needs: &[],
        takes: &[],
    },
    Way {
        key: "rectangle",
        called: "a rectangle",
        needs: &[],
        takes: &["corner"],
    },
    Way {
        key: "oval",
        called: "an oval",
        needs: &[],
        takes: &[],
    },
    Way {
        key: "regular",
        called: "a regular outline",
        needs: &[("across", "its width across flats, such as \"25 mm\"")],
        takes: &["corner"],
    },
    Way {
        key: "points",
        called: "an outline of points",
        needs: &[],
        takes: &["unit", "corner"],
    },
    Way {
        key: "svg",
        called: "a drawing",
        needs: &[("width", "how wide the drawing is, such as \"40 mm\"")],
        takes: &["corner"],
    },
];

/// More holes than this are no blank any more.
const MOST_HOLES: usize = 1000;

/// Keys that stand beside some ways and not beside others.
const BESIDE: [&str; 4] = ["corner", "across", "unit", "width"];

/// Reads a blank's `outline` and `holes`.
pub(super) fn read(blank: &mut Section, book: &mut Book) -> Option<Outline> {
    if !blank.has("outline") {
        blank.missing("outline", EXPECTED);
    }
    let read = blank
        .table(book, "outline", EXPECTED)
        .and_then(|table| whole(table, book));
    let holes = holes(blank, book);
    let (outline, way) = read?;
    cut(outline, &holes?, way, book)
}

/// Reads an outline's own table; also gives the way in which it is told.
fn whole(mut section: Section, book: &mut Book) -> Option<(Outline, &'static Way)> {
    let before = book.faults.len();
    let given = Given::read(&mut section, book);
    let way = way(&section, book);
    let spots = Spots {
        way: section.spot(way.map_or("", |way| way.key)),
        corner: section.spot("corner"),
    };
    if let Some(way) = way {
        for (key, needed) in way.needs {
            if !section.has(key) {
                section.missing(key, *needed);
            }
        }
    }
    section.finish(book);
    let way = way.filter(|_| book.faults.len() == before)?;
    let outline = match given.outline(way)? {
        Ok(outline) => outline,
        Err(why) => {
            book.refuse(spots.of(&why), why.to_string());
            return None;
        }
    };
    if outline.size().into_iter().all(is_side) {
        Some((outline, way))
    } else {
        let [length, width] = outline.size().map(|side| (side.mm() * 1e3).round() / 1e3);
        book.refuse(
            &spots.way,
            format!("{SIDE_REASON}, and this is {length} mm by {width} mm"),
        );
        None
    }
}

/// The one way in which an outline is told; none, more than one, or a key that
/// has no place beside it is a mistake.
fn way(section: &Section, book: &mut Book) -> Option<&'static Way> {
    let told: Vec<&Way> = WAYS.iter().filter(|way| section.has(way.key)).collect();
    match told[..] {
        [way] => {
            for key in BESIDE {
                if section.has(key) && !way.knows(key) {
                    let reason = format!("{} has no {key}", way.called);
                    book.refuse(&section.spot(key), reason);
                }
            }
            Some(way)
        }
        // A key that is no key here is told by itself, and was meant for one.
        [] if section.has_unknown() => None,
        [] => {
            book.refuse(
                &section.own_spot(),
                "an outline is told by one of round, rectangle, oval, regular, points and svg, and this by none of them",
            );
            None
        }
        [ref first @ .., last] => {
            let first: Vec<&str> = first.iter().map(|way| way.key).collect();
            let reason = format!(
                "an outline is told in one way, and this is told by {} and {}",
                first.join(", "),
                last.key
            );
            book.refuse(&section.own_spot(), reason);
            None
        }
    }
}

/// The text of a drawing that the file names.
fn drawing(name: &str, spot: &Spot, book: &mut Book) -> Option<String> {
    let text = book.drawing(name).map(str::to_owned);
    let why = text.map_err(str::to_owned);
    why.map_err(|why| book.refuse(spot, format!("the drawing can't be read: {why}")))
        .ok()
}

/// Half an inch written in millimetres may miss half of an inch by a rounding:
/// a corner that is too large by no more than that is half of the shorter side.
fn fitted(corner: Length, length: Length, width: Length) -> Length {
    let shorter = if length < width { length } else { width };
    let most = shorter / 2.0;
    if corner > most && corner <= most * (1.0 + 1e-9) {
        most
    } else {
        corner
    }
}

/// Where the values stand that the geometry may refuse.
struct Spots {
    way: Spot,
    corner: Spot,
}

impl Spots {
    fn of(&self, why: &OutlineError) -> &Spot {
        match why {
            OutlineError::Corner { .. } | OutlineError::NoCorner => &self.corner,
            _ => &self.way,
        }
    }
}

/// A hole that is read, and where it stands in the file.
struct ReadHole {
    at: [Length; 2],
    across: Length,
    at_spot: Spot,
    across_spot: Spot,
}

/// Reads the list of holes; `None` where one of them can't be read.
fn holes(blank: &mut Section, book: &mut Book) -> Option<Vec<ReadHole>> {
    let before = book.faults.len();
    let expected = "a list of holes: [{ at = [\"0 mm\", \"14 mm\"], across = \"3 mm\" }]";
    let tables = blank.tables_in(book, "holes", expected);
    if tables.len() > MOST_HOLES {
        let reason = format!("a blank has at most {MOST_HOLES} holes");
        book.refuse(&blank.spot("holes"), reason);
        return None;
    }
    let read: Vec<Option<ReadHole>> = tables
        .into_iter()
        .map(|table| one_hole(table, book))
        .collect();
    let all: Option<Vec<ReadHole>> = read.into_iter().collect();
    all.filter(|_| book.faults.len() == before)
}

fn one_hole(mut table: Section, book: &mut Book) -> Option<ReadHole> {
    let place = "how far right and how far up it lies, such as [\"0 mm\", \"14 mm\"]";
    if !table.has("at") {
        table.missing("at", place);
    }
    let at = table.pair::<Offset, Offset>(book, "at", (&Limit::ANY, &Limit::ANY), place);
    let across = table.need(book, "across", &HOLE);
    let (at_spot, across_spot) = (table.spot("at"), table.spot("across"));
    table.finish(book);
    Some(ReadHole {
        at: at.map(|(x, y)| [x.length(), y.length()])?,
        across: across?,
        at_spot,
        across_spot,
    })
}

/// Cuts the holes out. Their places are told from the middle of the outline's
/// box, or in the points' own coordinates where points give it.
fn cut(outline: Outline, holes: &[ReadHole], way: &Way, book: &mut Book) -> Option<Outline> {
    if holes.is_empty() {
        return Some(outline);
    }
    let [x, y] = match way.key {
        "points" => [Length::ZERO; 2],
        _ => outline.middle(),
    };
    let placed: Vec<Hole> = holes
        .iter()
        .map(|hole| Hole {
            at: [hole.at[0] + x, hole.at[1] + y],
            diameter: hole.across,
        })
        .collect();
    match outline.with_holes(&placed) {
        Ok(cut) => Some(cut),
        Err(why) => {
            book.refuse(spot_of(&why, holes), why.to_string());
            None
        }
    }
}

/// Where the hole stands that the geometry refuses.
fn spot_of<'h>(why: &OutlineError, holes: &'h [ReadHole]) -> &'h Spot {
    match *why {
        OutlineError::HoleSize { hole, .. } => &holes[hole - 1].across_spot,
        OutlineError::HoleOutside { hole, .. } => &holes[hole - 1].at_spot,
        OutlineError::HolesTouch { second, .. } => &holes[second - 1].at_spot,
        _ => &holes[0].at_spot,
    }
}

/// Every value that an outline's table may hold.
struct Given {
    round: Option<Length>,
    rectangle: Option<(Length, Length)>,
    oval: Option<(Length, Length)>,
    regular: Option<u32>,
    across: Option<Length>,
    points: Option<Vec<(Spot, Point)>>,
    unit: Length,
    svg: Option<String>,
    width: Option<Length>,
    corner: Length,
}

impl Given {
    fn read(section: &mut Section, book: &mut Book) -> Self {
        let sides = (&SIDE, &SIDE);
        let round = section.may(book, "round", &SIDE);
        let two = "two sides, such as [\"20 mm\", \"50 mm\"]";
        let rectangle = section.pair(book, "rectangle", sides, two);
        let two = "length and width, such as [\"25 mm\", \"18 mm\"]";
        let oval = section.pair(book, "oval", sides, two);
        let regular = section.may(book, "regular", &SIDES).and_then(Whole::small);
        let across = section.may(book, "across", &SIDE);
        let some = "a list of points, such as [[0, 0], [30, 0], [15, 20]]";
        let points = section.list(book, "points", some);
        let svg = section
            .may(book, "svg", &Limit::ANY)
            .and_then(|FileName(name)| drawing(&name, &section.spot("svg"), book));
        let width = section.may(book, "width", &SIDE);
        let corner = section.may(book, "corner", &CORNER);
        let millimetre = Fallback {
            value: LengthUnit(Length::from_mm(1.0)),
            words: "mm",
            why: "the points name no unit",
        };
        let LengthUnit(unit) = if section.has("points") {
            section.or(book, "unit", &Limit::ANY, millimetre)
        } else {
            section
                .may(book, "unit", &Limit::ANY)
                .unwrap_or(millimetre.value)
        };
        Self {
            round,
            rectangle,
            oval,
            regular,
            across,
            points,
            unit,
            svg,
            width,
            corner: corner.unwrap_or(Length::ZERO),
        }
    }

    /// The outline that a way gives; `None` where a value that it needs was not read.
    fn outline(&self, way: &Way) -> Option<Result<Outline, OutlineError>> {
        Some(match way.key {
            "round" => Outline::round(self.round?),
            "rectangle" => {
                let (length, width) = self.rectangle?;
                Outline::rectangle(length, width, fitted(self.corner, length, width))
            }
            "oval" => {
                let (length, width) = self.oval?;
                Outline::oval(length, width)
            }
            "regular" => Outline::regular(self.regular?, self.across?, self.corner),
            "points" => {
                let points = self.points.as_ref()?.iter();
                let points: Vec<[Length; 2]> = points
                    .map(|(_, Point([x, y]))| [self.unit * *x, self.unit * *y])
                    .collect();
                Outline::points(&points, self.corner)
            }
            _ => Outline::svg(self.svg.as_deref()?, self.width?, self.corner),
        })
    }
}
