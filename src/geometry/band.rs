//! Thin layers of triangles along the pinned edge, where the surface bends.

use super::contour::{Curve, Point, Side, distance};
use super::draft::{Chord, Draft, distance_to_segment, inside};
use super::mesh::Sizing;

/// How deep the layers along the edge reach, as shares of the band.
const LAYERS: [f64; 3] = [0.15, 0.45, 1.0];

/// How much narrower the inner side of the band may be than the edge above it.
const NARROWEST: f64 = 0.5;

/// Lines the pinned edge with layers of triangles and returns the closed
/// chain of sides that bounds the rest.
pub(super) fn band(chords: &[Chord], sizing: Sizing, draft: &mut Draft) -> Vec<Chord> {
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
            draft.sides.insert((a[0], b[0]), chord.clone());
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
