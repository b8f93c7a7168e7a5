//! A triangle mesh of a contour's inside, finest along the pinned edge.

use std::collections::HashMap;

use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation};

use super::contour::{Contour, Curve, Point, Side, distance};
use super::element::Element;

/// How fine a mesh is, in millimetres.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sizing {
    /// Length of the chords along the pinned edge.
    pub chord: f64,
    /// Depth of the layers along it.
    pub band: f64,
    /// How much longer sides may be for every millimetre further in.
    pub growth: f64,
}

impl Sizing {
    /// The sizing and the order of the triangles that meet the accuracy stated
    /// for [`Top`](super::Top), on a top `across` mm wide of a liquid with
    /// capillary length `c` mm. Chosen by measurement: order 4 is the quickest
    /// to 1e-4 where the capillary length sets the size; where the top does,
    /// it is small and order 5 costs little.
    pub fn for_capillary_length(c: f64, across: f64) -> (Self, usize) {
        let least = 0.08 * across;
        let (scale, order) = if c <= least { (c, 4) } else { (least, 5) };
        (
            Self {
                chord: 2.0 * scale,
                band: 3.0 * scale,
                growth: 0.8,
            },
            order,
        )
    }
}

/// How deep the layers along the edge reach, as shares of the band.
const LAYERS: [f64; 3] = [0.15, 0.45, 1.0];
/// How much narrower the inner side of the band may be than the edge above it.
const NARROWEST: f64 = 0.5;
/// Height of a row of equilateral triangles over their side.
const ROW_HEIGHT: f64 = 0.866;

/// A side of a triangle on the boundary.
#[derive(Debug, Clone, Copy)]
pub(super) struct BoundaryEdge {
    pub element: usize,
    /// 0 for the side between corners 0 and 1, and so on round.
    pub local: usize,
    pub side: Side,
}

/// Curved triangles with the nodes of one [`Element`].
#[derive(Debug, Clone)]
pub(super) struct Mesh {
    pub nodes: Vec<Point>,
    /// Node numbers, as many for each triangle as the element has nodes.
    pub triangles: Vec<usize>,
    pub boundary: Vec<BoundaryEdge>,
    /// Mirrored copies that make the whole top.
    pub copies: f64,
}

/// A stretch of the boundary between two vertices.
#[derive(Clone, Copy)]
struct Chord {
    from: Point,
    curve: Curve,
    ends: [f64; 2],
    side: Side,
}

/// Straight triangles, and what their outer sides lie on.
#[derive(Default)]
struct Draft {
    points: Vec<Point>,
    triangles: Vec<[usize; 3]>,
    sides: HashMap<(usize, usize), Chord>,
}

impl Mesh {
    /// The nodes of one triangle.
    pub fn triangle(&self, number: usize, element: &Element) -> &[usize] {
        let n = element.len();
        &self.triangles[number * n..(number + 1) * n]
    }

    /// Triangulates the inside of `contour` for `element`; `None` where the
    /// triangulation fails (an outline that crosses itself).
    ///
    /// The surface bends across the edge, hardly along it, so thin layers line
    /// the edge; inside them triangles grow with the distance.
    pub fn of(contour: &Contour, sizing: Sizing, element: &Element) -> Option<Self> {
        Some(raise(&draft(contour, sizing)?, element, contour.copies))
    }

    /// The same with every triangle cut into four, `cuts` times over.
    #[cfg(test)]
    pub fn cut_finer(
        contour: &Contour,
        sizing: Sizing,
        element: &Element,
        cuts: usize,
    ) -> Option<Self> {
        let mut draft = draft(contour, sizing)?;
        for _ in 0..cuts {
            draft = draft.cut_in_four();
        }
        Some(raise(&draft, element, contour.copies))
    }
}

