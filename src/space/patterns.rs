//! What the searches find: pieces row by row, or in blocks.

use super::layout::How;
use super::turned::Point;

/// Slack where a whole number of pieces just fits, in pitches: printed sizes are decimal,
/// and their sums miss by a rounding.
const JUST: f64 = 1e-9;

/// One piece: the middle of its box from the corner of the free part, mm, and how far it is
/// turned, radians.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spot {
    pub at: Point,
    pub angle: f64,
}

/// Pieces on the free part of a ground.
#[derive(Debug, Clone)]
pub(super) struct Found {
    pub how: How,
    /// The rows from the first, or the blocks where they are mixed.
    pub rows: Vec<Vec<Spot>>,
    /// From piece to piece along a row, mm.
    pub pitch: f64,
    /// Whether the rows run along the ground's second side.
    pub across: bool,
}

impl Found {
    /// Laid on a ground whose sides were swapped, turned back by a quarter: `width` is the
    /// free part's first side.
    pub fn turned_back(mut self, width: f64) -> Self {
        for spot in self.rows.iter_mut().flatten() {
            let [u, v] = spot.at;
            spot.at = [width - v, u];
            spot.angle += std::f64::consts::FRAC_PI_2;
        }
        self.across = true;
        self
    }
}

/// How many fit whose first needs nothing of `room` and each further one `pitch`.
pub(super) fn fit(room: f64, pitch: f64) -> u32 {
    let steps = room / pitch + JUST;
    if steps >= 0.0 { whole(steps) + 1 } else { 0 }
}

/// The whole part of a number from 0 up; the callers keep it far below the most a `u32` holds.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "never negative, and counts are bounded by the most pieces laid out"
)]
pub(super) fn whole(x: f64) -> u32 {
    x as u32
}
