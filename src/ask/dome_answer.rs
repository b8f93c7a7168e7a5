//! The answer to how much one blank holds.

use serde::Serialize;

use super::number::{deg, fraction, g, kg_per_m3, ml, mm, mm2, mn_per_m};
use super::{
    By, CautionAnswer, DomeWarning, DryHeightAnswer, Filled, LevelAnswer, PieceAnswer, ThinAnswer,
};
use crate::geometry::{Blank, Dome};
use crate::quantity::{Angle, Area, Density, Length, Mass, Share, SurfaceTension, Volume};

/// One fill: a dome at rest on the blank.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Fill {
    /// Wet volume.
    #[serde(rename = "volume_ml", serialize_with = "ml")]
    pub volume: Volume,
    /// Wet mass.
    #[serde(rename = "mass_g", serialize_with = "g")]
    pub mass: Mass,
    /// Wet height in the middle.
    #[serde(rename = "peak_mm", serialize_with = "mm")]
    pub peak: Length,
    /// Volume over top area.
    #[serde(rename = "mean_height_mm", serialize_with = "mm")]
    pub mean_height: Length,
    /// Largest edge angle along the outline.
    #[serde(rename = "edge_angle_deg", serialize_with = "deg")]
    pub edge_angle: Angle,
    /// Area of the domed surface.
    #[serde(rename = "surface_area_mm2", serialize_with = "mm2")]
    pub surface_area: Area,
}

impl From<Dome> for Fill {
    fn from(dome: Dome) -> Self {
        Self {
            volume: dome.volume,
            mass: dome.mass,
            peak: dome.peak,
            mean_height: dome.mean_height(),
            edge_angle: dome.edge_angle,
            surface_area: dome.surface_area,
        }
    }
}

/// The fills at the bounds of the window, and at its target.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Window {
    /// The pull-back limit.
    pub pull_back: Fill,
    /// The target fill.
    pub target: Fill,
    /// The brim limit.
    pub brim: Fill,
}

/// Where the fill that was asked about lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Inside a wall and no higher than its rim: no dome.
    BelowRim,
    /// Below the pull-back limit, with no wall to hold it.
    PullsBack,
    /// Inside the fill window, or inside a wall up to its brim limit.
    Holds,
    /// Above the brim limit.
    RunsOver,
}

/// Where a fill lies that makes no dome inside its wall.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct BelowRim {
    /// How far the mean lies below the rim; 0 is level with it.
    #[serde(rename = "below_rim_mm", serialize_with = "mm")]
    pub below: Length,
    /// The most by which it may climb the wall over its middle.
    #[serde(rename = "climb_mm", serialize_with = "mm")]
    pub climb: Length,
    /// The most by which its middle may lie below its mean for that.
    #[serde(rename = "sag_mm", serialize_with = "mm")]
    pub sag: Length,
}

/// What is left of a fill when it is dry, about: every height shrinks alike.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Dried {
    /// Dry volume.
    #[serde(rename = "volume_ml", serialize_with = "ml")]
    pub volume: Volume,
    /// Dry height in the middle, where the wet one is known.
    #[serde(rename = "peak_mm", serialize_with = "mm")]
    pub peak: Option<Length>,
    /// Dry volume over top area.
    #[serde(rename = "mean_height_mm", serialize_with = "mm")]
    pub mean_height: Length,
    /// Dry mass: the wet one less the water; none where the density would make
    /// what stays weigh nothing.
    #[serde(rename = "mass_g", serialize_with = "g")]
    pub mass: Option<Mass>,
}

/// What all the pieces carry in all coats on all flooded faces, before losses and leftovers.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Total {
    /// How many pieces.
    pub count: u32,
    /// Wet volume on all of them.
    #[serde(rename = "volume_ml", serialize_with = "ml")]
    pub volume: Volume,
    /// Wet mass on all of them.
    #[serde(rename = "mass_g", serialize_with = "g")]
    pub mass: Mass,
}

/// What would make a fill possible that runs over.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct WayOut {
    /// A wall, or a dam of tape, this much higher than the edge is now, filled to
    /// the target dome; none where that would be a casting, deeper than 10 mm.
    #[serde(rename = "wall_mm", serialize_with = "mm")]
    pub wall: Option<Length>,
    /// So many coats, each flooded to the same surface; none where no few coats build it up.
    pub coats: Option<u32>,
    /// How far each of them is filled.
    pub filled: Option<Filled>,
}

/// Where one figure of a coating comes from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FigureSource {
    /// Its name in the coating files.
    pub figure: &'static str,
    /// Its source, in words.
    pub source: String,
}

