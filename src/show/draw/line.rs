//! Lines cut to shape: dashes, the part inside a window, hatching.

use super::Point;
use super::place::Space;

/// Cuts a line into dashes of length `on` with gaps of length `off`, both `[px]` and above zero.
///
/// Lengths run along the line, through its corners, so that a curve of many
/// short pieces dashes as evenly as a straight line.
#[must_use]
pub fn dashes(line: &[Point], on: f64, off: f64) -> Vec<Vec<Point>> {
    let mut out = Vec::new();
    let (mut drawing, mut left) = (true, on);
    let mut dash: Vec<Point> = line.first().copied().into_iter().collect();
    for pair in line.windows(2) {
        let (mut from, to) = (pair[0], pair[1]);
        let mut rest = (to.x - from.x).hypot(to.y - from.y);
        while rest > left {
            let share = left / rest;
            from = Point::new(
                from.x + (to.x - from.x) * share,
                from.y + (to.y - from.y) * share,
            );
            rest -= left;
            if drawing {
                dash.push(from);
                out.push(std::mem::take(&mut dash));
            } else {
                dash = vec![from];
            }
            drawing = !drawing;
            left = if drawing { on } else { off };
        }
        left -= rest;
        if drawing {
            dash.push(to);
        }
    }
    if drawing && dash.len() > 1 {
        out.push(dash);
    }
    out
}

/// A line without the points it doesn't need: none of those left out lies further than `off`,
/// `[px]`, from the line that is left. After Ramer (1972) and Douglas and Peucker (1973).
#[must_use]
pub fn thinned(line: &[Point], off: f64) -> Vec<Point> {
    let Some(last) = line.len().checked_sub(1) else {
        return Vec::new();
    };
    let mut keep = vec![false; line.len()];
    (keep[0], keep[last]) = (true, true);
    let mut spans = vec![(0, last)];
    while let Some((a, b)) = spans.pop() {
        let far = (a + 1..b).map(|i| (i, distance(line[i], line[a], line[b])));
        if let Some((i, d)) = far.max_by(|p, q| p.1.total_cmp(&q.1))
            && d > off
        {
            keep[i] = true;
            spans.extend([(a, i), (i, b)]);
        }
    }
    line.iter()
        .zip(keep)
        .filter_map(|(p, kept)| kept.then_some(*p))
        .collect()
}

