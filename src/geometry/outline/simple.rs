//! Whether a closed run of sides crosses or touches itself.

use crate::geometry::contour::{Point, distance};

/// Sides nearer than this share of the outline's size touch.
const TOUCH: f64 = 1e-9;

/// Two sides that meet, by their numbers from 0, and where.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Meeting {
    pub first: usize,
    pub second: usize,
    pub at: Point,
}

/// The extent along x, along y and along both diagonals: long thin stretches
/// on a slant stay thin.
#[derive(Debug, Clone, Copy)]
struct Frame {
    low: [f64; 4],
    high: [f64; 4],
}

impl Frame {
    fn of(points: &[Point]) -> Self {
        let mut frame = Self {
            low: [f64::INFINITY; 4],
            high: [f64::NEG_INFINITY; 4],
        };
        for [x, y] in points {
            let half = std::f64::consts::FRAC_1_SQRT_2;
            for (k, at) in [*x, *y, half * (x + y), half * (x - y)]
                .into_iter()
                .enumerate()
            {
                frame.low[k] = frame.low[k].min(at);
                frame.high[k] = frame.high[k].max(at);
            }
        }
        frame
    }

    fn with(self, other: Self) -> Self {
        Self {
            low: [0, 1, 2, 3].map(|k| self.low[k].min(other.low[k])),
            high: [0, 1, 2, 3].map(|k| self.high[k].max(other.high[k])),
        }
    }

    /// The distance from another frame is at least this.
    fn distance(&self, other: &Self) -> f64 {
        let gap = |k: usize| {
            (self.low[k] - other.high[k])
                .max(other.low[k] - self.high[k])
                .max(0.0)
        };
        let square = |a: f64, b: f64| a * a + b * b;
        square(gap(0), gap(1)).max(square(gap(2), gap(3))).sqrt()
    }
}

/// Sides of a closed run of points with the frames of ever longer stretches of it:
/// what lies near along the run lies near in the plane, so most pairs of
/// stretches are told apart at one look.
#[derive(Debug)]
pub(super) struct Sides {
    points: Vec<Point>,
    /// Level 0: one frame a side; each further level joins two.
    levels: Vec<Vec<Frame>>,
}

impl Sides {
    pub fn new(points: &[Point]) -> Self {
        let n = points.len();
        let mut levels = vec![
            (0..n)
                .map(|i| Frame::of(&[points[i], points[(i + 1) % n]]))
                .collect::<Vec<_>>(),
        ];
        while let Some(last) = levels.last().filter(|l| l.len() > 1) {
            let next = last
                .chunks(2)
                .map(|pair| pair.iter().copied().reduce(Frame::with).unwrap_or(pair[0]))
                .collect();
            levels.push(next);
        }
        Self {
            points: points.to_vec(),
            levels,
        }
    }

    fn side(&self, i: usize) -> [Point; 2] {
        [self.points[i], self.points[(i + 1) % self.points.len()]]
    }

    /// Two sides that cross or touch without being neighbours, or neighbours of
    /// which one folds back on the other.
    pub fn meeting(&self) -> Option<Meeting> {
        let top = self.levels.len() - 1;
        let frame = self.levels[top][0];
        let size = (frame.high[0] - frame.low[0]).hypot(frame.high[1] - frame.low[1]);
        self.fold().or_else(|| {
            let mut todo = vec![(top, 0, 0)];
            while let Some((level, a, b)) = todo.pop() {
                if level == 0 {
                    if let Some(at) = self.meet(a, b, TOUCH * size) {
                        return Some(Meeting {
                            first: a,
                            second: b,
                            at,
                        });
                    }
                    continue;
                }
                let below = &self.levels[level - 1];
                let halves = |i: usize| 2 * i..(2 * i + 2).min(below.len());
                for i in halves(a) {
                    for j in halves(b) {
                        if i <= j && (i == j || below[i].distance(&below[j]) <= TOUCH * size) {
                            todo.push((level - 1, i, j));
                        }
                    }
                }
            }
            None
        })
    }

    fn fold(&self) -> Option<Meeting> {
        let n = self.points.len();
        (0..n).find_map(|i| {
            let [a, b] = self.side(i);
            let [_, c] = self.side((i + 1) % n);
            let (u, v) = ([b[0] - a[0], b[1] - a[1]], [c[0] - b[0], c[1] - b[1]]);
            let dot = u[0] * v[0] + u[1] * v[1];
            let cross = u[0] * v[1] - u[1] * v[0];
            (dot < 0.0 && cross.abs() <= TOUCH * dot.abs()).then_some(Meeting {
                first: i,
                second: (i + 1) % n,
                at: b,
            })
        })
    }

