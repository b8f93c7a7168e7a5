//! Straight triangles inside a contour, before they are given their nodes.

use std::collections::HashMap;

use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation};

use super::band::band;
use super::contour::{Contour, Curve, Point, Side, distance};
use super::mesh::Sizing;

/// Height of a row of equilateral triangles over their side.
const ROW_HEIGHT: f64 = 0.866;

/// A stretch of the boundary between two vertices.
#[derive(Clone)]
pub(super) struct Chord {
    pub from: Point,
    pub curve: Curve,
    pub ends: [f64; 2],
    pub side: Side,
}

/// Straight triangles, and what their outer sides lie on.
#[derive(Default)]
pub(super) struct Draft {
    pub points: Vec<Point>,
    pub triangles: Vec<[usize; 3]>,
    pub sides: HashMap<(usize, usize), Chord>,
}

pub(super) fn draft(contour: &Contour, sizing: Sizing) -> Option<Draft> {
    let chords = cut(contour, sizing);
    let mut draft = Draft::default();
    let inner = band(&chords, sizing, &mut draft);
    inside_of(&inner, sizing, &mut draft)?;
    Some(draft)
}

/// Cuts the pinned pieces into chords, shorter near tight bends. Mirror lines
/// stay whole.
fn cut(contour: &Contour, sizing: Sizing) -> Vec<Chord> {
    let mut wants: Vec<(Point, f64)> = Vec::new();
    for piece in contour
        .loops
        .iter()
        .flatten()
        .filter(|p| p.side == Side::Pinned)
    {
        let longest = piece.curve.longest_chord().min(sizing.chord);
        let steps = (piece.curve.length() / longest).ceil().max(1.0);
        let mut i = 0.0;
        while i <= steps {
            wants.push((piece.curve.at(i / steps), longest));
            i += 1.0;
        }
    }
    let mut chords = Vec::new();
    for piece in contour.loops.iter().flatten() {
        let whole = Chord {
            from: piece.curve.at(0.0),
            curve: piece.curve.clone(),
            ends: [0.0, 1.0],
            side: piece.side,
        };
        if piece.side == Side::Mirror {
            chords.push(whole);
        } else {
            chords.extend(divide(&whole, |at| size_at(&wants, sizing.growth, at)));
        }
    }
    chords
}

/// Divides a chord into ones as long as `size` wants at each place.
fn divide(whole: &Chord, size: impl Fn(Point) -> f64) -> Vec<Chord> {
    let length = whole.curve.length();
    // n = ∫ ds / h, the chords then equal shares of it.
    let samples = 64;
    let mut running = vec![0.0];
    for i in 0..samples {
        let t = (f64::from(i) + 0.5) / f64::from(samples);
        let last = running[running.len() - 1];
        running.push(last + length / f64::from(samples) / size(whole.curve.at(t)));
    }
    let total = running[running.len() - 1];
    let count = (total - 0.1).ceil().max(1.0);
    let mut chords = Vec::new();
    let mut start = 0.0;
    let mut number = 1.0;
    while number <= count {
        let end = if number >= count {
            1.0
        } else {
            invert(&running, total * number / count)
        };
        chords.push(Chord {
            from: whole.curve.at(start),
            ends: [start, end],
            ..whole.clone()
        });
        start = end;
        number += 1.0;
    }
    chords
}

