//! Outlines: the shape of a blank's flat top.

use thiserror::Error;

use super::contour::Contour;
use crate::quantity::{Area, Length};

/// The shape of a blank's flat top, checked when made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outline(pub(super) Kind);

#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Kind {
    Round {
        radius: f64,
    },
    Rectangle {
        length: f64,
        width: f64,
        corner: f64,
    },
}

/// Why a shape is no outline.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
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
    /// The corner radius is negative or more than half the shorter side.
    #[error(
        "a corner radius of {} mm does not fit: it may be from 0 to {} mm, half the shorter side",
        corner.mm(), most.mm()
    )]
    Corner {
        /// The radius asked for.
        corner: Length,
        /// Half the shorter side.
        most: Length,
    },
}

impl Outline {
    /// A disc.
    ///
    /// # Errors
    /// [`OutlineError::Size`] outside 0.1 mm to 10 m.
    pub fn round(diameter: Length) -> Result<Self, OutlineError> {
        check("the diameter", diameter)?;
        Ok(Self(Kind::Round {
            radius: diameter.mm() / 2.0,
        }))
    }

    /// A rectangle with corners rounded to the radius `corner`, 0 for sharp.
    ///
    /// # Errors
    /// [`OutlineError`] where a side is outside 0.1 mm to 10 m, or the corner
    /// radius is negative or more than half the shorter side.
    pub fn rectangle(length: Length, width: Length, corner: Length) -> Result<Self, OutlineError> {
        check("the length", length)?;
        check("the width", width)?;
        let most = Length::from_mm(length.mm().min(width.mm()) / 2.0);
        if !(corner.mm() >= 0.0 && corner.mm() <= most.mm()) {
            return Err(OutlineError::Corner { corner, most });
        }
        let (length, width, corner) = (length.mm(), width.mm(), corner.mm());
        Ok(Self(Kind::Rectangle {
            length,
            width,
            corner,
        }))
    }

    /// The area of the flat top.
    #[must_use]
    pub fn area(&self) -> Area {
        let pi = std::f64::consts::PI;
        Area::from_mm2(match self.0 {
            Kind::Round { radius } => pi * radius * radius,
            Kind::Rectangle {
                length,
                width,
                corner,
            } => length * width - (4.0 - pi) * corner * corner,
        })
    }

    /// The length of the edge.
    #[must_use]
    pub fn perimeter(&self) -> Length {
        let pi = std::f64::consts::PI;
        Length::from_mm(match self.0 {
            Kind::Round { radius } => 2.0 * pi * radius,
            Kind::Rectangle {
                length,
                width,
                corner,
            } => 2.0 * (length + width) - (8.0 - 2.0 * pi) * corner,
        })
    }

    /// The extent across the middle: the diameter, or a rectangle's shorter side.
    #[must_use]
    pub fn across(&self) -> Length {
        Length::from_mm(match self.0 {
            Kind::Round { radius } => 2.0 * radius,
            Kind::Rectangle { length, width, .. } => length.min(width),
        })
    }

    /// The direction in which it is narrowest.
    pub(super) fn short_way(&self) -> [f64; 2] {
        match self.0 {
            Kind::Rectangle { length, width, .. } if length < width => [1.0, 0.0],
            _ => [0.0, 1.0],
        }
    }

    /// The part that is solved and its boundary; a disc has its own equation.
    pub(super) fn contour(&self) -> Contour {
        match self.0 {
            Kind::Round { radius } => {
                Contour::rectangle_quarter(2.0 * radius, 2.0 * radius, radius)
            }
            // Length along x, the longer or not.
            Kind::Rectangle {
                length,
                width,
                corner,
            } => Contour::rectangle_quarter(length, width, corner),
        }
    }
}

fn check(what: &'static str, size: Length) -> Result<(), OutlineError> {
    if (0.1..=10_000.0).contains(&size.mm()) {
        Ok(())
    } else {
        Err(OutlineError::Size { what, size })
    }
}
