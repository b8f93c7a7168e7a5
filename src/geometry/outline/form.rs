//! How an outline was given, and the shapes known by a few measures.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use crate::geometry::contour::{Contour, Curve, Point};
use crate::quantity::Length;

/// How an outline was given.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Form {
    /// A disc.
    Round {
        /// Its diameter.
        diameter: Length,
    },
    /// A rectangle.
    Rectangle {
        /// The side along x.
        length: Length,
        /// The side along y.
        width: Length,
        /// Radius of the corners; 0 is sharp.
        corner: Length,
    },
    /// An ellipse.
    Oval {
        /// The axis along x.
        length: Length,
        /// The axis along y.
        width: Length,
    },
    /// A regular polygon.
    Regular {
        /// How many sides.
        sides: u32,
        /// From a flat to what lies across, with sharp corners: a flat, or the
        /// corner where the sides are odd in number.
        across: Length,
        /// Radius of the corners; 0 is sharp.
        corner: Length,
    },
    /// A closed run of points.
    Points {
        /// How many.
        count: usize,
        /// Radius of the corners; 0 leaves them as they are.
        corner: Length,
    },
    /// A drawing.
    Drawing {
        /// Width of its box.
        width: Length,
        /// Radius of the corners; 0 leaves them as they are.
        corner: Length,
    },
}

impl Form {
    /// The radius that corners were asked to have.
    pub(super) fn corner(&self) -> Length {
        match *self {
            Self::Round { .. } | Self::Oval { .. } => Length::from_mm(0.0),
            Self::Rectangle { corner, .. }
            | Self::Regular { corner, .. }
            | Self::Points { corner, .. }
            | Self::Drawing { corner, .. } => corner,
        }
    }

    /// The same with another corner radius.
    pub(super) fn with_corner(self, to: Length) -> Self {
        let mut form = self;
        match &mut form {
            Self::Round { .. } | Self::Oval { .. } => {}
            Self::Rectangle { corner, .. }
            | Self::Regular { corner, .. }
            | Self::Points { corner, .. }
            | Self::Drawing { corner, .. } => *corner = to,
        }
        form
    }

    /// A form moved inward to that edge; what is no ellipse any more is a run of
    /// points.
    pub(super) fn moved(self, moved: &[Curve], corner: Length) -> Self {
        match self {
            Self::Oval { .. } => Self::Points {
                count: moved.iter().map(Curve::parts).sum(),
                corner,
            },
            Self::Drawing { .. } => {
                let [low, high] = super::trace::frame(moved);
                Self::Drawing {
                    width: Length::from_mm(high[0] - low[0]),
                    corner,
                }
            }
            other => other.with_corner(corner),
        }
    }

    /// The part between two mirror lines, where the form knows one, about a
    /// central hole of that radius.
    pub(super) fn wedge(&self, hole: f64) -> Option<Contour> {
        match *self {
            Self::Round { diameter } if hole > 0.0 => {
                let arc = Curve::circular([0.0; 2], diameter.mm() / 2.0, 0.0, FRAC_PI_2);
                Some(Contour::wedge(vec![arc], hole, 4.0))
            }
            Self::Rectangle {
                length,
                width,
                corner,
            } => {
                let quarter = Contour::rectangle_quarter(length.mm(), width.mm(), corner.mm());
                Some(Contour::wedge(pinned(quarter), hole, 4.0))
            }
            Self::Oval { length, width } => {
                let arc = Curve::Arc {
                    centre: [0.0; 2],
                    radii: [length.mm() / 2.0, width.mm() / 2.0],
                    from: 0.0,
                    to: FRAC_PI_2,
                };
                Some(Contour::wedge(vec![arc], hole, 4.0))
            }
            Self::Regular {
                sides,
                across,
                corner,
            } => {
                let edge = half_flat(sides, apothem(sides, across.mm()), corner.mm());
                Some(Contour::wedge(edge, hole, 2.0 * f64::from(sides)))
            }
            Self::Round { .. } | Self::Points { .. } | Self::Drawing { .. } => None,
        }
    }
}

fn pinned(contour: Contour) -> Vec<Curve> {
    let pieces = contour.loops.into_iter().flatten();
    pieces
        .filter(|piece| piece.side == crate::geometry::contour::Side::Pinned)
        .map(|piece| piece.curve)
        .collect()
}

/// A circle in four arcs, counter-clockwise.
pub(super) fn circle(centre: Point, radius: f64) -> Vec<Curve> {
    ellipse(centre, [radius, radius])
}

/// An upright ellipse in four arcs, counter-clockwise.
pub(super) fn ellipse(centre: Point, radii: Point) -> Vec<Curve> {
    (0..4)
        .map(|quarter| Curve::Arc {
            centre,
            radii,
            from: f64::from(quarter) * FRAC_PI_2,
            to: f64::from(quarter + 1) * FRAC_PI_2,
        })
        .collect()
}

/// Straight sides from corner to corner.
pub(super) fn polygon(corners: &[Point]) -> Vec<Curve> {
    let next = corners.iter().cycle().skip(1);
    let sides = corners.iter().zip(next);
    sides.map(|(&a, &b)| Curve::Line(a, b)).collect()
}

/// The four corners of a rectangle about the origin.
pub(super) fn rectangle(length: f64, width: f64) -> Vec<Point> {
    let (a, b) = (length / 2.0, width / 2.0);
    vec![[a, -b], [a, b], [-a, b], [-a, -b]]
}

/// From the middle of a regular polygon to its flats: half the size across flats,
/// or where the sides are odd in number, `across = a + a / cos(π/n)`.
pub(super) fn apothem(sides: u32, across: f64) -> f64 {
    if sides.is_multiple_of(2) {
        across / 2.0
    } else {
        across / (1.0 + 1.0 / (PI / f64::from(sides)).cos())
    }
}

/// The size across of a regular polygon with that apothem.
pub(super) fn across(sides: u32, apothem: f64) -> f64 {
    if sides.is_multiple_of(2) {
        2.0 * apothem
    } else {
        apothem * (1.0 + 1.0 / (PI / f64::from(sides)).cos())
    }
}

/// The corners of a regular polygon about the origin, a flat centred on +x.
pub(super) fn regular(sides: u32, apothem: f64) -> Vec<Point> {
    let half = PI / f64::from(sides);
    let radius = apothem / half.cos();
    (0..sides)
        .map(|i| {
            let (sin, cos) = (TAU * f64::from(i) / f64::from(sides) - half).sin_cos();
            [radius * cos, radius * sin]
        })
        .collect()
}

/// From the middle of a flat to the middle of a corner. A straight stretch too
/// short to mesh is left to the arc: the area changes by less than 2e-4.
fn half_flat(sides: u32, apothem: f64, corner: f64) -> Vec<Curve> {
    let half = PI / f64::from(sides);
    let a = apothem;
    let r = if a - corner < 1e-4 * a { a } else { corner };
    let up = (a - r) * half.tan();
    let mut edge = Vec::new();
    if up > 0.0 {
        edge.push(Curve::Line([a, 0.0], [a, up]));
    }
    if r > 0.0 {
        edge.push(Curve::circular([a - r, up], r, 0.0, half));
    }
    edge
}
