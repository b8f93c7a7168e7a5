//! How long the mesh's sides along the pinned edge may be.

use super::contour::{Contour, Curve, Piece, Side, Spline};
use super::mesh::Sizing;
use super::near::Segments;

/// A turn at which one piece of the edge meets the next in a corner, radians.
const CORNER: f64 = 0.02;

/// Of the usual length, what sides next to a square corner or to a sudden change
/// of bend have: there the edge angle changes within a fraction of a capillary length.
const AT_A_CHANGE: f64 = 0.3;

/// The same next to the bluntest corners.
const LEAST_AT_A_CORNER: f64 = 0.05;

/// The same next to a corner that turns inward, where no edge angle is finite.
const AT_A_NOTCH: f64 = 0.01;

/// How much longer sides may grow for every millimetre along the edge.
const GROWTH: f64 = 0.4;

/// Of a radius of curvature, the longest chord that follows it well.
const OF_BEND: f64 = 0.6;

/// The same where the edge bows into the top: a longer one would reach past the
/// thin layers that line it.
const OF_INWARD_BEND: f64 = 0.25;

/// Of the angle inside a corner, what a side beside it may turn where it bows into the top: one that
/// turns by more would cross the triangle that it is a side of.
const OF_A_POINT: f64 = 0.25;

/// Sizes along one piece, at rising parameters from 0 to 1, even between them.
#[derive(Debug, Clone)]
pub(super) struct Sizes {
    known: Vec<(f64, f64)>,
    /// `∫ dt / h` up to each of the parameters.
    running: Vec<f64>,
}

impl Sizes {
    /// From parameters and sizes.
    pub fn new(known: Vec<(f64, f64)>) -> Self {
        let mut sum = 0.0;
        let mut running = vec![0.0];
        for pair in known.windows(2) {
            let ((low, a), (high, b)) = (pair[0], pair[1]);
            // ∫ dt / (a + (b - a) t) = ln(b/a) / (b - a)
            let mean = if (b / a - 1.0).abs() < 1e-6 {
                a
            } else {
                (b - a) / (b / a).ln()
            };
            sum += (high - low) / mean;
            running.push(sum);
        }
        Self { known, running }
    }

    /// The size wanted at a parameter.
    pub fn at(&self, t: f64) -> f64 {
        let after = self.known.partition_point(|&(at, _)| at < t);
        let after = after.clamp(1, self.known.len() - 1);
        let ((low, a), (high, b)) = (self.known[after - 1], self.known[after]);
        a + (t - low) / (high - low) * (b - a)
    }

    /// How many sizes fit, `∫ dt / h`, on a piece of length 1.
    pub fn count(&self) -> f64 {
        self.running[self.running.len() - 1]
    }

    /// The parameter up to which so many fit.
    pub fn place(&self, count: f64) -> f64 {
        let after = self.running.partition_point(|&n| n < count);
        let after = after.clamp(1, self.running.len() - 1);
        let ((low, a), (high, b)) = (self.known[after - 1], self.known[after]);
        let (from, to) = (self.running[after - 1], self.running[after]);
        let share = (count - from) / (to - from);
        let grown = (b / a).powf(share);
        if (b / a - 1.0).abs() < 1e-6 {
            low + share * (high - low)
        } else {
            low + (grown - 1.0) / (b / a - 1.0) * (high - low)
        }
    }
}

