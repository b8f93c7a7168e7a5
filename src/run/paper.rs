//! The paper that the run is printed on: sheets, and the labels on them.

use toml::de::DeValue;

use super::reader::{Book, Item, Limit, Mistake, Section, nearest};
use super::tray::mm;
use crate::quantity::{Length, Units};

/// What sheets and labels are printed on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Paper {
    /// Width and height of a sheet.
    pub sheet: [Length; 2],
    /// The labels that lie with wet pieces.
    pub tray_label: LabelSheet,
    /// The labels that finished pieces are sold with.
    pub piece_label: LabelSheet,
    /// The cards that tell a buyer how to keep a piece.
    pub care_card: LabelSheet,
}

/// How labels of one kind lie on a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LabelSheet {
    /// Width and height of one.
    pub size: [Length; 2],
    /// From the sheet's left and upper edge to the first.
    pub margin: [Length; 2],
    /// Between two, across and down.
    pub gap: [Length; 2],
    /// How many lie side by side, at least one.
    pub across: u32,
    /// How many lie one under the other, at least one.
    pub down: u32,
    /// Whether they are cut from plain sheets: the file names no margin, as it would for sheets of labels.
    pub to_cut: bool,
    /// Whether their size is a usual one, for the file names none.
    pub usual: bool,
}

/// A sheet named by its standard, or by its sides.
struct Sheet([Length; 2]);

const SHEET: &str = "\"A4\", \"Letter\", or two sides: [\"210 mm\", \"297 mm\"]";

/// ISO 216 and ANSI/ASME Y14.1.
const A4: [Length; 2] = [Length::from_mm(210.0), Length::from_mm(297.0)];
const LETTER: [Length; 2] = [Length::from_mm(215.9), Length::from_mm(279.4)];

impl Item for Sheet {
    fn expected() -> String {
        SHEET.to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        if let Some(word) = value.as_str() {
            return named(word);
        }
        match value.as_array().map(|list| &list[..]) {
            Some([width, height]) => Ok(Self([
                Length::read(width.get_ref())?,
                Length::read(height.get_ref())?,
            ])),
            _ => Err(Mistake::expected(SHEET)),
        }
    }
}

/// A sheet by its standard's name.
fn named(word: &str) -> Result<Sheet, Mistake> {
    let known = [("A4", A4), ("Letter", LETTER)];
    if let Some(&(_, sides)) = known.iter().find(|(name, _)| *name == word) {
        return Ok(Sheet(sides));
    }
    let near = nearest(word, known.iter().map(|(name, _)| *name));
    Err(Mistake::Expected {
        expected: SHEET.to_owned(),
        nearest: near.map(|name| format!("\"{name}\"")),
    })
}

const SHEET_SIZE: Limit<Sheet> = Limit {
    holds: |sheet| (sheet.0.iter()).all(|side| (110.0..=1200.0).contains(&side.mm())),
    reason: "a sheet's side is from 110 mm to 1200 mm",
};
const LABEL_SIZE: Limit<Length> = Limit {
    holds: |side| (15.0..=1200.0).contains(&side.mm()),
    reason: "a label's side is from 15 mm to 1200 mm",
};
const FREE: Limit<Length> = Limit {
    holds: |free| (0.0..=500.0).contains(&free.mm()),
    reason: "what stays free is from 0 mm to 500 mm wide",
};

/// What few printers print on, along the edge of a sheet (common practice, no source).
const EDGE: Length = Length::from_mm(5.0);

/// What labels measure where the file does not say, of our own choice.
const TRAY_LABEL: [f64; 2] = [95.0, 65.0];
const PIECE_LABEL: [f64; 2] = [62.0, 36.0];
const CARE_CARD: [f64; 2] = [85.0, 54.0];

/// Reads `[paper]`.
pub(super) fn read(section: Option<Section>, units: Units, book: &mut Book) -> Option<Paper> {
    let usual = match units {
        Units::Metric => A4,
        Units::Us => LETTER,
    };
    let Some(mut section) = section else {
        return Some(Paper::with_usual_labels(usual));
    };
    let before = book.faults.len();
    let sheet = section.may(book, "sheet", &SHEET_SIZE);
    let sheet = sheet.map_or(usual, |sheet| sheet.0);
    let mut labels = |key, size| label_sheet(&mut section, key, (sheet, size), book);
    let tray_label = labels("tray_label", TRAY_LABEL);
    let piece_label = labels("piece_label", PIECE_LABEL);
    let care_card = labels("care_card", CARE_CARD);
    section.finish(book);
    if book.faults.len() > before {
        return None;
    }
    Some(Paper {
        sheet,
        tray_label: tray_label?,
        piece_label: piece_label?,
        care_card: care_card?,
    })
}

