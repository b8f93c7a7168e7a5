//! Corners, and arcs in their place.

use std::f64::consts::TAU;

use super::reading::turn;
use super::simple::Sides;
use super::trace::drawn;
use crate::geometry::contour::{Curve, Point, distance};
use crate::quantity::{Angle, Length};

/// A blunter corner than this counts as smooth: one degree, radians.
pub(super) const BLUNT: f64 = std::f64::consts::PI / 180.0;

/// A corner of an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corner {
    /// Where its two sides meet, or would meet were it not rounded.
    pub tip: [Length; 2],
    /// The direction from the tip into the outline, of length one.
    pub inward: [f64; 2],
    /// The angle inside the outline: under 180 degrees where it points outward.
    pub inner_angle: Angle,
    /// Its radius; 0 is sharp.
    pub radius: Length,
}

/// The corners of a closed edge: after which curve each comes, and the turn.
pub(super) fn corners(edge: &[Curve]) -> Vec<(usize, f64)> {
    let n = edge.len();
    (0..n)
        .map(|i| {
            (
                i,
                turn(edge[i].tangent(1.0), edge[(i + 1) % n].tangent(0.0)),
            )
        })
        .filter(|(_, turn)| turn.abs() >= BLUNT)
        .collect()
}

/// The corners as they are told.
pub(super) fn described(sharp: &[Curve], radius: Length) -> Vec<Corner> {
    let told = |(i, turn): (usize, f64)| {
        let (a, b) = (
            sharp[i].tangent(1.0),
            sharp[(i + 1) % sharp.len()].tangent(0.0),
        );
        // Both sides' normals added point inward, to the left.
        let sum = [-(a[1] + b[1]), a[0] + b[0]];
        let size = sum[0].hypot(sum[1]);
        // A tip that folds right back points against the way it came.
        let inward = if size > 1e-9 {
            [sum[0] / size, sum[1] / size]
        } else {
            [-a[0], -a[1]]
        };
        Corner {
            tip: sharp[i].at(1.0).map(Length::from_mm),
            inward,
            inner_angle: Angle::from_rad(std::f64::consts::PI - turn),
            radius,
        }
    };
    corners(sharp).into_iter().map(told).collect()
}

/// The smooth curves between two corners, run through by arc length.
struct Chain {
    curves: Vec<Curve>,
    /// Length up to the end of each.
    reach: Vec<f64>,
}

impl Chain {
    fn new(curves: Vec<Curve>) -> Self {
        let mut sum = 0.0;
        let reach = curves
            .iter()
            .map(|curve| {
                sum += curve.length();
                sum
            })
            .collect();
        Self { curves, reach }
    }

    fn length(&self) -> f64 {
        self.reach.last().copied().unwrap_or(0.0)
    }

    /// The curve at a distance from the start and the parameter on it, which runs
    /// past the ends of the chain where it must.
    fn find(&self, s: f64) -> (usize, f64) {
        let last = self.curves.len() - 1;
        let i = self.reach.partition_point(|&end| end < s).min(last);
        let start = if i == 0 { 0.0 } else { self.reach[i - 1] };
        (i, (s - start) / (self.reach[i] - start))
    }

    /// The place `off` to the left of the chain at a distance from its start.
    fn beside(&self, s: f64, off: f64) -> Point {
        let (i, t) = self.find(s);
        let ([x, y], [u, v]) = (self.curves[i].at(t), self.curves[i].tangent(t));
        [x - off * v, y + off * u]
    }

    fn part(&self, from: f64, to: f64) -> Vec<Curve> {
        let ((i, t), (j, w)) = (self.find(from), self.find(to));
        let hair = 1e-9;
        let mut part = Vec::new();
        for k in i..=j {
            let start = if k == i { t.max(0.0) } else { 0.0 };
            let end = if k == j { w.min(1.0) } else { 1.0 };
            if start <= 0.0 && end >= 1.0 {
                part.push(self.curves[k].clone());
            } else if end - start > hair {
                part.push(self.curves[k].part(start, end));
            }
        }
        part
    }
}

/// One corner's arc, and how far from the corner it begins and ends.
struct Fillet {
    back: f64,
    ahead: f64,
    arc: Curve,
}

