//! The blank that a short question is about.

use crate::cure::transfer::Footprint;
use crate::geometry::{Outline, OutlineError};
use crate::quantity::Length;

/// A blank's flat top, as it is asked about.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Blank {
    /// A disc.
    Round {
        /// Its diameter.
        diameter: Length,
    },
    /// A rectangle.
    Rectangle {
        /// One side.
        length: Length,
        /// The other side.
        width: Length,
        /// Radius of the corners; 0 is sharp.
        corner: Length,
    },
}

impl Blank {
    /// Its outline.
    ///
    /// # Errors
    /// As [`Outline::round`] and [`Outline::rectangle`].
    pub fn outline(&self) -> Result<Outline, OutlineError> {
        match *self {
            Self::Round { diameter } => Outline::round(diameter),
            Self::Rectangle {
                length,
                width,
                corner,
            } => Outline::rectangle(length, width, corner),
        }
    }

    /// Its wet surface, as the air sees it; rounded corners are left out.
    #[must_use]
    pub fn footprint(&self) -> Footprint {
        match *self {
            Self::Round { diameter } => Footprint::Disc { diameter },
            Self::Rectangle { length, width, .. } => Footprint::Rectangle { length, width },
        }
    }
}