fn draft(contour: &Contour, sizing: Sizing) -> Option<Draft> {
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
    for piece in contour.pieces.iter().filter(|p| p.side == Side::Pinned) {
        let longest = piece.curve.longest_chord().min(sizing.chord);
        let steps = (piece.curve.length() / longest).ceil().max(1.0);
        let mut i = 0.0;
        while i <= steps {
            wants.push((piece.curve.at(i / steps), longest));
            i += 1.0;
        }
    }
    let mut chords = Vec::new();
    for piece in &contour.pieces {
        let whole = Chord {
            from: piece.curve.at(0.0),
            curve: piece.curve,
            ends: [0.0, 1.0],
            side: piece.side,
        };
        if piece.side == Side::Mirror {
            chords.push(whole);
        } else {
            chords.extend(divide(whole, |at| size_at(&wants, sizing.growth, at)));
        }
    }
    chords
}

/// Divides a chord into ones as long as `size` wants at each place.
fn divide(whole: Chord, size: impl Fn(Point) -> f64) -> Vec<Chord> {
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
            ..whole
        });
        start = end;
        number += 1.0;
    }
    chords
}

/// Lines the pinned edge with layers of triangles and returns the closed
/// chain of sides that bounds the rest.
fn band(chords: &[Chord], sizing: Sizing, draft: &mut Draft) -> Vec<Chord> {
    let n = chords.len();
    let corners: Vec<Point> = chords.iter().map(|c| c.from).collect();
    let pinned = |i: usize| chords[i % n].side == Side::Pinned;
    let unders = unders(&corners, chords, sizing.band);
    // The column of points under each vertex of the edge, from the edge inward.
    let columns: Vec<Option<Vec<usize>>> = unders
        .iter()
        .enumerate()
        .map(|(i, under)| {
            under.map(|under| {
                let mut column = vec![draft.add(corners[i])];
                column.extend(LAYERS.map(|layer| draft.add(under.at(corners[i], layer))));
                // A column at the end of a mirror line lies on it.
                if pinned(i) != pinned(i + n - 1) {
                    for pair in column.windows(2) {
                        let (from, to) = if pinned(i) { (1, 0) } else { (0, 1) };
                        draft.side(pair[from], pair[to], Side::Mirror);
                    }
                }
                column
            })
        })
        .collect();
    let mut inner = Vec::new();
    for (i, chord) in chords.iter().enumerate() {
        let (here, next) = (&columns[i], &columns[(i + 1) % n]);
        let bottom = |c: &Option<Vec<usize>>, else_at: usize| {
            c.as_ref()
                .map_or(corners[else_at], |c| draft.points[c[LAYERS.len()]])
        };
        let (from, to) = (bottom(here, i), bottom(next, (i + 1) % n));
        inner.push(Chord {
            from,
            curve: Curve::Line(from, to),
            ends: [0.0, 1.0],
            side: chord.side,
        });
        if let (Side::Pinned, Some(a), Some(b)) = (chord.side, here, next) {
            draft.sides.insert((a[0], b[0]), *chord);
            for layer in 0..LAYERS.len() {
                draft.triangles.push([a[layer], b[layer], b[layer + 1]]);
                draft.triangles.push([a[layer], b[layer + 1], a[layer + 1]]);
            }
        }
    }
    inner
}

/// The way into the inside under a vertex of the edge.
#[derive(Clone, Copy)]
struct Under {
    /// Direction, as long as makes a unit of depth.
    go: Point,
    depth: f64,
}

impl Under {
    /// The point at a share of the depth below `from`.
    fn at(self, from: Point, share: f64) -> Point {
        let reach = share * self.depth;
        [from[0] + reach * self.go[0], from[1] + reach * self.go[1]]
    }
}

