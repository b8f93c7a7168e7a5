//! A piece from above, with how deep its coat is over each place.

mod map;
mod notes;
mod wording;

use super::care::Care;
use super::frame::Frame;
use super::scale::frame;
use crate::geometry::{Ring, ThinCorner};
use crate::quantity::{Angle, Length, Share, Units};
use crate::show::draw::{DrawError, Picture};

/// All that is deeper than a depth.
#[derive(Debug, Clone, PartialEq)]
pub struct Deeper<'a> {
    /// The depth.
    pub than: Length,
    /// The lines about it: counter-clockwise, and clockwise about what is less deep.
    pub rings: &'a [Ring],
    /// Whether its line is drawn and labelled.
    pub labelled: bool,
}

/// How the fill that is drawn stands to what was asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Drawn {
    /// It is what was asked.
    Asked,
    /// It is what was asked and so little that it would pull back from the edge.
    PullsBack,
    /// What was asked would run over, so the target fill is drawn.
    Target,
}

/// What a map of depths shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Depth<'a> {
    /// The piece's name, as the maker wrote it.
    pub piece: &'a str,
    /// The blank in a few words: "38 mm round".
    pub blank: &'a str,
    /// The blank's edge, then its holes.
    pub outline: &'a [Ring],
    /// The height of a wall around the floor, from which depths count; 0 is none.
    pub wall: Length,
    /// How deep the coat is at its deepest.
    pub peak: Length,
    /// Where that is.
    pub deepest: [Length; 2],
    /// From the least depth to the greatest.
    pub bands: Vec<Deeper<'a>>,
    /// The share of the top on which it is at least half as deep as the peak.
    pub half_as_deep: Share,
    /// How far in from its corners it is less than that.
    pub thin: &'a [ThinCorner],
    /// The stretches of the edge that stand flatter than the angle at which it pulls back.
    pub thin_edge: &'a [Vec<[Length; 2]>],
    /// The share of the edge that those are.
    pub thin_share: Share,
    /// That angle.
    pub pull_back: Angle,
    /// Which fill is drawn.
    pub drawn: Drawn,
    /// The cautions of its coating.
    pub care: Care,
    /// The units to print.
    pub units: Units,
}

/// Draws a piece from above, to scale, darker where its coat is deeper.
///
/// A few lines of equal depth bear their depth. Corners that stay thin are hatched, and a
/// dotted edge tells where the coat may pull back.
///
/// # Errors
/// [`DrawError::NotPositive`] or [`DrawError::Surface`] for numbers that make no picture;
/// [`DrawError::Crowded`] if labels can't be kept apart; otherwise what
/// [`Picture::draw`] returns.
///
/// ```
/// use brimful::coating::cautions;
/// use brimful::geometry::Outline;
/// use brimful::quantity::{Angle, Length, Share, Units};
/// use brimful::show::chart::{Care, Deeper, Depth, Drawn, depth};
///
/// let mm = Length::from_mm;
/// let ring = |across| Outline::round(mm(across)).unwrap().drawn(mm(0.01));
/// let inner = ring(30.0);
/// let picture = depth(&Depth {
///     piece: "tide magnet",
///     blank: "38 mm round",
///     outline: &ring(38.0),
///     wall: Length::ZERO,
///     peak: mm(1.1),
///     deepest: [Length::ZERO; 2],
///     bands: vec![Deeper { than: mm(0.55), rings: &inner, labelled: true }],
///     half_as_deep: Share::from_percent(62.0),
///     thin: &[],
///     thin_edge: &[],
///     thin_share: Share::ZERO,
///     pull_back: Angle::from_deg(12.0),
///     drawn: Drawn::Asked,
///     care: Care::of_family("water-based", cautions("water-based").unwrap()),
///     units: Units::Metric,
/// })?;
/// assert!(picture.svg.contains("at least half as deep on 62 % of its top"));
/// # Ok::<(), brimful::show::draw::DrawError>(())
/// ```
pub fn depth(depth: &Depth<'_>) -> Result<Picture, DrawError> {
    depth.check()?;
    let words = Frame::lay_out(
        &wording::title(depth),
        &wording::under(depth),
        Some(&depth.care),
    )?;
    let map = map::Map::lay_out(depth, words.top())?;
    words.picture(wording::words(depth), map.bottom(), |canvas| {
        map.draw(canvas)
    })
}

impl Depth<'_> {
    fn check(&self) -> Result<(), DrawError> {
        let positive = |what, value: f64| {
            if value.is_finite() && value > 0.0 {
                Ok(())
            } else {
                Err(DrawError::NotPositive { what, value })
            }
        };
        positive("the deepest place in mm", self.peak.mm())?;
        for band in &self.bands {
            positive("a depth in mm", band.than.mm())?;
        }
        let [low, high] = frame(self.outline.iter().flatten());
        positive("the blank's length in mm", high[0] - low[0])?;
        positive("the blank's width in mm", high[1] - low[1])?;
        positive("the share half as deep", self.half_as_deep.fraction())?;
        let lines = self.bands.iter().flat_map(|band| band.rings.iter());
        let mut points = lines.chain(self.thin_edge).flatten().flatten();
        if points.any(|x| !x.mm().is_finite()) {
            return Err(DrawError::Surface {
                level: "some depth",
                trouble: "has a point that is not a number",
            });
        }
        Ok(())
    }
}