/// How far a point lies from the straight piece between two others.
fn distance(p: Point, a: Point, b: Point) -> f64 {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let square = dx * dx + dy * dy;
    let t = if square > 0.0 {
        (((p.x - a.x) * dx + (p.y - a.y) * dy) / square).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (p.x - a.x - t * dx).hypot(p.y - a.y - t * dy)
}

/// The parts of a line inside a window.
#[must_use]
pub fn inside(line: &[Point], window: Space) -> Vec<Vec<Point>> {
    let mut out: Vec<Vec<Point>> = Vec::new();
    let mut part: Vec<Point> = Vec::new();
    for pair in line.windows(2) {
        let Some((a, b)) = cut(pair[0], pair[1], window) else {
            continue;
        };
        if part.last() != Some(&a) {
            out.push(std::mem::replace(&mut part, vec![a]));
        }
        part.push(b);
    }
    out.push(part);
    out.retain(|part| part.len() > 1);
    out
}

/// The part of one straight piece inside a window.
fn cut(a: Point, b: Point, window: Space) -> Option<(Point, Point)> {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    let walls = [
        (-dx, a.x - window.left),
        (dx, window.right - a.x),
        (-dy, a.y - window.top),
        (dy, window.bottom - a.y),
    ];
    for (towards, room) in walls {
        if towards == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if towards < 0.0 {
            enter = enter.max(room / towards);
        } else {
            leave = leave.min(room / towards);
        }
    }
    let at = |t: f64| match t {
        0.0 => a,
        1.0 => b,
        _ => Point::new(a.x + dx * t, a.y + dy * t),
    };
    (enter < leave).then(|| (at(enter), at(leave)))
}

/// The part of a closed shape inside a window, cut by one wall after another.
#[must_use]
pub fn shape_inside(shape: &[Point], window: Space) -> Vec<Point> {
    // How far inside each wall a point lies, [px].
    let walls: [fn(Point, Space) -> f64; 4] = [
        |p, w| p.x - w.left,
        |p, w| w.right - p.x,
        |p, w| p.y - w.top,
        |p, w| w.bottom - p.y,
    ];
    walls.iter().fold(shape.to_vec(), |shape, depth| {
        let mut kept = Vec::with_capacity(shape.len() + 4);
        for (i, b) in shape.iter().enumerate() {
            let a = shape[(i + shape.len() - 1) % shape.len()];
            let (da, db) = (depth(a, window), depth(*b, window));
            if (da < 0.0) != (db < 0.0) {
                let t = da / (da - db);
                kept.push(Point::new(a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t));
            }
            if db >= 0.0 {
                kept.push(*b);
            }
        }
        kept
    })
}

/// Hatching of a space with lines at 45 degrees, rising to the right, `apart` pixels along the x
/// axis.
#[must_use]
pub fn hatching(space: Space, apart: f64) -> Vec<[Point; 2]> {
    let height = space.height();
    let mut out = Vec::new();
    let mut foot = space.left - height + apart / 2.0;
    while foot < space.right {
        let ends = (
            Point::new(foot, space.bottom),
            Point::new(foot + height, space.top),
        );
        out.extend(cut(ends.0, ends.1, space).map(|(a, b)| [a, b]));
        foot += apart;
    }
    out
}

/// Whether a place lies inside closed shapes, holes among them: by the even-odd rule.
#[must_use]
pub fn holds(shapes: &[Vec<Point>], place: Point) -> bool {
    shapes
        .iter()
        .flat_map(|shape| sides(shape))
        .filter(|(a, b)| (a.y > place.y) != (b.y > place.y))
        .filter(|(a, b)| a.x + (place.y - a.y) / (b.y - a.y) * (b.x - a.x) > place.x)
        .count()
        % 2
        == 1
}

/// Hatching of closed shapes, holes among them, with lines as those of [`hatching`]; where
/// they lie does not depend on the shapes, so that neighbours' lines meet.
#[must_use]
pub fn hatched(shapes: &[Vec<Point>], apart: f64) -> Vec<[Point; 2]> {
    // Along such a line x + y is the same all over.
    let sum = |p: &Point| p.x + p.y;
    let sums = shapes.iter().flatten().map(sum);
    let (least, most) = sums.fold((f64::MAX, f64::MIN), |(l, m), s| (l.min(s), m.max(s)));
    let mut out = Vec::new();
    let mut line = (least / apart).ceil() * apart;
    while line < most {
        let mut crossed: Vec<f64> = shapes
            .iter()
            .flat_map(|shape| sides(shape))
            .filter(|(a, b)| (sum(a) > line) != (sum(b) > line))
            .map(|(a, b)| a.x + (line - sum(&a)) / (sum(&b) - sum(&a)) * (b.x - a.x))
            .collect();
        crossed.sort_by(f64::total_cmp);
        for pair in crossed.chunks_exact(2) {
            out.push([pair[0], pair[1]].map(|x| Point::new(x, line - x)));
        }
        line += apart;
    }
    out
}

/// The sides of a closed shape, its first point not repeated.
fn sides(shape: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    let next = shape.iter().cycle().skip(1);
    shape.iter().zip(next).map(|(a, b)| (*a, *b))
}

/// Closed shapes, those of holes run through the other way, as one that can be filled: from
/// its first point to each of the others and back the same way, which leaves no trace.
#[must_use]
pub fn stitched(shapes: &[Vec<Point>]) -> Vec<Point> {
    let Some((first, others)) = shapes.split_first() else {
        return Vec::new();
    };
    let mut out = first.clone();
    let Some(&start) = first.first() else {
        return out;
    };
    for shape in others.iter().filter(|shape| !shape.is_empty()) {
        out.push(start);
        out.extend(shape);
        out.push(shape[0]);
    }
    if !others.is_empty() {
        out.push(start);
    }
    out
}
