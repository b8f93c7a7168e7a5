//! A dome's shape: its section and its heights.

use std::ops::Deref;

use super::contour::Point;
use super::dome::{Dome, Top};
use super::newton::Solution;
use super::outline::{Cut, Outline};
use super::probe::Probe;
use super::round;
use crate::quantity::Length;

/// The top that a shape lies on.
pub(super) enum Under<'a> {
    Lent(&'a Top),
    Own(Box<Top>),
}

impl Deref for Under<'_> {
    type Target = Top;

    fn deref(&self) -> &Top {
        match self {
            Self::Lent(top) => top,
            Self::Own(top) => top,
        }
    }
}

/// A dome with its shape.
pub struct Shape<'a> {
    pub(super) top: Under<'a>,
    /// The dome's measures.
    pub dome: Dome,
    pub(super) surface: Option<Solution>,
}

/// Places looked at along each stretch of a section.
const PLACES: u32 = 96;

impl Shape<'_> {
    /// The top it lies on.
    pub(super) fn top(&self) -> &Top {
        &self.top
    }

    /// Points of the surface from edge to edge, straight across the middle of the
    /// outline's box the shorter way: distance from the first edge, and height.
    /// Over a hole there is none, and the two edges beside it stand in the list.
    #[must_use]
    pub fn section(&self) -> Vec<(Length, Length)> {
        let outline = &self.top.outline;
        let points = if outline.is_plain() {
            self.across_middle()
        } else {
            self.across_box()
        };
        let points = points.into_iter();
        points
            .map(|(x, z)| (Length::from_mm(x), Length::from_mm(z)))
            .collect()
    }

    /// The section of a top that mirrors in its middle, mm.
    fn across_middle(&self) -> Vec<(f64, f64)> {
        let half = self.half_section();
        let width = self.top.outline.across().mm();
        let left = half
            .iter()
            .map(|&(from_middle, z)| (width / 2.0 - from_middle, z));
        let right = half.iter().rev().skip(1);
        let right = right.map(|&(from_middle, z)| (width / 2.0 + from_middle, z));
        left.chain(right).collect()
    }

    /// Distance from the middle and height, mm, from the edge inward.
    pub(super) fn half_section(&self) -> Vec<(f64, f64)> {
        if let (Some(solution), Some(plate)) = (&self.surface, &self.top.plate) {
            return plate.section(solution, self.top.outline.short_way());
        }
        let (c, radius) = (self.top.c, self.top.outline.across().mm() / 2.0);
        let profile = round::profile(radius / c, self.dome.edge_angle.rad());
        profile.iter().map(|&(r, z)| (r * c, z * c)).collect()
    }

    /// The section of any other top, mm, stretch by stretch.
    fn across_box(&self) -> Vec<(f64, f64)> {
        let outline = &self.top.outline;
        self.across(outline, &outline.cut())
    }

    /// The section along a cut, mm, from where that enters an outline.
    pub(super) fn across(&self, outline: &Outline, cut: &Cut) -> Vec<(f64, f64)> {
        let entered = outline.crossings(cut);
        let Some(&[first, _]) = entered.first() else {
            return Vec::new();
        };
        let (from, way) = (cut.from, cut.way);
        let stretches = self.top.outline.crossings(cut);
        let probe = self.probe();
        let mut points = Vec::new();
        for [begin, end] in stretches {
            points.push((begin - first, 0.0));
            for i in 1..PLACES {
                // Close together at both ends, where the surface bends.
                let share =
                    0.5 - 0.5 * (std::f64::consts::PI * f64::from(i) / f64::from(PLACES)).cos();
                let at = begin + share * (end - begin);
                let place = [from[0] + at * way[0], from[1] + at * way[1]];
                if let Some(z) = self.height(probe.as_ref(), place) {
                    points.push((at - first, z));
                }
            }
            points.push((end - first, 0.0));
        }
        points
    }

    pub(super) fn probe(&self) -> Option<Probe<'_>> {
        let (solution, plate) = (self.surface.as_ref()?, self.top.plate.as_ref()?);
        Some(Probe::new(plate, solution))
    }

    /// The height over a place, mm, in the outline's own coordinates.
    pub(super) fn height(&self, probe: Option<&Probe>, place: Point) -> Option<f64> {
        match probe {
            Some(probe) => probe.height(place),
            None => height_on(&self.half_section(), place[0].hypot(place[1])),
        }
    }

    /// The height over a place of the top, in the outline's own coordinates;
    /// `None` outside the outline and over a hole.
    #[must_use]
    pub fn height_at(&self, x: Length, y: Length) -> Option<Length> {
        let height = self.height(self.probe().as_ref(), [x.mm(), y.mm()]);
        height.map(Length::from_mm)
    }
}

/// The height at a distance from the middle, of a chain from the edge inward.
fn height_on(half: &[(f64, f64)], from_middle: f64) -> Option<f64> {
    let steps = half
        .windows(2)
        .find(|w| w[0].0 >= from_middle && w[1].0 <= from_middle)?;
    let ((r0, z0), (r1, z1)) = (steps[0], steps[1]);
    let share = if r0 > r1 {
        (r0 - from_middle) / (r0 - r1)
    } else {
        0.0
    };
    Some(z0 + share * (z1 - z0))
}