/// The arc of a radius that touches the end of one chain and the start of the
/// next: the centre lies at that distance from both. Found by Newton's method
/// in a few steps of growing radius.
fn fillet(before: &Chain, after: &Chain, turn: f64, radius: f64) -> Option<Fillet> {
    let side = turn.signum();
    let (mut back, mut ahead) = (0.0, 0.0);
    let size = before.length().min(after.length());
    let steps = 6;
    for step in 1..=steps {
        let off = side * radius * f64::from(step) / f64::from(steps);
        let from = |s: f64| before.beside(before.length() - s, off);
        let to = |s: f64| after.beside(s, off);
        let slope = |at: &dyn Fn(f64) -> Point, s: f64| {
            let h = 1e-5 * size;
            let (p, q) = (at(s + h), at(s - h));
            [(p[0] - q[0]) / (2.0 * h), (p[1] - q[1]) / (2.0 * h)]
        };
        let mut near = false;
        for _ in 0..30 {
            let (p, q) = (from(back), to(ahead));
            let miss = [q[0] - p[0], q[1] - p[1]];
            near = miss[0].hypot(miss[1]) <= 1e-12 * (size + radius);
            if near {
                break;
            }
            // p' da - q' db = q - p
            let (u, v) = (slope(&from, back), slope(&to, ahead));
            let det = -u[0] * v[1] + u[1] * v[0];
            let da = (-miss[0] * v[1] + miss[1] * v[0]) / det;
            let db = (u[0] * miss[1] - u[1] * miss[0]) / det;
            if !(da.is_finite() && db.is_finite()) {
                return None;
            }
            back += da;
            ahead += db;
            if back < -size
                || ahead < -size
                || back > 2.0 * before.length()
                || ahead > 2.0 * after.length()
            {
                return None;
            }
        }
        if !near && distance(from(back), to(ahead)) > 1e-9 * (size + radius) {
            return None;
        }
    }
    if back < 0.0 || ahead < 0.0 {
        return None;
    }
    let centre = before.beside(before.length() - back, side * radius);
    let angle = |p: Point| (p[1] - centre[1]).atan2(p[0] - centre[0]);
    let from = angle(before.beside(before.length() - back, 0.0));
    let swing = (angle(after.beside(ahead, 0.0)) - from) * side;
    let arc = Curve::circular(centre, radius, from, from + side * swing.rem_euclid(TAU));
    Some(Fillet { back, ahead, arc })
}

/// The edge with arcs of that radius in place of its corners; `None` where they
/// do not fit.
pub(super) fn rounded(sharp: &[Curve], radius: f64) -> Option<Vec<Curve>> {
    let n = sharp.len();
    let corners = corners(sharp);
    let count = corners.len();
    if radius <= 0.0 || count == 0 {
        return Some(sharp.to_vec());
    }
    // Chain k runs from corner k to the next.
    let chains: Vec<Chain> = (0..count)
        .map(|k| {
            let (from, to) = (corners[k].0, corners[(k + 1) % count].0);
            let steps = (to + n - from - 1) % n + 1;
            Chain::new((1..=steps).map(|i| sharp[(from + i) % n].clone()).collect())
        })
        .collect();
    let fillets: Vec<Fillet> = (0..count)
        .map(|k| {
            fillet(
                &chains[(k + count - 1) % count],
                &chains[k],
                corners[k].1,
                radius,
            )
        })
        .collect::<Option<_>>()?;
    let mut edge = Vec::new();
    for (k, chain) in chains.iter().enumerate() {
        let (here, next) = (&fillets[k], &fillets[(k + 1) % count]);
        let (from, to) = (here.ahead, chain.length() - next.back);
        if to - from < -1e-9 * chain.length() {
            return None;
        }
        edge.push(here.arc.clone());
        if to - from > 1e-9 * chain.length() {
            edge.extend(chain.part(from, to));
        }
    }
    let points = drawn(&edge, 1e-4 * radius);
    Sides::new(&points).meeting().is_none().then_some(edge)
}

/// The largest radius that fits every corner, mm.
pub(super) fn largest(sharp: &[Curve]) -> f64 {
    let lengths: f64 = sharp.iter().map(Curve::length).sum();
    let (mut low, mut high) = (0.0, lengths);
    for _ in 0..40 {
        let middle = f64::midpoint(low, high);
        if rounded(sharp, middle).is_some() {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}
