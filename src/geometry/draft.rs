//! Straight triangles inside a contour, before they are given their nodes.

use std::collections::{HashMap, HashSet};

use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation};

use super::band::band;
use super::contour::{Contour, Curve, Point, Side, distance};
use super::fill::fill;
use super::mesh::Sizing;
use super::near::Inside;
use super::sizes::sizes;

/// A stretch of the boundary between two vertices.
#[derive(Clone)]
pub(super) struct Chord {
    pub from: Point,
    pub to: Point,
    pub curve: Curve,
    pub ends: [f64; 2],
    pub side: Side,
    /// How long it was meant to be, mm.
    pub size: f64,
}

impl Chord {
    /// A straight one.
    pub fn straight(from: Point, to: Point, side: Side) -> Self {
        Self {
            from,
            to,
            curve: Curve::Line(from, to),
            ends: [0.0, 1.0],
            side,
            size: distance(from, to),
        }
    }

    /// The place at a share of the way along its curve.
    pub fn at(&self, share: f64) -> Point {
        self.curve
            .at(self.ends[0] + share * (self.ends[1] - self.ends[0]))
    }

    /// Direction of travel where it begins.
    pub fn sets_out(&self) -> Point {
        self.curve.tangent(self.ends[0])
    }

    /// Direction of travel where it ends.
    pub fn arrives(&self) -> Point {
        self.curve.tangent(self.ends[1])
    }
}

/// Straight triangles, and what their outer sides lie on.
#[derive(Default)]
pub(super) struct Draft {
    pub points: Vec<Point>,
    pub triangles: Vec<[usize; 3]>,
    pub sides: HashMap<(usize, usize), Chord>,
}

/// Closed chains of chords: the outer edge, then the holes.
pub(super) type Chains = Vec<Vec<Chord>>;

pub(super) fn draft(contour: &Contour, sizing: Sizing) -> Option<Draft> {
    let chords = cut(contour, sizing);
    let mut draft = Draft::default();
    let inner = band(&chords, &mut draft);
    inside_of(inner, sizing, &mut draft)?;
    Some(draft)
}

/// Cuts the pinned pieces into chords. Mirror lines stay whole.
fn cut(contour: &Contour, sizing: Sizing) -> Chains {
    let sizes = sizes(contour, sizing);
    contour
        .loops
        .iter()
        .zip(&sizes)
        .map(|(pieces, sizes)| {
            let mut chords = Vec::new();
            for (piece, sizes) in pieces.iter().zip(sizes) {
                let whole = Chord {
                    curve: piece.curve.clone(),
                    ..Chord::straight(piece.curve.at(0.0), piece.curve.at(1.0), piece.side)
                };
                if piece.side == Side::Mirror {
                    chords.push(whole);
                } else {
                    chords.extend(divide(&whole, |t| sizes.at(t)));
                }
            }
            // One vertex between two chords, to the last bit.
            let n = chords.len();
            for i in 0..n {
                chords[i].to = chords[(i + 1) % n].from;
            }
            chords
        })
        .collect()
}

/// Divides a chord into ones as long as `size` wants at each parameter.
pub(super) fn divide(whole: &Chord, size: impl Fn(f64) -> f64) -> Vec<Chord> {
    let length = whole.curve.length();
    // n = ∫ ds / h, the chords then equal shares of it.
    let samples = steps(length, &size);
    let mut running = vec![0.0];
    for i in 0..samples {
        let t = (f64::from(i) + 0.5) / f64::from(samples);
        let last = running[running.len() - 1];
        running.push(last + length / f64::from(samples) / size(t));
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
            to: whole.curve.at(end),
            ends: [start, end],
            size: size(f64::midpoint(start, end)),
            ..whole.clone()
        });
        start = end;
        number += 1.0;
    }
    chords
}

/// Steps that see every size on the way.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "between 16 and a few thousand"
)]
fn steps(length: f64, size: &impl Fn(f64) -> f64) -> u32 {
    let least = [0.0, 0.25, 0.5, 0.75, 1.0]
        .map(size)
        .iter()
        .fold(f64::INFINITY, |a, b| a.min(*b));
    (4.0 * length / least).ceil().clamp(16.0, 4000.0) as u32
}

