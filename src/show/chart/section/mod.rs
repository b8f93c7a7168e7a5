//! A piece cut through: the blank, its dome, and the fill window.

mod blank;
mod body;
mod edge;
mod rim;
mod syringe;
mod wording;

pub use body::Body;
pub use rim::Rim;

use super::care::Care;
use super::frame::{Frame, PAD, WIDTH};
use crate::quantity::{Angle, Length, Units, Volume};
use crate::show::draw::palette::{BUOY, HEATHER, SLATE, TIDE};
use crate::show::draw::{Dash, DrawError, Pen, Picture, Point};

/// A point of a surface in the plane of the cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct At {
    /// From the left edge of the blank's top, `[m]` to the right.
    pub across: Length,
    /// Above the blank's top, `[m]`.
    pub up: Length,
}

/// One fill of the blank and the surface it makes.
#[derive(Debug, Clone, PartialEq)]
pub struct Level {
    /// How much coating is poured for it.
    pub volume: Volume,
    /// Its surface, from the left edge to the right, at least three points.
    pub surface: Vec<At>,
    /// The angle inside the coating between its surface and the top, at the right edge of this cut.
    pub edge_angle: Angle,
}

/// What a cross-section shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Section<'a> {
    /// The piece's name, as the maker wrote it.
    pub piece: &'a str,
    /// The blank in a few words, to follow "fills the": "38 mm round".
    pub blank: &'a str,
    /// The blank's width along the cut.
    pub width: Length,
    /// Where the cut leaves the blank in between, over a hole or past a notch:
    /// from and to, as distances from the left edge, in order.
    pub gaps: Vec<[Length; 2]>,
    /// The blank's thickness. `None`: not said, and the picture says so.
    pub thickness: Option<Length>,
    /// What the blank is made of, as far as its coating is concerned.
    pub body: Body,
    /// What the edge of its top is like.
    pub rim: Rim,
    /// What lies dry under the coat already; nothing under the first.
    pub under: Volume,
    /// The fill that the plan asks for.
    pub target: Level,
    /// The least that stays out at the edge, where the plan knows it.
    pub pull_back: Option<Level>,
    /// The most that the edge holds, where the plan knows it.
    pub brim: Option<Level>,
    /// The largest angle along the whole edge at the target fill, where it is larger than at this
    /// cut.
    pub steepest: Option<Angle>,
    /// The target's surface once dry, where the coating shrinks.
    pub dry: Option<Vec<At>>,
    /// The cautions of its coating.
    pub care: Care,
    /// The units to print.
    pub units: Units,
}

/// Draws a piece cut through its middle, to scale, with its fill window.
///
/// Above: the whole piece, as high as it is wide in millimetres for
/// millimetres, with the surface at the target fill and at both limits. Below
/// left: the volumes, on the barrel of a syringe. Below right: the right-hand
/// edge some times larger, so that the edge angles can be seen as they are.
///
/// The picture is 960 px wide; its height follows its content.
///
/// # Errors
///
/// [`DrawError::NotPositive`], [`DrawError::Surface`] or
/// [`DrawError::NoWindow`] for numbers that make no picture;
/// [`DrawError::Crowded`] if labels can't be kept apart; otherwise what
/// [`Picture::draw`] returns.
///
/// ```
/// use brimful::coating::cautions;
/// use brimful::quantity::{Angle, Length, Units, Volume};
/// use brimful::show::chart::{At, Body, Care, Level, Rim, Section, section};
///
/// let at = |across, up| At { across: Length::from_mm(across), up: Length::from_mm(up) };
/// let picture = section(&Section {
///     piece: "tide magnet",
///     blank: "38 mm round",
///     width: Length::from_mm(38.0),
///     gaps: Vec::new(),
///     thickness: Some(Length::from_mm(5.0)),
///     body: Body::Porous,
///     rim: Rim::Sharp,
///     under: Volume::ZERO,
///     target: Level {
///         volume: Volume::from_ml(1.2),
///         surface: vec![at(0.0, 0.0), at(19.0, 2.0), at(38.0, 0.0)],
///         edge_angle: Angle::from_deg(12.0),
///     },
///     pull_back: None,
///     brim: None,
///     steepest: None,
///     dry: None,
///     care: Care::of_family("water-based", cautions("water-based").unwrap()),
///     units: Units::Metric,
/// })?;
/// assert!(picture.svg.contains("1.2 mL fills the 38 mm round"));
/// # Ok::<(), brimful::show::draw::DrawError>(())
/// ```
pub fn section(section: &Section<'_>) -> Result<Picture, DrawError> {
    section.check()?;
    let frame = Frame::lay_out(
        &wording::title(section),
        &wording::under(section),
        Some(&section.care),
    )?;
    let whole = blank::Blank::lay_out(section, frame.top())?;
    let below = whole.bottom() + 26.0;
    let syringe = syringe::Syringe::lay_out(section, Point::new(PAD, below))?;
    let edge = edge::Edge::lay_out(section, &whole, below)?;
    frame.picture(wording::words(section), below + edge::HEIGHT, |canvas| {
        whole.draw(canvas)?;
        syringe.draw(canvas)?;
        edge.draw(canvas)
    })
}

/// Draws the fill window alone, on the barrel of a syringe, for a page that has room
/// for no more and bears the piece's name and the cautions itself.
///
/// # Errors
///
/// As [`section`](fn@section).
pub fn window(section: &Section<'_>) -> Result<Picture, DrawError> {
    section.check()?;
    let syringe = syringe::Syringe::lay_out(section, Point::new(syringe::PAD, syringe::ABOVE))?;
    Picture::draw(syringe::SIZE, wording::words(section), |canvas| {
        syringe.draw_alone(canvas)
    })
}

