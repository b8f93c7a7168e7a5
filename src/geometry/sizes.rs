//! How long the mesh's sides along the pinned edge may be.

use super::contour::{Contour, Curve, Piece, Side};
use super::mesh::Sizing;
use super::near::Segments;

/// A turn at which one piece of the edge meets the next in a corner, radians.
const CORNER: f64 = 0.02;

/// Of the usual length, what sides next to a corner or to a sudden change of
/// bend have: there the edge angle changes within a fraction of a capillary length.
const AT_A_CHANGE: f64 = 0.3;

/// The same next to a corner that turns inward, where no edge angle is finite.
const AT_A_NOTCH: f64 = 0.01;

/// How much longer sides may grow for every millimetre along the edge.
const GROWTH: f64 = 0.5;

/// Of a radius of curvature, the longest chord that follows it well.
const OF_BEND: f64 = 0.6;

/// Sizes along one piece, at evenly spaced parameters from 0 to 1.
#[derive(Debug, Clone)]
pub(super) struct Sizes(Vec<f64>);

impl Sizes {
    /// The size wanted at a parameter.
    #[expect(
        clippy::cast_precision_loss,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a place among a few thousand samples"
    )]
    pub fn at(&self, t: f64) -> f64 {
        let place = t.clamp(0.0, 1.0) * (self.0.len() - 1) as f64;
        let low = (place as usize).min(self.0.len() - 2);
        let share = place - low as f64;
        self.0[low] + share * (self.0[low + 1] - self.0[low])
    }
}

/// A place of the edge where the size is looked at.
struct Look {
    /// Along the loop, mm.
    along: f64,
    size: f64,
}

/// Sizes along every piece of every loop; empty for mirror lines.
pub(super) fn sizes(contour: &Contour, sizing: Sizing) -> Vec<Vec<Sizes>> {
    let opposite = Opposite::of(contour, sizing);
    contour
        .loops
        .iter()
        .enumerate()
        .map(|(number, pieces)| along_loop(number, pieces, sizing, &opposite))
        .collect()
}

fn along_loop(number: usize, pieces: &[Piece], sizing: Sizing, opposite: &Opposite) -> Vec<Sizes> {
    let n = pieces.len();
    let joints: Vec<Joint> = (0..n).map(|i| Joint::of(pieces, i)).collect();
    let mut along = 0.0;
    let mut looks: Vec<Vec<Look>> = Vec::with_capacity(n);
    for (i, piece) in pieces.iter().enumerate() {
        let length = piece.curve.length();
        if piece.side == Side::Mirror {
            along += length;
            looks.push(Vec::new());
            continue;
        }
        let count = samples(&piece.curve, length, sizing);
        let ends = [joints[i], joints[(i + 1) % n]];
        looks.push(
            (0..=count)
                .map(|k| {
                    let t = share(k, count);
                    let end = match k {
                        0 => ends[0].most(sizing),
                        _ if k == count => ends[1].most(sizing),
                        _ => f64::INFINITY,
                    };
                    let size = sizing.chord.min(OF_BEND * piece.curve.bend(t)).min(length);
                    let width = opposite.width(&piece.curve, t, [number, i]);
                    Look {
                        along: along + t * length,
                        size: size
                            .min(end)
                            .min(sizing.of_width * width)
                            .max(sizing.chord * 1e-3),
                    }
                })
                .collect(),
        );
        along += length;
    }
    spread(&mut looks, along);
    looks
        .into_iter()
        .map(|looks| Sizes(looks.iter().map(|l| l.size).collect()))
        .collect()
}

/// Lets no size outgrow its neighbours, all round the loop of length `round`.
fn spread(looks: &mut [Vec<Look>], round: f64) {
    let mut order: Vec<(usize, usize)> = Vec::new();
    for (i, piece) in looks.iter().enumerate() {
        order.extend((0..piece.len()).map(|k| (i, k)));
    }
    let twice: Vec<(usize, usize)> = order.iter().chain(&order).copied().collect();
    for backward in [false, true] {
        let mut last: Option<(f64, f64)> = None;
        let way: Box<dyn Iterator<Item = &(usize, usize)>> = if backward {
            Box::new(twice.iter().rev())
        } else {
            Box::new(twice.iter())
        };
        for &(i, k) in way {
            let look = &mut looks[i][k];
            if let Some((along, size)) = last {
                let gap = (look.along - along).abs();
                let gap = gap.min((round - gap).abs());
                look.size = look.size.min(size + GROWTH * gap);
            }
            last = Some((look.along, look.size));
        }
    }
}

