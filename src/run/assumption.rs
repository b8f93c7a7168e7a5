//! A default that the run leans on.

/// A value that the file left out, with what was taken in its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Assumption {
    /// The path of the key that was left out, such as `blank[0].bad`.
    pub key: String,
    /// What the maker calls the blank, step, tray... that the key is of, where it is of one.
    pub of: Option<String>,
    /// What was taken, in words.
    pub value: String,
    /// Why, or where the figure comes from.
    pub why: &'static str,
}

impl Assumption {
    /// The key as a maker would call it: `blank[0].bad` of a blank "beech disc" is
    /// "beech disc: bad".
    #[must_use]
    pub fn called(&self) -> String {
        match (&self.of, self.key.split_once("].")) {
            (Some(of), Some((_, key))) => format!("{of}: {key}"),
            _ => self.key.clone(),
        }
    }
}
