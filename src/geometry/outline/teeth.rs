//! Teeth too small to matter, smoothed over.
//!
//! The edge of a scan, or of pixels, jags from sample to sample. The points are split
//! where they leave straight chords; a chord whose points turn to and fro is
//! toothed, and its points give way to it. A vertex between two toothed chords moves to
//! the parabola that fits the points on both, and all of them move out or in
//! together by what keeps the area.

use super::reading::{Reading, SHARP, extent, turn};
use super::simple::{Sides, from_side};
use crate::geometry::contour::{Point, distance};

/// How far the edge may move, and how deep a tooth may be, as a share of the
/// outline's shorter extent; and the most that the area may change, as a share of it.
const SMALL: f64 = 1e-4;
/// The least turn of a tooth, radians.
const TOOTH: f64 = 2.0 * std::f64::consts::PI / 180.0;
/// How often points are split in halves before they count as too wild.
const DEEPEST: u32 = 100;
/// How often what came out too far away is put back.
const ROUNDS: usize = 8;

/// The points without their small teeth; as they are where nothing can be smoothed
/// within the tolerance.
pub(super) fn smoothed(points: Vec<Point>) -> Vec<Point> {
    let tolerance = SMALL * extent(&points).into_iter().fold(f64::INFINITY, f64::min);
    let mut jagged = Jagged::of(points, tolerance);
    if !jagged.has_tooth() {
        return jagged.points;
    }
    jagged.split();
    for _ in 0..ROUNDS {
        if !jagged.chords.iter().any(|chord| chord.toothed) {
            break;
        }
        let smooth = Smooth::of(&jagged);
        let far = smooth.too_far(&jagged);
        if far.is_empty() {
            if smooth.keeps(&jagged) {
                return smooth.points;
            }
            break;
        }
        for chord in far {
            jagged.chords[chord].toothed = false;
        }
    }
    jagged.points
}

/// Some of the points, from one to another, which may be the first again.
#[derive(Debug, Clone, Copy)]
struct Chord {
    from: usize,
    to: usize,
    toothed: bool,
}

/// Given points, counter-clockwise, and the chords that they follow.
struct Jagged {
    points: Vec<Point>,
    turns: Vec<f64>,
    chords: Vec<Chord>,
    /// How far the edge may move, mm.
    tolerance: f64,
}

impl Jagged {
    /// The points, listed from the one that is furthest from the middle of their box.
    fn of(mut points: Vec<Point>, tolerance: f64) -> Self {
        let n = points.len();
        let ends = [f64::min, f64::max]
            .map(|pick| [0, 1].map(|k| points.iter().map(|p| p[k]).reduce(pick).unwrap_or(0.0)));
        let middle = [0, 1].map(|k| f64::midpoint(ends[0][k], ends[1][k]));
        let far = |i: &usize| distance(points[*i], middle);
        let first = (0..n).max_by(|i, j| far(i).total_cmp(&far(j)));
        points.rotate_left(first.unwrap_or(0));
        let side = |i: usize| between(points[i % n], points[(i + 1) % n]);
        let turns = (0..n).map(|i| turn(side(i + n - 1), side(i))).collect();
        Self {
            points,
            turns,
            chords: Vec::new(),
            tolerance,
        }
    }

    fn at(&self, i: usize) -> Point {
        self.points[i % self.points.len()]
    }

    /// Whether some vertex turns but hardly leaves the line between its neighbours.
    fn has_tooth(&self) -> bool {
        let n = self.points.len();
        (0..n).any(|i| {
            let [before, here, after] = [i + n - 1, i, i + 1].map(|k| self.at(k));
            self.turns[i].abs() >= TOOTH && from_side(here, before, after) <= self.tolerance
        })
    }

    /// Splits the points where they leave their chords furthest, until they follow them
    /// to twice the tolerance: the depth of a tooth, and as much for the bend.
    fn split(&mut self) {
        let n = self.points.len();
        let mut todo = vec![(0, n, 0)];
        while let Some((from, to, depth)) = todo.pop() {
            let (a, b) = (self.at(from), self.at(to));
            let far = (from + 1..to)
                .map(|i| (i, from_side(self.points[i], a, b)))
                .max_by(|one, two| one.1.total_cmp(&two.1))
                .filter(|(_, far)| *far > 2.0 * self.tolerance);
            match far {
                Some((i, _)) if depth < DEEPEST => {
                    todo.extend([(i, to, depth + 1), (from, i, depth + 1)]);
                }
                _ => {
                    let toothed = far.is_none() && to - from > 1 && self.turns_both_ways(from, to);
                    self.chords.push(Chord { from, to, toothed });
                }
            }
        }
    }