/// How many steps a piece is looked at in.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "between 1 and a few thousand"
)]
fn samples(curve: &Curve, length: f64, sizing: Sizing) -> usize {
    let least = if matches!(curve, Curve::Line(..)) && length < 0.5 * sizing.chord {
        1.0
    } else {
        8.0
    };
    (4.0 * length / sizing.chord).ceil().clamp(least, 4000.0) as usize
}

#[expect(clippy::cast_precision_loss, reason = "a few thousand at most")]
fn share(k: usize, of: usize) -> f64 {
    k as f64 / of as f64
}

/// How a piece begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Joint {
    /// The edge runs on as it was, or mirrors itself.
    Even,
    /// A corner, or a sudden change of bend.
    Change,
    /// A corner that turns inward.
    Notch,
}

impl Joint {
    fn of(pieces: &[Piece], i: usize) -> Self {
        let (last, next) = (&pieces[(i + pieces.len() - 1) % pieces.len()], &pieces[i]);
        let (before, after) = (last.curve.tangent(1.0), next.curve.tangent(0.0));
        let turn = (before[0] * after[1] - before[1] * after[0])
            .atan2(before[0] * after[0] + before[1] * after[1]);
        if last.side == Side::Mirror || next.side == Side::Mirror {
            // Met squarely, the edge runs on in its mirror image.
            let square = std::f64::consts::FRAC_PI_2;
            return match turn {
                _ if (turn - square).abs() < CORNER => Self::Even,
                // The angle inside is π - turn, and twice that in all.
                _ if turn < square => Self::Notch,
                _ => Self::Change,
            };
        }
        if turn < -CORNER {
            return Self::Notch;
        }
        let (a, b) = (1.0 / last.curve.bend(1.0), 1.0 / next.curve.bend(0.0));
        let bends_anew = (a - b).abs() > 0.5 * a.max(b);
        if turn > CORNER || bends_anew {
            Self::Change
        } else {
            Self::Even
        }
    }

    /// The longest side beside it.
    fn most(self, sizing: Sizing) -> f64 {
        match self {
            Self::Even => f64::INFINITY,
            Self::Change => AT_A_CHANGE * sizing.chord,
            Self::Notch => AT_A_NOTCH * sizing.chord,
        }
    }
}

/// The edge on the other side.
struct Opposite {
    segments: Segments,
    /// Loop, piece and side of each segment.
    of: Vec<([usize; 2], Side)>,
    /// Pieces in each loop.
    pieces: Vec<usize>,
    reach: f64,
}

impl Opposite {
    fn of(contour: &Contour, sizing: Sizing) -> Self {
        let (mut ends, mut of) = (Vec::new(), Vec::new());
        for (number, pieces) in contour.loops.iter().enumerate() {
            for (i, piece) in pieces.iter().enumerate() {
                let count = match piece.curve {
                    Curve::Line(..) => 1,
                    _ => samples(&piece.curve, piece.curve.length(), sizing),
                };
                for k in 0..count {
                    let at = |k| piece.curve.at(share(k, count));
                    ends.push((at(k), at(k + 1), of.len()));
                    of.push(([number, i], piece.side));
                }
            }
        }
        Self {
            segments: Segments::new(ends.into_iter()),
            of,
            pieces: contour.loops.iter().map(Vec::len).collect(),
            // Beyond that a width asks for no shorter sides.
            reach: 1.01 * sizing.chord / sizing.of_width,
        }
    }

    /// How wide the top is, straight across from a place; infinite where that
    /// asks for nothing.
    fn width(&self, curve: &Curve, t: f64, own: [usize; 2]) -> f64 {
        let (from, way) = (curve.at(t), curve.tangent(t));
        let to = [from[0] - self.reach * way[1], from[1] + self.reach * way[0]];
        let mut nearest = f64::INFINITY;
        for (segment, share) in self.segments.crossings(from, to) {
            let ([number, piece], side) = self.of[segment];
            let far = share * self.reach;
            let count = self.pieces[number];
            // Next door there is a corner, not the other side.
            let next_door = number == own[0]
                && ((piece + 1) % count == own[1] || (own[1] + 1) % count == piece);
            // Its own curve bows across the way where it sets out.
            let sets_out = [number, piece] == own && far < 0.1 * self.reach;
            if next_door || sets_out {
                continue;
            }
            nearest = nearest.min(if side == Side::Mirror { 2.0 * far } else { far });
        }
        nearest
    }
}
