//! What a batch is called.

use crate::plan::{Dates, Plan};

/// At most so many words of a name give a letter.
const MOST: usize = 3;

/// A short code for a run: the first letters of its name's first three words, and the
/// day on which work begins as year, month and day: "HF-270407".
///
/// Without such a day it is the letters alone, and the day is written by hand. A name
/// without a letter or digit gives "RUN".
#[must_use]
pub fn batch_code(plan: &Plan) -> String {
    let words = plan.header.name.split_whitespace();
    let letters: String = words
        .filter_map(|word| word.chars().find(|c| c.is_alphanumeric()))
        .take(MOST)
        .flat_map(char::to_uppercase)
        .collect();
    let letters = if letters.is_empty() { "RUN" } else { &letters };
    let begins = match &plan.dates {
        Dates::Told(calendar) => Some(calendar.start),
        Dates::NotAsked | Dates::Untold { .. } | Dates::Never(_) => plan.header.start,
    };
    begins.map_or_else(
        || letters.to_owned(),
        |day| format!("{letters}-{}", day.strftime("%y%m%d")),
    )
}
