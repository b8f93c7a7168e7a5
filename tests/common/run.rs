//! Run files for the tests of reading them.
#![allow(dead_code, reason = "each test file uses its own part")]

use brimful::quantity::{Length, Share};
use brimful::run::{ClockSpan, Run};

/// A run that uses every table. Invented.
pub const WHOLE: &str = include_str!("../data/whole_run.toml");

/// Reads a run, or tells what is wrong with it.
pub fn read(text: &str) -> Run {
    Run::read(text, "run.toml").unwrap_or_else(|faults| panic!("{faults}"))
}

/// What was taken where `key` was left out.
pub fn assumed<'r>(run: &'r Run, key: &str) -> Option<&'r str> {
    let found = run.assumed.iter().find(|assumed| assumed.key == key);
    found.map(|assumed| assumed.value.as_str())
}

/// A run as short as it can be, with more tables at its end.
pub fn short(more: &str) -> String {
    format!(
        r#"
[[piece]]
name = "tag"
count = 30
blank = "slip"
steps = ["cut"]
[[blank]]
name = "slip"
outline = {{ round = "25 mm" }}
[[step]]
name = "cut"
[room]
temperature = "20 C"
humidity = "50 %"
{more}
"#
    )
}

/// A length in millimetres.
pub fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

/// A share in per cent.
pub fn percent(value: f64) -> Share {
    Share::from_percent(value)
}

/// A spell from one clock time to another, each hours and minutes.
pub fn span(from: (u16, u16), to: (u16, u16)) -> ClockSpan {
    ClockSpan {
        from: from.0 * 60 + from.1,
        to: to.0 * 60 + to.1,
    }
}