impl Draft {
    #[cfg(test)]
    pub fn cut_in_four(&self) -> Self {
        let mut finer = Self {
            points: self.points.clone(),
            ..Self::default()
        };
        let mut middles: HashMap<(usize, usize), usize> = HashMap::new();
        for t in &self.triangles {
            let m = [0, 1, 2].map(|i| {
                let (a, b) = (t[i], t[(i + 1) % 3]);
                let side = self.sides.get(&(a, b));
                let middle = side.map_or_else(
                    || [0, 1].map(|k| f64::midpoint(self.points[a][k], self.points[b][k])),
                    |s| s.curve.at(f64::midpoint(s.ends[0], s.ends[1])),
                );
                let m = *middles
                    .entry((a.min(b), a.max(b)))
                    .or_insert_with(|| finer.add(middle));
                if let Some(s) = side {
                    let half = f64::midpoint(s.ends[0], s.ends[1]);
                    finer.sides.insert(
                        (a, m),
                        Chord {
                            ends: [s.ends[0], half],
                            ..s.clone()
                        },
                    );
                    finer.sides.insert(
                        (m, b),
                        Chord {
                            from: middle,
                            ends: [half, s.ends[1]],
                            ..s.clone()
                        },
                    );
                }
                m
            });
            finer.triangles.extend([
                [t[0], m[0], m[2]],
                [m[0], t[1], m[1]],
                [m[2], m[1], t[2]],
                [m[0], m[1], m[2]],
            ]);
        }
        finer
    }

    pub fn add(&mut self, point: Point) -> usize {
        self.points.push(point);
        self.points.len() - 1
    }

    pub fn side(&mut self, from: usize, to: usize, side: Side) {
        let curve = Curve::Line(self.points[from], self.points[to]);
        let chord = Chord {
            from: self.points[from],
            curve,
            ends: [0.0, 1.0],
            side,
        };
        self.sides.insert((from, to), chord);
    }
}

/// Triangulates the rest, inside the closed chain `inner`.
fn inside_of(inner: &[Chord], sizing: Sizing, draft: &mut Draft) -> Option<()> {
    let mut wants: Vec<(Point, f64)> = Vec::new();
    for (i, chord) in inner
        .iter()
        .enumerate()
        .filter(|(_, c)| c.side == Side::Pinned)
    {
        let to = inner[(i + 1) % inner.len()].from;
        wants.push((chord.curve.at(0.5), distance(chord.from, to)));
    }
    let mut chain = Vec::new();
    for chord in inner {
        if chord.side == Side::Mirror {
            chain.extend(divide(chord, |at| size_at(&wants, sizing.growth, at)));
        } else {
            chain.push(chord.clone());
        }
    }
    let corners: Vec<Point> = chain.iter().map(|c| c.from).collect();
    let mut points = corners.clone();
    points.extend(fill(&corners, &chain, sizing));
    let triangles = triangulate(&points, corners.len())?;
    // The chain's corners are the band's last points, where it has them.
    let key = |p: Point| p.map(f64::to_bits);
    let known: HashMap<[u64; 2], usize> = draft
        .points
        .iter()
        .enumerate()
        .map(|(i, &p)| (key(p), i))
        .collect();
    let numbers: Vec<usize> = points
        .iter()
        .map(|&p| known.get(&key(p)).copied().unwrap_or_else(|| draft.add(p)))
        .collect();
    draft
        .triangles
        .extend(triangles.iter().map(|t| t.map(|v| numbers[v])));
    for i in (0..chain.len()).filter(|&i| chain[i].side == Side::Mirror) {
        draft.side(numbers[i], numbers[(i + 1) % chain.len()], Side::Mirror);
    }
    Some(())
}

/// The parameter at which the running total reaches `goal`.
fn invert(running: &[f64], goal: f64) -> f64 {
    let at = running
        .partition_point(|&x| x < goal)
        .clamp(1, running.len() - 1);
    let (low, high) = (running[at - 1], running[at]);
    #[expect(clippy::cast_precision_loss, reason = "a few dozen samples")]
    let (at, count) = (at as f64, (running.len() - 1) as f64);
    (at - 1.0 + (goal - low) / (high - low)) / count
}

fn size_at(wants: &[(Point, f64)], growth: f64, at: Point) -> f64 {
    wants
        .iter()
        .map(|&(p, h)| h + growth * distance(p, at))
        .fold(f64::INFINITY, f64::min)
}

