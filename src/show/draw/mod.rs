//! Drawing: the one road every picture takes.
//!
//! A chart lays itself out in pixels, draws on a [`Canvas`], and becomes a
//! [`Picture`]: SVG text, and from the same text a PNG. Fonts are carried in
//! the program, so the same input gives the same bytes on every machine.

mod canvas;
pub mod figure;
pub mod font;
pub mod line;
mod painter;
pub mod palette;
mod picture;
pub mod place;
mod xml;

pub use canvas::{Anchor, Canvas, Dash, Pen, Root, Text, UNITS_PER_PX};
pub use painter::Painter;
pub use picture::{Picture, Words};
pub use xml::clean;

/// A place on the picture, in pixels at single size, `x` to the right and `y` down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// To the right, `[px]`.
    pub x: f64,
    /// Down, `[px]`.
    pub y: f64,
}

impl Point {
    /// A point at `x` to the right and `y` down, `[px]`.
    #[must_use]
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }
}

/// What can go wrong between numbers and a picture.
#[derive(Debug, thiserror::Error)]
pub enum DrawError {
    /// A number that must be above zero and finite is not.
    #[error("{what} is {value}, and must be above zero to be drawn")]
    NotPositive {
        /// Which number.
        what: &'static str,
        /// Its value in the unit that `what` names.
        value: f64,
    },
    /// A surface's points can't be drawn.
    #[error("the surface at {level} {trouble}")]
    Surface {
        /// Which surface.
        level: &'static str,
        /// What is wrong with it.
        trouble: &'static str,
    },
    /// The pull-back limit is not below the brim limit.
    #[error("the pull-back limit {pull_back_ml} mL is not below the brim limit {brim_ml} mL")]
    NoWindow {
        /// The pull-back limit, `[mL]`.
        pull_back_ml: f64,
        /// The brim limit, `[mL]`.
        brim_ml: f64,
    },
    /// Labels need more room than the picture has.
    #[error("{what} need {need:.0} px side by side and have {have:.0}")]
    Crowded {
        /// Which labels.
        what: &'static str,
        /// Room needed, `[px]`.
        need: f64,
        /// Room there is, `[px]`.
        have: f64,
    },
    /// The magnification asked of a PNG can't be had.
    #[error("a PNG can be drawn at 0.1 to 8 times its size, not {0}")]
    Scale(f32),
    /// A font that the program carries could not be read.
    #[error("the font {0} that comes with the program can't be read")]
    Font(&'static str),
    /// The drawing library refused.
    #[error("the picture could not be drawn: {0}")]
    Plot(String),
    /// The SVG could not be read back to paint it.
    #[error("the drawing could not be painted: {0}")]
    Svg(#[from] resvg::usvg::Error),
    /// The PNG could not be written.
    #[error("the PNG could not be written: {0}")]
    Png(String),
}
