//! Labels and cards, on sheets of the maker's own sizes, as pages to print.
//!
//! Each kind is one HTML file that refers to nothing outside itself, with a
//! drawing in millimetres to a page. Words are set as large as the label has
//! room for. Where they and its cautions don't fit in letters that can be read, a
//! label of the maker's own size is refused, never cut, and one of a usual size grows.

mod buyer;
mod page;
mod pick;
mod set;
mod tray;

use super::draw::DrawError;
use crate::plan::Plan;
use crate::quantity::Length;

pub use pick::pick_list;

/// What stands on a label.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Label {
    /// What it is for, in bold.
    title: String,
    /// What it says, one after the other.
    lines: Vec<Line>,
    /// What to be careful of.
    care: Vec<String>,
    /// How many the same.
    copies: u64,
}

/// Words on a label, as one paragraph.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Line {
    words: String,
    bold: bool,
}

impl Line {
    fn plain(words: impl Into<String>) -> Self {
        Self {
            words: words.into(),
            bold: false,
        }
    }

    fn bold(words: impl Into<String>) -> Self {
        Self {
            words: words.into(),
            bold: true,
        }
    }
}

/// Why a label can't be set.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum LabelError {
    /// Its words don't fit on it in letters that can be read.
    #[error(
        "{key} of {width_mm} mm by {height_mm} mm is too small for \"{title}\" and its cautions in letters of 5 points: that wide it needs {needs_mm:.0} mm of height; change {key} under [paper]"
    )]
    TooSmall {
        /// The key of the label's size in the run file.
        key: &'static str,
        /// The label's title.
        title: String,
        /// Its width, `[mm]`.
        width_mm: f64,
        /// Its height, `[mm]`.
        height_mm: f64,
        /// The height that it needs, `[mm]`.
        needs_mm: f64,
    },
    /// The letters could not be measured.
    #[error(transparent)]
    Draw(#[from] DrawError),
}

/// The labels that lie with wet pieces: what is on the tray, when each coat was poured, when to
/// look for bubbles and until when to leave it. `None`: nothing is coated.
///
/// # Errors
/// [`LabelError`] where the words don't fit.
pub fn tray_labels(plan: &Plan) -> Result<Option<String>, LabelError> {
    let labels = tray::labels(plan);
    let what = page::What {
        title: format!("{}: tray labels", plan.header.name),
        key: "tray_label",
        hint: "",
        sheet: plan.paper.sheet,
        labels: plan.paper.tray_label,
        units: plan.header.units,
    };
    page::html(&what, &labels)
}

/// The labels that pieces are sold with, one for each.
///
/// # Errors
/// [`LabelError`] where the words don't fit.
pub fn piece_labels(plan: &Plan) -> Result<Option<String>, LabelError> {
    let what = page::What {
        title: format!("{}: piece labels", plan.header.name),
        key: "piece_label",
        hint: " What must stand on it is for the rules where it is sold.",
        sheet: plan.paper.sheet,
        labels: plan.paper.piece_label,
        units: plan.header.units,
    };
    page::html(&what, &buyer::labels(plan))
}

/// The cards that tell a buyer how to keep a piece, one for each.
///
/// # Errors
/// [`LabelError`] where the words don't fit.
pub fn care_cards(plan: &Plan) -> Result<Option<String>, LabelError> {
    let what = page::What {
        title: format!("{}: care cards", plan.header.name),
        key: "care_card",
        hint: " What must stand on it is for the rules where it is sold.",
        sheet: plan.paper.sheet,
        labels: plan.paper.care_card,
        units: plan.header.units,
    };
    page::html(&what, &buyer::cards(plan))
}

/// A length in millimetres, rounded to a thousandth, as SVG and CSS take it.
fn mm(length: Length) -> String {
    super::draw::figure::trimmed(length.mm(), 3)
}
