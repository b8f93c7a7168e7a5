//! Things seen from above, to scale.

use crate::quantity::Length;
use crate::show::draw::Point;
use crate::show::draw::place::Space;

/// How millimetres become pixels: `y` goes up on the thing and down on the picture.
#[derive(Debug, Clone, Copy)]
pub(super) struct FromAbove {
    /// Pixels in a millimetre.
    pub(super) scale: f64,
    /// What lies at the middle of the space, mm.
    middle: [f64; 2],
    /// The middle of the space, `[px]`.
    centre: Point,
}

impl FromAbove {
    /// The largest scale at which a box from `low` to `high`, mm, fits a space, in its middle.
    pub(super) fn fit([low, high]: [[f64; 2]; 2], space: Space) -> Self {
        let [across, up] = [0, 1].map(|k| high[k] - low[k]);
        Self {
            scale: (space.width() / across).min(space.height() / up),
            middle: [0, 1].map(|k| f64::midpoint(low[k], high[k])),
            centre: Point::new(
                f64::midpoint(space.left, space.right),
                f64::midpoint(space.top, space.bottom),
            ),
        }
    }

    pub(super) fn place(&self, at: [Length; 2]) -> Point {
        let [x, y] = [0, 1].map(|k| (at[k].mm() - self.middle[k]) * self.scale);
        Point::new(self.centre.x + x, self.centre.y - y)
    }

    pub(super) fn line(&self, points: &[[Length; 2]]) -> Vec<Point> {
        points.iter().map(|p| self.place(*p)).collect()
    }
}

/// The low and the high corner of the box of some points, mm; not finite where there are none.
pub(super) fn frame<'p>(points: impl Iterator<Item = &'p [Length; 2]>) -> [[f64; 2]; 2] {
    let start = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
    points.fold(start, |[low, high], p| {
        [
            [0, 1].map(|k| low[k].min(p[k].mm())),
            [0, 1].map(|k| high[k].max(p[k].mm())),
        ]
    })
}
