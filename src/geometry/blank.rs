//! A blank: its outline, and what its edge is like.

use thiserror::Error;

use super::outline::{Outline, OutlineError};
use crate::quantity::Length;

/// A blank's top as a coating meets it, checked when made: sharp-edged, with a
/// top edge rounded off, or with a wall around a floor (a bezel).
#[derive(Debug, Clone, PartialEq)]
pub struct Blank {
    outline: Outline,
    edge: Length,
    wall: Length,
}

/// The highest wall, mm.
const HIGHEST_WALL: f64 = 50.0;

/// Why there is no such blank.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum BlankError {
    /// The edge's radius is negative, or leaves no flat top.
    #[error(
        "a top edge rounded to {} mm must leave some of the top flat: {source}",
        edge.mm()
    )]
    Edge {
        /// The radius asked for.
        edge: Length,
        /// What becomes of the flat part.
        source: OutlineError,
    },
    /// The wall is negative or higher than 50 mm.
    #[error("a wall may be from 0 to {HIGHEST_WALL} mm high, not {} mm", wall.mm())]
    Wall {
        /// The height asked for.
        wall: Length,
    },
    /// A hole in the floor within a wall.
    #[error("a hole in the floor lets the coating out: a blank has holes or a wall, not both")]
    WallWithHoles,
    /// A rounded edge on a wall.
    #[error("a wall's rim is taken as crisp: leave out the edge radius, or the wall")]
    SoftRim,
}

impl Blank {
    /// A blank of this outline. `edge` is the radius to which its top edge is
    /// rounded off, a quarter circle in section, `[mm]`: 0 for sharp, and small
    /// enough to leave some of the top flat. `wall` is the height of a crisp
    /// wall along the outline over the floor inside it, 0 to 50 mm.
    ///
    /// # Errors
    /// [`BlankError`] outside these limits, for a wall around a floor with
    /// holes, and for a wall together with an edge radius.
    pub fn new(outline: Outline, edge: Length, wall: Length) -> Result<Self, BlankError> {
        if let Err(source) = outline.inset(edge) {
            return Err(BlankError::Edge { edge, source });
        }
        if !(0.0..=HIGHEST_WALL).contains(&wall.mm()) {
            return Err(BlankError::Wall { wall });
        }
        if wall.mm() > 0.0 {
            if !outline.holes().is_empty() {
                return Err(BlankError::WallWithHoles);
            }
            if edge.mm() > 0.0 {
                return Err(BlankError::SoftRim);
            }
        }
        Ok(Self {
            outline,
            edge,
            wall,
        })
    }

    /// The outline: of the whole top, or of the floor inside a wall.
    #[must_use]
    pub fn outline(&self) -> &Outline {
        &self.outline
    }

    /// The radius of the top edge, `[mm]`; 0 is sharp.
    #[must_use]
    pub fn edge(&self) -> Length {
        self.edge
    }

    /// The height of the wall over the floor, `[mm]`; 0 is none.
    #[must_use]
    pub fn wall(&self) -> Length {
        self.wall
    }
}
