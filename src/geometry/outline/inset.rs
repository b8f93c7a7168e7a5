//! The edge moved inward by the same distance everywhere.
//!
//! Each curve of the edge is moved along its normal, and a sharp corner that points
//! inward becomes the arc about it. What lies nearer to the edge than the distance is
//! cut off, and the ends that are left must meet pairwise: where they don't,
//! the outline has fallen apart.

use super::simple::{Sides, from_side};
use super::{fillet, reading, trace};
use crate::geometry::contour::{Curve, Point, Span, distance};

/// Why nothing whole is left.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lost {
    Vanished,
    FallenApart,
}

/// The directions that samples are taken at, radians.
const STEP: f64 = std::f64::consts::PI / 90.0;

/// A curve moved along its normal, or the arc about an inward corner.
struct Strand {
    path: Curve,
    /// How far the moved curve lies to the left of `path`.
    off: f64,
    samples: u32,
}

impl Strand {
    fn at(&self, t: f64) -> Point {
        let ([x, y], [u, v]) = (self.path.at(t), self.path.tangent(t));
        [x - self.off * v, y + self.off * u]
    }

    /// Whether its middle is so near to the edge that all of it is too near.
    fn is_lost(&self, room: &Room) -> bool {
        let half = match &self.path {
            Curve::Line(..) => self.path.length() / 2.0,
            Curve::Arc {
                radii: [a, b],
                from,
                to,
                ..
            } => (a.max(*b) + self.off.abs()) * (to - from).abs() / 2.0,
            Curve::Spline(_) => return false,
        };
        room.far(self.at(0.5)) + half < room.least
    }

    fn of(path: Curve, off: f64) -> Self {
        let samples = match &path {
            Curve::Line(..) => 8,
            Curve::Arc { from, to, .. } => 4 + cells((to - from).abs() / STEP),
            Curve::Spline(spline) => 8 + u32::try_from(spline.spans().len()).unwrap_or(8192),
        };
        Self { path, off, samples }
    }

    fn param(&self, sample: u32) -> f64 {
        f64::from(sample) / f64::from(self.samples)
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "an arc turns once round at most"
)]
fn cells(count: f64) -> u32 {
    count.clamp(0.0, 1e4).ceil() as u32
}

/// What lies far enough inside the edge.
struct Room {
    sides: Sides,
    /// How far is enough, mm.
    least: f64,
    /// How short a stretch may be lost, mm.
    hair: f64,
}

impl Room {
    fn new(edge: &[Curve], by: f64, across: f64) -> Self {
        // Straight sides are drawn as they are, curves to within a tolerance.
        let straight = edge.iter().all(|curve| matches!(curve, Curve::Line(..)));
        let slack = if straight { 1e-11 } else { 3e-7 };
        Self {
            sides: Sides::new(&trace::drawn(edge, 1e-7 * across)),
            least: by - slack * across,
            hair: 1e-5 * across,
        }
    }

    /// Whether a moved place is clear. Then it is inside too: on the way from its
    /// own place on the edge it would have come nearer to any other.
    fn holds(&self, p: Point) -> bool {
        self.sides.clears([p, p], self.least)
    }

    /// How far a moved place is from the edge, as far as it matters.
    fn far(&self, p: Point) -> f64 {
        self.sides.distance_up_to(p, self.least)
    }

    /// A parameter between two clear ones at which the strand comes too near.
    fn lapse(&self, strand: &Strand, from: f64, to: f64) -> Option<f64> {
        let middle = strand.at(f64::midpoint(from, to));
        let (a, b) = (strand.at(from), strand.at(to));
        let bow = 1.5 * from_side(middle, a, b);
        if self.sides.clears([a, b], self.least - bow) {
            return None;
        }
        let parts = 32;
        (1..parts)
            .map(|i| from + f64::from(i) / f64::from(parts) * (to - from))
            .map(|t| (t, self.far(strand.at(t))))
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .filter(|(_, far)| *far < self.least)
            .map(|(t, _)| t)
    }

    /// A clear parameter between two that are not. Along a way of length h the
    /// distance changes by h at most, so halves that can't reach far enough are left.
    fn clearing(&self, strand: &Strand, from: f64, to: f64) -> Option<f64> {
        let mut todo = vec![(from, to)];
        for _ in 0..200 {
            let (from, to) = todo.pop()?;
            let middle = f64::midpoint(from, to);
            let at = strand.at(middle);
            let far = self.far(at);
            if far >= self.least {
                return Some(middle);
            }
            // A curved way is longer than its chords, by less than a half.
            let half = 1.5 * distance(at, strand.at(from)).max(distance(at, strand.at(to)));
            if far + half >= self.least && half > self.hair / 4.0 {
                todo.extend([(from, middle), (middle, to)]);
            }
        }
        None
    }