/// How far down each vertex of the edge the band reaches; none off the edge.
fn unders(corners: &[Point], chords: &[Chord], band: f64) -> Vec<Option<Under>> {
    let n = corners.len();
    let pinned = |i: usize| chords[i % n].side == Side::Pinned;
    let mut unders: Vec<Option<Under>> = (0..n)
        .map(|i| {
            let last = (i + n - 1) % n;
            (pinned(i) || pinned(last)).then(|| {
                let go = inward(&chords[last], &chords[i]);
                Under {
                    go,
                    depth: depth_at(
                        corners,
                        chords,
                        [if pinned(i) { i } else { last }, i],
                        go,
                        band,
                    ),
                }
            })
        })
        .collect();
    // Where the ways converge, at corners, they stop while still well apart.
    for _ in 0..40 {
        let mut narrow = false;
        for i in (0..n).filter(|&i| pinned(i)) {
            let next = (i + 1) % n;
            let (Some(a), Some(b)) = (unders[i], unders[next]) else {
                continue;
            };
            let (from, to) = (corners[i], corners[next]);
            let (low, high) = (a.at(from, 1.0), b.at(to, 1.0));
            let along =
                (high[0] - low[0]) * (to[0] - from[0]) + (high[1] - low[1]) * (to[1] - from[1]);
            if along < NARROWEST * distance(from, to).powi(2) {
                narrow = true;
                unders[i] = Some(Under {
                    depth: 0.9 * a.depth,
                    ..a
                });
                unders[next] = Some(Under {
                    depth: 0.9 * b.depth,
                    ..b
                });
            }
        }
        if !narrow {
            break;
        }
    }
    unders
}

