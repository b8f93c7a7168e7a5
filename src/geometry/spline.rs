//! A smooth run of cubics end to end, run through by arc length.

use super::contour::Point;

/// A cubic from one point to the next, by its ends and its derivatives there
/// for a parameter from 0 to 1 (Hermite's form).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Span {
    pub from: Point,
    pub leaving: Point,
    pub to: Point,
    pub arriving: Point,
}

impl Span {
    /// The straight span.
    pub fn line(from: Point, to: Point) -> Self {
        let along = [to[0] - from[0], to[1] - from[1]];
        Self {
            from,
            leaving: along,
            to,
            arriving: along,
        }
    }

    /// The cubic with two control points between its ends (Bézier's form).
    pub fn bezier([a, b, c, d]: [Point; 4]) -> Self {
        let thrice = |p: Point, q: Point| [3.0 * (q[0] - p[0]), 3.0 * (q[1] - p[1])];
        Self {
            from: a,
            leaving: thrice(a, b),
            to: d,
            arriving: thrice(c, d),
        }
    }

    /// The point, the first and the second derivative at `v` from 0 to 1.
    pub fn jet(&self, v: f64) -> [Point; 3] {
        let (v2, v3) = (v * v, v * v * v);
        let mut out = [[0.0; 2]; 3];
        for axis in 0..2 {
            let (p, m) = (self.from[axis], self.leaving[axis]);
            let (q, n) = (self.to[axis], self.arriving[axis]);
            // x = p + m v + (3 d - 2 m - n) v² + (m + n - 2 d) v³, d = q - p
            let d = q - p;
            let (b, c) = (3.0 * d - 2.0 * m - n, m + n - 2.0 * d);
            out[0][axis] = p + m * v + b * v2 + c * v3;
            out[1][axis] = m + 2.0 * b * v + 3.0 * c * v2;
            out[2][axis] = 2.0 * b + 6.0 * c * v;
        }
        out
    }

    /// Its length, by Gauss's rule of five points.
    pub fn length(&self) -> f64 {
        GAUSS_5
            .iter()
            .map(|&(v, weight)| {
                let [x, y] = self.jet(v)[1];
                weight * x.hypot(y)
            })
            .sum()
    }

    /// Twice the area swept from the origin; exact, for x y' - y x' is a
    /// polynomial of degree five.
    pub fn swept(&self) -> f64 {
        GAUSS_5
            .iter()
            .map(|&(v, weight)| {
                let [[x, y], [dx, dy], _] = self.jet(v);
                weight * (x * dy - y * dx)
            })
            .sum()
    }

    /// The same curve between two of its parameters.
    pub fn part(&self, from: f64, to: f64) -> Self {
        let ([a, da, _], [b, db, _]) = (self.jet(from), self.jet(to));
        let share = to - from;
        Self {
            from: a,
            leaving: [share * da[0], share * da[1]],
            to: b,
            arriving: [share * db[0], share * db[1]],
        }
    }

    /// The same curve run through the other way.
    pub fn reversed(&self) -> Self {
        Self {
            from: self.to,
            leaving: [-self.arriving[0], -self.arriving[1]],
            to: self.from,
            arriving: [-self.leaving[0], -self.leaving[1]],
        }
    }
}

/// Places and weights of Gauss's rule of five points on 0 to 1 (Abramowitz and
/// Stegun, table 25.4, moved from -1 to 1).
const GAUSS_5: [(f64, f64); 5] = [
    (0.046_910_077_030_668, 0.118_463_442_528_094_54),
    (0.230_765_344_947_158_45, 0.239_314_335_249_683_24),
    (0.5, 0.284_444_444_444_444_44),
    (0.769_234_655_052_841_5, 0.239_314_335_249_683_24),
    (0.953_089_922_969_332, 0.118_463_442_528_094_54),
];

/// Spans end to end, with a parameter from 0 to 1 in proportion to arc length.
#[derive(Debug, PartialEq)]
pub(super) struct Spline {
    spans: Vec<Span>,
    /// Arc length up to the end of each span, mm.
    reach: Vec<f64>,
}

impl Spline {
    /// Joins spans, of which there must be one at least.
    pub fn new(spans: Vec<Span>) -> Self {
        let mut sum = 0.0;
        let reach = spans
            .iter()
            .map(|span| {
                sum += span.length();
                sum
            })
            .collect();
        Self { spans, reach }
    }

    /// Its spans.
    pub fn spans(&self) -> &[Span] {
        &self.spans
    }

    pub fn length(&self) -> f64 {
        self.reach.last().copied().unwrap_or(0.0)
    }

    /// The span at parameter `t`, and the parameter within it.
    fn find(&self, t: f64) -> (usize, f64) {
        let s = t * self.length();
        let last = self.spans.len() - 1;
        let i = self.reach.partition_point(|&end| end < s).min(last);
        let start = if i == 0 { 0.0 } else { self.reach[i - 1] };
        (i, (s - start) / (self.reach[i] - start))
    }

    pub fn at(&self, t: f64) -> Point {
        let (i, v) = self.find(t);
        self.spans[i].jet(v)[0]
    }

    pub fn tangent(&self, t: f64) -> Point {
        let (i, v) = self.find(t);
        let span = &self.spans[i];
        let [x, y] = span.jet(v)[1];
        let size = x.hypot(y);
        if size > 1e-9 * self.length() / usize_to_f64(self.spans.len()) {
            return [x / size, y / size];
        }
        // A handle of no length, at an end: the direction just inside it.
        let inside = if v < 0.5 { 1e-4 } else { 1.0 - 1e-4 };
        let [x, y] = span.jet(inside)[1];
        let size = x.hypot(y);
        [x / size, y / size]
    }

    /// The radius of curvature at parameter `t`, `|r'|³ / |r' × r''|`.
    pub fn bend(&self, t: f64) -> f64 {
        let (i, v) = self.find(t);
        let [_, [dx, dy], [ax, ay]] = self.spans[i].jet(v);
        dx.hypot(dy).powi(3) / (dx * ay - dy * ax).abs()
    }

    /// The same curve between two of its parameters.
    pub fn part(&self, from: f64, to: f64) -> Self {
        let ((i, v), (j, w)) = (self.find(from), self.find(to));
        if i == j {
            return Self::new(vec![self.spans[i].part(v, w)]);
        }
        let mut spans = Vec::with_capacity(j - i + 1);
        if v < 1.0 - 1e-9 {
            spans.push(self.spans[i].part(v, 1.0));
        }
        spans.extend_from_slice(&self.spans[i + 1..j]);
        if w > 1e-9 || spans.is_empty() {
            spans.push(self.spans[j].part(0.0, w));
        }
        Self::new(spans)
    }

    /// The same curve run through the other way.
    pub fn reversed(&self) -> Self {
        Self::new(self.spans.iter().rev().map(Span::reversed).collect())
    }
}

#[expect(clippy::cast_precision_loss, reason = "a count of samples")]
fn usize_to_f64(count: usize) -> f64 {
    count as f64
}