/// A place of the edge where the size is looked at.
struct Look {
    /// Its parameter on the piece.
    at: f64,
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
        let ends = [joints[i], joints[(i + 1) % n]];
        let places = samples(&piece.curve, length, sizing);
        let last = places.len() - 1;
        looks.push(
            places
                .into_iter()
                .enumerate()
                .map(|(k, t)| {
                    let end = match k {
                        0 => ends[0].most(sizing, &piece.curve, t),
                        _ if k == last => ends[1].most(sizing, &piece.curve, t),
                        _ => f64::INFINITY,
                    };
                    let size = sizing
                        .chord
                        .min(sizing.of_bend * of_bend(&piece.curve, t))
                        .min(length);
                    let width = opposite.width(&piece.curve, t, [number, i]);
                    Look {
                        at: t,
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
        .map(|looks| Sizes::new(looks.iter().map(|l| (l.at, l.size)).collect()))
        .collect()
}

/// The longest chord that follows a curve's bend.
fn of_bend(curve: &Curve, t: f64) -> f64 {
    let share = if bows_inward(curve, t) {
        OF_INWARD_BEND
    } else {
        OF_BEND
    };
    share * curve.bend(t)
}

/// Whether a curve bows into the top at a place.
fn bows_inward(curve: &Curve, t: f64) -> bool {
    let (before, after) = (
        curve.tangent((t - 1e-4).max(0.0)),
        curve.tangent((t + 1e-4).min(1.0)),
    );
    before[0] * after[1] - before[1] * after[0] < 0.0
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

/// The parameters at which a piece is looked at: evenly spaced, and where the
/// spans of a spline end.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "between 1 and a few thousand"
)]
fn samples(curve: &Curve, length: f64, sizing: Sizing) -> Vec<f64> {
    let least = if matches!(curve, Curve::Line(..)) && length < 0.5 * sizing.chord {
        1.0
    } else {
        8.0
    };
    let count = (4.0 * length / sizing.chord).ceil().clamp(least, 4000.0) as usize;
    let mut places: Vec<f64> = (0..=count).map(|k| share(k, count)).collect();
    if let Curve::Spline(spline) = curve {
        places.extend(joints(spline));
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| *a - *b < 1e-9);
        if let Some(last) = places.last_mut() {
            *last = 1.0;
        }
    }
    places
}

#[expect(clippy::cast_precision_loss, reason = "a few thousand at most")]
fn share(k: usize, of: usize) -> f64 {
    k as f64 / of as f64
}

/// The parameters at which the spans of a spline join.
pub(super) fn joints(spline: &Spline) -> Vec<f64> {
    let mut along = 0.0;
    let ends: Vec<f64> = spline
        .spans()
        .iter()
        .map(|span| {
            along += span.length();
            along
        })
        .collect();
    ends[..ends.len() - 1]
        .iter()
        .map(|end| end / along)
        .collect()
}

/// How a piece begins.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Joint {
    /// The edge runs on as it was, or mirrors itself.
    Even,
    /// A sudden change of bend.
    Change,
    /// A corner that turns outward, with the angle inside, radians.
    Corner(f64),
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
                _ => Self::Corner(2.0 * (std::f64::consts::PI - turn)),
            };
        }
        if turn < -CORNER {
            return Self::Notch;
        }
        let (a, b) = (1.0 / last.curve.bend(1.0), 1.0 / next.curve.bend(0.0));
        let bends_anew = (a - b).abs() > 0.5 * a.max(b);
        if turn > CORNER {
            Self::Corner(std::f64::consts::PI - turn)
        } else if bends_anew {
            Self::Change
        } else {
            Self::Even
        }
    }

    /// The longest side beside it, on a curve that meets it at `t`.
    fn most(self, sizing: Sizing, curve: &Curve, t: f64) -> f64 {
        match self {
            Self::Even => f64::INFINITY,
            Self::Change => AT_A_CHANGE * sizing.chord,
            // The angle at the edge rises as the power π/α - 1 of the distance.
            Self::Corner(inside) => {
                let power = (std::f64::consts::PI / inside).min(2.0);
                let share = AT_A_CHANGE.powf(1.0 / (power - 1.0));
                let usual = share.max(LEAST_AT_A_CORNER) * sizing.chord;
                if bows_inward(curve, t) {
                    usual.min(OF_A_POINT * inside * curve.bend(t))
                } else {
                    usual
                }
            }
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
                let places = match piece.curve {
                    Curve::Line(..) => vec![0.0, 1.0],
                    _ => samples(&piece.curve, piece.curve.length(), sizing),
                };
                for pair in places.windows(2) {
                    let [from, to] = [pair[0], pair[1]].map(|t| piece.curve.at(t));
                    ends.push((from, to, of.len()));
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
