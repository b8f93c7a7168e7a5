//! How much one blank holds.

use super::dome_coats::{DryHeight, SLIP};
use super::dome_poured::{Poured, Stands, answer};
use super::{DomeAnswer, LevelAnswer, PieceFacts, ThinAnswer, Window};
use crate::coating::{Coating, Key};
use crate::consumption::{Heights, UseError};
use crate::geometry::{Ask, Blank, DomeError, EdgeAngles, Filling, Liquid};
use crate::quantity::{Angle, Density, Length, Mass, Share, SurfaceTension, Volume};

/// What a blank holds, asked of one coating.
#[derive(Debug, Clone, PartialEq)]
pub struct DomeQuestion {
    /// The blank's top.
    pub blank: Blank,
    /// The coating.
    pub coating: Coating,
    /// How many pieces, for a total.
    pub count: Option<u32>,
    /// The measure that it is asked by.
    pub by: By,
    /// The maker's own figures.
    pub overrides: Overrides,
    /// What is told of the piece beside its top.
    pub piece: PieceFacts,
}

impl DomeQuestion {
    /// Solids by volume: the maker's own, or the coating's.
    pub(super) fn solids(&self) -> Option<Share> {
        self.overrides.solids.or_else(|| self.coating.solids())
    }
}

/// The measure that a fill is asked by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum By {
    /// The coating's own target edge angle.
    Target,
    /// An edge angle, above 0 and up to 150 degrees on a round blank, 90 on any
    /// other, less on a soft edge: a question about the shape.
    EdgeAngle(Angle),
    /// Wet height in the middle.
    Peak(Length),
    /// Dry height in the middle, over as many coats as it takes.
    DryHeight(Length),
    /// Wet volume on one piece.
    Volume(Volume),
    /// Wet mass on one piece.
    Mass(Mass),
}

/// The maker's own figures for a coating: any positive value, for a dome
/// without gravity is a fair question; an unbelievable one is remarked on. Solids
/// must be believable.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Overrides {
    /// Surface tension of the wet coating.
    pub surface_tension: Option<SurfaceTension>,
    /// Density of the wet coating.
    pub density: Option<Density>,
    /// Solids by volume.
    pub solids: Option<Share>,
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum DomeRefusal {
    /// The coating is not one that is flooded.
    #[error(
        "{coating} is not flooded as a dome (it has no {}); ask about a dome glaze or a dome epoxy",
        lacks.join(", ")
    )]
    NoDome {
        /// The coating.
        coating: String,
        /// The properties that a dome needs and it has not.
        lacks: Vec<&'static str>,
    },
    /// So high a coat is a slip of unit.
    #[error(
        "no edge holds a coat {} mm high: a free edge holds 2 to 3 mm, and a wall as much over its rim; were millimetres meant?",
        (.0.mm() * 1000.0).round() / 1000.0
    )]
    Height(Length),
    /// Solids that no coating has.
    #[error("{0}")]
    Solids(&'static str),
    /// A dry height is asked for, and the solids are not known.
    #[error("no solids by volume are known for {0}, so no dry height can be told; give --solids")]
    NoSolids(String),
    /// No thickness of a blank.
    #[error("a blank is more than 0 and at most 200 mm thick, not {} mm", .0.mm())]
    Thickness(Length),
    /// The sides are asked for, and not how high they are.
    #[error(
        "the sides are the edge's length times the blank's thickness; give --thickness \"5 mm\""
    )]
    NoThickness,
    /// No chain that a small piece hangs on.
    #[error("a chain is more than 0 and at most 9.5 mm thick, not {} mm; were millimetres meant?", .0.mm())]
    Chain(Length),
    /// A count of drops that can't be.
    #[error(transparent)]
    Drops(#[from] UseError),
    /// There is no such dome.
    #[error(transparent)]
    Dome(#[from] DomeError),
}

/// How far in from both sides a corner is looked at.
pub const CORNER_PLACE: Length = Length::from_mm(2.0);

/// What one blank holds of one coating.
///
/// # Errors
/// [`DomeRefusal`] where the blank or the coating is none that can carry a
/// dome, or the question makes no sense. Asking for more than an edge can hold
/// is answered, with what would make it possible.
pub fn dome(question: &DomeQuestion) -> Result<DomeAnswer, DomeRefusal> {
    question.piece.check()?;
    let coating = &question.coating;
    let wet = coating.liquid().ok_or_else(|| DomeRefusal::NoDome {
        coating: coating.family().name.clone(),
        lacks: coating.lacks_for_dome(),
    })?;
    let own = question.overrides;
    if let Some(solids) = own.solids {
        Key::Solids
            .check(solids.into())
            .map_err(DomeRefusal::Solids)?;
    }
    let liquid = Liquid {
        surface_tension: own.surface_tension.unwrap_or(wet.surface_tension),
        density: own.density.unwrap_or(wet.density),
    };
    let angles = EdgeAngles {
        pull_back: wet.pull_back,
        target: wet.target,
        brim: wet.brim,
    };
    let eased = question.blank.eased();
    let blank = eased.as_ref().map_or(&question.blank, |eased| &eased.blank);
    let filling = Filling::new(blank, liquid, angles)?;
    let window = filling.window()?;
    let window = Window {
        pull_back: window.pull_back.into(),
        target: window.target.into(),
        brim: window.brim.into(),
    };
    let dry_height = dry_height(question, window)?;
    let ask = match question.by {
        By::Target => Ask::EdgeAngle(wet.target),
        By::EdgeAngle(angle) => Ask::EdgeAngle(angle),
        By::Peak(peak) => Ask::Peak(peak),
        By::DryHeight(dry) => Ask::Peak(dry_height.map_or(dry, |dry| dry.surface())),
        By::Volume(volume) => Ask::Volume(volume),
        By::Mass(mass) => Ask::Mass(mass),
    };
    let stands = match filling.shape(ask) {
        Ok(shape) => Stands::Domed(Box::new(shape)),
        // too little for a wall, or more than any edge holds, is an answer, not a mistake
        Err(DomeError::BelowRim {
            depth,
            below,
            climb,
            sag,
        }) => Stands::BelowRim {
            depth,
            below,
            climb,
            sag,
        },
        Err(DomeError::TooMuch { .. }) => match question.by {
            By::Peak(peak) | By::DryHeight(peak) if peak - blank.wall() > SLIP => {
                return Err(DomeRefusal::Height(peak));
            }
            _ => Stands::Nowhere,
        },
        Err(other) => return Err(other.into()),
    };
    let mut poured = Poured {
        question,
        liquid,
        window,
        dry_height,
        stands,
        inner_corners: eased.as_ref().map(|eased| eased.radius),
        level: LevelAnswer::default(),
        thin: ThinAnswer::default(),
        unknown: Vec::new(),
    };
    poured.lie(&filling, angles.pull_back);
    answer(&poured)
}

/// How an asked dry height is built up; nothing where none was asked for.
fn dry_height(question: &DomeQuestion, window: Window) -> Result<Option<DryHeight>, DomeRefusal> {
    let By::DryHeight(asked) = question.by else {
        return Ok(None);
    };
    let solids = question
        .solids()
        .ok_or_else(|| DomeRefusal::NoSolids(question.coating.family().name.clone()))?;
    let edge = Heights {
        target: window.target.peak,
        brim: window.brim.peak,
    };
    Ok(Some(DryHeight::new(asked, edge, solids)))
}
