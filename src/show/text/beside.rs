//! Two plans in two columns.

use crate::show::Beside;

/// Width of the words on the left, and of each column.
const MARGIN: usize = 8;
const COLUMN: usize = 44;

/// Two plans side by side, lines of at most 100 columns.
#[must_use]
pub fn beside(both: &Beside) -> String {
    let mut text = String::new();
    let names = both.names.map(|name| vec![name.to_owned()]);
    row("", &names, &mut text);
    for (what, [one, other]) in both.rows() {
        if one.is_empty() && other.is_empty() {
            continue;
        }
        if what == "Care" && one == other {
            // the same cautions are told once, across both columns
            row(
                what,
                &[vec!["the same for both:".to_owned()], Vec::new()],
                &mut text,
            );
            for line in wrapped_to(2 * COLUMN, &one) {
                text.push_str(&" ".repeat(MARGIN));
                text.push_str(&line);
                text.push('\n');
            }
            continue;
        }
        row(what, &[one, other], &mut text);
    }
    text.push_str("\nThe product's own label and safety data sheet come first, for either.\n");
    text
}

fn row(what: &str, columns: &[Vec<String>; 2], text: &mut String) {
    let [left, right] = columns.each_ref().map(|words| wrapped(words));
    let height = left.len().max(right.len());
    for line in 0..height {
        let cell = |column: &[String]| column.get(line).cloned().unwrap_or_default();
        let margin = if line == 0 { what } else { "" };
        let whole = format!(
            "{margin:<MARGIN$}{:<COLUMN$}  {}",
            cell(&left),
            cell(&right)
        );
        text.push_str(whole.trim_end());
        text.push('\n');
    }
}

/// Words broken into lines of a column, each entry on a line of its own.
fn wrapped(entries: &[String]) -> Vec<String> {
    wrapped_to(COLUMN, entries)
}

fn wrapped_to(width: usize, entries: &[String]) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for entry in entries {
        let mut line = String::new();
        for word in entry.split(' ') {
            if !line.is_empty() && line.chars().count() + 1 + word.chars().count() > width {
                lines.push(std::mem::take(&mut line));
                line.push_str("  ");
            }
            if !line.trim().is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
        lines.push(line);
    }
    lines
}
