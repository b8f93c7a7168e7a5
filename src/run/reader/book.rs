//! Where the reader writes what it finds: faults and assumptions.

use std::collections::HashMap;
use std::ops::Range;

use super::super::{Assumption, Beside, Fault, Problem, drawing_text};

/// A place in the file: its key's path and its bytes.
#[derive(Debug, Clone)]
pub(in crate::run) struct Spot {
    /// The key's path.
    pub key: String,
    /// The bytes that the value takes up.
    pub bytes: Range<usize>,
}

/// The file being read with all that was found in it so far.
pub(in crate::run) struct Book<'t> {
    file: &'t str,
    text: &'t str,
    beside: &'t Beside<'t>,
    /// Drawings that were asked for already, by the names that the file gives them.
    drawn: HashMap<String, Result<String, String>>,
    /// Byte at which each line starts.
    lines: Vec<usize>,
    pub faults: Vec<Fault>,
    pub assumed: Vec<Assumption>,
}

impl<'t> Book<'t> {
    pub fn new(file: &'t str, text: &'t str, beside: &'t Beside<'t>) -> Self {
        let breaks = text
            .bytes()
            .enumerate()
            .filter(|&(_, byte)| byte == b'\n')
            .map(|(at, _)| at + 1);
        let lines = std::iter::once(0).chain(breaks).collect();
        Self {
            file,
            text,
            beside,
            drawn: HashMap::new(),
            lines,
            faults: Vec::new(),
            assumed: Vec::new(),
        }
    }

    /// Line of a byte, from 1.
    pub fn line(&self, byte: usize) -> usize {
        self.lines.partition_point(|&start| start <= byte)
    }

    fn column(&self, byte: usize) -> usize {
        let start = self.lines[self.line(byte) - 1];
        // A span may end past the text or, in broken input, inside a character.
        self.text
            .get(start..byte)
            .map_or(1, |before| before.chars().count() + 1)
    }

    /// The first line of a value as it stands in the file, at most 60 characters of it.
    pub fn raw(&self, spot: &Spot) -> String {
        let whole = self.text.get(spot.bytes.clone()).unwrap_or_default();
        let line = whole.lines().next().unwrap_or_default();
        let mut told: String = line
            .chars()
            .take(60)
            .map(|c| if c.is_control() { '?' } else { c })
            .collect();
        if told.len() < whole.len() {
            told.push_str("...");
        }
        told
    }

    /// The text of a drawing, or why there is none. It is asked for once, however often it is named.
    pub fn drawing(&mut self, name: &str) -> Result<&str, &str> {
        let beside = self.beside;
        let text = self
            .drawn
            .entry(name.to_owned())
            .or_insert_with(|| drawing_text(beside(name)?));
        text.as_deref().map_err(String::as_str)
    }

    /// A file beside the run file.
    pub fn beside(&self, name: &str) -> Result<Vec<u8>, String> {
        (self.beside)(name)
    }

    /// Writes down a mistake.
    pub fn fault(&mut self, spot: &Spot, problem: Problem) {
        let (line, column) = (self.line(spot.bytes.start), self.column(spot.bytes.start));
        self.faults.push(Fault {
            file: self.file.to_owned(),
            line,
            column,
            key: spot.key.clone(),
            problem,
        });
    }

    /// Writes down a value that can be read but can't be.
    pub fn refuse(&mut self, spot: &Spot, reason: impl Into<String>) {
        let read = self.raw(spot);
        self.fault(
            spot,
            Problem::Refused {
                read,
                reason: reason.into(),
            },
        );
    }

    /// Writes down a default that is leaned on.
    pub fn assume(&mut self, key: String, value: impl Into<String>, why: &'static str) {
        self.assumed.push(Assumption {
            key,
            of: None,
            value: value.into(),
            why,
        });
    }
}
