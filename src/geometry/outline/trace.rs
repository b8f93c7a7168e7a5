//! Curves drawn as short straight lines, and their boxes.

use super::simple::from_side;
use crate::geometry::contour::{Curve, Point, Span};

/// A closed edge as points, nowhere further from it than `tolerance`, mm.
pub(super) fn drawn(edge: &[Curve], tolerance: f64) -> Vec<Point> {
    let mut points = Vec::new();
    for curve in edge {
        trace(curve, tolerance, &mut points);
    }
    points
}

/// Adds the points of a curve without its last.
fn trace(curve: &Curve, tolerance: f64, points: &mut Vec<Point>) {
    match curve {
        Curve::Line(a, _) => points.push(*a),
        Curve::Arc { .. } => halve(&|t| curve.at(t), 4, tolerance, points),
        Curve::Spline(spline) => {
            for span in spline.spans() {
                halve(&|t| span.jet(t)[0], 1, tolerance, points);
            }
        }
    }
}

fn halve(at: &dyn Fn(f64) -> Point, parts: u32, tolerance: f64, points: &mut Vec<Point>) {
    // The first part on top.
    let mut todo: Vec<[f64; 2]> = (0..parts)
        .rev()
        .map(|i| [i, i + 1].map(|k| f64::from(k) / f64::from(parts)))
        .collect();
    while let Some([from, to]) = todo.pop() {
        let (a, b) = (at(from), at(to));
        let far = [0.25, 0.5, 0.75].map(|t| from_side(at(from + t * (to - from)), a, b));
        if far.into_iter().any(|far| far > tolerance) && to - from > 1e-4 {
            let middle = f64::midpoint(from, to);
            todo.extend([[middle, to], [from, middle]]);
        } else {
            points.push(a);
        }
    }
}

/// The low and the high corner of the box of an edge.
pub(super) fn frame(edge: &[Curve]) -> [Point; 2] {
    let mut frame = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
    let mut take = |p: Point| {
        for k in 0..2 {
            frame[0][k] = frame[0][k].min(p[k]);
            frame[1][k] = frame[1][k].max(p[k]);
        }
    };
    for curve in edge {
        take(curve.at(0.0));
        take(curve.at(1.0));
        match curve {
            Curve::Line(..) => {}
            Curve::Arc { from, to, .. } => {
                let quarter = std::f64::consts::FRAC_PI_2;
                let (low, high) = (from.min(*to), from.max(*to));
                let mut angle = (low / quarter).ceil() * quarter;
                while angle < high {
                    take(curve.at((angle - from) / (to - from)));
                    angle += quarter;
                }
            }
            Curve::Spline(spline) => {
                for span in spline.spans() {
                    take(span.from);
                    turning(span).into_iter().for_each(|v| take(span.jet(v)[0]));
                }
            }
        }
    }
    frame
}

/// Parameters at which a cubic turns back along x or y: roots of the quadratic
/// `m + 2 b v + 3 c v²`.
fn turning(span: &Span) -> Vec<f64> {
    let mut found = Vec::new();
    for k in 0..2 {
        let [_, start, bend] = span.jet(0.0);
        let [_, _, end] = span.jet(1.0);
        let (m, b, c) = (start[k], bend[k] / 2.0, (end[k] - bend[k]) / 6.0);
        let root = (b * b - 3.0 * m * c).max(0.0).sqrt();
        // The form that keeps its digits where c is small: -m / (b ± root).
        found.extend([-m / (b + root), -m / (b - root)]);
    }
    found.retain(|v| *v > 0.0 && *v < 1.0);
    found
}
