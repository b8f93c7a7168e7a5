//! What a picture's files are called.

use std::collections::BTreeSet;

/// Names given so far.
#[derive(Debug, Default)]
pub(super) struct Names(BTreeSet<String>);

impl Names {
    /// A file name for a picture of something that the maker named: small letters,
    /// digits and hyphens, none given twice.
    pub(super) fn of(&mut self, thing: &str, picture: &str) -> String {
        let plain: String = thing
            .to_lowercase()
            .chars()
            .map(|c| if c.is_alphanumeric() { c } else { ' ' })
            .collect();
        let words: Vec<&str> = plain.split_whitespace().collect();
        // File systems take some 255 bytes; a letter may be four.
        let joined: String = words.join("-").chars().take(40).collect();
        let stem = if joined.is_empty() {
            "unnamed"
        } else {
            &joined
        };
        let mut name = format!("{stem}-{picture}");
        let mut count = 1;
        while !self.0.insert(name.clone()) {
            count += 1;
            name = format!("{stem}-{count}-{picture}");
        }
        name
    }
}
