//! What of the boundary is near a place, quickly.

use rstar::primitives::{GeomWithData, Line};
use rstar::{AABB, PointDistance, RTree};

use super::contour::{Point, distance};

type Segment = GeomWithData<Line<Point>, usize>;

/// Straight segments, numbered, found by where they are.
pub(super) struct Segments(RTree<Segment>);

impl Segments {
    /// From the segments' ends and numbers.
    pub fn new(segments: impl Iterator<Item = (Point, Point, usize)>) -> Self {
        let all = segments.map(|(a, b, i)| GeomWithData::new(Line::new(a, b), i));
        Self(RTree::bulk_load(all.collect()))
    }

    /// Distance from a point to the nearest segment; infinite where there is none.
    pub fn gap(&self, p: Point) -> f64 {
        let nearest = self.0.nearest_neighbor(&p);
        nearest.map_or(f64::INFINITY, |s| s.geom().distance_2(&p).sqrt())
    }

    /// The segments that the way from `a` to `b` crosses: their numbers, and
    /// how far along the way.
    pub fn crossings(&self, a: Point, b: Point) -> impl Iterator<Item = (usize, f64)> {
        let way = [b[0] - a[0], b[1] - a[1]];
        let around = AABB::from_corners(a, b);
        self.0
            .locate_in_envelope_intersecting(&around)
            .filter_map(move |segment| {
                let (from, to) = (segment.geom().from, segment.geom().to);
                let side = [to[0] - from[0], to[1] - from[1]];
                let apart = [from[0] - a[0], from[1] - a[1]];
                let across = way[0] * side[1] - way[1] * side[0];
                let along = (apart[0] * side[1] - apart[1] * side[0]) / across;
                let on_side = (apart[0] * way[1] - apart[1] * way[0]) / across;
                let meets = (0.0..=1.0).contains(&along) && (-1e-9..=1.0 + 1e-9).contains(&on_side);
                meets.then_some((segment.data, along))
            })
    }
}

/// Points that keep their distance from each other.
pub(super) struct Crowd(RTree<Point>);

impl Crowd {
    pub fn new() -> Self {
        Self(RTree::new())
    }

    /// Distance from `p` to the nearest of them; infinite where there is none.
    pub fn gap(&self, p: Point) -> f64 {
        let nearest = self.0.nearest_neighbor(&p);
        nearest.map_or(f64::INFINITY, |q| distance(*q, p))
    }

    pub fn add(&mut self, p: Point) {
        self.0.insert(p);
    }
}

/// Closed polygons, asked whether a point is inside (even-odd rule). The sides
/// lie in slabs by height, so that few are looked at.
pub(super) struct Inside {
    low: f64,
    slab: f64,
    slabs: Vec<Vec<(Point, Point)>>,
}

impl Inside {
    /// From the polygons' sides.
    pub fn new(sides: &[(Point, Point)]) -> Self {
        let heights = sides.iter().map(|(a, _)| a[1]);
        let (low, high) = heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), y| {
            (l.min(y), h.max(y))
        });
        let count = (sides.len() / 4).clamp(1, 4096);
        #[expect(clippy::cast_precision_loss, reason = "a few thousand at most")]
        let slab = ((high - low) / count as f64).max(f64::MIN_POSITIVE);
        let mut inside = Self {
            low,
            slab,
            slabs: vec![Vec::new(); count],
        };
        for &(a, b) in sides {
            let (first, last) = (inside.number(a[1].min(b[1])), inside.number(a[1].max(b[1])));
            for slab in first..=last {
                inside.slabs[slab].push((a, b));
            }
        }
        inside
    }

    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a float is cut off at the ends when it is made a whole number"
    )]
    fn number(&self, y: f64) -> usize {
        (((y - self.low) / self.slab) as usize).min(self.slabs.len() - 1)
    }

    pub fn holds(&self, p: Point) -> bool {
        let mut odd = false;
        for (a, b) in &self.slabs[self.number(p[1])] {
            if (a[1] > p[1]) != (b[1] > p[1])
                && p[0] < a[0] + (p[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
            {
                odd = !odd;
            }
        }
        odd
    }
}