    /// Where between a clear parameter and one that is not it stops being clear.
    fn flip(&self, strand: &Strand, mut good: f64, mut bad: f64) -> f64 {
        for _ in 0..40 {
            let middle = f64::midpoint(good, bad);
            if self.holds(strand.at(middle)) {
                good = middle;
            } else {
                bad = middle;
            }
        }
        good
    }
}

/// A stretch of a strand that is kept.
#[derive(Debug, Clone, Copy)]
struct Kept {
    strand: usize,
    from: f64,
    to: f64,
}

/// The closed edge `by` mm further in.
pub(super) fn inset(edge: &[Curve], by: f64) -> Result<Vec<Curve>, Lost> {
    let [low, high] = trace::frame(edge);
    let across = (high[0] - low[0]).min(high[1] - low[1]);
    let strands = strands(edge, by);
    let room = Room::new(edge, by, across);
    let mut kept = Vec::new();
    for (i, strand) in strands.iter().enumerate() {
        keep(i, strand, &room, &mut kept);
    }
    let long = |k: &Kept| {
        let middle = strands[k.strand].at(f64::midpoint(k.from, k.to));
        distance(middle, strands[k.strand].at(k.to)) > room.hair
    };
    kept.retain(long);
    if !kept.is_empty() {
        kept = with_missed(&strands, &kept, &room);
        kept.retain(long);
    }
    if kept.is_empty() {
        return Err(Lost::Vanished);
    }
    meet(&strands, &mut kept, across)?;
    let moved: Vec<Curve> = kept
        .iter()
        .filter_map(|k| built(&strands[k.strand], k))
        .collect();
    let whole = Sides::new(&trace::drawn(&moved, 1e-5 * across))
        .meeting()
        .is_none();
    let swept: f64 = moved.iter().map(Curve::swept).sum();
    if whole && swept > 0.0 {
        Ok(moved)
    } else {
        Err(Lost::FallenApart)
    }
}

fn strands(edge: &[Curve], by: f64) -> Vec<Strand> {
    let mut strands = Vec::new();
    for (i, curve) in edge.iter().enumerate() {
        strands.push(Strand::of(curve.clone(), by));
        let next = &edge[(i + 1) % edge.len()];
        let (before, after) = (curve.tangent(1.0), next.tangent(0.0));
        let turn = reading::turn(before, after);
        if turn <= -1e-9 {
            // From one side's normal to the other's about the corner.
            let from = before[0].atan2(-before[1]);
            let arc = Curve::circular(curve.at(1.0), by, from, from + turn);
            strands.push(Strand::of(arc, 0.0));
        }
    }
    strands
}

/// The stretches of a strand that are clear of the edge.
fn keep(i: usize, strand: &Strand, room: &Room, kept: &mut Vec<Kept>) {
    if strand.is_lost(room) {
        return;
    }
    let flip = |good: f64, bad: f64| room.flip(strand, good, bad);
    let flags: Vec<bool> = (0..=strand.samples)
        .map(|sample| room.holds(strand.at(strand.param(sample))))
        .collect();
    let mut start = flags[0].then_some(0.0);
    for sample in 1..=strand.samples {
        let (last, t) = (strand.param(sample - 1), strand.param(sample));
        let now = flags[sample as usize];
        match (start, now) {
            (None, true) => start = Some(flip(t, last)),
            (Some(from), false) => {
                let to = flip(last, t);
                kept.push(Kept {
                    strand: i,
                    from,
                    to,
                });
                start = None;
            }
            (Some(from), true) => {
                if let Some(bad) = room.lapse(strand, last, t) {
                    kept.push(Kept {
                        strand: i,
                        from,
                        to: flip(last, bad),
                    });
                    start = Some(flip(t, bad));
                }
            }
            (None, false) => {}
        }
    }
    if let Some(from) = start {
        kept.push(Kept {
            strand: i,
            from,
            to: 1.0,
        });
    }
}