/// What a surface stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Mark {
    Dry,
    PullBack,
    Target,
    Brim,
}

impl Mark {
    const fn name(self) -> &'static str {
        match self {
            Self::Dry => "once dry",
            Self::PullBack => "pull-back limit",
            Self::Target => "target fill",
            Self::Brim => "brim limit",
        }
    }

    const fn pen(self) -> Pen {
        let (colour, width, dash) = match self {
            Self::Dry => (SLATE, 1.0, Dash::Solid),
            Self::PullBack => (HEATHER, 2.0, Dash::Dots),
            Self::Target => (TIDE, 2.6, Dash::Solid),
            Self::Brim => (BUOY, 2.0, Dash::Long),
        };
        Pen {
            colour,
            width,
            dash,
        }
    }
}

impl Section<'_> {
    /// Where the target's surface meets the edge, on the right.
    fn hold(&self) -> At {
        let flat = At {
            across: self.width,
            up: Length::ZERO,
        };
        self.target.surface.last().copied().unwrap_or(flat)
    }

    /// The fills, from the least to the most.
    fn levels(&self) -> Vec<(Mark, &Level)> {
        let mut levels = vec![(Mark::Target, &self.target)];
        levels.extend(self.pull_back.iter().map(|level| (Mark::PullBack, level)));
        levels.extend(self.brim.iter().map(|level| (Mark::Brim, level)));
        levels.sort_by(|a, b| a.1.volume.ml().total_cmp(&b.1.volume.ml()));
        levels
    }

    /// Every surface, the dry one first, then from the least fill to the most.
    fn surfaces(&self) -> Vec<(Mark, &[At])> {
        let dry = self
            .dry
            .iter()
            .map(|surface| (Mark::Dry, surface.as_slice()));
        dry.chain(
            self.levels()
                .into_iter()
                .map(|(mark, level)| (mark, level.surface.as_slice())),
        )
        .collect()
    }

    /// A surface in runs from gap to gap.
    fn runs<'s>(&self, points: &'s [At]) -> Vec<&'s [At]> {
        let mut rest = points;
        let mut runs = Vec::with_capacity(self.gaps.len() + 1);
        for [from, to] in &self.gaps {
            let middle = (*from + *to) / 2.0;
            let (before, after) = rest.split_at(rest.partition_point(|at| at.across < middle));
            runs.push(before);
            rest = after;
        }
        runs.push(rest);
        runs.retain(|run| run.len() > 1);
        runs
    }

    /// A place across that lies on the blank: itself, or where it falls into a gap,
    /// a little way onto the blank beside it.
    fn beside_gaps(&self, across: Length) -> Length {
        let inside = |[from, to]: &&[Length; 2]| *from < across && across < *to;
        let Some([from, to]) = self.gaps.iter().find(inside) else {
            return across;
        };
        let aside = (*to - *from) / 10.0;
        if across - *from < *to - across {
            *from - aside
        } else {
            *to + aside
        }
    }

    fn check(&self) -> Result<(), DrawError> {
        positive("the blank's width in mm", self.width.mm())?;
        positive("the blank's thickness in mm", self.drawn_thickness().mm())?;
        for (mark, level) in self.levels() {
            positive("a fill in mL", level.volume.ml())?;
            let angle = level.edge_angle.deg();
            positive("an edge angle in degrees", angle)?;
            if angle >= 180.0 {
                return Err(surface(mark, "meets the edge at 180 degrees or more"));
            }
        }
        for (mark, points) in self.surfaces() {
            self.check_surface(mark, points)?;
        }
        match (&self.pull_back, &self.brim) {
            (Some(least), Some(most)) if least.volume >= most.volume => Err(DrawError::NoWindow {
                pull_back_ml: least.volume.ml(),
                brim_ml: most.volume.ml(),
            }),
            _ => Ok(()),
        }
    }

    fn check_surface(&self, mark: Mark, points: &[At]) -> Result<(), DrawError> {
        let (Some(first), Some(last), 3..) = (points.first(), points.last(), points.len()) else {
            return Err(surface(mark, "has fewer than three points"));
        };
        if points
            .iter()
            .any(|p| !(p.across.mm().is_finite() && p.up.mm().is_finite()))
        {
            return Err(surface(mark, "has a point that is not a number"));
        }
        // A thousandth of the width is less than the picture's own line.
        let slack = self.width.mm() * 1e-3;
        let soft = self.rim.radius().mm();
        // A cut that meets the edge aslant meets more of its rounding.
        let most = if soft > 0.0 {
            self.width.mm() / 4.0
        } else {
            slack
        };
        let ends = [first.across, self.width - last.across];
        if ends.iter().any(|end| !(-slack..=most).contains(&end.mm())) {
            return Err(surface(mark, "does not run from edge to edge"));
        }
        if peak(points) <= 0.0 || points.iter().any(|p| p.up.mm() < -soft - slack) {
            return Err(surface(mark, "does not rise above the blank"));
        }
        Ok(())
    }
}

/// The highest point of a surface, `[mm]`.
fn peak(points: &[At]) -> f64 {
    points.iter().map(|p| p.up.mm()).fold(0.0, f64::max)
}

fn positive(what: &'static str, value: f64) -> Result<(), DrawError> {
    if value.is_finite() && value > 0.0 {
        Ok(())
    } else {
        Err(DrawError::NotPositive { what, value })
    }
}

fn surface(mark: Mark, trouble: &'static str) -> DrawError {
    DrawError::Surface {
        level: mark.name(),
        trouble,
    }
}