    fn turns_both_ways(&self, from: usize, to: usize) -> bool {
        let n = self.points.len();
        let mut turns = (from..=to).map(|i| self.turns[i % n]);
        turns.clone().any(|turn| turn >= TOOTH) && turns.any(|turn| turn <= -TOOTH)
    }

    /// Twice the area that the given sides of a chord sweep from the origin.
    fn swept(&self, chord: Chord) -> f64 {
        (chord.from..chord.to)
            .map(|i| {
                let (a, b) = (self.at(i), self.at(i + 1));
                a[0] * b[1] - a[1] * b[0]
            })
            .sum()
    }

    /// How far to the left of `at` the parabola runs that best fits the sides between
    /// two others, in the direction of these; by least squares over the way along it.
    fn fit(&self, from: usize, at: usize, to: usize) -> Option<f64> {
        let (o, along) = (self.at(at), between(self.at(from), self.at(to)));
        let size = along[0].hypot(along[1]);
        // x in units of the chord, y in mm, to its left.
        let local = |p: Point| {
            let [x, y] = between(o, p);
            let left = (along[0] * y - along[1] * x) / size;
            [(along[0] * x + along[1] * y) / (size * size), left]
        };
        // Moments ∫ xᵏ dx and ∫ y xᵏ dx, by Simpson's rule on each side.
        let (mut m, mut b) = ([0.0; 5], [0.0; 3]);
        for i in from..to {
            let (p, q) = (local(self.at(i)), local(self.at(i + 1)));
            let middle = [0, 1].map(|k| f64::midpoint(p[k], q[k]));
            for ([x, y], share) in [(p, 1.0), (middle, 4.0), (q, 1.0)] {
                let mut weight = share / 6.0 * (q[0] - p[0]);
                for (k, moment) in m.iter_mut().enumerate() {
                    *moment += weight;
                    if k < 3 {
                        b[k] += y * weight;
                    }
                    weight *= x;
                }
            }
        }
        // The first unknown of three, by Cramer's rule.
        let det = |[p, q, r]: [f64; 3]| {
            p * (m[2] * m[4] - m[3] * m[3]) - m[1] * (q * m[4] - m[3] * r)
                + m[2] * (q * m[3] - m[2] * r)
        };
        let off = det(b) / det([m[0], m[1], m[2]]);
        (off.abs() <= 2.0 * self.tolerance).then_some(off)
    }
}

fn between(a: Point, b: Point) -> Point {
    [b[0] - a[0], b[1] - a[1]]
}

/// The points that are left, and which chord each side came from.
struct Smooth {
    points: Vec<Point>,
    /// For each side, the number of its chord, where that is toothed.
    chords: Vec<Option<usize>>,
}

impl Smooth {
    fn of(jagged: &Jagged) -> Self {
        let (mut points, mut chords) = (Vec::new(), Vec::new());
        for (number, chord) in jagged.chords.iter().enumerate() {
            let last = if chord.toothed {
                chord.from + 1
            } else {
                chord.to
            };
            for i in chord.from..last {
                points.push(jagged.points[i]);
                chords.push(chord.toothed.then_some(number));
            }
        }
        let mut smooth = Self { points, chords };
        smooth.settle(jagged);
        for _ in 0..3 {
            smooth.balance(jagged);
        }
        smooth
    }

    /// The side before vertex `i`.
    fn before(&self, i: usize) -> usize {
        (i + self.points.len() - 1) % self.points.len()
    }

    /// Whether a vertex lies between two toothed chords.
    fn is_free(&self, i: usize) -> bool {
        self.chords[i].is_some() && self.chords[self.before(i)].is_some()
    }

    /// The directions of the sides at a vertex.
    fn ways(&self, i: usize) -> [Point; 2] {
        let n = self.points.len();
        [self.before(i), i].map(|side| between(self.points[side], self.points[(side + 1) % n]))
    }

