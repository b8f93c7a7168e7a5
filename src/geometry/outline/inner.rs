//! Corners that point inward, rounded by themselves.

use std::sync::{Arc, OnceLock};

use super::fillet::{largest_where, rounded_where};
use super::{Corner, Outline, OutlineError, Shape};
use crate::geometry::contour::Curve;
use crate::quantity::Length;

/// A corner that turns to the right points inward.
fn inward(turn: f64) -> bool {
    turn < 0.0
}

impl Outline {
    /// Whether some corner points inward and is sharp: a coating that reaches it
    /// runs over there at any edge angle.
    #[must_use]
    pub fn has_sharp_inner_corner(&self) -> bool {
        self.0.corners.iter().any(Corner::is_sharp_notch)
    }

    /// The same outline with its sharp corners that point inward rounded to a
    /// radius above 0, `[mm]`, and the ones that point outward left as they are.
    /// An outline that has no such corner is itself again.
    ///
    /// # Errors
    /// [`OutlineError::Corner`] where the radius is no more than nothing or does
    /// not fit.
    pub fn with_inner_corners(&self, radius: Length) -> Result<Self, OutlineError> {
        if !self.has_sharp_inner_corner() {
            return Ok(self.clone());
        }
        // All corners have one radius, so here every one is sharp.
        let sharp = &self.0.edge;
        let fit = |radius: f64| rounded_where(sharp, radius, inward);
        let edge = (radius.mm() > 0.0).then(|| fit(radius.mm())).flatten();
        let edge = edge.ok_or_else(|| OutlineError::Corner {
            corner: radius,
            most: Length::from_mm(largest_where(sharp, |radius| fit(radius).is_some())),
        })?;
        self.with_inner_edge(edge, radius).with_holes(&self.0.holes)
    }

    fn with_inner_edge(&self, edge: Vec<Curve>, radius: Length) -> Self {
        let mut corners = self.0.corners.clone();
        for corner in corners.iter_mut().filter(|corner| corner.is_sharp_notch()) {
            corner.radius = radius;
        }
        // An inward corner lies within the box, so the frame stays.
        Self(Arc::new(Shape {
            edge,
            corners,
            sides: OnceLock::new(),
            ..self.0.copy()
        }))
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;

    fn mm(mm: f64) -> Length {
        Length::from_mm(mm)
    }

    fn points(points: &[[f64; 2]]) -> Outline {
        let points: Vec<_> = points.iter().map(|point| point.map(mm)).collect();
        Outline::points(&points, Length::ZERO).unwrap()
    }

    /// Legs 10 mm wide, 30 mm and 20 mm long.
    fn angle() -> Outline {
        points(&[
            [0.0, 0.0],
            [30.0, 0.0],
            [30.0, 10.0],
            [10.0, 10.0],
            [10.0, 20.0],
            [0.0, 20.0],
        ])
    }

    /// Five squares of 10 mm.
    fn cross() -> Outline {
        points(&[
            [10.0, 0.0],
            [20.0, 0.0],
            [20.0, 10.0],
            [30.0, 10.0],
            [30.0, 20.0],
            [20.0, 20.0],
            [20.0, 30.0],
            [10.0, 30.0],
            [10.0, 20.0],
            [0.0, 20.0],
            [0.0, 10.0],
            [10.0, 10.0],
        ])
    }

    /// An arc in a square corner adds what lies between it and the corner,
    /// `(1 - π/4) r²`, and shortens the edge by `(2 - π/2) r`.
    #[test]
    fn only_the_inward_corners_are_rounded() {
        for (outline, inner, all) in [(angle(), 1.0, 6), (cross(), 4.0, 12)] {
            for r in [0.5, 3.0] {
                let eased = outline.with_inner_corners(mm(r)).unwrap();
                let more = (eased.area() - outline.area()).mm2();
                let want = inner * (1.0 - PI / 4.0) * r * r;
                assert!((more - want).abs() < 1e-9, "{more} {want}");
                let less = (outline.perimeter() - eased.perimeter()).mm();
                let want = inner * (2.0 - PI / 2.0) * r;
                assert!((less - want).abs() < 1e-9, "{less} {want}");
                assert_eq!(eased.size(), outline.size());
                let corners = eased.corners();
                assert_eq!(corners.len(), all);
                for corner in corners {
                    let want = if corner.inner_angle.deg() > 180.0 {
                        r
                    } else {
                        0.0
                    };
                    assert!((corner.radius.mm() - want).abs() < 1e-12);
                }
                assert!(!eased.has_sharp_inner_corner());
                assert_eq!(eased.with_inner_corners(mm(r)).unwrap(), eased);
            }
        }
    }

    #[test]
    fn what_has_no_sharp_inward_corner_is_itself_again() {
        let outlines = [
            Outline::round(mm(25.0)).unwrap(),
            Outline::rectangle(mm(20.0), mm(50.0), Length::ZERO).unwrap(),
            Outline::regular(5, mm(25.0), Length::ZERO).unwrap(),
            cross().with_corner(mm(1.0)).unwrap(),
        ];
        for outline in outlines {
            assert!(!outline.has_sharp_inner_corner());
            assert_eq!(outline.with_inner_corners(mm(0.5)).unwrap(), outline);
        }
        assert!(cross().has_sharp_inner_corner());
    }

    /// An arc of radius r touches a square corner's sides r from it; a cross of
    /// 10 mm squares has 10 mm of side there, and the L likewise.
    #[test]
    fn a_radius_that_does_not_fit_is_refused_with_the_most() {
        for outline in [angle(), cross()] {
            for radius in [10.5, 0.0, -1.0, f64::NAN] {
                match outline.with_inner_corners(mm(radius)) {
                    Err(OutlineError::Corner { most, .. }) => {
                        assert!((most.mm() - 10.0).abs() < 1e-6, "{most:?}");
                    }
                    other => panic!("{radius}: {other:?}"),
                }
            }
        }
    }

    #[test]
    fn holes_stay_where_they_are() {
        let hole = crate::geometry::Hole {
            at: [mm(5.0), mm(5.0)],
            diameter: mm(3.0),
        };
        let outline = angle().with_holes(&[hole]).unwrap();
        let eased = outline.with_inner_corners(mm(0.5)).unwrap();
        assert_eq!(eased.holes(), outline.holes());
        // The middle lies 5 mm from the two sides of the corner.
        assert!((eased.beside(&hole).mm() - 3.5).abs() < 1e-6);
        assert!((outline.beside(&hole).mm() - 3.5).abs() < 1e-6);
    }
}
