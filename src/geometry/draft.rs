//! Straight triangles inside a contour, before they are given their nodes.

use std::collections::{HashMap, HashSet};

use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation};

use super::band::band;
use super::contour::{Contour, Curve, Point, Side, distance};
use super::fill::fill;
use super::jumps::at_jumps;
use super::mesh::Sizing;
use super::near::Inside;
use super::sizes::{Sizes, sizes};

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

/// Why there is no mesh.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Unmeshed {
    /// The edge wants too many sides.
    TooIntricate,
    /// The triangulation failed, or triangles fold.
    Failed,
}

/// The most sides along the pinned edge: a few seconds of work.
const MOST_SIDES: f64 = 8000.0;

pub(super) fn draft(contour: &Contour, sizing: Sizing) -> Result<Draft, Unmeshed> {
    let chords = cut(&at_jumps(contour), sizing)?;
    let mut draft = Draft::default();
    let inner = band(&chords, sizing, &mut draft);
    inside_of(inner, sizing, &mut draft).ok_or(Unmeshed::Failed)?;
    Ok(draft)
}

/// Cuts the pinned pieces into chords. Mirror lines stay whole.
fn cut(contour: &Contour, sizing: Sizing) -> Result<Chains, Unmeshed> {
    let sizes = sizes(contour, sizing);
    let pieces = contour.loops.iter().flatten().zip(sizes.iter().flatten());
    let pinned = pieces.filter(|(piece, _)| piece.side == Side::Pinned);
    let wanted: f64 = pinned
        .map(|(piece, sizes)| (piece.curve.length() * sizes.count()).max(1.0))
        .sum();
    if wanted > MOST_SIDES {
        return Err(Unmeshed::TooIntricate);
    }
    let chains = contour
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
                    chords.extend(divide(&whole, sizes));
                }
            }
            // One vertex between two chords, to the last bit.
            let n = chords.len();
            for i in 0..n {
                chords[i].to = chords[(i + 1) % n].from;
            }
            chords
        })
        .collect();
    Ok(chains)
}

/// Divides a chord into ones as long as `sizes` wants at each parameter.
pub(super) fn divide(whole: &Chord, sizes: &Sizes) -> Vec<Chord> {
    // n = ∫ ds / h, the chords then equal shares of it.
    let total = whole.curve.length() * sizes.count();
    let count = (total - 0.1).ceil().max(1.0);
    let mut chords = Vec::new();
    let mut start = 0.0;
    let mut number = 1.0;
    while number <= count {
        let end = if number >= count {
            1.0
        } else {
            sizes.place(sizes.count() * number / count)
        };
        chords.push(Chord {
            from: whole.curve.at(start),
            to: whole.curve.at(end),
            ends: [start, end],
            size: sizes.at(f64::midpoint(start, end)),
            ..whole.clone()
        });
        start = end;
        number += 1.0;
    }
    chords
}

/// Sizes along a chord, looked at in steps that see every one on the way.
fn evenly(chord: &Chord, size: impl Fn(f64) -> f64) -> Sizes {
    let least = [0.0, 0.25, 0.5, 0.75, 1.0]
        .map(&size)
        .iter()
        .fold(f64::INFINITY, |a, b| a.min(*b));
    let steps = (2.0 * chord.curve.length() / least)
        .ceil()
        .clamp(16.0, 4000.0);
    let mut looks = Vec::new();
    let mut step = 0.0;
    while step <= steps {
        looks.push((step / steps, size(step / steps)));
        step += 1.0;
    }
    Sizes::new(looks)
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
                    cut.extend(divide(&chord, &evenly(&chord, |t| size(chord.curve.at(t)))));
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
    let triangles = triangulate(&points, &edges)?;
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
fn triangulate(points: &[Point], edges: &[[usize; 2]]) -> Option<Vec<[usize; 3]>> {
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
    let all: Vec<[usize; 3]> = cdt
        .inner_faces()
        .map(|face| face.vertices().map(|v| v.fix().index()))
        .collect();
    let mut kept = within(&all, edges);
    turn_slivers(points, &mut kept);
    Some(kept)
}

type Triangle = [usize; 3];

fn sides(t: Triangle) -> [[usize; 2]; 3] {
    [0, 1, 2].map(|i| [t[i], t[(i + 1) % 3]])
}

/// The triangles that the boundary's edges, which have the inside on their left,
/// enclose: those beside an edge, and all that hang together with them. So no
/// point need be told inside from outside, which rounding would blur in slivers
/// along points that lie nearly on one line.
fn within(triangles: &[Triangle], edges: &[[usize; 2]]) -> Vec<Triangle> {
    let ways: HashSet<[usize; 2]> = edges.iter().copied().collect();
    let beside = beside(triangles);
    let mut todo: Vec<usize> = edges
        .iter()
        .filter_map(|e| beside.get(e).copied())
        .collect();
    let mut kept = vec![false; triangles.len()];
    while let Some(number) = todo.pop() {
        if std::mem::replace(&mut kept[number], true) {
            continue;
        }
        for [a, b] in sides(triangles[number]) {
            if !ways.contains(&[a, b]) && !ways.contains(&[b, a]) {
                todo.extend(beside.get(&[b, a]));
            }
        }
    }
    let pairs = triangles.iter().zip(kept);
    pairs.filter_map(|(t, kept)| kept.then_some(*t)).collect()
}

/// The triangle on the left of each side.
fn beside(triangles: &[Triangle]) -> HashMap<[usize; 2], usize> {
    let numbered = triangles.iter().enumerate();
    numbered
        .flat_map(|(i, t)| sides(*t).map(|side| (side, i)))
        .collect()
}

/// Three boundary points that lie on one line but for their rounding make a
/// triangle of no area. Its longest side is turned to the neighbour's far corner.
fn turn_slivers(points: &[Point], triangles: &mut [Triangle]) {
    // Along a line of many points they go one by one.
    for _ in 0..triangles.len() {
        let Some(flat) = (0..triangles.len()).find(|&i| is_sliver(points, triangles[i])) else {
            return;
        };
        let longest = |[a, b]: [usize; 2]| distance(points[a], points[b]);
        let [a, b] = sides(triangles[flat])
            .into_iter()
            .fold([0, 0], |best, side| {
                if longest(side) > longest(best) {
                    side
                } else {
                    best
                }
            });
        let third = |t: Triangle| t.into_iter().find(|v| *v != a && *v != b);
        let Some(&next) = beside(triangles).get(&[b, a]) else {
            return;
        };
        let (Some(c), Some(q)) = (third(triangles[flat]), third(triangles[next])) else {
            return;
        };
        (triangles[flat], triangles[next]) = ([a, q, c], [q, b, c]);
    }
}

fn is_sliver(points: &[Point], t: Triangle) -> bool {
    let [a, b, c] = t.map(|v| points[v]);
    let area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    let size = distance(a, b).max(distance(b, c)).max(distance(c, a));
    area < 1e-9 * size * size
}
