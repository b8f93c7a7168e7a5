//! Curves parted where their bend changes at once.

use super::contour::{Contour, Curve, Piece, Side, Spline};
use super::sizes::joints;

/// The least change of curvature that parts a curve, as a share of the larger.
const CHANGE: f64 = 0.5;

/// Before and after a jump the curvature changes by less than this share of it.
const STEADY: f64 = 0.2;

/// The same boundary, its splines parted where the curvature jumps: there a
/// side must end, for the edge angle has a kink.
pub(super) fn at_jumps(contour: &Contour) -> Contour {
    let part = |piece: &Piece| match &piece.curve {
        Curve::Spline(spline) if piece.side == Side::Pinned => {
            parted(spline).into_iter().map(Piece::pinned).collect()
        }
        _ => vec![piece.clone()],
    };
    Contour {
        loops: contour
            .loops
            .iter()
            .map(|pieces| pieces.iter().flat_map(part).collect())
            .collect(),
        copies: contour.copies,
    }
}

fn parted(spline: &std::sync::Arc<Spline>) -> Vec<Curve> {
    let curve = Curve::Spline(spline.clone());
    let curvature: Vec<f64> = spline
        .spans()
        .iter()
        .map(|span| {
            let [_, [dx, dy], [ax, ay]] = span.jet(0.5);
            (dx * ay - dy * ax) / dx.hypot(dy).powi(3)
        })
        .collect();
    // The change from each span to the next; none beyond the ends.
    let changes: Vec<f64> = curvature.windows(2).map(|w| (w[1] - w[0]).abs()).collect();
    let change = |i: usize, off: isize| {
        let at = i.checked_add_signed(off);
        at.and_then(|at| changes.get(at)).copied().unwrap_or(0.0)
    };
    let jumps = |i: usize| {
        let here = changes[i];
        let largest = curvature[i].abs().max(curvature[i + 1].abs());
        here > CHANGE * largest
            && here >= change(i, -1)
            && here > change(i, 1)
            && change(i, -2).max(change(i, 2)) < STEADY * here
    };
    let mut ends = vec![0.0];
    let places = joints(spline);
    ends.extend((0..changes.len()).filter(|&i| jumps(i)).map(|i| places[i]));
    ends.push(1.0);
    ends.windows(2).map(|w| curve.part(w[0], w[1])).collect()
}
