//! Where the edge, moved inward, is far enough from all of the edge.

use super::simple::{Sides, from_side};
use super::trace;
use crate::geometry::contour::{Curve, Point, distance};

/// The directions that samples are taken at, radians.
const STEP: f64 = std::f64::consts::PI / 90.0;

/// A curve moved along its normal, or the arc about an inward corner.
pub(super) struct Strand {
    pub path: Curve,
    /// How far the moved curve lies to the left of `path`.
    pub off: f64,
    pub samples: u32,
}

impl Strand {
    pub fn at(&self, t: f64) -> Point {
        let ([x, y], [u, v]) = (self.path.at(t), self.path.tangent(t));
        [x - self.off * v, y + self.off * u]
    }

    /// How much longer a way along it may be than from its middle to its ends, at the
    /// most; on an arc of up to half a turn, π/2 over √2.
    fn slack(&self) -> f64 {
        match &self.path {
            Curve::Line(..) => 1.0,
            Curve::Arc { .. } => 1.2,
            Curve::Spline(_) => 4.0,
        }
    }

    pub fn of(path: Curve, off: f64) -> Self {
        let samples = match &path {
            Curve::Line(..) => 8,
            Curve::Arc { from, to, .. } => 4 + cells((to - from).abs() / STEP),
            Curve::Spline(spline) => 8 + u32::try_from(spline.spans().len()).unwrap_or(8192),
        };
        Self { path, off, samples }
    }

    pub fn param(&self, sample: u32) -> f64 {
        f64::from(sample) / f64::from(self.samples)
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "an arc turns once round at most"
)]
fn cells(count: f64) -> u32 {
    count.clamp(0.0, 1e4).ceil() as u32
}

/// What lies far enough inside the edge.
pub(super) struct Room {
    sides: Sides,
    /// How far is enough, mm.
    least: f64,
    /// How short a stretch may be lost, mm.
    pub hair: f64,
}

impl Room {
    pub fn new(edge: &[Curve], by: f64, across: f64) -> Self {
        // Straight sides are drawn as they are, curves to within a tolerance.
        let straight = edge.iter().all(|curve| matches!(curve, Curve::Line(..)));
        let slack = if straight { 1e-11 } else { 3e-7 };
        Self {
            sides: Sides::new(&trace::drawn(edge, 1e-7 * across)),
            least: by - slack * across,
            hair: 1e-5 * across,
        }
    }

    /// Whether a moved place is clear. Then it is inside too: on the way from its
    /// own place on the edge it would have come nearer to any other.
    pub fn holds(&self, p: Point) -> bool {
        self.sides.clears([p, p], self.least)
    }

    /// How far a moved place is from the edge, as far as it matters.
    fn far(&self, p: Point) -> f64 {
        self.sides.distance_up_to(p, self.least)
    }

    /// A parameter between two clear ones at which the strand comes too near.
    pub fn lapse(&self, strand: &Strand, from: f64, to: f64) -> Option<f64> {
        let middle = strand.at(f64::midpoint(from, to));
        let (a, b) = (strand.at(from), strand.at(to));
        let bow = 1.5 * from_side(middle, a, b);
        if self.sides.clears([a, b], self.least - bow) {
            return None;
        }
        let parts = 32;
        (1..parts)
            .map(|i| from + f64::from(i) / f64::from(parts) * (to - from))
            .map(|t| (t, self.far(strand.at(t))))
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .filter(|(_, far)| *far < self.least)
            .map(|(t, _)| t)
    }

    /// A clear parameter between two that are not. Along a way of length h the
    /// distance changes by h at most, so halves that can't reach far enough are left.
    fn clearing(&self, strand: &Strand, from: f64, to: f64) -> Option<f64> {
        let mut todo = vec![(from, to)];
        for _ in 0..200 {
            let (from, to) = todo.pop()?;
            let middle = f64::midpoint(from, to);
            let at = strand.at(middle);
            let far = self.far(at);
            if far >= self.least {
                return Some(middle);
            }
            let half =
                strand.slack() * distance(at, strand.at(from)).max(distance(at, strand.at(to)));
            if far + half >= self.least && half > self.hair / 4.0 {
                todo.extend([(from, middle), (middle, to)]);
            }
        }
        None
    }

    /// Finds the clear stretches between two parameters that are not clear, in order.
    pub fn search(&self, strand: &Strand, from: f64, to: f64, found: &mut dyn FnMut(f64, f64)) {
        if to - from <= 1e-9 {
            return;
        }
        let Some(clear) = self.clearing(strand, from, to) else {
            return;
        };
        let start = self.flip(strand, clear, from);
        let end = self.flip(strand, clear, to);
        self.search(strand, from, start - 1e-6, found);
        found(start, end);
        self.search(strand, end + 1e-6, to, found);
    }

    /// Which samples of a strand are clear. Halves that can't reach far enough are
    /// not looked at.
    pub fn flags(&self, strand: &Strand) -> Vec<bool> {
        let n = strand.samples;
        let at = |sample: u32| strand.at(strand.param(sample));
        let mut flags = vec![false; n as usize + 1];
        flags[0] = self.holds(at(0));
        flags[n as usize] = self.holds(at(n));
        let mut todo = vec![(0, n)];
        while let Some((from, to)) = todo.pop() {
            let middle = u32::midpoint(from, to);
            if middle == from {
                continue;
            }
            let place = at(middle);
            let far = self.far(place);
            flags[middle as usize] = far >= self.least;
            let half = distance(place, at(from)).max(distance(place, at(to)));
            if far + strand.slack() * half >= self.least {
                todo.extend([(from, middle), (middle, to)]);
            }
        }
        flags
    }

    /// Where between a clear parameter and one that is not it stops being clear.
    pub fn flip(&self, strand: &Strand, mut good: f64, mut bad: f64) -> f64 {
        for _ in 0..26 {
            let middle = f64::midpoint(good, bad);
            if self.holds(strand.at(middle)) {
                good = middle;
            } else {
                bad = middle;
            }
        }
        good
    }
}
