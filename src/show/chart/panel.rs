//! A strip of a picture over time: one value, one axis.

use crate::show::draw::font;
use crate::show::draw::palette::{INK, MIST, SLATE};
use crate::show::draw::place::Space;
use crate::show::draw::{Anchor, Canvas, DrawError, Pen, Point, Text};

/// A strip between its axes.
pub(super) struct Panel {
    /// What it measures, in words over it.
    pub(super) title: String,
    /// The place between the axes.
    pub(super) space: Space,
    /// Values at the left and the right edge.
    pub(super) x: (f64, f64),
    /// Values at the lower and the upper edge.
    pub(super) y: (f64, f64),
    /// Marks of the upright axis with their words.
    pub(super) ticks: Vec<(f64, String)>,
}

impl Panel {
    /// Where a pair of values lies.
    pub(super) fn place(&self, x: f64, y: f64) -> Point {
        Point::new(self.across(x), self.down(y))
    }

    pub(super) fn across(&self, x: f64) -> f64 {
        self.space.left + self.space.width() * (x - self.x.0) / (self.x.1 - self.x.0)
    }

    pub(super) fn down(&self, y: f64) -> f64 {
        self.space.bottom - self.space.height() * (y - self.y.0) / (self.y.1 - self.y.0)
    }

    /// Draws the axes, their words and the lines at the marks.
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
        for (value, words) in &self.ticks {
            let y = self.down(*value);
            canvas.line(
                &[left, right].map(|x| Point::new(x, y)),
                Pen::solid(MIST, 0.4),
            )?;
            let text = Text::plain(font::SMALL, SLATE).at(Anchor::Right);
            canvas.text(words, Point::new(left - 8.0, y + 4.5), text)?;
        }
        let axis = [(left, top), (left, bottom), (right, bottom)];
        canvas.line(&axis.map(|(x, y)| Point::new(x, y)), Pen::solid(INK, 1.0))?;
        let over = Point::new(left, top - 10.0);
        canvas.text(&self.title, over, Text::plain(font::BODY, INK))
    }
}

/// Marks of a time axis under a place, with their words; those that would meet are left out.
///
/// # Errors
/// [`DrawError::Plot`] if the drawing library refuses.
pub(super) fn time_axis(
    canvas: &Canvas<'_>,
    (panel, bottom): (&Panel, f64),
    ticks: &[(f64, String)],
    title: &str,
) -> Result<(), DrawError> {
    let mut free = f64::NEG_INFINITY;
    let Space { left, right, .. } = panel.space;
    canvas.line(
        &[left, right].map(|x| Point::new(x, bottom)),
        Pen::solid(INK, 1.0),
    )?;
    for (at, words) in ticks {
        let x = panel.across(*at);
        canvas.line(
            &[bottom, bottom + 5.0].map(|y| Point::new(x, y)),
            Pen::solid(INK, 1.0),
        )?;
        let half = font::width(words, font::SMALL, font::Weight::Regular)? / 2.0;
        if x - half > free && x + half < right + 38.0 {
            let text = Text::plain(font::SMALL, SLATE).at(Anchor::Middle);
            canvas.text(words, Point::new(x, bottom + 19.0), text)?;
            free = x + half + 8.0;
        }
    }
    let middle = Point::new(f64::midpoint(left, right), bottom + 40.0);
    canvas.text(
        title,
        middle,
        Text::plain(font::BODY, INK).at(Anchor::Middle),
    )
}

/// Steps of a time axis, `[h]`, of which the first that gives ten marks or fewer is taken.
const STEPS: [f64; 16] = [
    1.0 / 60.0,
    1.0 / 30.0,
    1.0 / 12.0,
    1.0 / 6.0,
    0.25,
    0.5,
    1.0,
    2.0,
    3.0,
    6.0,
    12.0,
    24.0,
    48.0,
    96.0,
    192.0,
    480.0,
];

/// The step of an axis that spans so many hours, `[h]`.
pub(super) fn step(hours: f64) -> f64 {
    let fits = |step: &&f64| hours / **step <= 10.0;
    STEPS.iter().find(fits).copied().unwrap_or(hours / 8.0)
}