    /// Where two sides that are no neighbours meet.
    fn meet(&self, i: usize, j: usize, gap: f64) -> Option<Point> {
        let n = self.points.len();
        if i == j || (i + 1) % n == j || (j + 1) % n == i {
            return None;
        }
        let ([a, b], [c, d]) = (self.side(i), self.side(j));
        let across = |o: Point, p: Point, q: Point| {
            (p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0])
        };
        let (sc, sd) = (across(a, b, c), across(a, b, d));
        let (sa, sb) = (across(c, d, a), across(c, d, b));
        if sc * sd < 0.0 && sa * sb < 0.0 {
            let t = sa / (sa - sb);
            return Some([a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
        }
        let ends = [(c, a, b), (d, a, b), (a, c, d), (b, c, d)];
        ends.into_iter()
            .find(|&(p, from, to)| from_side(p, from, to) <= gap)
            .map(|(p, _, _)| p)
    }

    /// Distance of a place from the nearest side.
    pub fn distance(&self, p: Point) -> f64 {
        self.nearest([p, p], f64::INFINITY, f64::NEG_INFINITY)
    }

    /// The same, or `most` where that is less.
    pub fn distance_up_to(&self, p: Point, most: f64) -> f64 {
        self.nearest([p, p], most, f64::NEG_INFINITY)
    }

    /// Whether the straight line between two places keeps that far from every side.
    pub fn clears(&self, [p, q]: [Point; 2], far: f64) -> bool {
        self.nearest([p, q], far, far) >= far
    }

    /// Distance of the straight line between two places from the nearest side, or
    /// `most`; any side nearer than `enough` will do.
    fn nearest(&self, line: [Point; 2], most: f64, enough: f64) -> f64 {
        let own = Frame::of(&line);
        let mut best = most;
        let top = self.levels.len() - 1;
        let mut todo = vec![(top, 0, self.levels[top][0].distance(&own))];
        while let Some((level, i, least)) = todo.pop() {
            if best < enough {
                break;
            }
            if least >= best {
                continue;
            }
            if level == 0 {
                best = best.min(between(line, self.side(i)));
                continue;
            }
            let below = &self.levels[level - 1];
            let half = |half: usize| (level - 1, half, below[half].distance(&own));
            let first = half(2 * i);
            if 2 * i + 1 == below.len() {
                todo.push(first);
                continue;
            }
            // The nearer half last, to be taken up first.
            let second = half(2 * i + 1);
            todo.extend(if first.2 < second.2 {
                [second, first]
            } else {
                [first, second]
            });
        }
        best
    }

    /// Whether a place lies inside: how often a ray toward +x crosses sides.
    pub fn holds(&self, p: Point) -> bool {
        let mut inside = false;
        for i in 0..self.points.len() {
            let [a, b] = self.side(i);
            if (a[1] > p[1]) != (b[1] > p[1]) {
                let x = a[0] + (p[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0]);
                inside ^= p[0] < x;
            }
        }
        inside
    }
}

/// Distance between two straight sides.
fn between([a, b]: [Point; 2], [c, d]: [Point; 2]) -> f64 {
    let across = |o: Point, p: Point, q: Point| {
        (p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0])
    };
    if across(a, b, c) * across(a, b, d) < 0.0 && across(c, d, a) * across(c, d, b) < 0.0 {
        return 0.0;
    }
    [(a, c, d), (b, c, d), (c, a, b), (d, a, b)]
        .into_iter()
        .map(|(p, from, to)| from_side(p, from, to))
        .fold(f64::INFINITY, f64::min)
}

/// Distance of a place from a straight side.
pub(super) fn from_side(p: Point, a: Point, b: Point) -> f64 {
    let along = [b[0] - a[0], b[1] - a[1]];
    let square = along[0] * along[0] + along[1] * along[1];
    let t = ((p[0] - a[0]) * along[0] + (p[1] - a[1]) * along[1]) / square;
    let t = if square > 0.0 { t.clamp(0.0, 1.0) } else { 0.0 };
    distance(p, [a[0] + t * along[0], a[1] + t * along[1]])
}
