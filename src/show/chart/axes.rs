//! Two axes, and the place between them.

use crate::show::draw::figure;
use crate::show::draw::font::{self, Weight, width};
use crate::show::draw::palette::{INK, MIST, SLATE};
use crate::show::draw::place::Space;
use crate::show::draw::{Anchor, Canvas, DrawError, Pen, Point, Text};

/// A value that an axis marks, and how it is written there.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Tick {
    pub(super) at: f64,
    pub(super) words: String,
}

/// One axis: from the least value to the most, with marks between.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Axis {
    /// What is measured, and its unit.
    pub(super) title: String,
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) ticks: Vec<Tick>,
}

impl Axis {
    /// An axis with marks at round values, at most `pieces` parts apart.
    ///
    /// # Errors
    /// [`DrawError::NotPositive`] where `to` is not above `from`.
    pub(super) fn linear(
        title: impl Into<String>,
        (from, to): (f64, f64),
        pieces: f64,
    ) -> Result<Self, DrawError> {
        let span = to - from;
        if !(span > 0.0 && span.is_finite()) {
            return Err(DrawError::NotPositive {
                what: "the length of an axis",
                value: span,
            });
        }
        let step = figure::step(span, pieces);
        let mut ticks = Vec::new();
        let mut number = (from / step - 1e-9).ceil();
        while number * step <= to + 1e-9 * span {
            let at = number * step;
            ticks.push(Tick {
                at,
                words: figure::trimmed(if at == 0.0 { 0.0 } else { at }, decimals(step)),
            });
            number += 1.0;
        }
        Ok(Self {
            title: title.into(),
            from,
            to,
            ticks,
        })
    }

    fn share(&self, value: f64) -> f64 {
        (value - self.from) / (self.to - self.from)
    }
}

/// Places after the point that a step of 1, 2 or 5 times a power of ten needs.
fn decimals(step: f64) -> usize {
    (0..12)
        .zip(std::iter::successors(Some(step), |s| Some(s * 10.0)))
        .find(|(_, scaled)| *scaled >= 1.0 - 1e-9)
        .map_or(12, |(places, _)| places)
}

/// From the upper end of the words over the y axis to the axis, `[px]`.
const HEAD: f64 = 26.0;
/// From the x axis down to the end of the words under it, `[px]`.
const FOOT: f64 = 46.0;

/// Two axes laid out.
pub(super) struct Axes {
    x: Axis,
    y: Axis,
    space: Space,
}

impl Axes {
    /// Lays two axes and their words into a space. The y axis' title stands over it,
    /// so that nobody has to turn their head.
    ///
    /// # Errors
    /// [`DrawError::Font`] if the carried faces can't be read; [`DrawError::Crowded`] where
    /// the space is too small.
    pub(super) fn lay_out(x: Axis, y: Axis, outer: Space) -> Result<Self, DrawError> {
        let mut left: f64 = 0.0;
        for tick in &y.ticks {
            left = left.max(width(&tick.words, font::SMALL, Weight::Regular)?);
        }
        let mut right: f64 = 0.0;
        if let Some(last) = x.ticks.last() {
            let half = width(&last.words, font::SMALL, Weight::Regular)? / 2.0;
            right = half * x.share(last.at);
        }
        let space = Space {
            left: outer.left + left + 10.0,
            top: outer.top + HEAD,
            right: outer.right - right,
            bottom: outer.bottom - FOOT,
        };
        if space.width() < 60.0 || space.height() < 40.0 {
            return Err(DrawError::Crowded {
                what: "two axes",
                need: 60.0,
                have: space.width().min(space.height()),
            });
        }
        let mut axes = Self { x, y, space };
        axes.thin_x()?;
        Ok(axes)
    }

    /// Drops marks of the x axis until the words under it stand apart.
    fn thin_x(&mut self) -> Result<(), DrawError> {
        loop {
            let mut free = f64::NEG_INFINITY;
            let mut meets = false;
            for tick in &self.x.ticks {
                let half = width(&tick.words, font::SMALL, Weight::Regular)? / 2.0;
                let middle = self.across(tick.at);
                meets |= middle - half < free;
                free = middle + half + 8.0;
            }
            if !meets || self.x.ticks.len() < 2 {
                return Ok(());
            }
            let mut even = false;
            self.x.ticks.retain(|_| {
                even = !even;
                even
            });
        }
    }

    /// The place between the axes, `[px]`.
    pub(super) const fn space(&self) -> Space {
        self.space
    }

    /// How far right a value of the x axis lies, `[px]`.
    pub(super) fn across(&self, x: f64) -> f64 {
        self.space.left + self.space.width() * self.x.share(x)
    }

    /// How far down a value of the y axis lies, `[px]`.
    pub(super) fn down(&self, y: f64) -> f64 {
        self.space.bottom - self.space.height() * self.y.share(y)
    }

    /// Where a pair of values lies.
    pub(super) fn place(&self, x: f64, y: f64) -> Point {
        Point::new(self.across(x), self.down(y))
    }

    /// Draws the thin lines at the marks; what the picture shows goes over them.
    ///
    /// # Errors
    /// [`DrawError::Plot`] if the drawing library refuses.
    pub(super) fn draw_grid(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let pen = Pen::solid(MIST, 0.4);
        for tick in &self.y.ticks {
            let y = self.down(tick.at);
            let ends = [self.space.left, self.space.right].map(|x| Point::new(x, y));
            canvas.line(&ends, pen)?;
        }
        for tick in &self.x.ticks {
            let x = self.across(tick.at);
            let ends = [self.space.bottom, self.space.bottom + 5.0].map(|y| Point::new(x, y));
            canvas.line(&ends, Pen::solid(INK, 1.0))?;
        }
        Ok(())
    }

    /// Draws the axes themselves and their words, over what the picture shows.
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
        let axis = [
            Point::new(left, top),
            Point::new(left, bottom),
            Point::new(right, bottom),
        ];
        canvas.line(&axis, Pen::solid(INK, 1.0))?;
        let small = Text::plain(font::SMALL, SLATE);
        for tick in &self.y.ticks {
            let at = Point::new(left - 8.0, self.down(tick.at) + 4.5);
            canvas.text(&tick.words, at, small.at(Anchor::Right))?;
        }
        for tick in &self.x.ticks {
            let at = Point::new(self.across(tick.at), bottom + 19.0);
            canvas.text(&tick.words, at, small.at(Anchor::Middle))?;
        }
        let title = Text::plain(font::BODY, INK);
        let over = Point::new(left, top - 12.0);
        canvas.text(&self.y.title, over, title)?;
        let under = Point::new(f64::midpoint(left, right), bottom + 40.0);
        canvas.text(&self.x.title, under, title.at(Anchor::Middle))
    }
}
