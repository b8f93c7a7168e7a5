//! The edge moved inward by the same distance everywhere.
//!
//! Each curve of the edge is moved along its normal, and a sharp corner that points
//! inward becomes the arc about it. What lies nearer to the edge than the distance is
//! cut off, and the ends that are left must meet pairwise: where they don't,
//! the outline has fallen apart.

use super::room::{Room, Strand};
use super::simple::Sides;
use super::{fillet, reading, trace};
use crate::geometry::contour::{Curve, Point, Span, distance};

/// Why nothing whole is left.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lost {
    Vanished,
    FallenApart,
}

/// More lines, arcs and smooth runs than this take more than a few seconds at the worst.
pub(super) const MOST_PIECES: usize = 10_000;

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
    let flip = |good: f64, bad: f64| room.flip(strand, good, bad);
    let flags = room.flags(strand);
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
            let from = if step == 0 { one.to } else { 0.0 };
            let to = if step == steps { two.from } else { 1.0 };
            room.search(&strands[number], from, to, &mut |from, to| {
                all.push(Kept {
                    strand: number,
                    from,
                    to,
                });
            });
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
