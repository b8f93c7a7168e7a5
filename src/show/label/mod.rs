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

/// The labels and cards that go with a run's pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// What lies with wet pieces: what is on the tray, when each coat was poured, when to look for
    /// bubbles and until when to leave it.
    Tray,
    /// What a piece is sold with.
    Piece,
    /// How a buyer keeps a piece.
    Card,
}

/// Labels of a kind as one HTML file, a sheet of the maker's to a page. `None`: there is nothing to
/// label.
///
/// # Errors
/// [`LabelError`] where the words don't fit.
pub fn labels(plan: &Plan, kind: Kind) -> Result<Option<String>, LabelError> {
    let (about, key, size, labels) = match kind {
        Kind::Tray => {
            let size = plan.paper.tray_label;
            ("tray labels", "tray_label", size, tray::labels(plan))
        }
        Kind::Piece => {
            let size = plan.paper.piece_label;
            ("piece labels", "piece_label", size, buyer::labels(plan))
        }
        Kind::Card => {
            let size = plan.paper.care_card;
            ("care cards", "care_card", size, buyer::cards(plan))
        }
    };
    let sold = " What must stand on it is for the rules where it is sold.";
    let what = page::What {
        title: format!("{}: {about}", plan.header.name),
        key,
        hint: if kind == Kind::Tray { "" } else { sold },
        sheet: plan.paper.sheet,
        labels: size,
        units: plan.header.units,
    };
    page::html(&what, &labels)
}

/// A length in millimetres, rounded to a thousandth, as SVG and CSS take it.
fn mm(length: Length) -> String {
    super::draw::figure::trimmed(length.mm(), 3)
}
