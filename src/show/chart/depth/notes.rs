//! The words beside a map, each with a line to what it speaks of.

use crate::show::draw::font::{self, Weight};
use crate::show::draw::palette::{Colour, SLATE};
use crate::show::draw::place::{Fit, Row, Wanted, spread, wrap};
use crate::show::draw::{Canvas, DrawError, Pen, Point, Text};

/// From one line of a note to the next, `[px]`.
const PITCH: f64 = 18.0;
/// The least gap between two notes, `[px]`.
const GAP: f64 = 10.0;

/// Words, and the place that they speak of.
pub(super) struct Note {
    lines: Vec<String>,
    colour: Colour,
    bold: bool,
    tip: Point,
    /// Their middle, down, `[px]`.
    middle: f64,
}

impl Note {
    pub(super) fn new(
        words: &str,
        (colour, bold): (Colour, bool),
        tip: Point,
        room: f64,
    ) -> Result<Self, DrawError> {
        let fit = Fit {
            size: font::BODY,
            weight: if bold { Weight::Bold } else { Weight::Regular },
            room,
            lines: 4,
        };
        Ok(Self {
            lines: wrap(words, fit)?,
            colour,
            bold,
            tip,
            middle: tip.y,
        })
    }

    fn height(&self) -> f64 {
        PITCH * self.lines.iter().map(|_| 1.0).sum::<f64>()
    }
}

/// How much room notes need one above the other, `[px]`.
pub(super) fn height(notes: &[Note]) -> f64 {
    notes.iter().map(|note| note.height() + GAP).sum::<f64>()
}

/// Puts notes one above the other between two heights, each as near to its place as may be.
pub(super) fn stack(notes: &mut [Note], (from, to): (f64, f64)) -> Result<(), DrawError> {
    notes.sort_by(|a, b| a.tip.y.total_cmp(&b.tip.y));
    let wanted: Vec<Wanted> = notes
        .iter()
        .map(|note| Wanted {
            middle: note.tip.y,
            width: note.height(),
        })
        .collect();
    let row = Row { from, to, gap: GAP };
    for (note, middle) in notes.iter_mut().zip(spread("the notes", &wanted, row)?) {
        note.middle = middle;
    }
    Ok(())
}

/// Draws notes with their left ends at `left`.
pub(super) fn draw(notes: &[Note], left: f64, canvas: &Canvas<'_>) -> Result<(), DrawError> {
    for note in notes {
        let knee = Point::new(left - 24.0, note.middle);
        let start = Point::new(left - 7.0, note.middle);
        canvas.line(&[start, knee, note.tip], Pen::solid(SLATE, 0.8))?;
        canvas.dot(note.tip, 3.0, note.colour)?;
        let mut foot = note.middle - note.height() / 2.0 + 14.0;
        for line in &note.lines {
            let text = Text::plain(font::BODY, note.colour);
            let text = if note.bold { text.bold() } else { text };
            canvas.text(line, Point::new(left, foot), text)?;
            foot += PITCH;
        }
    }
    Ok(())
}
