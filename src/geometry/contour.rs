//! The boundary of the part of an outline that is solved: curved pieces, each
//! either the pinned edge or a line of mirror symmetry.

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
#[derive(Debug, Clone)]
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
}

impl Curve {
    /// The point at parameter `t`.
    pub fn at(&self, t: f64) -> Point {
        match *self {
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
        }
    }

    /// The direction of travel at parameter `t`, of length one.
    pub fn tangent(&self, t: f64) -> Point {
        let [x, y] = match *self {
            Self::Line(a, b) => [b[0] - a[0], b[1] - a[1]],
            Self::Arc {
                radii, from, to, ..
            } => {
                let (sin, cos) = (from + t * (to - from)).sin_cos();
                [-(to - from) * radii[0] * sin, (to - from) * radii[1] * cos]
            }
        };
        let length = x.hypot(y);
        [x / length, y / length]
    }

    /// Its length, to the accuracy that sizing a mesh needs.
    pub fn length(&self) -> f64 {
        let steps = if matches!(self, Self::Line(..)) {
            1
        } else {
            64
        };
        let mut sum = 0.0;
        let mut last = self.at(0.0);
        for i in 1..=steps {
            let next = self.at(f64::from(i) / f64::from(steps));
            sum += distance(last, next);
            last = next;
        }
        sum
    }

    pub fn bend(&self, t: f64) -> f64 {
        match *self {
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
        }
    }
}

/// One piece of the boundary.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    pub curve: Curve,
    pub side: Side,
}

/// A closed boundary, counter-clockwise, and how many mirrored copies of its
/// inside make the whole top.
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
        let line = |from, to, side| Piece {
            curve: Curve::Line(from, to),
            side,
        };
        let mut pieces = vec![line([0.0, 0.0], [a, 0.0], Side::Mirror)];
        if b > ry {
            pieces.push(line([a, 0.0], [a, b - ry], Side::Pinned));
        }
        if r > 0.0 {
            let curve = Curve::Arc {
                centre: [a - rx, b - ry],
                radii: [rx, ry],
                from: 0.0,
                to: std::f64::consts::FRAC_PI_2,
            };
            pieces.push(Piece {
                curve,
                side: Side::Pinned,
            });
        }
        if a > rx {
            pieces.push(line([a - rx, b], [0.0, b], Side::Pinned));
        }
        pieces.push(line([0.0, b], [0.0, 0.0], Side::Mirror));
        Self {
            loops: vec![pieces],
            copies: 4.0,
        }
    }
}
