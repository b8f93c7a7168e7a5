//! Where a dome stays thin: at corners, and along the edge.

use super::contour::Point;
use super::filling::Filled;
use super::outline::Corner;
use super::probe::Probe;
use super::rings::Copies;
use super::shape::Shape;
use crate::quantity::{Angle, Length, Share};

/// A corner in which the coat stays thin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThinCorner {
    /// Where its two sides meet, or would meet were it not rounded.
    pub tip: [Length; 2],
    /// The direction from the tip into the outline, of length one.
    pub inward: [f64; 2],
    /// How far in from the tip that way.
    pub reach: Length,
}

/// Beyond so many corners an outline has teeth rather than corners.
const MOST_CORNERS: usize = 100;

impl Shape<'_> {
    /// The share of the edge, holes' edges too, that stands at less than an angle.
    #[must_use]
    pub fn thin_share(&self, angle: Angle) -> Share {
        let share = match (&self.surface, &self.top().plate) {
            (Some(solution), Some(plate)) => plate.rim.share_below(&solution.angles, angle.rad()),
            _ if self.dome.edge_angle.rad() < angle.rad() => 1.0,
            _ => 0.0,
        };
        Share::from_fraction(share)
    }

    /// The stretches of the edge that [`thin_share`](Self::thin_share) counts, as lines.
    #[must_use]
    pub fn thin_edge(&self, angle: Angle) -> Vec<Vec<[Length; 2]>> {
        let lines = match (&self.surface, &self.top().plate) {
            (Some(solution), Some(plate)) => {
                let below = plate
                    .rim
                    .below(&solution.angles, angle.rad(), &plate.mesh.nodes);
                let copies = Copies::of(plate.mesh.copies);
                let all = below.iter().flat_map(|line| copies.of_closed(line));
                joined(all.collect())
            }
            _ if self.dome.edge_angle.rad() < angle.rad() => {
                let outline = self.top().outline();
                let mut loops = outline.drawn(outline.across() * 1e-4);
                for line in &mut loops {
                    line.extend(line.first().copied());
                }
                return loops;
            }
            _ => Vec::new(),
        };
        let lines = lines.into_iter();
        lines
            .map(|line| line.into_iter().map(|p| p.map(Length::from_mm)).collect())
            .collect()
    }

    /// The smallest edge angle along the outline: zero at a sharp corner.
    #[must_use]
    pub fn least_edge_angle(&self) -> Angle {
        match (&self.surface, &self.top().plate) {
            (Some(solution), Some(plate)) => {
                Angle::from_rad(plate.rim.smallest(&solution.angles).max(0.0))
            }
            _ => self.dome.edge_angle,
        }
    }

    /// How far in from its corners, along the lines that halve them, the coat is
    /// thinner than half the peak: the furthest of all that point outward. `None`
    /// where there are none, where from one of them it is so all the way across,
    /// and for outlines of more than a hundred corners.
    #[must_use]
    pub fn thin_reach(&self) -> Option<Length> {
        let reaches = self.thin_corners(self.dome.peak / 2.0);
        let reaches: Option<Vec<f64>> = reaches.iter().map(|(_, reach)| *reach).collect();
        let furthest = reaches?.into_iter().reduce(f64::max);
        furthest.map(Length::from_mm)
    }

    /// The corners that point outward, with how far from each, mm, the surface is less
    /// than so high over the contact line; `None`: all the way across. No corners
    /// where there are more than a hundred.
    fn thin_corners(&self, high: Length) -> Vec<(Corner, Option<f64>)> {
        let corners = self.top().outline().corners();
        if corners.len() > MOST_CORNERS {
            return Vec::new();
        }
        let probe = self.probe();
        let outward = corners.into_iter().filter(|c| c.inner_angle.deg() < 180.0);
        outward
            .map(|corner| (corner, self.reach_of(&corner, high.mm(), probe.as_ref())))
            .collect()
    }

    /// The reach from one corner, mm.
    fn reach_of(&self, corner: &Corner, high: f64, probe: Option<&Probe>) -> Option<f64> {
        let (tip, way) = (corner.tip.map(Length::mm), corner.inward);
        let thick = |far: f64| {
            let height = self.height(probe, [tip[0] + far * way[0], tip[1] + far * way[1]]);
            height.is_some_and(|z| z >= high)
        };
        let [a, b] = self.top().outline().size().map(Length::mm);
        let most = a.hypot(b);
        let mut far = 0.25 * self.top().c.min(0.1 * most);
        while !thick(far) {
            far *= 1.25;
            if far > most {
                return None;
            }
        }
        let (mut low, mut high) = (far / 1.25, far);
        for _ in 0..20 {
            let middle = f64::midpoint(low, high);
            if thick(middle) {
                high = middle;
            } else {
                low = middle;
            }
        }
        Some(high)
    }
}

impl Filled<'_> {
    /// The corners that point outward, with how far in from each the surface is less than so
    /// high over the flat top or the floor. One from which it is so all the way across is left
    /// out, and so are all where there are more than a hundred.
    #[must_use]
    pub fn thin_corners(&self, high: Length) -> Vec<ThinCorner> {
        let corners = self.shape.thin_corners(high - self.lift).into_iter();
        corners
            .filter_map(|(corner, reach)| {
                Some(ThinCorner {
                    tip: corner.tip,
                    inward: corner.inward,
                    reach: Length::from_mm(reach?),
                })
            })
            .collect()
    }
}

/// Lines with those joined that meet at their ends, whichever way they run.
fn joined(lines: Vec<Vec<Point>>) -> Vec<Vec<Point>> {
    let near = |a: &Point, b: &Point| (a[0] - b[0]).hypot(a[1] - b[1]) < 1e-6;
    let meet = |a: Option<&Point>, b: Option<&Point>| a.zip(b).is_some_and(|(a, b)| near(a, b));
    let mut out: Vec<Vec<Point>> = Vec::new();
    for mut line in lines {
        while let Some(at) = out
            .iter()
            .position(|known| meet(known.last(), line.first()) || meet(line.last(), known.first()))
        {
            let known = out.swap_remove(at);
            let (mut before, after) = if meet(known.last(), line.first()) {
                (known, line)
            } else {
                (line, known)
            };
            before.extend(after.into_iter().skip(1));
            line = before;
        }
        out.push(line);
    }
    out
}
