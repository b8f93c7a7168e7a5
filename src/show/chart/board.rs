//! Words put on a picture where nothing else stands.

use crate::show::draw::font::width;
use crate::show::draw::palette::PAPER;
use crate::show::draw::place::Space;
use crate::show::draw::{Anchor, Canvas, DrawError, Point, Text};

/// What is left free around words, `[px]`.
const AIR: f64 = 3.0;

/// Where words stand already.
pub(super) struct Board {
    within: Space,
    taken: Vec<Space>,
}

/// Lines of words and the place that was found for them.
pub(super) struct Note {
    lines: Vec<(String, Text)>,
    space: Space,
}

impl Board {
    /// A board with nothing on it.
    pub(super) const fn new(within: Space) -> Self {
        Self {
            within,
            taken: Vec::new(),
        }
    }

    /// Keeps words away from a place.
    pub(super) fn keep_free(&mut self, space: Space) {
        self.taken.push(space);
    }

    /// Puts lines of words at the first of several places where they are on the board and
    /// meet nothing. A place is told the words' width and height, and tells their middle.
    ///
    /// # Errors
    /// [`DrawError::Font`] if the carried faces can't be read.
    pub(super) fn put(
        &mut self,
        lines: Vec<(String, Text)>,
        places: impl FnOnce([f64; 2]) -> Vec<Point>,
    ) -> Result<Option<Note>, DrawError> {
        let size = measure(&lines)?;
        for middle in places(size) {
            let space = around(middle, size);
            let free = self.taken.iter().all(|other| !space.meets(*other));
            if free && self.within.holds(space) {
                self.taken.push(space);
                return Ok(Some(Note { lines, space }));
            }
        }
        Ok(None)
    }
}

/// Width and height of lines of words with the air around them, `[px]`.
///
/// # Errors
/// [`DrawError::Font`] if the carried faces can't be read.
pub(super) fn measure(lines: &[(String, Text)]) -> Result<[f64; 2], DrawError> {
    let (mut wide, mut high) = (0.0_f64, 2.0 * AIR);
    for (words, text) in lines {
        wide = wide.max(width(words, text.size, text.weight)?);
        high += pitch(text);
    }
    Ok([wide + 2.0 * AIR, high])
}

/// From one line to the next, `[px]`.
fn pitch(text: &Text) -> f64 {
    text.size * 1.25
}

fn around(middle: Point, [wide, high]: [f64; 2]) -> Space {
    Space {
        left: middle.x - wide / 2.0,
        top: middle.y - high / 2.0,
        right: middle.x + wide / 2.0,
        bottom: middle.y + high / 2.0,
    }
}

impl Note {
    /// Where it stands, `[px]`.
    pub(super) const fn space(&self) -> Space {
        self.space
    }

    /// Draws it on a ground of paper, so that lines stop short of it.
    ///
    /// # Errors
    /// [`DrawError::Plot`] if the drawing library refuses.
    pub(super) fn draw(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let Space {
            left,
            top,
            right,
            bottom,
        } = self.space;
        let corners = [(left, top), (right, top), (right, bottom), (left, bottom)];
        canvas.fill(&corners.map(|(x, y)| Point::new(x, y)), PAPER)?;
        let mut y = top + AIR;
        for (words, text) in &self.lines {
            y += pitch(text);
            let x = match text.anchor {
                Anchor::Left => left + AIR,
                Anchor::Middle => f64::midpoint(left, right),
                Anchor::Right => right - AIR,
            };
            canvas.text(words, Point::new(x, y - text.size * 0.3), *text)?;
        }
        Ok(())
    }
}
