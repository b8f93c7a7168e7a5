//! A piece turned some way, and how far it must be from another.

use std::f64::consts::FRAC_PI_2;

use super::envelope::Envelope;
use super::outset::{Drawn, clipped, grown};

/// A point, mm.
pub(super) type Point = [f64; 2];

/// A piece turned some way about the middle of its box.
#[derive(Debug)]
pub(super) struct Turned {
    /// How far it is turned, radians.
    pub angle: f64,
    /// The box of the piece itself, mm.
    pub low: Point,
    pub high: Point,
    /// The edges of the piece grown by half the gap, seen from four sides.
    up: Envelope,
    down: Envelope,
    right: Envelope,
    left: Envelope,
}

/// How far off an upright turn is no turn at all, radians.
const UPRIGHT: f64 = 1e-9;

impl Turned {
    /// The piece turned by `angle`, with half the `gap` about it. `half` is half of its
    /// true box before it is turned.
    pub fn of(drawn: &Drawn, half: Point, angle: f64, gap: f64) -> Self {
        let (sin, cos) = upright(angle);
        let turn = |p: &Point| [cos * p[0] - sin * p[1], sin * p[0] + cos * p[1]];
        let points: Vec<Point> = drawn.points.iter().map(turn).collect();
        let chain = grown(&points, gap / 2.0 + drawn.slack);
        let (mut low, mut high) = frame(&points);
        let quarter = (angle / FRAC_PI_2).round();
        if (angle - quarter * FRAC_PI_2).abs() < UPRIGHT {
            let lies = sin.abs() < 0.5;
            let [x, y] = if lies { half } else { [half[1], half[0]] };
            (low, high) = ([-x, -y], [x, y]);
        } else {
            low = low.map(|x| x - drawn.slack);
            high = high.map(|x| x + drawn.slack);
        }
        let around = gap / 2.0;
        let chain = clipped(chain, low.map(|x| x - around), high.map(|x| x + around));
        let seen = |from: fn(&Point) -> Point| {
            let image: Vec<Point> = chain.iter().map(from).collect();
            Envelope::upper(&image)
        };
        Self {
            angle,
            low,
            high,
            up: seen(|p| *p),
            down: seen(|p| [p[0], -p[1]]),
            right: seen(|p| [p[1], p[0]]),
            left: seen(|p| [p[1], -p[0]]),
        }
    }

    /// From where on another, moved aside by `dx`, clears this one upward, mm.
    pub fn clears_up(&self, other: &Self, dx: f64) -> Option<f64> {
        self.up.clears(&other.down, dx)
    }

    /// From where on another, moved up by `dy`, clears this one to the right, mm.
    pub fn clears_right(&self, other: &Self, dy: f64) -> Option<f64> {
        self.right.clears(&other.left, dy)
    }

    /// The sides of its box, mm.
    pub fn size(&self) -> Point {
        [self.high[0] - self.low[0], self.high[1] - self.low[1]]
    }
}

/// Sine and cosine, exact on quarter turns.
fn upright(angle: f64) -> (f64, f64) {
    let (sin, cos) = angle.sin_cos();
    let clean = |x: f64| {
        if x.abs() < UPRIGHT { 0.0 } else { x }
    };
    (clean(sin), clean(cos))
}

/// The low and the high corner of the box of some points.
pub(super) fn frame(points: &[Point]) -> (Point, Point) {
    points.iter().fold(
        ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]),
        |(low, high), p| {
            (
                [low[0].min(p[0]), low[1].min(p[1])],
                [high[0].max(p[0]), high[1].max(p[1])],
            )
        },
    )
}

/// How far to turn an outline so that its narrowest enclosing rectangle lies upright, radians,
/// from 0 up to a quarter turn: one side of it lies along a side of the hull.
pub(super) fn narrowest(points: &[Point]) -> f64 {
    let hull = hull(points);
    let next = hull.iter().cycle().skip(1);
    let widths = hull.iter().zip(next).map(|(a, b)| {
        let (along, up) = (b[0] - a[0], b[1] - a[1]);
        let length = along.hypot(up);
        let far = hull
            .iter()
            .map(|p| (along * (p[1] - a[1]) - up * (p[0] - a[0])) / length)
            .fold(0.0, f64::max);
        (far, up.atan2(along))
    });
    let narrow = widths.fold((f64::INFINITY, 0.0), |best: (f64, f64), it| {
        if it.0 < best.0 - 1e-9 { it } else { best }
    });
    (-narrow.1).rem_euclid(FRAC_PI_2)
}

/// The convex hull, counter-clockwise (Andrew's monotone chain).
fn hull(points: &[Point]) -> Vec<Point> {
    let mut sorted = points.to_vec();
    sorted.sort_unstable_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    let half = |sorted: &mut dyn Iterator<Item = Point>| {
        let mut chain: Vec<Point> = Vec::new();
        for p in sorted {
            while let [.., a, b] = chain[..] {
                if (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut lower = half(&mut sorted.iter().copied());
    lower.extend(half(&mut sorted.iter().rev().copied()));
    lower
}
