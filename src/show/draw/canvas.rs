//! Where a chart draws.

use plotters::coord::Shift;
use plotters::element::{Circle, PathElement, Polygon};
use plotters::prelude::{DrawingArea, SVGBackend};
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{Color, FontDesc, FontFamily, FontStyle, RGBColor, ShapeStyle, TextStyle};

use super::font::{FAMILY, Weight};
use super::palette::Colour;
use super::{DrawError, Point, clean, line};

/// Drawing units in a pixel.
///
/// The drawing library keeps whole units only, so a picture is drawn ten
/// times as large as it is shown, and curves stay smooth.
pub const UNITS_PER_PX: i32 = 10;

/// The library's own drawing area, in units of a tenth of a pixel.
pub type Root<'a> = DrawingArea<SVGBackend<'a>, Shift>;

/// How a line is broken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Dash {
    /// Unbroken.
    Solid,
    /// Long dashes: 11 px and gaps of 5 px.
    Long,
    /// Dots: 2.5 px and gaps of 3.5 px.
    Dots,
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pen {
    /// Its colour.
    pub colour: Colour,
    /// Its width, `[px]`.
    pub width: f64,
    /// How it is broken.
    pub dash: Dash,
}

impl Pen {
    /// An unbroken line.
    #[must_use]
    pub const fn solid(colour: Colour, width: f64) -> Self {
        Self {
            colour,
            width,
            dash: Dash::Solid,
        }
    }
}

/// Which part of a line of text stands at its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Its left end.
    Left,
    /// Its middle.
    Middle,
    /// Its right end.
    Right,
}

/// How a line of text is set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Text {
    /// Height of its letters, `[px]`.
    pub size: f64,
    /// How heavy it is.
    pub weight: Weight,
    /// Its colour.
    pub colour: Colour,
    /// Which part of it stands at the point given.
    pub anchor: Anchor,
}

impl Text {
    /// Text of regular weight that starts at its point.
    #[must_use]
    pub const fn plain(size: f64, colour: Colour) -> Self {
        Self {
            size,
            weight: Weight::Regular,
            colour,
            anchor: Anchor::Left,
        }
    }

    /// The same, bold.
    #[must_use]
    pub const fn bold(self) -> Self {
        Self {
            weight: Weight::Bold,
            ..self
        }
    }

    /// The same, with another part of it at its point.
    #[must_use]
    pub const fn at(self, anchor: Anchor) -> Self {
        Self { anchor, ..self }
    }
}

/// A picture being drawn, measured in pixels at single size.
pub struct Canvas<'a> {
    root: Root<'a>,
}

impl<'a> Canvas<'a> {
    pub(super) fn new(root: Root<'a>) -> Self {
        Self { root }
    }

    /// The library's own area, for charts with axes. Its unit is 1/[`UNITS_PER_PX`] of a pixel.
    #[must_use]
    pub fn root(&self) -> &Root<'a> {
        &self.root
    }

    /// Draws a line through points.
    ///
    /// # Errors
    ///
    /// [`DrawError::Plot`] if the drawing library refuses.
    pub fn line(&self, points: &[Point], pen: Pen) -> Result<(), DrawError> {
        let (on, off) = match pen.dash {
            Dash::Solid => return self.stroke(points, pen),
            Dash::Long => (11.0, 5.0),
            Dash::Dots => (2.5, 3.5),
        };
        line::dashes(points, on, off)
            .iter()
            .try_for_each(|dash| self.stroke(dash, pen))
    }

    fn stroke(&self, points: &[Point], pen: Pen) -> Result<(), DrawError> {
        let style = RGBColor::from(pen.colour).stroke_width(breadth(pen.width));
        self.root
            .draw(&PathElement::new(places(points), style))
            .map_err(refused)
    }

    /// Fills a closed shape.
    ///
    /// # Errors
    ///
    /// [`DrawError::Plot`] if the drawing library refuses.
    pub fn fill(&self, points: &[Point], colour: Colour) -> Result<(), DrawError> {
        if points.len() < 3 {
            return Ok(());
        }
        self.root
            .draw(&Polygon::new(places(points), filled(colour)))
            .map_err(refused)
    }

    /// Fills a round dot of a radius in `[px]`.
    ///
    /// # Errors
    ///
    /// [`DrawError::Plot`] if the drawing library refuses.
    pub fn dot(&self, middle: Point, radius: f64, colour: Colour) -> Result<(), DrawError> {
        let dot = Circle::new(
            (unit(middle.x), unit(middle.y)),
            breadth(radius),
            filled(colour),
        );
        self.root.draw(&dot).map_err(refused)
    }

    /// Writes one line of text, its baseline at the point.
    ///
    /// # Errors
    ///
    /// [`DrawError::Plot`] if the drawing library refuses.
    pub fn text(&self, words: &str, at: Point, text: Text) -> Result<(), DrawError> {
        let style = match text.weight {
            Weight::Regular => FontStyle::Normal,
            Weight::Bold => FontStyle::Bold,
        };
        let across = match text.anchor {
            Anchor::Left => HPos::Left,
            Anchor::Middle => HPos::Center,
            Anchor::Right => HPos::Right,
        };
        // The library writes font-size = size / 1.24, and "top" text 0.76 of that below its point.
        let size = text.size * f64::from(UNITS_PER_PX);
        let font = FontDesc::new(FontFamily::Name(FAMILY), size * 1.24, style);
        let colour = RGBColor::from(text.colour);
        let style = TextStyle::from(font)
            .color(&colour)
            .pos(Pos::new(across, VPos::Top));
        let place = (unit(at.x), unit(at.y - 0.76 * text.size));
        self.root
            .draw_text(&clean(words), &style, place)
            .map_err(refused)
    }
}

fn filled(colour: Colour) -> ShapeStyle {
    RGBColor::from(colour).filled()
}

/// Points in whole drawing units, each place once.
fn places(points: &[Point]) -> Vec<(i32, i32)> {
    let mut places: Vec<_> = points.iter().map(|p| (unit(p.x), unit(p.y))).collect();
    places.dedup();
    places
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "a cast from f64 saturates, and pictures are thousands of units wide"
)]
fn unit(px: f64) -> i32 {
    (px * f64::from(UNITS_PER_PX)).round() as i32
}

/// A width or radius in drawing units; never none at all.
fn breadth(px: f64) -> u32 {
    unit(px).max(1).unsigned_abs()
}

pub(super) fn refused(error: impl std::fmt::Display) -> DrawError {
    DrawError::Plot(error.to_string())
}
