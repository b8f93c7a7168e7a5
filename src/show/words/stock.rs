//! What is in stock: what comes out of it, and what is past its date.

use jiff::civil::DateTime;

use super::moment;
use crate::plan::{DrawnPlan, Past, Stale, Warning};
use crate::quantity::{Show, Units, Volume};
use crate::run::Bottle;

/// "of the 120 mL in stock 114 mL come out, the rest stays in the bottles". `None`: there is no
/// stock, or none of it counts.
#[must_use]
pub fn comes_out(bottle: &Bottle, stock: Volume, units: Units) -> Option<String> {
    let have = bottle.holds * bottle.have;
    (stock > Volume::ZERO).then(|| {
        let rest = if stock < have * (1.0 - 1e-9) {
            ", the rest stays in the bottles"
        } else {
            ""
        };
        format!(
            "of the {} in stock {} come out{rest}",
            have.show(units),
            stock.show(units)
        )
    })
}

/// "with the 2 in stock", "if not in stock".
#[must_use]
pub fn pens(pen: &DrawnPlan) -> String {
    match (pen.have, pen.stale) {
        (Some(have), _) if have > 0.0 => format!("with the {have} in stock"),
        (_, Some(_)) => "none in stock within its date".to_owned(),
        (Some(_), None) => "none in stock".to_owned(),
        (None, None) => "if not in stock".to_owned(),
    }
}

/// "1 piece", "12 pieces".
#[must_use]
pub fn pieces(count: u64) -> String {
    match count {
        1 => "1 piece".to_owned(),
        many => format!("{many} pieces"),
    }
}

/// That some stock is not counted, and why.
pub(super) fn stale(what: &str, stock: Stale, past: Past) -> String {
    let (stock, is) = match stock {
        Stale::Bottles(1.0) => ("the bottle".to_owned(), "is"),
        Stale::Bottles(bottles) if bottles < 1.0 => ("the opened bottle".to_owned(), "is"),
        Stale::Bottles(bottles) => (format!("the {bottles} bottles"), "are"),
        Stale::Pens(1.0) => ("the pen".to_owned(), "is"),
        Stale::Pens(pens) if pens < 1.0 => ("the used pen".to_owned(), "is"),
        Stale::Pens(pens) => (format!("the {pens} pens"), "are"),
        Stale::Each(1) | Stale::Spools(1) | Stale::Sheets(1) => ("the one".to_owned(), "is"),
        Stale::Each(count) => (format!("the {count}"), "are"),
        Stale::Spools(count) => (format!("the {count} open spools"), "are"),
        Stale::Sheets(count) => (format!("the {count} sheets"), "are"),
    };
    let day = if past.by_calendar {
        "the last use is on"
    } else {
        "the day is"
    };
    format!(
        "{what}: {stock} in stock {is} not counted, best before {}, and {day} {}",
        past.best_before.strftime("%-d %B %Y"),
        past.used_on.strftime("%-d %B %Y")
    )
}

/// That some stock would not count were the run begun as late as can be.
pub(super) fn stale_later(what: &str, past: Past, start: DateTime) -> String {
    format!(
        "{what}: the list to buy counts on the stock, best before {}; begun as late as {} it is past that at its last use, so buy it anew then",
        past.best_before.strftime("%-d %B %Y"),
        moment(start, true)
    )
}

/// That what has to be ordered comes after the work could take it.
pub(super) fn order_too_late(warning: &Warning) -> String {
    let Warning::OrderTooLate {
        what,
        by,
        asked,
        comes,
        step,
        could,
        begins,
    } = warning
    else {
        return String::new();
    };
    format!(
        "{what}: ordered on {}, the day of the start, it comes on {}, and \"{step}\" begins on {}; for that to begin on {}, order it by {} or find it nearer",
        asked.strftime("%a %-d %b %Y"),
        comes.strftime("%a %-d %b %Y"),
        begins.strftime("%a %-d %b %Y %H:%M"),
        could.strftime("%a %-d %b %Y %H:%M"),
        by.strftime("%a %-d %b %Y"),
    )
}
