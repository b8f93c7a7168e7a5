//! The boundary of the part of an outline that is solved: curved pieces, each
//! either the pinned edge or a line of mirror symmetry.

use std::sync::Arc;

pub(super) use super::spline::{Span, Spline};

/// A point of the plane, in millimetres.
pub(super) type Point = [f64; 2];

/// What holds along a piece of the boundary.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    /// The edge that holds the coating.
    Pinned,
    /// A line across which the dome mirrors itself.
    Mirror,
}

/// A smooth curve, run through by a parameter from 0 to 1.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Curve {
    /// A straight line.
    Line(Point, Point),
    /// An arc of an upright ellipse (a circle where both radii are equal), from
    /// one angle to another, radians.
    Arc {
        centre: Point,
        radii: Point,
        from: f64,
        to: f64,
    },
    /// Cubics end to end, without a corner.
    Spline(Arc<Spline>),
}

impl Curve {
    /// An arc of a circle.
    pub fn circular(centre: Point, radius: f64, from: f64, to: f64) -> Self {
        Self::Arc {
            centre,
            radii: [radius, radius],
            from,
            to,
        }
    }

    /// Spans end to end.
    pub fn spline(spans: Vec<Span>) -> Self {
        Self::Spline(Arc::new(Spline::new(spans)))
    }

    /// How many lines, arcs and cubics it is made of.
    pub fn parts(&self) -> usize {
        match self {
            Self::Line(..) | Self::Arc { .. } => 1,
            Self::Spline(spline) => spline.spans().len(),
        }
    }

    /// The point at parameter `t`.
    pub fn at(&self, t: f64) -> Point {
        match self {
            Self::Line(a, b) => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])],
            Self::Arc {
                centre,
                radii,
                from,
                to,
            } => {
                let (sin, cos) = (from + t * (to - from)).sin_cos();
                [centre[0] + radii[0] * cos, centre[1] + radii[1] * sin]
            }
            Self::Spline(spline) => spline.at(t),
        }
    }

    /// The direction of travel at parameter `t`, of length one.
    pub fn tangent(&self, t: f64) -> Point {
        let [x, y] = match self {
            Self::Line(a, b) => [b[0] - a[0], b[1] - a[1]],
            Self::Arc {
                radii, from, to, ..
            } => {
                let (sin, cos) = (from + t * (to - from)).sin_cos();
                [-(to - from) * radii[0] * sin, (to - from) * radii[1] * cos]
            }
            Self::Spline(spline) => return spline.tangent(t),
        };
        let length = x.hypot(y);
        [x / length, y / length]
    }

    /// Its length: exact on lines and circles, to 1e-12 on ellipses, by Gauss's
    /// rule on every span of a spline.
    pub fn length(&self) -> f64 {
        match self {
            Self::Line(a, b) => distance(*a, *b),
            Self::Arc {
                radii: [a, b],
                from,
                to,
                ..
            } => elliptic_length([*a, *b], *from, *to),
            Self::Spline(spline) => spline.length(),
        }
    }

    /// The radius of curvature at parameter `t`, mm; infinite on a line.
    pub fn bend(&self, t: f64) -> f64 {
        match self {
            Self::Line(..) => f64::INFINITY,
            Self::Arc {
                radii: [a, b],
                from,
                to,
                ..
            } => {
                let (sin, cos) = (from + t * (to - from)).sin_cos();
                (a * sin).hypot(b * cos).powi(3) / (a * b)
            }
            Self::Spline(spline) => spline.bend(t),
        }
    }

    /// Twice the area swept from the origin, `∫ x dy - y dx`.
    pub fn swept(&self) -> f64 {
        match self {
            Self::Line(a, b) => a[0] * b[1] - a[1] * b[0],
            Self::Arc {
                centre: [x, y],
                radii: [a, b],
                from,
                to,
            } => {
                // ∫ (x + a cos φ) b cos φ + (y + b sin φ) a sin φ dφ
                a * b * (to - from) + x * b * (to.sin() - from.sin())
                    - y * a * (to.cos() - from.cos())
            }
            Self::Spline(spline) => spline.spans().iter().map(Span::swept).sum(),
        }
    }

    /// The same curve between two of its parameters.
    pub fn part(&self, start: f64, end: f64) -> Self {
        match self {
            Self::Line(..) => Self::Line(self.at(start), self.at(end)),
            Self::Arc {
                centre,
                radii,
                from,
                to,
            } => Self::Arc {
                centre: *centre,
                radii: *radii,
                from: from + start * (to - from),
                to: from + end * (to - from),
            },
            Self::Spline(spline) => Self::Spline(Arc::new(spline.part(start, end))),
        }
    }

    /// The same curve run through the other way.
    pub fn reversed(&self) -> Self {
        match self {
            Self::Line(a, b) => Self::Line(*b, *a),
            Self::Arc {
                centre,
                radii,
                from,
                to,
            } => Self::Arc {
                centre: *centre,
                radii: *radii,
                from: *to,
                to: *from,
            },
            Self::Spline(spline) => Self::Spline(Arc::new(spline.reversed())),
        }
    }
}