    /// Moves vertices to the middle of the teeth, but for corners.
    fn settle(&mut self, jagged: &Jagged) {
        let n = jagged.points.len();
        let moved: Vec<Point> = (0..self.points.len())
            .map(|i| {
                let here = self.points[i];
                let (Some(before), Some(after)) = (self.chords[self.before(i)], self.chords[i])
                else {
                    return here;
                };
                let [u, v] = self.ways(i);
                if turn(u, v).abs() >= SHARP {
                    return here;
                }
                let (before, after) = (jagged.chords[before], jagged.chords[after]);
                // Past the first point again, so that places go up.
                let at = before.to;
                let to = at + (after.to - after.from);
                let off = jagged.fit(before.from, at, to).unwrap_or(0.0);
                let along = between(jagged.at(before.from), jagged.at(to % n));
                let size = along[0].hypot(along[1]);
                [
                    here[0] - off * along[1] / size,
                    here[1] + off * along[0] / size,
                ]
            })
            .collect();
        self.points = moved;
    }

    /// Moves the vertices of each run of toothed chords out or in together, so that
    /// the curve read from them encloses what the teeth enclosed.
    fn balance(&mut self, jagged: &Jagged) {
        let n = self.points.len();
        let reading = Reading::of(self.points.clone());
        let start = (0..n).find(|&i| self.chords[i].is_none()).unwrap_or(0);
        let order: Vec<usize> = (start..start + n).map(|i| i % n).collect();
        let mut moved = self.points.clone();
        for run in order.chunk_by(|&i, &j| self.chords[i].is_some() == self.chords[j].is_some()) {
            let missing: f64 = run.iter().map(|&i| self.missing(&reading, jagged, i)).sum();
            let free = || run.iter().copied().filter(|&i| self.is_free(i));
            let length: f64 = free()
                .flat_map(|i| self.ways(i))
                .map(|way| way[0].hypot(way[1]) / 2.0)
                .sum();
            let out = missing / (2.0 * length);
            if !out.is_finite() {
                continue;
            }
            for i in free() {
                let [u, v] = self.ways(i).map(|[x, y]| {
                    let size = x.hypot(y);
                    [x / size, y / size]
                });
                // Both sides move by `out`: along the bisector by its share.
                let [x, y] = [u[0] + v[0], u[1] + v[1]];
                let square = (x * x + y * y).max(1.0);
                moved[i][0] += 2.0 * out * y / square;
                moved[i][1] -= 2.0 * out * x / square;
            }
        }
        self.points = moved;
    }

    /// Twice the area that the teeth of a side hold beyond the curve read from it.
    fn missing(&self, reading: &Reading, jagged: &Jagged, side: usize) -> f64 {
        self.chords[side].map_or(0.0, |chord| {
            jagged.swept(jagged.chords[chord]) - reading.span(side).swept()
        })
    }

    /// The chords whose points the curve leaves too far.
    fn too_far(&self, jagged: &Jagged) -> Vec<usize> {
        let reading = Reading::of(self.points.clone());
        let far = |(side, chord): (usize, &Option<usize>)| {
            let number = (*chord)?;
            let span = reading.span(side);
            let drawn: Vec<Point> = (0..=16_u8)
                .map(|i| span.jet(f64::from(i) / 16.0)[0])
                .collect();
            let Chord { from, to, .. } = jagged.chords[number];
            let near = |p: Point| {
                let mut sides = drawn.windows(2);
                sides.any(|side| from_side(p, side[0], side[1]) <= jagged.tolerance)
            };
            let far = (from..=to).any(|i| !near(jagged.at(i)));
            far.then_some(number)
        };
        self.chords.iter().enumerate().filter_map(far).collect()
    }

    /// Whether it crosses itself nowhere and encloses what the given points did.
    fn keeps(&self, jagged: &Jagged) -> bool {
        let reading = Reading::of(self.points.clone());
        let missing: f64 = (0..self.points.len())
            .map(|i| self.missing(&reading, jagged, i))
            .sum();
        let whole: f64 = jagged.chords.iter().map(|&c| jagged.swept(c)).sum();
        missing.abs() <= SMALL * whole && Sides::new(&self.points).meeting().is_none()
    }
}
