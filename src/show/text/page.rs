//! Lines of a page: a margin for what a line is about, then the words.

/// The widest line, in characters.
const WIDTH: usize = 100;
/// Width of the margin.
const MARGIN: usize = 10;

/// A page as it fills up.
#[derive(Default)]
pub(super) struct Page(String);

impl Page {
    /// Words across the whole page.
    pub fn line(&mut self, words: &str) {
        self.wrapped("", "", words);
    }

    /// An empty line.
    pub fn gap(&mut self) {
        self.0.push('\n');
    }

    /// A heading over details.
    pub fn heading(&mut self, words: &str) {
        self.gap();
        self.line(words);
    }

    /// A margin word, shown or not, then the words.
    pub fn entry(&mut self, margin: &str, words: &str) {
        let first = format!("{margin:<MARGIN$}");
        self.wrapped(&first, &" ".repeat(MARGIN), words);
    }

    /// Words set in under a heading.
    pub fn item(&mut self, words: &str) {
        self.wrapped("  ", "    ", words);
    }

    /// Words set in under an item.
    pub fn under(&mut self, words: &str) {
        self.wrapped("      ", "        ", words);
    }

    /// Breaks words into lines between spaces. A word wider than the page keeps a line to itself.
    fn wrapped(&mut self, first: &str, next: &str, words: &str) {
        let mut line = first.to_owned();
        let mut empty = true;
        for word in words.split(' ').filter(|word| !word.is_empty()) {
            let wide = line.chars().count() + word.chars().count() + usize::from(!empty);
            if !empty && wide > WIDTH {
                self.0.push_str(line.trim_end());
                self.0.push('\n');
                next.clone_into(&mut line);
                empty = true;
            }
            if !empty {
                line.push(' ');
            }
            line.push_str(word);
            empty = false;
        }
        self.0.push_str(line.trim_end());
        self.0.push('\n');
    }

    pub fn into_text(self) -> String {
        self.0
    }
}
