//! The coatings that a run uses.

use super::reader::{Book, Limit, Name, Section, nearest};
use super::{Bottle, Known, Problem, Size, bottle, label};
use crate::coating::{Coating, Family, Key, families, family};
use crate::quantity::Measured;

/// A coating as the run has it: the stuff, and the bottle that it comes in.
#[derive(Debug, Clone, PartialEq)]
pub struct RunCoating {
    /// What the maker calls it.
    pub name: String,
    /// Its properties and label.
    pub coating: Coating,
    /// The bottle. `None`: not said, so no bottles can be counted.
    pub bottle: Option<Bottle>,
    /// Other sizes that it is sold in; none without a bottle that has a price.
    pub also_sold: Vec<Size>,
}

/// Reads one `[[coating]]`, whose name is already read.
pub(super) fn read(mut section: Section, name: String, book: &mut Book) -> Option<RunCoating> {
    let family = section.need::<Name>(book, "family", &Limit::ANY);
    let family = family.and_then(|name| find_family(name.as_str(), &section, book));
    let before = book.faults.len();
    let own = properties(&mut section, book);
    let label_table = section.table(
        book,
        "label",
        "a label: { at = [\"23 C\", \"50 %\"], handle = \"24 h\" }",
    );
    let label_path = section.path("label");
    let label = match (family, label_table) {
        (Some(family), Some(table)) => label::read(table, &family.label, book),
        (Some(family), None) => Some(label::assumed(&family.label, &label_path, book)),
        (None, table) => {
            if let Some(table) = table {
                label::check_only(table, book);
            }
            None
        }
    };
    let coating = match (family, label) {
        (Some(family), Some(label)) if book.faults.len() == before => {
            match Coating::with(family, own, label) {
                Ok(coating) => Some(coating),
                Err(clash) => {
                    let key = [Key::PullBackAngle, Key::TargetAngle, Key::BrimAngle]
                        .into_iter()
                        .find(|key| section.has(key.name()));
                    let spot =
                        key.map_or_else(|| section.own_spot(), |key| section.spot(key.name()));
                    book.refuse(&spot, clash.to_string());
                    None
                }
            }
        }
        _ => None,
    };
    let has_bottle = section.has("bottle");
    let bottle = section.table(
        book,
        "bottle",
        "a bottle: { holds = \"60 mL\", price = 7.20, have = 0.5 }",
    );
    let bottle = bottle.and_then(|table| bottle::read(table, coating.as_ref(), book));
    let also_sold = section.tables_in(
        book,
        "also_sold",
        "a list of sizes: [{ holds = \"250 mL\", price = 22.00 }]",
    );
    let unpriced = bottle.map_or(!has_bottle, |bottle| bottle.price.is_none());
    if unpriced && !also_sold.is_empty() {
        let reason = "other sizes are weighed against the bottle: give bottle, with its price";
        book.refuse(&section.spot("also_sold"), reason);
    }
    let of = (coating.as_ref(), bottle.as_ref());
    let also_sold = bottle::sizes(also_sold, of, book);
    section.finish(book);
    if has_bottle && bottle.is_none() {
        return None;
    }
    Some(RunCoating {
        name,
        coating: coating?,
        bottle,
        also_sold: also_sold?,
    })
}

fn find_family(name: &str, section: &Section, book: &mut Book) -> Option<&'static Family> {
    let found = family(name);
    if found.is_none() {
        let spot = section.spot("family");
        let names = || families().iter().map(|family| family.name.as_str());
        let near = nearest(name, names()).map(str::to_owned);
        let known = Known {
            first: names().map(str::to_owned).collect(),
            count: families().len(),
        };
        let read = book.raw(&spot);
        book.fault(
            &spot,
            Problem::UnknownName {
                read,
                what: "coating family",
                nearest: near,
                known,
            },
        );
    }
    found
}

/// The maker's own figures: any property by its key.
fn properties(section: &mut Section, book: &mut Book) -> Vec<(Key, Measured)> {
    let mut own = Vec::new();
    for key in Key::all() {
        let Some(value) = section.quantity(book, key.name(), key.kind()) else {
            continue;
        };
        match key.check(value) {
            Ok(()) => own.push((key, value)),
            Err(reason) => book.refuse(&section.spot(key.name()), reason),
        }
    }
    own
}
