//! Points read as samples of a smooth curve with corners.
//!
//! A vertex is a corner where the sides turn by 10 degrees or more. Elsewhere a
//! cubic runs through the samples, as long as it keeps within 5e-4 of the outline's
//! shorter extent of the given side (sagitta `h α / 8`, with the turn α that falls to
//! the side); a side that would bulge more, or is three times longer than
//! its neighbours in the run, is straight, and the run meets it in its own
//! direction. So is one that would bow away more than a third of the angle inside
//! a corner where it ends, lest it cross the side beyond. Two straight sides meet
//! in a corner, however blunt.

use std::f64::consts::PI;

use super::error::OutlineError;
use super::simple::Sides;
use super::teeth::smoothed;
use crate::geometry::contour::{Curve, Point, Span, distance, same};
use crate::quantity::Length;

/// The least turn of a sharp corner, radians.
pub(super) const SHARP: f64 = 10.0 * PI / 180.0;
/// How far the curve may leave the given sides, as a share of the shorter extent.
const BULGE: f64 = 5e-4;
/// A side so many times longer than its neighbours is straight.
const LONG: f64 = 3.0;
/// Of the angle inside a corner, what a side that ends there may bow away.
const OF_A_POINT: f64 = 1.0 / 3.0;
/// A vertex that turns less lies on a straight line, radians.
const STRAIGHT: f64 = 1e-9;
/// The most points that are read.
pub(super) const MOST_POINTS: usize = 100_000;

/// A checked closed run of points, counter-clockwise.
#[derive(Debug)]
pub(super) struct Points(Vec<Point>);

impl Points {
    /// Checks a closed run of points in either direction. Repeats of the point
    /// before, and the first repeated at the end, are left out.
    ///
    /// # Errors
    /// Where they are too few or too many, no numbers, enclose nothing, or cross or
    /// touch themselves.
    pub fn checked(given: &[Point]) -> Result<Self, OutlineError> {
        if given.len() > MOST_POINTS {
            return Err(OutlineError::TooManyPoints {
                count: given.len(),
                most: MOST_POINTS,
            });
        }
        if let Some(at) = given.iter().position(|p| !p.iter().all(|x| x.is_finite())) {
            return Err(OutlineError::NotAPlace(at + 1));
        }
        let mut kept: Vec<(usize, Point)> = given.iter().copied().enumerate().collect();
        kept.dedup_by(|later, earlier| same(later.1, earlier.1));
        while kept.len() > 1 && same(kept[0].1, kept[kept.len() - 1].1) {
            kept.pop();
        }
        if kept.len() < 3 {
            return Err(OutlineError::TooFewPoints(kept.len()));
        }
        let mut points: Vec<Point> = kept.iter().map(|(_, p)| *p).collect();
        if let Some(met) = Sides::new(&points).meeting() {
            return Err(OutlineError::Crosses {
                first: kept[met.first].0 + 1,
                second: kept[met.second].0 + 1,
                at: met.at.map(Length::from_mm),
            });
        }
        let swept = swept(&points);
        let size = extent(&points).into_iter().fold(0.0, f64::max);
        if swept.abs() <= 1e-9 * size * size {
            return Err(OutlineError::NoArea);
        }
        if swept < 0.0 {
            points.reverse();
        }
        Ok(Self(points))
    }

    /// The curve through the points.
    pub fn read(self) -> Vec<Curve> {
        let points = smoothed(without_straight(self.0));
        Reading::of(without_straight(points)).curves()
    }
}

/// Twice the area that the points enclose, from the first of them for accuracy.
fn swept(points: &[Point]) -> f64 {
    let o = points[0];
    points
        .windows(2)
        .map(|w| {
            let (a, b) = (w[0], w[1]);
            (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0])
        })
        .sum()
}

pub(super) fn extent(points: &[Point]) -> Point {
    [0, 1].map(|k| {
        let values = || points.iter().map(|p| p[k]);
        values().fold(f64::NEG_INFINITY, f64::max) - values().fold(f64::INFINITY, f64::min)
    })
}

/// The turn from one direction to another, radians, left positive.
pub(super) fn turn(from: Point, to: Point) -> f64 {
    (from[0] * to[1] - from[1] * to[0]).atan2(from[0] * to[0] + from[1] * to[1])
}

