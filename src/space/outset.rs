//! An outline grown by half the gap, so that pieces only have not to overlap.
//!
//! Two outlines are the gap apart where each, grown by half of it, does not overlap the
//! other. The grown outline is a closed chain that lies outside the true one, and nowhere
//! by more than 0.02 mm.

use super::turned::Point;
use crate::geometry::Outline;
use crate::quantity::Length;

/// Half of what an outline is taken larger by at most, mm: once where curves are drawn as
/// straight sides, once where the grown corners are.
const TOLERANCE: f64 = 0.01;

/// The outer edge as straight sides about the middle of its box, and what it must be
/// grown by to hold the true one, mm.
pub(super) struct Drawn {
    pub points: Vec<Point>,
    pub slack: f64,
}

impl Drawn {
    pub fn of(outline: &Outline) -> Self {
        let drawn = outline.drawn(Length::from_mm(TOLERANCE));
        let [x, y] = outline.middle().map(Length::mm);
        let edge = drawn.first().map_or(&[][..], Vec::as_slice);
        let points: Vec<Point> = edge
            .iter()
            .map(|point| [point[0].mm() - x, point[1].mm() - y])
            .collect();
        let next = points.iter().cycle().skip(1);
        let sides: f64 = points
            .iter()
            .zip(next)
            .map(|(a, b)| (b[0] - a[0]).hypot(b[1] - a[1]))
            .sum();
        let rims: f64 = outline
            .holes()
            .iter()
            .map(|hole| std::f64::consts::PI * hole.diameter.mm())
            .sum();
        // straight sides cut every curve short, so equal lengths mean that there is none
        let edge = outline.perimeter().mm() - rims;
        let straight = (edge - sides).abs() <= 1e-10 * edge;
        Self {
            points,
            slack: if straight { 0.0 } else { TOLERANCE },
        }
    }
}

/// A counter-clockwise outline grown by `by`, mm: each side moved outward, corners that
/// point outward by lines that touch their round ends from outside.
pub(super) fn grown(points: &[Point], by: f64) -> Vec<Point> {
    let count = points.len();
    if by <= 0.0 || count < 3 {
        return points.to_vec();
    }
    // by / cos(step / 2) - by = the tolerance
    let step = 2.0 * (by / (by + TOLERANCE)).acos();
    let mut chain = Vec::with_capacity(2 * count);
    for (i, &here) in points.iter().enumerate() {
        let before = points[(i + count - 1) % count];
        let after = points[(i + 1) % count];
        let heading = |a: Point, b: Point| (b[1] - a[1]).atan2(b[0] - a[0]);
        let (from, to) = (heading(before, here), heading(here, after));
        let turn = (to - from + std::f64::consts::PI).rem_euclid(std::f64::consts::TAU)
            - std::f64::consts::PI;
        let out = |angle: f64, far: f64| [here[0] + far * angle.sin(), here[1] - far * angle.cos()];
        if turn <= 0.0 {
            chain.extend([out(from, by), out(to, by)]);
        } else {
            let parts = (turn / step).ceil().max(1.0);
            let half = turn / parts / 2.0;
            let mut at = from + half;
            while at < from + turn {
                chain.push(out(at, by / half.cos()));
                at += 2.0 * half;
            }
        }
    }
    chain
}

/// The part of a closed chain inside a box; what is cut off runs along the box instead.
pub(super) fn clipped(chain: Vec<Point>, low: Point, high: Point) -> Vec<Point> {
    let mut chain = chain;
    for axis in 0..2 {
        for (limit, sign) in [(low[axis], 1.0), (high[axis], -1.0)] {
            chain = cut(&chain, axis, limit, sign);
        }
    }
    chain
}

fn cut(chain: &[Point], axis: usize, limit: f64, sign: f64) -> Vec<Point> {
    let depth = |p: &Point| sign * (p[axis] - limit);
    let mut out = Vec::with_capacity(chain.len() + 4);
    for (a, b) in chain.iter().zip(chain.iter().cycle().skip(1)) {
        let (from, to) = (depth(a), depth(b));
        if from >= 0.0 {
            out.push(*a);
        }
        if (from >= 0.0) != (to >= 0.0) {
            let share = from / (from - to);
            let mut on = [0, 1].map(|k| a[k] + share * (b[k] - a[k]));
            on[axis] = limit;
            out.push(on);
        }
    }
    out
}
