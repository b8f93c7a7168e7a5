//! Thin layers of triangles along the pinned edge, where the surface bends.

use super::contour::{Point, Side, distance};
use super::draft::{Chains, Chord, Draft};
use super::mesh::Sizing;
use super::near::{Inside, Segments};

/// How deep the layers along the edge reach, as shares of the band: one along
/// short sides, more along those that are long beside the surface's own bend.
const LAYERS: [&[f64]; 3] = [&[1.0], &[0.35, 1.0], &[0.15, 0.45, 1.0]];

/// Depth of the band with that many layers, as a share of the chord's length
/// above it.
const DEPTHS: [f64; 3] = [0.9, 1.2, 1.5];

/// How long chords may be for one layer and for two, in lengths over which the
/// surface bends at the edge.
const FEW: [f64; 2] = [0.6, 1.2];

/// A chord that turns as far to the right, radians, bows into the top; there
/// the surface bends as fast as the edge.
const INWARD: f64 = 0.05;

/// How much narrower the inner side of the band may be than the edge above it.
const NARROWEST: f64 = 0.5;

/// Lines the pinned edge with layers of triangles and returns the closed
/// chains of sides that bound the rest.
pub(super) fn band(chains: &Chains, sizing: Sizing, draft: &mut Draft) -> Chains {
    let all = || chains.iter().flatten();
    let pinned = all().filter(|c| c.side == Side::Pinned);
    let sides: Vec<(Point, Point)> = all().map(|c| (c.from, c.to)).collect();
    let around = Around {
        pinned: Segments::new(pinned.map(|c| (c.from, c.to, 0))),
        inside: Inside::new(&sides),
        bend: sizing.bend,
    };
    chains
        .iter()
        .map(|chords| along(chords, &around, draft))
        .collect()
}

/// The whole boundary, for keeping clear of it.
struct Around {
    pinned: Segments,
    inside: Inside,
    bend: f64,
}