/// What one blank holds.
///
/// The measures of the fill that was asked about stand at the top; where no
/// edge could hold it, those that the question does not tell are missing.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DomeAnswer {
    /// The coating.
    pub coating: String,
    /// The blank.
    #[serde(skip)]
    pub blank: Blank,
    /// The measure that was asked by.
    #[serde(skip)]
    pub by: By,
    /// Area of the flat top.
    #[serde(rename = "outline_area_mm2", serialize_with = "mm2")]
    pub outline_area: Area,
    /// Wet volume on one piece.
    #[serde(rename = "volume_ml", serialize_with = "ml")]
    pub volume: Option<Volume>,
    /// Wet mass on one piece.
    #[serde(rename = "mass_g", serialize_with = "g")]
    pub mass: Option<Mass>,
    /// Wet height in the middle.
    #[serde(rename = "peak_mm", serialize_with = "mm")]
    pub peak: Option<Length>,
    /// Volume over top area.
    #[serde(rename = "mean_height_mm", serialize_with = "mm")]
    pub mean_height: Option<Length>,
    /// Largest edge angle along the outline.
    #[serde(rename = "edge_angle_deg", serialize_with = "deg")]
    pub edge_angle: Option<Angle>,
    /// Area of the domed surface.
    #[serde(rename = "surface_area_mm2", serialize_with = "mm2")]
    pub surface_area: Option<Area>,
    /// Volume at the pull-back limit.
    #[serde(rename = "pull_back_ml", serialize_with = "ml")]
    pub pull_back: Volume,
    /// Volume at the target.
    #[serde(rename = "target_ml", serialize_with = "ml")]
    pub target: Volume,
    /// Volume at the brim limit.
    #[serde(rename = "brim_ml", serialize_with = "ml")]
    pub brim: Volume,
    /// Volume that fills a walled blank level with its rim; none without a wall.
    #[serde(rename = "rim_ml", serialize_with = "ml")]
    pub rim: Option<Volume>,
    /// Where it lies, if that is inside a wall and no higher than its rim.
    #[serde(flatten)]
    pub below_rim: Option<BelowRim>,
    /// The fill window with all its measures.
    pub window: Window,
    /// Where the fill lies in it.
    pub verdict: Verdict,
    /// The volume as a share of that at the brim limit.
    #[serde(serialize_with = "fraction")]
    pub share_of_brim: Option<Share>,
    /// What is left when it is dry, after all its coats.
    pub dry: Option<Dried>,
    /// How many coats and how much each, where a dry height was asked for: the
    /// measures above are then the first coat's.
    pub dry_height: Option<DryHeightAnswer>,
    /// What to look out for.
    pub warnings: Vec<DomeWarning>,
    /// What follows from the piece beside its top.
    #[serde(flatten)]
    pub piece: PieceAnswer,
    /// What ten pieces gain on a scale, wet, in the first coat on one face.
    #[serde(rename = "ten_gain_g", serialize_with = "g")]
    pub ten_gain: Option<Mass>,
    /// What ten pieces have gained on one face once all its coats are dry.
    #[serde(rename = "ten_gain_dry_g", serialize_with = "g")]
    pub ten_gain_dry: Option<Mass>,
    /// What all the pieces carry.
    pub total: Option<Total>,
    /// How far out of level the fill may lie.
    #[serde(flatten)]
    pub level: LevelAnswer,
    /// Where the edge stays thin.
    #[serde(flatten)]
    pub thin: ThinAnswer,
    /// On a rectangle: height 2 mm in from both sides of a corner, as a share of the peak.
    #[serde(serialize_with = "fraction")]
    pub corner_height_share: Option<Share>,
    /// The radius that sharp corners pointing inward were taken to have; none
    /// where there are none.
    #[serde(rename = "inner_corners_mm", serialize_with = "mm")]
    pub inner_corners: Option<Length>,
    /// What would make a fill possible that runs over.
    pub way_out: Option<WayOut>,
    /// Surface tension reckoned with.
    #[serde(rename = "surface_tension_mn_per_m", serialize_with = "mn_per_m")]
    pub surface_tension: SurfaceTension,
    /// Density reckoned with.
    #[serde(rename = "density_kg_per_m3", serialize_with = "kg_per_m3")]
    pub density: Density,
    /// Solids by volume reckoned with.
    #[serde(rename = "solids_fraction", serialize_with = "fraction")]
    pub solids: Option<Share>,
    /// Capillary length: how far in from the edge the surface bends.
    #[serde(rename = "capillary_length_mm", serialize_with = "mm")]
    pub capillary_length: Length,
    /// Where each of the coating's figures comes from.
    pub figures: Vec<FigureSource>,
    /// What is odd about the question.
    pub remarks: Vec<String>,
    /// What to take care of; the first line says what comes before this list.
    pub cautions: Vec<CautionAnswer>,
}
