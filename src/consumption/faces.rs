//! Which faces of a piece are coated.

use crate::quantity::{Area, Length};

/// Which faces of a piece are coated alike, one after the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Faces {
    /// The one face.
    #[default]
    One,
    /// Both: the first must be dry to handle before the piece is turned.
    Both,
}

impl Faces {
    /// How many.
    #[must_use]
    pub const fn count(self) -> u32 {
        match self {
            Self::One => 1,
            Self::Both => 2,
        }
    }
}

/// Wood, cork or card thinner than this may cup where one face only is coated (common practice, no source).
pub const THIN_WOOD: Length = Length::from_mm(6.0);

/// Whether a blank of wood, cork or card coated on these faces may cup: it is thin, and its two faces are unlike.
#[must_use]
pub fn may_warp(thickness: Length, coated: Faces) -> bool {
    coated == Faces::One && thickness < THIN_WOOD
}

/// Area of a blank's sides, holes' too: the length of all its edges times its thickness.
#[must_use]
pub fn side_area(perimeter: Length, thickness: Length) -> Area {
    Area::from_mm2(perimeter.mm() * thickness.mm())
}
