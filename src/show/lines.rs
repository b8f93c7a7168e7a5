//! Lines of text with a heading on the left, wrapped beside it.

use crate::ask::{About, CautionAnswer};

/// Letters in a line, which fits a terminal of 100.
const WIDTH: usize = 96;

/// Text that grows by lines.
#[derive(Debug, Default)]
pub(super) struct Lines {
    text: String,
    /// Width of the headings.
    heading: usize,
}

impl Lines {
    /// Empty text whose headings take so many letters.
    pub(super) fn with_headings_of(heading: usize) -> Self {
        Self {
            text: String::new(),
            heading,
        }
    }

    /// A line of its own, wrapped.
    pub(super) fn plain(&mut self, words: &str) {
        self.wrapped("", 0, words);
    }

    /// An empty line.
    pub(super) fn gap(&mut self) {
        self.text.push('\n');
    }

    /// A heading with words beside it; more lines hang under the words.
    pub(super) fn line(&mut self, heading: &str, words: &str) {
        self.wrapped(heading, self.heading, words);
    }

    /// Several lines under one heading.
    pub(super) fn list(&mut self, heading: &str, lines: impl IntoIterator<Item = String>) {
        for (i, words) in lines.into_iter().enumerate() {
            self.line(if i == 0 { heading } else { "" }, &words);
        }
    }

    fn wrapped(&mut self, heading: &str, indent: usize, words: &str) {
        let mut line = format!("{heading:indent$}");
        let mut empty = true;
        for word in words.split(' ') {
            let long = line.chars().count() + 1 + word.chars().count() > WIDTH;
            if long && !empty {
                self.text.push_str(line.trim_end());
                self.text.push('\n');
                line = " ".repeat(indent);
                empty = true;
            }
            if !empty {
                line.push(' ');
            }
            line.push_str(word);
            empty = false;
        }
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }

    /// The text.
    pub(super) fn into_text(self) -> String {
        self.text
    }
}

/// What to take care of: what comes first, and the family's own lines. Those
/// for every coated piece stand in the JSON and in the coating's own page.
pub(super) fn care(lines: &mut Lines, cautions: &[CautionAnswer]) {
    let told = cautions.iter().filter(|it| it.about != About::Every);
    lines.list("Care", told.map(|it| it.say.to_owned()));
}

/// "a", "a and b", "a, b and c".
pub(super) fn listed(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [only] => only.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