/// Points inside the boundary, in rows along the pinned edge, each row about
/// as far from the last as its points are from each other, until all is full.
fn fill(corners: &[Point], chords: &[Chord], sizing: Sizing) -> Vec<Point> {
    let next = |i: usize| (i + 1) % corners.len();
    // How deep the next row lies inside each pinned chord.
    let mut rows: Vec<(usize, f64, f64)> = (0..corners.len())
        .filter(|&i| chords[i].side == Side::Pinned)
        .map(|i| {
            let side = distance(corners[i], corners[next(i)]);
            (i, side, ROW_HEIGHT * side)
        })
        .collect();
    let mut found = Vec::new();
    loop {
        let before = found.len();
        for (i, side, depth) in &mut rows {
            let (a, b) = (corners[*i], corners[next(*i)]);
            let spacing = *side + sizing.growth * *depth;
            for along in [0.5, 0.0, 0.25, 0.75] {
                let candidate = beside(a, b, along, *depth);
                if has_room(candidate, *depth, spacing, corners, chords, &found) {
                    found.push(candidate);
                }
            }
            *depth += ROW_HEIGHT * spacing;
        }
        if found.len() == before {
            return found;
        }
    }
}

/// The point `depth` to the left of a place on the way from `a` to `b`.
fn beside(a: Point, b: Point, along: f64, depth: f64) -> Point {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let inward = depth / dx.hypot(dy);
    [
        a[0] + along * dx - inward * dy,
        a[1] + along * dy + inward * dx,
    ]
}

/// Whether a point fits: inside, away from the boundary and from its like.
fn has_room(
    p: Point,
    depth: f64,
    spacing: f64,
    corners: &[Point],
    chords: &[Chord],
    found: &[Point],
) -> bool {
    let clear = chords.iter().enumerate().all(|(i, chord)| {
        let gap = distance_to_segment(corners[i], corners[(i + 1) % corners.len()], p);
        match chord.side {
            Side::Pinned => gap >= 0.9 * depth,
            Side::Mirror => gap >= 0.5 * spacing && distance(p, corners[i]) >= 0.7 * spacing,
        }
    });
    clear && found.iter().all(|q| distance(p, *q) >= 0.7 * spacing) && inside(corners, p)
}

pub(super) fn distance_to_segment(a: Point, b: Point, p: Point) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let along = (p[0] - a[0]) * dx + (p[1] - a[1]) * dy;
    let t = (along / (dx * dx + dy * dy)).clamp(0.0, 1.0);
    distance(p, [a[0] + t * dx, a[1] + t * dy])
}

/// Whether `p` lies inside the polygon (even-odd rule).
pub(super) fn inside(polygon: &[Point], p: Point) -> bool {
    let mut odd = false;
    for (i, a) in polygon.iter().enumerate() {
        let b = polygon[(i + 1) % polygon.len()];
        if (a[1] > p[1]) != (b[1] > p[1])
            && p[0] < a[0] + (p[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
        {
            odd = !odd;
        }
    }
    odd
}

/// Delaunay triangles of `points` inside the closed chain of the first `fixed`.
fn triangulate(points: &[Point], fixed: usize) -> Option<Vec<[usize; 3]>> {
    let vertices: Vec<Point2<f64>> = points
        .iter()
        .map(|p| spade::mitigate_underflow(Point2::new(p[0], p[1])))
        .collect();
    let edges = (0..fixed).map(|i| [i, (i + 1) % fixed]).collect();
    let mut crossing = false;
    let cdt =
        ConstrainedDelaunayTriangulation::<Point2<f64>>::try_bulk_load_cdt(vertices, edges, |_| {
            crossing = true;
        })
        .ok()?;
    if crossing || cdt.num_vertices() != points.len() {
        return None;
    }
    let boundary = &points[..fixed];
    let triangles = cdt
        .inner_faces()
        .map(|face| face.vertices().map(|v| v.fix().index()))
        .filter(|t| {
            let centre = [0, 1].map(|axis| t.iter().map(|&v| points[v][axis]).sum::<f64>() / 3.0);
            inside(boundary, centre)
        })
        .collect();
    Some(triangles)
}
