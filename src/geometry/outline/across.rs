//! Straight ways across an outline.

use super::{Form, Outline, trace};
use crate::geometry::contour::Point;
use crate::quantity::Length;

/// A straight way across the plane, mm.
pub(in crate::geometry) struct Cut {
    pub from: Point,
    /// Its direction, of length one.
    pub way: Point,
    pub length: f64,
}

impl Outline {
    /// The way across the middle of its box, the shorter way.
    pub(in crate::geometry) fn cut(&self) -> Cut {
        let (middle, way) = (self.middle().map(Length::mm), self.short_way());
        let [x, y] = self.size().map(Length::mm);
        let length = x * way[0] + y * way[1];
        Cut {
            from: [0, 1].map(|k| middle[k] - 0.5 * length * way[k]),
            way,
            length,
        }
    }

    /// Whether it mirrors in both its axes and a straight line across its middle
    /// meets no hole.
    pub(in crate::geometry) fn is_plain(&self) -> bool {
        let form = matches!(
            self.0.form,
            Form::Round { .. } | Form::Rectangle { .. } | Form::Oval { .. }
        );
        form && self.0.holes.is_empty()
    }

    /// How wide it is where sections are cut: straight across the middle of its
    /// box, the shorter way, from its first edge to its last.
    #[must_use]
    pub fn cut_width(&self) -> Length {
        let stretches = self.crossings(&self.cut());
        match stretches.as_slice() {
            [[from, to]] | [[from, _], .., [_, to]] => Length::from_mm(to - from),
            [] => self.across(),
        }
    }

    /// Where that cut leaves the blank in between, over a hole or past a notch:
    /// from and to, as distances from its first edge.
    #[must_use]
    pub fn cut_gaps(&self) -> Vec<[Length; 2]> {
        let stretches = self.crossings(&self.cut());
        let first = stretches.first().map_or(0.0, |s| s[0]);
        let pairs = stretches.windows(2);
        pairs
            .map(|pair| [pair[0][1], pair[1][0]].map(|at| Length::from_mm(at - first)))
            .collect()
    }

    /// The stretches of a straight way that lie on the flat top, as distances
    /// from its beginning, mm; to a millionth of the outline's size.
    pub(in crate::geometry) fn crossings(&self, cut: &Cut) -> Vec<[f64; 2]> {
        let Cut { from, way, length } = *cut;
        let across = self.across().mm();
        let loops = std::iter::once(self.0.edge.clone()).chain(self.0.rims());
        let mut places = Vec::new();
        for curves in loops {
            let points = trace::drawn(&curves, 1e-6 * across);
            let side = |p: Point| way[0] * (p[1] - from[1]) - way[1] * (p[0] - from[0]);
            let along = |p: Point| way[0] * (p[0] - from[0]) + way[1] * (p[1] - from[1]);
            for (i, &a) in points.iter().enumerate() {
                let b = points[(i + 1) % points.len()];
                let (off_a, off_b) = (side(a), side(b));
                if (off_a > 0.0) != (off_b > 0.0) {
                    let share = off_a / (off_a - off_b);
                    places.push(along(a) + share * (along(b) - along(a)));
                }
            }
        }
        places.retain(|at| (-1e-6 * length..=(1.0 + 1e-6) * length).contains(at));
        places.sort_by(f64::total_cmp);
        places
            .chunks_exact(2)
            .map(|pair| [pair[0], pair[1]])
            .collect()
    }
}
