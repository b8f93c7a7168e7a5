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
    /// Where words stand only if they find no other place.
    lines: Vec<Vec<Space>>,
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
            lines: Vec::new(),
        }
    }

    /// Tells of a line that words keep off where they can.
    pub(super) fn line(&mut self, line: &[Point]) {
        self.lines.push(strip_along(line));
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
        let spaces = places(size).into_iter().map(|middle| around(middle, size));
        let space = spaces.into_iter().find(|space| self.is_free(*space));
        Ok(space.map(|space| self.take(lines, space)))
    }

    /// The same, at the first place of those that meet the fewest lines; of words that may be broken
    /// in several ways, the first way that has it.
    ///
    /// # Errors
    /// [`DrawError::Font`] if the carried faces can't be read.
    pub(super) fn put_clear(
        &mut self,
        ways: Vec<Vec<(String, Text)>>,
        places: impl Fn([f64; 2]) -> Vec<Point>,
    ) -> Result<Option<Note>, DrawError> {
        let mut best: Option<(usize, Note)> = None;
        for lines in ways {
            let size = measure(&lines)?;
            let spaces = places(size).into_iter().map(|middle| around(middle, size));
            let free = spaces.filter(|space| self.is_free(*space));
            let found = free
                .map(|space| (self.crossed(space), space))
                .min_by_key(|(crossed, _)| *crossed);
            if let Some((crossed, space)) = found
                && best.as_ref().is_none_or(|(fewest, _)| crossed < *fewest)
            {
                best = Some((crossed, Note { lines, space }));
            }
        }
        let note = best.map(|(_, note)| note);
        self.taken.extend(note.as_ref().map(Note::space));
        Ok(note)
    }

    /// How many lines a place meets.
    fn crossed(&self, space: Space) -> usize {
        let met = |line: &&Vec<Space>| line.iter().any(|part| space.meets(*part));
        self.lines.iter().filter(met).count()
    }

    fn is_free(&self, space: Space) -> bool {
        self.within.holds(space) && self.taken.iter().all(|other| !space.meets(*other))
    }

    fn take(&mut self, lines: Vec<(String, Text)>, space: Space) -> Note {
        self.taken.push(space);
        Note { lines, space }
    }
}

/// So far words keep from the middle of a line, `[px]`.
pub(super) const CLEAR: f64 = 3.0;
/// A line is kept clear of from point to point, these no further apart than this, `[px]`.
const POINTS: f64 = 5.0;

/// Small places all along a line, which together hold it and a little around it.
pub(super) fn strip_along(line: &[Point]) -> Vec<Space> {
    let mut places = Vec::new();
    for pair in line.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let steps = ((b.x - a.x).hypot(b.y - a.y) / POINTS).ceil().max(1.0);
        let at = |step: f64| {
            let share = step / steps;
            Point::new(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share)
        };
        let mut step = 0.0;
        while step < steps {
            let (from, to) = (at(step), at(step + 1.0));
            places.push(Space {
                left: from.x.min(to.x) - CLEAR,
                right: from.x.max(to.x) + CLEAR,
                top: from.y.min(to.y) - CLEAR,
                bottom: from.y.max(to.y) + CLEAR,
            });
            step += 1.0;
        }
    }
    places
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