/// The stretches with those between them that were too short for the samples: where
/// the ends of two neighbours lie apart.
fn with_missed(strands: &[Strand], kept: &[Kept], room: &Room) -> Vec<Kept> {
    let mut all = Vec::new();
    for (i, &one) in kept.iter().enumerate() {
        all.push(one);
        let two = kept[(i + 1) % kept.len()];
        let ends = [
            strands[one.strand].at(one.to),
            strands[two.strand].at(two.from),
        ];
        let gap = distance(ends[0], ends[1]);
        if gap <= room.hair {
            continue;
        }
        let n = strands.len();
        let steps = (two.strand + n - one.strand) % n;
        // Once round, where both lie on one strand and that backward.
        let steps = if steps == 0 && two.from <= one.to {
            n
        } else {
            steps
        };
        for step in 0..=steps {
            let number = (one.strand + step) % n;
            let strand = &strands[number];
            let from = if step == 0 { one.to } else { 0.0 };
            let to = if step == steps { two.from } else { 1.0 };
            if strand.is_lost(room) {
                continue;
            }
            for sample in 0..strand.samples {
                let (start, end) = (strand.param(sample), strand.param(sample + 1));
                let (start, end) = (start.max(from), end.min(to));
                if end - start <= 1e-9 {
                    continue;
                }
                if let Some(clear) = room.clearing(strand, start, end) {
                    all.push(Kept {
                        strand: number,
                        from: room.flip(strand, clear, start),
                        to: room.flip(strand, clear, end),
                    });
                }
            }
        }
    }
    all
}

/// Moves the ends of neighbouring stretches to where their curves cross.
fn meet(strands: &[Strand], kept: &mut [Kept], across: f64) -> Result<(), Lost> {
    let n = kept.len();
    for i in 0..n {
        let j = (i + 1) % n;
        let (one, two) = (&strands[kept[i].strand], &strands[kept[j].strand]);
        let (mut s, mut t) = (kept[i].to, kept[j].from);
        if distance(one.at(s), two.at(t)) > 1e-3 * across {
            return Err(Lost::FallenApart);
        }
        // Newton's method on one(s) = two(t).
        for _ in 0..20 {
            let (p, q) = (one.at(s), two.at(t));
            let miss = [q[0] - p[0], q[1] - p[1]];
            if miss[0].hypot(miss[1]) <= 1e-12 * across {
                break;
            }
            let slope = |strand: &Strand, t: f64| {
                let (p, q) = (strand.at(t + 1e-6), strand.at(t - 1e-6));
                [(p[0] - q[0]) / 2e-6, (p[1] - q[1]) / 2e-6]
            };
            let (u, v) = (slope(one, s), slope(two, t));
            let det = u[1] * v[0] - u[0] * v[1];
            // Curves that meet smoothly have no crossing to be found.
            if det.abs() <= 1e-6 * u[0].hypot(u[1]) * v[0].hypot(v[1]) {
                break;
            }
            s += (miss[1] * v[0] - miss[0] * v[1]) / det;
            t += (miss[1] * u[0] - miss[0] * u[1]) / det;
        }
        if distance(one.at(s), two.at(t)) > 1e-6 * across {
            return Err(Lost::FallenApart);
        }
        (kept[i].to, kept[j].from) = (s, t);
    }
    if kept.iter().any(|k| k.to <= k.from) {
        return Err(Lost::FallenApart);
    }
    Ok(())
}

/// A stretch as a curve: lines and circles exactly, any other as cubics in its
/// own directions.
fn built(strand: &Strand, kept: &Kept) -> Option<Curve> {
    match &strand.path {
        Curve::Line(..) => Some(Curve::Line(strand.at(kept.from), strand.at(kept.to))),
        Curve::Arc {
            centre,
            radii: [a, b],
            from,
            to,
        } if (a - b).abs() <= 1e-12 * a => {
            // A left turn about its centre shrinks, a right turn grows.
            let radius = a - strand.off * (to - from).signum();
            let angle = |t: f64| from + t * (to - from);
            (radius > 1e-12 * a)
                .then(|| Curve::circular(*centre, radius, angle(kept.from), angle(kept.to)))
        }
        _ => {
            let samples = 4 * strand.samples;
            let share = (kept.to - kept.from) / f64::from(samples);
            let places: Vec<[Point; 2]> = (0..=samples)
                .map(|i| {
                    let t = kept.from + f64::from(i) * share;
                    [strand.at(t), strand.path.tangent(t)]
                })
                .collect();
            Some(Curve::spline(places.windows(2).map(smooth).collect()))
        }
    }
}

/// The cubic between two places in given directions.
fn smooth(ends: &[[Point; 2]]) -> Span {
    let ([from, leaving], [to, arriving]) = (ends[0], ends[1]);
    let along = [to[0] - from[0], to[1] - from[1]];
    let turned = reading::turn(leaving, along).abs() + reading::turn(along, arriving).abs();
    let size = reading::reach(distance(from, to), turned);
    Span {
        from,
        leaving: leaving.map(|x| size * x),
        to,
        arriving: arriving.map(|x| size * x),
    }
}

/// Whether every corner points outward.
pub(super) fn points_outward(sharp: &[Curve]) -> bool {
    fillet::corners(sharp).iter().all(|(_, turn)| *turn > 0.0)
}