/// The parameter at which the running total reaches `goal`.
fn invert(running: &[f64], goal: f64) -> f64 {
    let at = running
        .partition_point(|&x| x < goal)
        .clamp(1, running.len() - 1);
    let (low, high) = (running[at - 1], running[at]);
    #[expect(clippy::cast_precision_loss, reason = "a few thousand samples")]
    let (at, count) = (at as f64, (running.len() - 1) as f64);
    (at - 1.0 + (goal - low) / (high - low)) / count
}

impl Draft {
    /// Every triangle cut into four.
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
                    |s| s.at(0.5),
                );
                let m = *middles
                    .entry((a.min(b), a.max(b)))
                    .or_insert_with(|| finer.add(middle));
                if let Some(s) = side {
                    let half = f64::midpoint(s.ends[0], s.ends[1]);
                    let (mut first, mut second) = (s.clone(), s.clone());
                    (first.to, first.ends[1]) = (middle, half);
                    (second.from, second.ends[0]) = (middle, half);
                    finer.sides.insert((a, m), first);
                    finer.sides.insert((m, b), second);
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
        let chord = Chord::straight(self.points[from], self.points[to], side);
        self.sides.insert((from, to), chord);
    }
}

/// Triangulates the rest, inside the closed chains `inner`.
fn inside_of(inner: Chains, sizing: Sizing, draft: &mut Draft) -> Option<()> {
    let wants: Vec<(Point, f64)> = inner
        .iter()
        .flatten()
        .filter(|c| c.side == Side::Pinned)
        .map(|c| (c.at(0.5), distance(c.from, c.to)))
        .collect();
    let size = |at: Point| {
        let near = wants
            .iter()
            .map(|&(p, h)| h + sizing.growth * distance(p, at));
        near.fold(f64::INFINITY, f64::min)
    };
    let chains: Chains = inner
        .into_iter()
        .map(|chain| {
            let mut cut = Vec::new();
            for chord in chain {
                if chord.side == Side::Mirror {
                    cut.extend(divide(&chord, |t| size(chord.curve.at(t))));
                } else {
                    cut.push(chord);
                }
            }
            cut
        })
        .collect();
    let mut points: Vec<Point> = chains.iter().flatten().map(|c| c.from).collect();
    let sides: Vec<(Point, Point)> = chains.iter().flatten().map(|c| (c.from, c.to)).collect();
    let inside = Inside::new(&sides);
    points.extend(fill(&chains, &inside, sizing));
    let mut edges = Vec::new();
    let mut first = 0;
    for chain in &chains {
        let n = chain.len();
        edges.extend((0..n).map(|i| [first + i, first + (i + 1) % n]));
        first += n;
    }
    let triangles = triangulate(&points, &edges, &inside)?;
    // The chains' corners are the band's last points, where it has them.
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
    for (chord, [a, b]) in chains.iter().flatten().zip(edges) {
        if chord.side == Side::Mirror {
            draft.side(numbers[a], numbers[b], Side::Mirror);
        }
    }
    Some(())
}

/// Delaunay triangles of `points` inside, with the edges given.
fn triangulate(points: &[Point], edges: &[[usize; 2]], inside: &Inside) -> Option<Vec<[usize; 3]>> {
    let vertices: Vec<Point2<f64>> = points
        .iter()
        .map(|p| spade::mitigate_underflow(Point2::new(p[0], p[1])))
        .collect();
    let mut crossing = false;
    let cdt = ConstrainedDelaunayTriangulation::<Point2<f64>>::try_bulk_load_cdt(
        vertices,
        edges.to_vec(),
        |_| {
            crossing = true;
        },
    )
    .ok()?;
    if crossing || cdt.num_vertices() != points.len() {
        return None;
    }
    // A side of the boundary has the inside on its left. That decides even where
    // rounding leaves a sliver beyond points that should lie on one line.
    let ways: HashSet<[usize; 2]> = edges.iter().copied().collect();
    let side_of = |t: &[usize; 3]| {
        let sides = (0..3).map(|i| [t[i], t[(i + 1) % 3]]);
        let mut known = sides.filter_map(|[a, b]| {
            let within = ways.contains(&[a, b]);
            (within || ways.contains(&[b, a])).then_some(within)
        });
        known.next()
    };
    let triangles = cdt
        .inner_faces()
        .map(|face| face.vertices().map(|v| v.fix().index()))
        .filter(|t| {
            if let Some(within) = side_of(t) {
                return within;
            }
            let centre = [0, 1].map(|axis| t.iter().map(|&v| points[v][axis]).sum::<f64>() / 3.0);
            inside.holds(centre)
        })
        .collect();
    Some(triangles)
}
