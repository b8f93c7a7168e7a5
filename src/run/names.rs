//! The names of one kind of thing, and finding a thing by its name.

use std::collections::HashMap;

use super::reader::{Book, Limit, Name, Section, Spot, nearest};
use super::{Known, Problem};

/// More known names than this, or more faults, and no nearest name is looked for: it would take too long.
const MOST_COMPARED: usize = 1000;

/// At most this many known names are told.
const MOST_TOLD: usize = 8;

/// The names that one kind of thing goes by.
pub(super) struct Names {
    what: &'static str,
    place: HashMap<String, usize>,
    order: Vec<String>,
}

impl Names {
    /// Reads the name of each section; two alike are a mistake.
    pub fn read(what: &'static str, sections: &mut [Section], book: &mut Book) -> Self {
        Self::gather(what, sections, None, book)
    }

    /// As [`read`](Self::read), but the only one of its kind needs no name: it is called by its kind.
    pub fn read_or_kind(what: &'static str, sections: &mut [Section], book: &mut Book) -> Self {
        let lone = (sections.len() == 1).then_some(what);
        Self::gather(what, sections, lone, book)
    }

    fn gather(
        what: &'static str,
        sections: &mut [Section],
        lone: Option<&'static str>,
        book: &mut Book,
    ) -> Self {
        let mut names = Self {
            what,
            place: HashMap::new(),
            order: Vec::new(),
        };
        let mut lines: Vec<usize> = Vec::new();
        for (index, section) in sections.iter_mut().enumerate() {
            let read = match lone {
                Some(kind) if !section.has("name") => {
                    section.know("name");
                    Some(Name::from(kind))
                }
                _ => section.need::<Name>(book, "name", &Limit::ANY),
            };
            let name = read.map(Name::into_string);
            let spot = section.spot("name");
            lines.push(book.line(spot.bytes.start));
            if let Some(&first) = name.as_ref().and_then(|name| names.place.get(name)) {
                let read = book.raw(&spot);
                book.fault(
                    &spot,
                    Problem::NameTaken {
                        read,
                        line: lines[first],
                    },
                );
            } else if let Some(name) = &name {
                names.place.insert(name.clone(), index);
            }
            // A section without a name keeps its place in the order, so that indices agree.
            names.order.push(name.unwrap_or_default());
        }
        names
    }

    /// The name of the thing at `index`.
    pub fn at(&self, index: usize) -> String {
        self.order[index].clone()
    }

    /// The place of a thing by its name; a name that is unknown is a mistake.
    pub fn find(&self, name: &str, spot: &Spot, book: &mut Book) -> Option<usize> {
        if let Some(&index) = self.place.get(name) {
            return Some(index);
        }
        let known = || {
            self.order
                .iter()
                .map(String::as_str)
                .filter(|name| !name.is_empty())
        };
        let compare = self.order.len() <= MOST_COMPARED && book.faults.len() <= MOST_COMPARED;
        let near = if compare {
            nearest(name, known()).map(str::to_owned)
        } else {
            None
        };
        let known = Known {
            first: known().take(MOST_TOLD).map(str::to_owned).collect(),
            count: self.place.len(),
        };
        let read = book.raw(spot);
        book.fault(
            spot,
            Problem::UnknownName {
                read,
                what: self.what,
                nearest: near,
                known,
            },
        );
        None
    }
}
