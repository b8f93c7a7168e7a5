//! Fitting words: lines broken to a width, labels side by side.

use super::DrawError;
use super::font::{Line, Weight, width};

/// How words are set when they are fitted into a space.
#[derive(Debug, Clone, Copy)]
pub struct Fit {
    /// Height of the letters, `[px]`.
    pub size: f64,
    /// How heavy they are.
    pub weight: Weight,
    /// The room there is, `[px]`.
    pub room: f64,
    /// The most lines they may take; what is left over becomes an ellipsis.
    pub lines: usize,
}

/// Breaks text between words, into lines of much the same length, and inside a
/// word only where one alone is too wide.
///
/// # Errors
///
/// [`DrawError::Font`] if the carried faces can't be read.
pub fn wrap(text: &str, fit: Fit) -> Result<Vec<String>, DrawError> {
    let mut lines = broken(text, fit)?;
    let mut narrower = Fit {
        room: fit.room - 12.0,
        ..fit
    };
    while lines.len() > 1 && narrower.room > fit.room / 2.0 {
        let tried = broken(text, narrower)?;
        // A narrower setting that needs another line, or breaks more words, is none.
        if tried.len() > lines.len() || broken_words(text, &tried) > broken_words(text, &lines) {
            break;
        }
        lines = tried;
        narrower.room -= 12.0;
    }
    if lines.len() > fit.lines {
        lines.truncate(fit.lines);
        if let Some(last) = lines.last_mut() {
            while width(&format!("{last}…"), fit.size, fit.weight)? > fit.room
                && last.pop().is_some()
            {}
            last.push('…');
        }
    }
    Ok(lines)
}

/// Breaks text at the last word that fits on each line, and inside a word only where one alone is
/// too wide; every line is kept.
///
/// # Errors
///
/// [`DrawError::Font`] if the carried faces can't be read.
pub fn flow(text: &str, size: f64, weight: Weight, room: f64) -> Result<Vec<String>, DrawError> {
    let lines = usize::MAX;
    broken(
        text,
        Fit {
            size,
            weight,
            room,
            lines,
        },
    )
}

/// How many words are cut by the ends of lines.
fn broken_words(text: &str, lines: &[String]) -> usize {
    let pieces: usize = lines.iter().map(|l| l.split_whitespace().count()).sum();
    pieces - text.split_whitespace().count().min(pieces)
}

/// Breaks text at the last word that fits on each line.
fn broken(text: &str, fit: Fit) -> Result<Vec<String>, DrawError> {
    let empty = Line::new(fit.weight)?;
    let fits = |measured: Line| measured.width(fit.size) <= fit.room;
    let mut lines: Vec<String> = Vec::new();
    let (mut line, mut measured) = (String::new(), empty);
    for word in &words(text) {
        let space = if line.is_empty() { "" } else { " " };
        let joined = measured.with(space).with(word);
        if fits(joined) {
            line.push_str(space);
            line.push_str(word);
            measured = joined;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
            measured = empty;
        }
        for (at, c) in word.char_indices() {
            line.push(c);
            measured = measured.with(&word[at..at + c.len_utf8()]);
            if !fits(measured) {
                let carried = line.split_off(last_break(&line));
                if !line.is_empty() {
                    lines.push(std::mem::take(&mut line));
                }
                measured = empty.with(&carried);
                line = carried;
            }
        }
    }
    lines.push(line);
    Ok(lines)
}

/// Units that are never parted from their number by the end of a line.
const UNITS: [&str; 18] = [
    "mL", "L", "fl", "oz", "mm", "cm", "m", "in", "g", "kg", "h", "min", "s", "days", "%", "°C",
    "°F", "mm²",
];

/// The words of a text, a number and its unit being one.
fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let unit = word.trim_end_matches(|c: char| ".,;:)".contains(c));
        let follows = |last: &String| {
            last.ends_with(|c: char| c.is_ascii_digit()) || (unit == "oz" && last.ends_with(" fl"))
        };
        match words.last_mut() {
            Some(last) if UNITS.contains(&unit) && follows(last) => {
                last.push(' ');
                last.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// Where a word too wide may be cut: before its last letter, so that no line starts with a mere
/// sign.
fn last_break(word: &str) -> usize {
    let mut at = 0;
    for (i, c) in word.char_indices() {
        if c.is_alphanumeric() {
            at = i;
        }
    }
    at
}

/// A label wanted somewhere along a line.
#[derive(Debug, Clone, Copy)]
pub struct Wanted {
    /// Where its middle would best be, `[px]`.
    pub middle: f64,
    /// How wide it is, `[px]`.
    pub width: f64,
}

/// Where labels may stand.
#[derive(Debug, Clone, Copy)]
pub struct Row {
    /// Left end, `[px]`.
    pub from: f64,
    /// Right end, `[px]`.
    pub to: f64,
    /// Least gap between two labels, `[px]`.
    pub gap: f64,
}

/// Moves labels apart until they keep their order and their gaps, and returns their middles.
///
/// # Errors
///
/// [`DrawError::Crowded`] if they can't all stand in the row.
pub fn spread(what: &'static str, wanted: &[Wanted], row: Row) -> Result<Vec<f64>, DrawError> {
    let gaps =
        row.gap * f64::from(u32::try_from(wanted.len().saturating_sub(1)).unwrap_or(u32::MAX));
    let need = wanted.iter().map(|w| w.width).sum::<f64>() + gaps;
    let have = row.to - row.from;
    if need > have {
        return Err(DrawError::Crowded { what, need, have });
    }
    // Pushed apart to the right, and pushed apart to the left; both keep every gap, so half-way
    // does.
    let right = pushed(wanted, row);
    let mirrored: Vec<Wanted> = wanted
        .iter()
        .rev()
        .map(|w| Wanted {
            middle: -w.middle,
            ..*w
        })
        .collect();
    let left = pushed(
        &mirrored,
        Row {
            from: -row.to,
            to: -row.from,
            gap: row.gap,
        },
    );
    Ok(right
        .iter()
        .zip(left.iter().rev())
        .map(|(r, l)| f64::midpoint(*r, -l))
        .collect())
}

/// Middles of labels, each as far right as its left neighbour pushes it, and back from the right
/// end.
fn pushed(wanted: &[Wanted], row: Row) -> Vec<f64> {
    let mut left: Vec<f64> = Vec::with_capacity(wanted.len());
    let mut free = row.from;
    for w in wanted {
        let at = (w.middle - w.width / 2.0).max(free);
        left.push(at);
        free = at + w.width + row.gap;
    }
    let mut limit = row.to;
    for (at, w) in left.iter_mut().zip(wanted).rev() {
        *at = at.min(limit - w.width);
        limit = *at - row.gap;
    }
    left.iter()
        .zip(wanted)
        .map(|(at, w)| at + w.width / 2.0)
        .collect()
}

/// A space taken by words, `[px]`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Space {
    /// Left edge.
    pub left: f64,
    /// Upper edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Lower edge.
    pub bottom: f64,
}

impl Space {
    /// Whether two spaces share any of the picture.
    #[must_use]
    pub fn meets(self, other: Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// Whether another space lies wholly inside this one.
    #[must_use]
    pub fn holds(self, other: Self) -> bool {
        self.left <= other.left
            && self.right >= other.right
            && self.top <= other.top
            && self.bottom >= other.bottom
    }

    /// Width, `[px]`.
    #[must_use]
    pub fn width(self) -> f64 {
        self.right - self.left
    }

    /// Height, `[px]`.
    #[must_use]
    pub fn height(self) -> f64 {
        self.bottom - self.top
    }
}