/// Leaves out points on the straight line between their neighbours.
fn without_straight(points: Vec<Point>) -> Vec<Point> {
    let n = points.len();
    let bends = |i: usize| {
        let (a, b, c) = (points[(i + n - 1) % n], points[i], points[(i + 1) % n]);
        turn([b[0] - a[0], b[1] - a[1]], [c[0] - b[0], c[1] - b[1]]).abs() > STRAIGHT
    };
    let kept: Vec<Point> = (0..n).filter(|&i| bends(i)).map(|i| points[i]).collect();
    if kept.len() < 3 { points } else { kept }
}

/// What is known of each side and each vertex. Side `i` runs from vertex `i` to
/// the next.
pub(super) struct Reading {
    points: Vec<Point>,
    lengths: Vec<f64>,
    /// Turn at each vertex.
    turns: Vec<f64>,
    /// Whether each vertex is a corner.
    corners: Vec<bool>,
    straight: Vec<bool>,
}

impl Reading {
    pub fn of(points: Vec<Point>) -> Self {
        let n = points.len();
        let side = |i: usize| {
            let (a, b) = (points[i % n], points[(i + 1) % n]);
            [b[0] - a[0], b[1] - a[1]]
        };
        let lengths: Vec<f64> = (0..n)
            .map(|i| distance(points[i], points[(i + 1) % n]))
            .collect();
        let turns: Vec<f64> = (0..n).map(|i| turn(side(i + n - 1), side(i))).collect();
        let sharp: Vec<bool> = turns.iter().map(|turn| turn.abs() >= SHARP).collect();
        let bulge = BULGE * extent(&points).into_iter().fold(f64::INFINITY, f64::min);
        let mut reading = Self {
            points,
            lengths,
            turns,
            corners: sharp,
            straight: vec![false; n],
        };
        let mut straight: Vec<bool> = (0..n).map(|i| reading.is_straight(i, bulge)).collect();
        loop {
            reading.straight = straight;
            reading.corners = (0..n)
                .map(|i| {
                    reading.corners[i] || (reading.straight[i] && reading.straight[(i + n - 1) % n])
                })
                .collect();
            straight = (0..n)
                .map(|i| reading.straight[i] || reading.blunts_a_point(i))
                .collect();
            if straight == reading.straight {
                return reading;
            }
        }
    }

    /// Whether side `i`, no line, would bow away much of the angle inside a corner where it ends.
    fn blunts_a_point(&self, i: usize) -> bool {
        let ends = [i, (i + 1) % self.points.len()];
        !self.is_line(i)
            && (ends.iter().zip(self.bows(i))).any(|(&vertex, bows)| {
                let inside = PI - self.turns[vertex];
                self.corners[vertex] && bows.abs() > OF_A_POINT * inside
            })
    }

    /// Whether side `i` is a straight stretch between curves or corners.
    fn is_straight(&self, i: usize, bulge: f64) -> bool {
        let n = self.points.len();
        let (h, next) = (self.lengths[i], (i + 1) % n);
        let ends = [(i, (i + n - 1) % n), (next, next)];
        let free = |(vertex, _): &(usize, usize)| !self.corners[*vertex];
        // The share of a vertex's turn that falls to this side, on a circle.
        let share = |(vertex, beside): (usize, usize)| {
            self.turns[vertex].abs() * h / (h + self.lengths[beside])
        };
        let turned: f64 = ends.into_iter().filter(free).map(share).sum();
        let far = |(_, beside): (usize, usize)| h > LONG * self.lengths[beside];
        h * turned / 8.0 > bulge || ends.into_iter().filter(free).all(far)
    }

    /// How far a run's curve leaves the direction of the side before vertex `i`
    /// and of the side after it, radians.
    fn shares(&self, i: usize) -> [f64; 2] {
        let n = self.points.len();
        let before = (i + n - 1) % n;
        let turn = self.turns[i];
        if self.straight[before] {
            return [0.0, turn];
        }
        if self.straight[i] {
            return [turn, 0.0];
        }
        let (h, k) = (self.lengths[before], self.lengths[i]);
        // The curvature here and at the vertices on both sides.
        let here = 2.0 * turn / (h + k);
        let at = |vertex: usize| self.curvature(vertex).unwrap_or(here);
        let (back, ahead) = (at(before), at((i + 1) % n));
        // Where it jumps, each side keeps its neighbour's; where it changes
        // smoothly, the mean over the side is a third of the way there.
        let jumps =
            back * ahead <= 0.0 || back.abs().max(ahead.abs()) > 2.0 * back.abs().min(ahead.abs());
        let weight = if jumps { 1.0 } else { 1.0 / 3.0 };
        let own = |length: f64, beside: f64| 0.5 * length * (here + weight * (beside - here));
        let (a, b) = (own(h, back), own(k, ahead));
        let rest = turn - a - b;
        [a + rest * h / (h + k), b + rest * k / (h + k)]
    }

