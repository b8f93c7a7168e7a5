//! Straight ways across an outline.

use super::{Form, Outline, trace};
use crate::geometry::contour::Point;

impl Outline {
    /// Whether it mirrors in both its axes and a straight line across its middle
    /// meets no hole.
    pub(in crate::geometry) fn is_plain(&self) -> bool {
        let form = matches!(
            self.0.form,
            Form::Round { .. } | Form::Rectangle { .. } | Form::Oval { .. }
        );
        form && self.0.holes.is_empty()
    }

    /// The stretches of a straight way that lie on the flat top, as distances
    /// from its beginning, mm; to a millionth of the outline's size.
    pub(in crate::geometry) fn crossings(
        &self,
        from: Point,
        way: Point,
        length: f64,
    ) -> Vec<[f64; 2]> {
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