/// Lines one closed chain.
fn along(chords: &[Chord], around: &Around, draft: &mut Draft) -> Vec<Chord> {
    let n = chords.len();
    let pinned = |i: usize| chords[i % n].side == Side::Pinned;
    // The column of points under each vertex of the edge, from the edge inward.
    let columns: Vec<Option<Vec<usize>>> = unders(chords, around)
        .iter()
        .enumerate()
        .map(|(i, under)| {
            under.map(|under| {
                let mut column = vec![draft.add(chords[i].from)];
                let layers = LAYERS[under.layers].iter();
                column.extend(layers.map(|&layer| draft.add(under.at(chords[i].from, layer))));
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
                .map_or(chords[else_at].from, |c| draft.points[c[c.len() - 1]])
        };
        let (from, to) = (bottom(here, i), bottom(next, (i + 1) % n));
        inner.push(Chord::straight(from, to, chord.side));
        if let (Side::Pinned, Some(a), Some(b)) = (chord.side, here, next) {
            draft.sides.insert((a[0], b[0]), chord.clone());
            between(a, b, &mut draft.triangles);
        }
    }
    inner
}

/// The triangles between two columns.
fn between(a: &[usize], b: &[usize], triangles: &mut Vec<[usize; 3]>) {
    let (mut i, mut j) = (0, 0);
    while i + 1 < a.len() || j + 1 < b.len() {
        // Down the column of which less is done.
        if j + 1 < b.len() && (i + 1 == a.len() || j * (a.len() - 1) <= i * (b.len() - 1)) {
            triangles.push([a[i], b[j], b[j + 1]]);
            j += 1;
        } else {
            triangles.push([a[i], b[j], a[i + 1]]);
            i += 1;
        }
    }
}

/// The way into the inside under a vertex of the edge.
#[derive(Clone, Copy)]
struct Under {
    /// Direction, as long as makes a unit of depth, or less in a sharp corner.
    go: Point,
    depth: f64,
    /// Which of the [`LAYERS`].
    layers: usize,
}

impl Under {
    /// The point at a share of the depth below `from`.
    fn at(self, from: Point, share: f64) -> Point {
        let reach = share * self.depth;
        [from[0] + reach * self.go[0], from[1] + reach * self.go[1]]
    }
}

/// How far down each vertex of the edge the band reaches; none off the edge.
fn unders(chords: &[Chord], around: &Around) -> Vec<Option<Under>> {
    let n = chords.len();
    let pinned = |i: usize| chords[i % n].side == Side::Pinned;
    let mut unders: Vec<Option<Under>> = (0..n)
        .map(|i| {
            let last = &chords[(i + n - 1) % n];
            let beside: Vec<&Chord> = [last, &chords[i]]
                .into_iter()
                .filter(|c| c.side == Side::Pinned)
                .collect();
            let size = beside.iter().map(|c| c.size).fold(f64::INFINITY, f64::min);
            beside.last().map(|chord| {
                let way = Way::under(last, &chords[i]);
                let layers = around.layers(&beside, size);
                Under {
                    go: way.go,
                    depth: around.depth(chords[i].from, chord, way, DEPTHS[layers] * size),
                    layers,
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
            let (from, to) = (chords[i].from, chords[i].to);
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

/// The way into the inside where one side ends and the next begins.
#[derive(Clone, Copy)]
struct Way {
    /// Direction, as long as makes a unit of depth below both, but no longer than that of a corner of 29 degrees.
    go: Point,
    /// The depth that it makes: less than one in a sharper corner.
    down: f64,
}

impl Way {
    fn under(last: &Chord, next: &Chord) -> Self {
        let go = inward(last, next);
        let sides = [(last, last.arrives()), (next, next.sets_out())];
        let pinned = sides.iter().filter(|(side, _)| side.side == Side::Pinned);
        let down = pinned.map(|(_, [x, y])| x * go[1] - y * go[0]);
        Self {
            go,
            down: down.fold(1.0, f64::min),
        }
    }
}

/// The direction into the inside where one side ends and the next begins, as
/// long as makes a unit of depth below both, but no longer than four.
fn inward(last: &Chord, next: &Chord) -> Point {
    let (before, after) = (last.arrives(), next.sets_out());
    match (last.side, next.side) {
        // Along a mirror line, squarely or not.
        (Side::Pinned, Side::Mirror) => slanting(after, before),
        (Side::Mirror, Side::Pinned) => slanting([-before[0], -before[1]], after),
        _ => {
            // (n₁ + n₂) / (1 + n₁·n₂), but no longer than a mitre of two.
            let sum = [-(before[1] + after[1]), before[0] + after[0]];
            let share = (1.0 + before[0] * after[0] + before[1] * after[1])
                .max(0.25 * sum[0].hypot(sum[1]));
            [sum[0] / share, sum[1] / share]
        }
    }
}

/// A way that leaves the edge askew, as long as makes a unit of depth.
fn slanting(way: Point, edge: Point) -> Point {
    let depth = (edge[0] * way[1] - edge[1] * way[0]).abs().max(0.25);
    [way[0] / depth, way[1] / depth]
}

impl Around {
    /// Which of the layers go under chords of that size.
    fn layers(&self, beside: &[&Chord], size: f64) -> usize {
        let bows = |chord: &&Chord| {
            let (a, b) = (chord.sets_out(), chord.arrives());
            a[0] * b[1] - a[1] * b[0] < -INWARD
        };
        if beside.iter().any(bows) {
            return 2;
        }
        FEW.iter().filter(|&few| size > few * self.bend).count()
    }

    /// How deep the band may reach below a vertex, up to `most`, without coming
    /// near another part of the edge.
    fn depth(&self, from: Point, beside: &Chord, way: Way, most: f64) -> f64 {
        let Way { go, down } = way;
        // A hair toward the side beside it, lest a point on a mirror line count as outside.
        let hair = beside.at(0.5);
        let hair = [1e-6 * (hair[0] - from[0]), 1e-6 * (hair[1] - from[1])];
        let mut depth = most;
        for _ in 0..60 {
            let reach = 1.5 * depth;
            let p = [
                from[0] + hair[0] + reach * go[0],
                from[1] + hair[1] + reach * go[1],
            ];
            if self.pinned.gap(p) >= 0.9 * down * reach && self.inside.holds(p) {
                break;
            }
            depth *= 0.85;
        }
        depth
    }
}