/// Length of an arc of an ellipse, by Gauss's rule of three points on 256 parts:
/// to 1e-12 for sides up to 10 to 1.
fn elliptic_length([a, b]: Point, from: f64, to: f64) -> f64 {
    let turn = (to - from).abs();
    #[expect(clippy::float_cmp, reason = "a circle is made with one radius twice")]
    if a == b {
        return a * turn;
    }
    let speed = |phi: f64| (a * phi.sin()).hypot(b * phi.cos());
    let (parts, off) = (256, 0.6_f64.sqrt() / 2.0);
    let step = (to - from) / f64::from(parts);
    let sum: f64 = (0..parts)
        .map(|i| {
            let middle = from + (f64::from(i) + 0.5) * step;
            let sides = speed(middle - off * step) + speed(middle + off * step);
            (5.0 * sides + 8.0 * speed(middle)) / 18.0
        })
        .sum();
    sum * step.abs()
}

/// One piece of the boundary.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    pub curve: Curve,
    pub side: Side,
}

impl Piece {
    pub fn pinned(curve: Curve) -> Self {
        Self {
            curve,
            side: Side::Pinned,
        }
    }

    pub fn mirror(from: Point, to: Point) -> Self {
        Self {
            curve: Curve::Line(from, to),
            side: Side::Mirror,
        }
    }
}

/// A closed boundary, the inside always on its left: the first loop
/// counter-clockwise, holes clockwise; and how many mirrored copies of its inside
/// make the whole top.
#[derive(Debug, Clone)]
pub(super) struct Contour {
    pub loops: Vec<Vec<Piece>>,
    pub copies: f64,
}

pub(super) fn distance(a: Point, b: Point) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

impl Contour {
    /// A quarter of a rectangle centred on the origin, with rounded corners. A
    /// straight stretch too short to mesh is left to the arc, which becomes a
    /// hair's breadth elliptic: the area changes by less than 1e-4.
    pub fn rectangle_quarter(length: f64, width: f64, corner: f64) -> Self {
        let (a, b, r) = (length / 2.0, width / 2.0, corner);
        let radius = |half: f64| if half - r < 3e-4 * half { half } else { r };
        let (rx, ry) = if r > 0.0 {
            (radius(a), radius(b))
        } else {
            (0.0, 0.0)
        };
        let mut edge = Vec::new();
        if b > ry {
            edge.push(Curve::Line([a, 0.0], [a, b - ry]));
        }
        if r > 0.0 {
            edge.push(Curve::Arc {
                centre: [a - rx, b - ry],
                radii: [rx, ry],
                from: 0.0,
                to: std::f64::consts::FRAC_PI_2,
            });
        }
        if a > rx {
            edge.push(Curve::Line([a - rx, b], [0.0, b]));
        }
        Self::wedge(edge, 0.0, 4.0)
    }

    /// The part of a top between two mirror lines through the origin, which
    /// the pinned `edge` joins, with a central hole of that radius.
    pub fn wedge(edge: Vec<Curve>, hole: f64, copies: f64) -> Self {
        let ends = edge.first().zip(edge.last());
        let [first, last] = ends.map_or([[0.0; 2]; 2], |(f, l)| [f.at(0.0), l.at(1.0)]);
        let toward = |p: Point| {
            let far = p[0].hypot(p[1]);
            [hole * p[0] / far, hole * p[1] / far]
        };
        let mut pieces = vec![Piece::mirror(toward(first), first)];
        pieces.extend(edge.into_iter().map(Piece::pinned));
        pieces.push(Piece::mirror(last, toward(last)));
        if hole > 0.0 {
            let angle = |p: Point| p[1].atan2(p[0]);
            let inner = Curve::circular([0.0; 2], hole, angle(last), angle(first));
            pieces.push(Piece::pinned(inner));
        }
        Self {
            loops: vec![pieces],
            copies,
        }
    }
}
