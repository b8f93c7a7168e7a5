//! One table of the file.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::item::{self, Item, Mistake};
use super::{Book, Limit, Spot, nearest};
use crate::quantity::{Kind, Measured};
use crate::run::Problem;

/// A table being read. It keeps the keys that were asked for, so that
/// [`finish`](Section::finish) can tell those that nothing asked for.
pub(in crate::run) struct Section<'t> {
    table: &'t DeTable<'t>,
    path: String,
    bytes: Range<usize>,
    asked: Vec<&'static str>,
    /// Keys that must be there and aren't, with what they would hold.
    missing: Vec<(&'static str, String)>,
    /// Which keys that nothing asks for here belong elsewhere, and where.
    elsewhere: Option<Elsewhere>,
}

/// Keys that are easily written in a table where they do not belong.
struct Elsewhere {
    those: fn(&str) -> bool,
    belong: &'static str,
}

impl<'t> Section<'t> {
    pub fn new(table: &'t DeTable<'t>, path: String, bytes: Range<usize>) -> Self {
        Self {
            table,
            path,
            bytes,
            asked: Vec::new(),
            missing: Vec::new(),
            elsewhere: None,
        }
    }

    /// Where the table itself starts.
    pub fn own_spot(&self) -> Spot {
        Spot {
            key: self.path.clone(),
            bytes: self.bytes.clone(),
        }
    }

    /// The path of a key in this table.
    pub fn path(&self, key: &str) -> String {
        if self.path.is_empty() {
            key.to_owned()
        } else {
            format!("{}.{key}", self.path)
        }
    }

    /// Where a key's value is, or the table where the key is absent.
    pub fn spot(&self, key: &str) -> Spot {
        let bytes = self
            .table
            .get(key)
            .map_or_else(|| self.bytes.clone(), Spanned::span);
        Spot {
            key: self.path(key),
            bytes,
        }
    }

    /// Whether the key is there.
    pub fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    /// Whether some key is there that nothing has asked for so far.
    pub fn has_unknown(&self) -> bool {
        let asked = |key: &Spanned<_>| self.asked.iter().any(|asked| key.get_ref() == asked);
        !self.table.keys().all(asked)
    }

    /// Whether the key holds a table.
    pub fn is_table(&self, key: &str) -> bool {
        self.table
            .get(key)
            .is_some_and(|value| value.get_ref().is_table())
    }

    fn ask(&mut self, key: &'static str) -> Option<&'t Spanned<DeValue<'t>>> {
        if !self.asked.contains(&key) {
            self.asked.push(key);
        }
        self.table.get(key)
    }

    /// Counts a key as one that is read here, so that a misspelt one is told as such.
    pub fn know(&mut self, key: &'static str) {
        self.ask(key);
    }

    /// A value that may be left out.
    pub fn may<T: Item>(
        &mut self,
        book: &mut Book,
        key: &'static str,
        limit: &Limit<T>,
    ) -> Option<T> {
        let value = self.ask(key)?;
        let spot = self.spot(key);
        checked(book, &spot, value.get_ref(), limit)
    }

    /// Refuses a key that has no place beside the others, if it is there.
    pub fn refuse(&mut self, book: &mut Book, key: &'static str, reason: &str) {
        if self.ask(key).is_some() {
            book.refuse(&self.spot(key), reason);
        }
    }

    /// A value that must be there.
    pub fn need<T: Item>(
        &mut self,
        book: &mut Book,
        key: &'static str,
        limit: &Limit<T>,
    ) -> Option<T> {
        if !self.has(key) {
            self.missing(key, T::expected());
        }
        self.may(book, key, limit)
    }

    /// A value with a default: leaned on, and written down, where it is left out.
    pub fn or<T: Item>(
        &mut self,
        book: &mut Book,
        key: &'static str,
        limit: &Limit<T>,
        default: Fallback<T>,
    ) -> T {
        let Fallback { value, words, why } = default;
        self.or_as(book, key, limit, (value, words.to_owned()), why)
    }

    /// A value with a default that depends on what was read before, with its words: leaned on, and written
    /// down, where it is left out.
    pub fn or_as<T: Item>(
        &mut self,
        book: &mut Book,
        key: &'static str,
        limit: &Limit<T>,
        (value, words): (T, String),
        why: &'static str,
    ) -> T {
        if !self.has(key) {
            book.assume(self.path(key), words, why);
        }
        self.may(book, key, limit).unwrap_or(value)
    }

    /// A quantity of a kind that is known only when running.
    pub fn quantity(&mut self, book: &mut Book, key: &'static str, kind: Kind) -> Option<Measured> {
        let value = self.ask(key)?;
        item::quantity(value.get_ref(), kind)
            .map_err(|mistake| wrong(book, &self.spot(key), mistake))
            .ok()
    }

    /// Two values of their own kinds in one list.
    pub fn pair<A: Item, B: Item>(
        &mut self,
        book: &mut Book,
        key: &'static str,
        limits: (&Limit<A>, &Limit<B>),
        expected: &str,
    ) -> Option<(A, B)> {
        let value = self.ask(key)?;
        let spot = self.spot(key);
        let Some([first, second]) = value.get_ref().as_array().map(|list| &list[..]) else {
            wrong(book, &spot, Mistake::expected(expected));
            return None;
        };
        let first = checked(book, &within(&spot, 0, first), first.get_ref(), limits.0);
        let second = checked(book, &within(&spot, 1, second), second.get_ref(), limits.1);
        Some((first?, second?))
    }

