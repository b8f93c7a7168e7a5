//! Fills that are told apart without colour.

use crate::show::draw::line::hatching;
use crate::show::draw::palette::Colour;
use crate::show::draw::place::Space;
use crate::show::draw::{Canvas, DrawError, Pen, Point};

/// How a fill is ruled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ruled {
    /// Not at all.
    Plain,
    /// At 45 degrees, up to the right.
    Rising,
    /// At 45 degrees, down to the right.
    Falling,
    /// From top to bottom.
    Upright,
    /// From left to right.
    Level,
}

/// A fill: its ground, and the lines on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Tone {
    /// Under the lines.
    pub(super) ground: Colour,
    /// Which way the lines run.
    pub(super) ruled: Ruled,
    /// Of the lines.
    pub(super) line: Colour,
    /// From line to line, `[px]`.
    pub(super) apart: f64,
}

/// The four corners of a space.
pub(super) fn corners(space: Space) -> [Point; 4] {
    [
        Point::new(space.left, space.top),
        Point::new(space.right, space.top),
        Point::new(space.right, space.bottom),
        Point::new(space.left, space.bottom),
    ]
}

impl Tone {
    /// Fills a space, without an outline.
    ///
    /// # Errors
    /// [`DrawError::Plot`] if the drawing library refuses.
    pub(super) fn fill(&self, canvas: &Canvas<'_>, space: Space) -> Result<(), DrawError> {
        canvas.fill(&corners(space), self.ground)?;
        let there_and_back = self.lines(space);
        if there_and_back.len() > 1 {
            canvas.line(&there_and_back, Pen::solid(self.line, 0.8))?;
        }
        Ok(())
    }

    /// All lines as one, there and back, joined along the edge: a tenth of the text that
    /// as many lines by themselves would take.
    fn lines(&self, space: Space) -> Vec<Point> {
        let each = match self.ruled {
            Ruled::Plain => Vec::new(),
            Ruled::Rising => hatching(space, self.apart),
            Ruled::Falling => hatching(space, self.apart)
                .into_iter()
                .map(|line| line.map(|p| Point::new(space.left + space.right - p.x, p.y)))
                .collect(),
            Ruled::Upright => steps(space.left, space.right, self.apart)
                .map(|x| [space.bottom, space.top].map(|y| Point::new(x, y)))
                .collect(),
            Ruled::Level => steps(space.top, space.bottom, self.apart)
                .map(|y| [space.left, space.right].map(|x| Point::new(x, y)))
                .collect(),
        };
        joined(&each, space)
    }
}

fn steps(from: f64, to: f64, apart: f64) -> impl Iterator<Item = f64> {
    std::iter::successors(Some(from + apart / 2.0), move |at| Some(at + apart))
        .take_while(move |at| *at < to)
}

/// Lines one after the other, every second one backwards, round the corners between them.
fn joined(lines: &[[Point; 2]], space: Space) -> Vec<Point> {
    let mut path: Vec<Point> = Vec::with_capacity(lines.len() * 2);
    for (number, [a, b]) in lines.iter().enumerate() {
        let (enter, leave) = if number % 2 == 0 { (a, b) } else { (b, a) };
        if let Some(last) = path.last().copied() {
            path.extend(corner_between(last, *enter, space));
        }
        path.extend([*enter, *leave]);
    }
    path
}

/// The corner on the way along the edge from one point of it to another, where they lie on
/// two sides that meet.
fn corner_between(from: Point, to: Point, space: Space) -> Option<Point> {
    let near = |a: f64, b: f64| (a - b).abs() < 1e-6;
    let same_side = near(from.x, to.x) || near(from.y, to.y);
    if same_side {
        return None;
    }
    corners(space).into_iter().find(|corner| {
        let on = |p: Point| near(p.x, corner.x) || near(p.y, corner.y);
        on(from) && on(to)
    })
}