impl Draft {
    #[cfg(test)]
    fn cut_in_four(&self) -> Self {
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
                            ..*s
                        },
                    );
                    finer.sides.insert(
                        (m, b),
                        Chord {
                            from: middle,
                            ends: [half, s.ends[1]],
                            ..*s
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

    fn add(&mut self, point: Point) -> usize {
        self.points.push(point);
        self.points.len() - 1
    }

    fn side(&mut self, from: usize, to: usize, side: Side) {
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

/// The direction into the inside where one side ends and the next begins, as
/// long as makes a unit of depth below both.
fn inward(last: &Chord, next: &Chord) -> Point {
    let (before, after) = (
        last.curve.tangent(last.ends[1]),
        next.curve.tangent(next.ends[0]),
    );
    match (last.side, next.side) {
        // Along a mirror line.
        (Side::Pinned, Side::Mirror) => after,
        (Side::Mirror, Side::Pinned) => [-before[0], -before[1]],
        _ => {
            // (n₁ + n₂) / (1 + n₁·n₂)
            let sum = [-(before[1] + after[1]), before[0] + after[0]];
            let share = 1.0 + before[0] * after[0] + before[1] * after[1];
            [sum[0] / share, sum[1] / share]
        }
    }
}

/// How deep the band may reach below a vertex without coming near another
/// part of the edge.
fn depth_at(
    corners: &[Point],
    chords: &[Chord],
    [beside, vertex]: [usize; 2],
    go: Point,
    band: f64,
) -> f64 {
    let from = corners[vertex];
    // A hair toward the side beside it, lest a point on a mirror line count as outside.
    let hair = chords[beside].curve.at(f64::midpoint(
        chords[beside].ends[0],
        chords[beside].ends[1],
    ));
    let hair = [1e-6 * (hair[0] - from[0]), 1e-6 * (hair[1] - from[1])];
    let mut depth = band;
    for _ in 0..60 {
        let reach = 1.5 * depth;
        let p = [
            from[0] + hair[0] + reach * go[0],
            from[1] + hair[1] + reach * go[1],
        ];
        let clear = (0..corners.len())
            .filter(|&i| chords[i].side == Side::Pinned)
            .map(|i| distance_to_segment(corners[i], corners[(i + 1) % corners.len()], p))
            .fold(f64::INFINITY, f64::min);
        if clear >= 0.9 * reach && inside(corners, p) {
            break;
        }
        depth *= 0.85;
    }
    depth
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
            chain.extend(divide(*chord, |at| size_at(&wants, sizing.growth, at)));
        } else {
            chain.push(*chord);
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

fn distance_to_segment(a: Point, b: Point, p: Point) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let along = (p[0] - a[0]) * dx + (p[1] - a[1]) * dy;
    let t = (along / (dx * dx + dy * dy)).clamp(0.0, 1.0);
    distance(p, [a[0] + t * dx, a[1] + t * dy])
}

/// Whether `p` lies inside the polygon (even-odd rule).
fn inside(polygon: &[Point], p: Point) -> bool {
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

/// Gives straight triangles the nodes of `element`, on the true curve where
/// they touch the boundary.
fn raise(draft: &Draft, element: &Element, copies: f64) -> Mesh {
    let order = element.order;
    let mut mesh = Mesh {
        nodes: draft.points.clone(),
        triangles: Vec::with_capacity(draft.triangles.len() * element.len()),
        boundary: Vec::new(),
        copies,
    };
    // The first node on the side between two corners, from the lower corner.
    let mut sides: HashMap<(usize, usize), usize> = HashMap::new();
    for (number, triangle) in draft.triangles.iter().enumerate() {
        let ends = |local: usize| (triangle[local], triangle[(local + 1) % 3]);
        let chords = [0, 1, 2].map(|local| draft.sides.get(&ends(local)));
        let place = |bary: &[usize; 3]| place(&draft.points, triangle, bary, order, chords);
        mesh.triangles.extend(triangle);
        for (local, chord) in chords.iter().enumerate() {
            let (a, b) = ends(local);
            if let Some(chord) = chord {
                mesh.boundary.push(BoundaryEdge {
                    element: number,
                    local,
                    side: chord.side,
                });
            }
            let mine = 3 + local * (order - 1);
            let first = *sides.entry((a.min(b), a.max(b))).or_insert_with(|| {
                let first = mesh.nodes.len();
                let fresh = (0..order - 1).map(|i| place(&element.nodes[mine + i]));
                if a < b {
                    mesh.nodes.extend(fresh);
                } else {
                    mesh.nodes.extend(fresh.rev());
                }
                first
            });
            let along = 0..order - 1;
            if a < b {
                mesh.triangles.extend(along.map(|i| first + i));
            } else {
                mesh.triangles.extend(along.rev().map(|i| first + i));
            }
        }
        for bary in &element.nodes[3 * order..] {
            mesh.triangles.push(mesh.nodes.len());
            mesh.nodes.push(place(bary));
        }
    }
    mesh
}

/// Where the node at barycentric `bary` (times `order`) lies: on the straight
/// triangle, moved by the bow of its curved sides (Szabó and Babuška's blend).
#[expect(clippy::cast_precision_loss, reason = "orders are small")]
fn place(
    points: &[Point],
    triangle: &[usize; 3],
    bary: &[usize; 3],
    order: usize,
    chords: [Option<&Chord>; 3],
) -> Point {
    let weight = bary.map(|n| n as f64 / order as f64);
    let mut at = [0, 1].map(|axis| (0..3).map(|i| weight[i] * points[triangle[i]][axis]).sum());
    for local in 0..3 {
        let (l, m) = (weight[local], weight[(local + 1) % 3]);
        let Some(chord) = chords[local].filter(|c| !matches!(c.curve, Curve::Line(..))) else {
            continue;
        };
        if l == 0.0 || m == 0.0 {
            continue;
        }
        // ξ = m - l along the side; blend 4 l m / (1 - ξ²)
        let xi = m - l;
        let along = f64::midpoint(1.0, xi);
        let on_curve = chord
            .curve
            .at(chord.ends[0] + along * (chord.ends[1] - chord.ends[0]));
        let (a, b) = (points[triangle[local]], points[triangle[(local + 1) % 3]]);
        let blend = 4.0 * l * m / (1.0 - xi * xi);
        for axis in 0..2 {
            let straight = a[axis] + along * (b[axis] - a[axis]);
            at[axis] += blend * (on_curve[axis] - straight);
        }
    }
    at
}
