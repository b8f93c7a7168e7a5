//! Why a shape is no outline.

use thiserror::Error;

use super::svg::DrawingError;
use crate::quantity::{Angle, Length};

/// Why a shape is no outline.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum OutlineError {
    /// A size is not between 0.1 mm and 10 m.
    #[error("{what} must be between 0.1 mm and 10 m, not {} mm", size.mm())]
    Size {
        /// Which size.
        what: &'static str,
        /// What it was.
        size: Length,
    },
    /// The corner radius is negative or does not fit.
    #[error(
        "a corner radius of {} mm does not fit: it may be from 0 to {} mm",
        shown(*corner), shown(*most)
    )]
    Corner {
        /// The radius asked for.
        corner: Length,
        /// The most that fits: on a rectangle, half the shorter side.
        most: Length,
    },
    /// A corner radius was asked for where there is no corner.
    #[error("this outline has no corner to round")]
    NoCorner,
    /// A regular outline has from 3 to 100 sides.
    #[error("a regular outline has from 3 to 100 sides, not {0}")]
    Sides(u32),
    /// Fewer than three different points.
    #[error("an outline needs at least 3 different points, not {0}")]
    TooFewPoints(usize),
    /// More points than are read.
    #[error("an outline may have up to {most} points, not {count}")]
    TooManyPoints {
        /// How many there are.
        count: usize,
        /// The most that are read.
        most: usize,
    },
    /// A coordinate that is no number.
    #[error("point {0} is not a place: its coordinates must be numbers")]
    NotAPlace(usize),
    /// Two sides cross or touch, or the edge folds back on itself.
    #[error(
        "the outline crosses or touches itself at ({}, {}) mm, where side {first} meets side {second}",
        shown(at[0]), shown(at[1])
    )]
    Crosses {
        /// Number of one side, counted from 1, from the first point to the second.
        first: usize,
        /// Number of the other.
        second: usize,
        /// Where.
        at: [Length; 2],
    },
    /// The outline encloses nothing.
    #[error("the outline encloses no area")]
    NoArea,
    /// It comes to a point sharper than one degree, which no blank does, and which
    /// is too thin to be meshed.
    #[error(
        "it comes to a point of {:.2} degrees at ({:.3}, {:.3}) mm, sharper than any blank is cut",
        angle.deg(), at[0].mm(), at[1].mm()
    )]
    Spike {
        /// The angle inside.
        angle: Angle,
        /// Where.
        at: [Length; 2],
    },
    /// A hole is too small to stay open, or no number.
    #[error("hole {hole} must be wider than 0.1 mm, not {} mm", shown(*diameter))]
    HoleSize {
        /// Its number, counted from 1.
        hole: usize,
        /// Its diameter.
        diameter: Length,
    },
    /// A hole reaches the outline's edge or lies outside it.
    #[error(
        "hole {hole} does not lie inside the outline: its rim reaches {} mm past the edge",
        shown(*past)
    )]
    HoleOutside {
        /// Its number, counted from 1.
        hole: usize,
        /// How far its rim reaches past the edge; 0 where it touches.
        past: Length,
    },
    /// Two holes touch.
    #[error("holes {first} and {second} overlap by {} mm", shown(*by))]
    HolesTouch {
        /// Number of one, counted from 1.
        first: usize,
        /// Number of the other.
        second: usize,
        /// By how much they overlap; 0 where they touch.
        by: Length,
    },
    /// Nothing is left of the outline, moved inward so far, or it falls apart.
    #[error(
        "moved inward by {} mm, this outline {}",
        shown(*by), if *apart { "falls apart" } else { "vanishes" }
    )]
    Inset {
        /// How far.
        by: Length,
        /// Whether something is left, in several parts or with a hole cut open.
        apart: bool,
    },
    /// An edge is moved inward by 0 mm or more.
    #[error("an edge is moved inward by 0 mm or more, not {} mm", shown(*.0))]
    InsetBy(Length),
    /// The edge is made of too many pieces to be moved inward.
    #[error(
        "an edge of up to {most} lines, arcs and smooth runs is moved inward; this one has {count}: \
         leave points out, or smooth the teeth of a scan"
    )]
    InsetPieces {
        /// How many there are.
        count: usize,
        /// The most that are moved.
        most: usize,
    },
    /// The text is no drawing of one closed shape.
    #[error("the drawing can't be read: {0}")]
    Drawing(#[from] DrawingError),
}

/// A length in millimetres, to a hundredth of a micrometre.
fn shown(length: Length) -> f64 {
    (length.mm() * 1e5).round() / 1e5
}