    /// Curvature of a run at a vertex inside it.
    fn curvature(&self, i: usize) -> Option<f64> {
        let n = self.points.len();
        let before = (i + n - 1) % n;
        let inside = !(self.corners[i] || self.straight[i] || self.straight[before]);
        inside.then(|| 2.0 * self.turns[i] / (self.lengths[before] + self.lengths[i]))
    }

    /// Whether side `i` is no part of a run.
    fn is_line(&self, i: usize) -> bool {
        let next = (i + 1) % self.points.len();
        self.straight[i] || (self.corners[i] && self.corners[next])
    }

    /// By how much the curve of side `i`, no line, leaves its direction at one end and at the other, radians.
    fn bows(&self, i: usize) -> [f64; 2] {
        let next = (i + 1) % self.points.len();
        let inner = |vertex: usize, which: usize| {
            (!self.corners[vertex]).then(|| self.shares(vertex)[which])
        };
        let (start, end) = (inner(i, 1), inner(next, 0));
        // At a corner the bend of the other end goes on.
        [start.or(end), end.or(start)].map(|bows| bows.unwrap_or(0.0))
    }

    /// The cubic of side `i`, which leaves its direction by α at one end and β at
    /// the other; a straight one where it is a line.
    pub fn span(&self, i: usize) -> Span {
        let n = self.points.len();
        let next = (i + 1) % n;
        let (a, b) = (self.points[i], self.points[next]);
        if self.is_line(i) {
            return Span::line(a, b);
        }
        let h = self.lengths[i];
        let [alpha, beta] = self.bows(i);
        let size = reach(h, alpha.abs() + beta.abs());
        let along = [(b[0] - a[0]) / h, (b[1] - a[1]) / h];
        let turned = |angle: f64| {
            let (sin, cos) = angle.sin_cos();
            [
                size * (along[0] * cos - along[1] * sin),
                size * (along[0] * sin + along[1] * cos),
            ]
        };
        Span {
            from: a,
            leaving: turned(-alpha),
            to: b,
            arriving: turned(beta),
        }
    }

    /// Lines and smooth runs, beginning at a corner where there is one.
    fn curves(&self) -> Vec<Curve> {
        let n = self.points.len();
        let ends_here =
            |i: usize| self.corners[i] || self.straight[i] || self.straight[(i + n - 1) % n];
        let Some(first) = (0..n)
            .find(|&i| self.corners[i])
            .or_else(|| (0..n).find(|&i| ends_here(i)))
        else {
            let spans: Vec<Span> = (0..n).map(|i| self.span(i)).collect();
            return in_four(&spans);
        };
        let mut curves = Vec::new();
        let mut run = Vec::new();
        for i in (first..first + n).map(|i| i % n) {
            let next = (i + 1) % n;
            if self.is_line(i) {
                curves.push(Curve::Line(self.points[i], self.points[next]));
                continue;
            }
            run.push(self.span(i));
            if ends_here(next) {
                curves.push(Curve::spline(std::mem::take(&mut run)));
            }
        }
        curves
    }
}

/// The length of the derivatives at both ends of a cubic over a side of length
/// `h`, `h / cos²((|α| + |β|)/4)`, of which the two angles are given together:
/// on a circle's arc φ = α + β it is `4 r tan(φ/4)`, the usual nearest cubic.
pub(super) fn reach(h: f64, turned: f64) -> f64 {
    h / (turned / 4.0).cos().powi(2)
}

/// A closed smooth curve in up to four parts, so that none closes on itself.
pub(super) fn in_four(spans: &[Span]) -> Vec<Curve> {
    let size = spans.len().div_ceil(4);
    spans
        .chunks(size)
        .map(|part| Curve::spline(part.to_vec()))
        .collect()
}
