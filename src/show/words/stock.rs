//! Stock that is past its date, and shapes that fit on no sheet.

use crate::plan::{Past, Stale};

/// That some stock is not counted, and why.
pub(super) fn stale(what: &str, stock: Stale, past: Past) -> String {
    let (stock, is) = match stock {
        Stale::Bottles(1.0) => ("the bottle".to_owned(), "is"),
        Stale::Bottles(bottles) if bottles < 1.0 => ("the opened bottle".to_owned(), "is"),
        Stale::Bottles(bottles) => (format!("the {bottles} bottles"), "are"),
        Stale::Each(1) | Stale::Spools(1) | Stale::Sheets(1) => ("the one".to_owned(), "is"),
        Stale::Each(count) => (format!("the {count}"), "are"),
        Stale::Spools(count) => (format!("the {count} open spools"), "are"),
        Stale::Sheets(count) => (format!("the {count} sheets"), "are"),
    };
    format!(
        "{what}: {stock} in stock {is} not counted, best before {}, and the day is {}",
        past.best_before.strftime("%-d %B %Y"),
        past.used_on.strftime("%-d %B %Y")
    )
}