    /// Every value in a list that can be read, each with its place. `None` where there is no list.
    pub fn list<T: Item>(
        &mut self,
        book: &mut Book,
        key: &'static str,
        expected: &str,
    ) -> Option<Vec<(Spot, T)>> {
        let value = self.ask(key)?;
        let spot = self.spot(key);
        let Some(list) = value.get_ref().as_array() else {
            wrong(book, &spot, Mistake::expected(expected));
            return None;
        };
        let read = |(index, item): (usize, &Spanned<DeValue>)| {
            let spot = within(&spot, index, item);
            checked(book, &spot, item.get_ref(), &Limit::ANY).map(|value| (spot, value))
        };
        Some(list.iter().enumerate().filter_map(read).collect())
    }

    /// A table in this one.
    pub fn table(&mut self, book: &mut Book, key: &'static str, expected: &str) -> Option<Self> {
        let value = self.ask(key)?;
        let spot = self.spot(key);
        let Some(table) = value.get_ref().as_table() else {
            wrong(book, &spot, Mistake::expected(expected));
            return None;
        };
        Some(Section::new(table, spot.key, value.span()))
    }

    /// Every table of a list of tables, such as each `[[piece]]`.
    pub fn tables(&mut self, book: &mut Book, key: &'static str) -> Vec<Self> {
        let expected = format!("a list of tables, each under its own [[{key}]]");
        self.tables_in(book, key, &expected)
    }

    /// Every table of a list that is expected to look like `expected`.
    pub fn tables_in(&mut self, book: &mut Book, key: &'static str, expected: &str) -> Vec<Self> {
        let Some(value) = self.ask(key) else {
            return Vec::new();
        };
        let spot = self.spot(key);
        let DeValue::Array(list) = value.get_ref() else {
            wrong(book, &spot, Mistake::expected(expected));
            return Vec::new();
        };
        let mut sections = Vec::new();
        for (index, item) in list.iter().enumerate() {
            let spot = within(&spot, index, item);
            match item.get_ref() {
                DeValue::Table(table) => sections.push(Section::new(table, spot.key, item.span())),
                _ => wrong(book, &spot, Mistake::expected(expected)),
            }
        }
        sections
    }

    /// Notes that a key is missing. It is told at the end, unless a key is found that was probably meant for it.
    pub fn missing(&mut self, key: &'static str, expected: impl Into<String>) {
        self.missing.push((key, expected.into()));
    }

    /// Where keys belong that are easily written here instead.
    pub fn elsewhere(&mut self, those: fn(&str) -> bool, belong: &'static str) {
        self.elsewhere = Some(Elsewhere { those, belong });
    }

    /// Tells every key that is missing, and every key that nothing asked for.
    pub fn finish(mut self, book: &mut Book) {
        for key in self.table.keys() {
            let name: &str = key.get_ref();
            if self.asked.contains(&name) {
                continue;
            }
            let near = nearest(name, self.asked.iter().copied());
            self.missing.retain(|&(key, _)| Some(key) != near);
            let problem = match &self.elsewhere {
                Some(elsewhere) if (elsewhere.those)(name) => Problem::Misplaced {
                    belongs: elsewhere.belong,
                },
                _ => Problem::UnknownKey {
                    nearest: near.map(str::to_owned),
                    known: self.asked.clone(),
                },
            };
            book.fault(
                &Spot {
                    key: self.path(&shown(name)),
                    bytes: key.span(),
                },
                problem,
            );
        }
        for (key, expected) in &self.missing {
            let spot = Spot {
                key: self.path(key),
                bytes: self.bytes.clone(),
            };
            book.fault(
                &spot,
                Problem::Missing {
                    expected: expected.clone(),
                },
            );
        }
    }
}

/// A key as it is shown: short, and without control characters.
fn shown(key: &str) -> String {
    let mut told: String = key
        .chars()
        .take(40)
        .map(|c| if c.is_control() { '?' } else { c })
        .collect();
    if told.len() < key.len() {
        told.push_str("...");
    }
    told
}

/// A default with how it is shown and why it is taken.
pub(in crate::run) struct Fallback<T> {
    /// The value.
    pub value: T,
    /// The value in words.
    pub words: &'static str,
    /// Why.
    pub why: &'static str,
}

fn within(list: &Spot, index: usize, item: &Spanned<DeValue>) -> Spot {
    Spot {
        key: format!("{}[{index}]", list.key),
        bytes: item.span(),
    }
}

fn wrong(book: &mut Book, spot: &Spot, mistake: Mistake) {
    let problem = mistake.at(book.raw(spot));
    book.fault(spot, problem);
}

fn checked<T: Item>(book: &mut Book, spot: &Spot, value: &DeValue, limit: &Limit<T>) -> Option<T> {
    match T::read(value) {
        Ok(item) if (limit.holds)(&item) => Some(item),
        Ok(_) => {
            book.refuse(spot, limit.reason);
            None
        }
        Err(mistake) => {
            wrong(book, spot, mistake);
            None
        }
    }
}
