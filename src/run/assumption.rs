//! A default that the run leans on.

/// A value that the file left out, with what was taken in its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Assumption {
    /// The path of the key that was left out, such as `blank[0].bad`.
    pub key: String,
    /// What was taken, in words.
    pub value: String,
    /// Why, or where the figure comes from.
    pub why: &'static str,
}