impl Paper {
    /// A sheet, and labels as large as usual in the middle of it.
    fn with_usual_labels(sheet: [Length; 2]) -> Self {
        let labels = |size: [f64; 2]| LabelSheet::in_the_middle(sheet, size.map(Length::from_mm));
        Self {
            sheet,
            tray_label: labels(TRAY_LABEL),
            piece_label: labels(PIECE_LABEL),
            care_card: labels(CARE_CARD),
        }
    }
}

const LABEL: &str = "a label: { size = [\"70 mm\", \"37 mm\"], margin = [\"0 mm\", \"0 mm\"], gap = [\"0 mm\", \"0 mm\"] }";
const SIDES: &str = "width and height: [\"70 mm\", \"37 mm\"]";
const MARGIN: &str = "from the left and from the top: [\"5 mm\", \"10 mm\"]";
const GAP: &str = "across and down: [\"2 mm\", \"0 mm\"]";

/// Reads how labels lie on a sheet; `None` after a mistake, which is then in the book.
fn label_sheet(
    paper: &mut Section,
    key: &'static str,
    (sheet, usual): ([Length; 2], [f64; 2]),
    book: &mut Book,
) -> Option<LabelSheet> {
    let usual = LabelSheet::in_the_middle(sheet, usual.map(Length::from_mm));
    let before = book.faults.len();
    let Some(mut section) = paper.table(book, key, LABEL) else {
        return (book.faults.len() == before).then_some(usual);
    };
    if !section.has("size") {
        section.missing("size", SIDES);
    }
    let size = section.pair(book, "size", (&LABEL_SIZE, &LABEL_SIZE), SIDES);
    let margin = section.pair(book, "margin", (&FREE, &FREE), MARGIN);
    let gap = section.pair(book, "gap", (&FREE, &FREE), GAP);
    let spot = section.own_spot();
    section.finish(book);
    if book.faults.len() > before {
        return None;
    }
    let (size, gap) = (pair(size?), gap.map_or([Length::ZERO; 2], pair));
    let found = match margin.map(pair) {
        Some(margin) => LabelSheet::from(sheet, size, margin, gap),
        None => LabelSheet::centred(sheet, size, gap),
    };
    if found.is_none() {
        let room = if margin.is_some() {
            "its margin"
        } else {
            "5 mm free along the edges"
        };
        let reason = format!(
            "not one label of {} by {} fits on a sheet of {} by {} with {room}",
            mm(size[0]),
            mm(size[1]),
            mm(sheet[0]),
            mm(sheet[1])
        );
        book.refuse(&spot, reason);
    }
    found
}

fn pair((one, other): (Length, Length)) -> [Length; 2] {
    [one, other]
}

impl LabelSheet {
    /// As many as fit from a margin on; labels on sheets bought for them may reach the far edges.
    fn from(
        sheet: [Length; 2],
        size: [Length; 2],
        margin: [Length; 2],
        gap: [Length; 2],
    ) -> Option<Self> {
        let [across, down] = [0, 1].map(|i| fitting(sheet[i] - margin[i], size[i], gap[i]));
        Some(Self {
            size,
            margin,
            gap,
            across: across?,
            down: down?,
            to_cut: false,
            usual: false,
        })
    }

    /// As many as fit with something free all around, in the middle of the sheet.
    fn centred(sheet: [Length; 2], size: [Length; 2], gap: [Length; 2]) -> Option<Self> {
        let [across, down] = [0, 1].map(|i| fitting(sheet[i] - EDGE * 2.0, size[i], gap[i]));
        let (across, down) = (across?, down?);
        let margin = [(0, across), (1, down)].map(|(i, count)| {
            let count = f64::from(count);
            (sheet[i] - size[i] * count - gap[i] * (count - 1.0)) / 2.0
        });
        Some(Self {
            size,
            margin,
            gap,
            across,
            down,
            to_cut: true,
            usual: false,
        })
    }

    /// The same for labels of a usual size: a sheet has sides of 110 mm or more, so one fits.
    fn in_the_middle(sheet: [Length; 2], size: [Length; 2]) -> Self {
        let one = Self {
            size,
            margin: [Length::ZERO; 2],
            gap: [Length::ZERO; 2],
            across: 1,
            down: 1,
            to_cut: true,
            usual: true,
        };
        Self::centred(sheet, size, [Length::ZERO; 2]).map_or(one, |found| Self {
            usual: true,
            ..found
        })
    }

    /// Labels of a usual size made so much higher. `None`: the sheet has no room for one.
    #[must_use]
    pub fn taller(self, sheet: [Length; 2], height: Length) -> Option<Self> {
        let found = Self::centred(sheet, [self.size[0], height], self.gap)?;
        Some(Self {
            usual: self.usual,
            ..found
        })
    }
}

/// How many labels lie in a row. `None`: not one does.
fn fitting(room: Length, size: Length, gap: Length) -> Option<u32> {
    // what turning units loses must not cost a label
    let many = ((room + gap) / (size + gap) + 1e-9).floor();
    (1..=200).rev().find(|&count| f64::from(count) <= many)
}
