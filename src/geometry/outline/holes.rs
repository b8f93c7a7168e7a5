//! Round holes that stay open.

use super::error::OutlineError;
use super::form;
use super::simple::Sides;
use crate::geometry::contour::{Curve, Point, distance};
use crate::quantity::Length;

/// The narrowest hole, mm.
const NARROWEST: f64 = 0.1;

/// A round hole that stays open; its edge holds the coating as the outline's does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hole {
    /// Its middle, in the outline's own coordinates.
    pub at: [Length; 2],
    /// Its diameter, more than 0.1 mm.
    pub diameter: Length,
}

impl Hole {
    fn radius(&self) -> f64 {
        self.diameter.mm() / 2.0
    }

    fn centre(&self) -> Point {
        self.at.map(Length::mm)
    }

    pub(super) fn mm2(&self) -> f64 {
        std::f64::consts::PI * self.radius().powi(2)
    }

    /// Whether a place lies in the hole.
    pub(super) fn covers(&self, place: Point) -> bool {
        distance(place, self.centre()) < self.radius()
    }

    /// Its radius, where it lies about the origin.
    pub(super) fn central(&self) -> Option<f64> {
        let [x, y] = self.centre();
        (x.hypot(y) <= 1e-9 * self.radius()).then(|| self.radius())
    }

    /// Its edge, clockwise.
    pub(super) fn rim(&self) -> Vec<Curve> {
        let arcs = form::circle(self.centre(), self.radius());
        arcs.iter().rev().map(Curve::reversed).collect()
    }
}

/// Checks that each hole is wide enough, inside the edge and clear of the others.
pub(super) fn check(holes: &[Hole], edge: &Sides) -> Result<(), OutlineError> {
    for (i, hole) in holes.iter().enumerate() {
        let (number, diameter) = (i + 1, hole.diameter);
        let place = hole.centre();
        let wide = diameter.mm().is_finite() && diameter.mm() > NARROWEST;
        if !wide || !place.iter().all(|x| x.is_finite()) {
            return Err(OutlineError::HoleSize {
                hole: number,
                diameter,
            });
        }
        let depth = edge.distance(place) * if edge.holds(place) { 1.0 } else { -1.0 };
        if depth <= hole.radius() {
            return Err(OutlineError::HoleOutside {
                hole: number,
                past: Length::from_mm(hole.radius() - depth),
            });
        }
        for (j, other) in holes[..i].iter().enumerate() {
            let gap = distance(place, other.centre()) - hole.radius() - other.radius();
            if gap <= 0.0 {
                return Err(OutlineError::HolesTouch {
                    first: j + 1,
                    second: number,
                    by: Length::from_mm(-gap),
                });
            }
        }
    }
    Ok(())
}
