//! Points inside the boundary, from which the inner triangles are made.

use super::contour::{Point, Side, distance};
use super::draft::{Chains, Chord};
use super::mesh::Sizing;
use super::near::{Crowd, Inside, Segments};

/// Height of a row of equilateral triangles over their side.
const ROW_HEIGHT: f64 = 0.866;

/// What a new point must keep clear of.
struct Room<'a> {
    pinned: Segments,
    mirrors: Segments,
    /// Corners of the chains that end a mirror side.
    ends: Crowd,
    found: Crowd,
    inside: &'a Inside,
}

impl<'a> Room<'a> {
    fn of(chains: &Chains, inside: &'a Inside) -> Self {
        let all: Vec<&Chord> = chains.iter().flatten().collect();
        let of = |side: Side| {
            let some = all.iter().filter(move |c| c.side == side);
            Segments::new(some.map(|c| (c.from, c.to, 0)))
        };
        let mut ends = Crowd::new();
        for chord in all.iter().filter(|c| c.side == Side::Mirror) {
            ends.add(chord.from);
            ends.add(chord.to);
        }
        Self {
            pinned: of(Side::Pinned),
            mirrors: of(Side::Mirror),
            ends,
            found: Crowd::new(),
            inside,
        }
    }

    /// Whether a point `depth` inside fits: away from the boundary and from its like.
    fn takes(&self, p: Point, depth: f64, spacing: f64) -> bool {
        self.found.gap(p) >= 0.7 * spacing
            && self.ends.gap(p) >= 0.7 * spacing
            && self.mirrors.gap(p) >= 0.5 * spacing
            && self.pinned.gap(p) >= 0.9 * depth
            && self.inside.holds(p)
    }
}

/// A row of points along one pinned chord.
struct Row {
    from: Point,
    to: Point,
    side: f64,
    depth: f64,
}

/// Points in rows along the pinned edge, each row about as far from the last as
/// its points are from each other, until all is full.
pub(super) fn fill(chains: &Chains, inside: &Inside, sizing: Sizing) -> Vec<Point> {
    let mut room = Room::of(chains, inside);
    let pinned = chains.iter().flatten().filter(|c| c.side == Side::Pinned);
    let mut rows: Vec<Row> = pinned
        .map(|c| {
            let side = distance(c.from, c.to);
            Row {
                from: c.from,
                to: c.to,
                side,
                depth: ROW_HEIGHT * side,
            }
        })
        .collect();
    let mut found = Vec::new();
    while !rows.is_empty() {
        // A row ends where it leaves the inside or comes near another edge.
        let mut kept = Vec::with_capacity(rows.len());
        for mut row in rows {
            let spacing = row.side + sizing.growth * row.depth;
            let mut placed = false;
            for along in [0.5, 0.0, 0.25, 0.75] {
                let p = beside(row.from, row.to, along, row.depth);
                if room.takes(p, row.depth, spacing) {
                    room.found.add(p);
                    found.push(p);
                    placed = true;
                }
            }
            row.depth += ROW_HEIGHT * spacing;
            let middle = beside(row.from, row.to, 0.5, row.depth);
            if placed || (room.inside.holds(middle) && room.pinned.gap(middle) >= 0.5 * row.depth) {
                kept.push(row);
            }
        }
        rows = kept;
    }
    found
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
