//! How level the shelf must be, and where the edge stays thin.

use serde::Serialize;

use super::number::{deg, fraction, mm};
use crate::geometry::{DomeError, Filled, Filling, TiltLimit};
use crate::quantity::{Angle, Length, Share};

/// How far out of level the fill may lie.
///
/// What is missing did not happen up to 30 degrees. All is missing where the fill
/// does not stay on a level shelf, or hardly rises over a wall's rim, which is
/// not worked out.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
pub struct LevelAnswer {
    /// Beyond this tilt, the worst way down, the low side runs over.
    #[serde(rename = "level_limit_deg", serialize_with = "deg")]
    pub runs_over: Option<Angle>,
    /// The same as the fall of the shelf in a metre.
    #[serde(rename = "level_limit_mm_per_m")]
    pub runs_over_fall: Option<f64>,
    /// Beyond this tilt the high side draws back from the edge; missing where
    /// the low side runs over before.
    #[serde(rename = "draws_back_limit_deg", serialize_with = "deg")]
    pub draws_back: Option<Angle>,
    /// The same as the fall of the shelf in a metre.
    #[serde(rename = "draws_back_limit_mm_per_m")]
    pub draws_back_fall: Option<f64>,
    /// Up to this tilt the low half of the coat is less than a tenth thicker on
    /// average than the high half.
    #[serde(rename = "even_limit_deg", serialize_with = "deg")]
    pub even: Option<Angle>,
    /// The same as the fall of the shelf in a metre.
    #[serde(rename = "even_limit_mm_per_m")]
    pub even_fall: Option<f64>,
}

/// Where the edge stays thin.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
pub struct ThinAnswer {
    /// Share of the edge that stands under the pull-back angle; missing inside a
    /// wall, which holds the coating there too.
    #[serde(rename = "thin_edge_share", serialize_with = "fraction")]
    pub share: Option<Share>,
    /// How far in from a corner the coat is thinner than half its peak: the
    /// furthest of all corners; missing inside a wall.
    #[serde(rename = "corner_reach_mm", serialize_with = "mm")]
    pub reach: Option<Length>,
    /// The corner radius at which a target fill leaves no part of the edge thin.
    #[serde(rename = "mending_corner_mm", serialize_with = "mm")]
    pub mending: Option<Length>,
}

/// The fall in a metre, mm.
fn in_a_metre(tilt: Angle) -> f64 {
    1000.0 * tilt.rad().tan()
}

impl LevelAnswer {
    /// For a fill that stays.
    pub(super) fn of(filling: &Filling, filled: &Filled) -> Result<Self, DomeError> {
        let limits = filling.level_limits(filled)?;
        let tilt = |limit: Option<TiltLimit>| limit.map(|limit| limit.tilt);
        let (runs_over, draws_back) = (tilt(limits.runs_over), tilt(limits.draws_back));
        Ok(Self {
            runs_over,
            runs_over_fall: runs_over.map(in_a_metre),
            draws_back,
            draws_back_fall: draws_back.map(in_a_metre),
            even: limits.even,
            even_fall: limits.even.map(in_a_metre),
        })
    }
}

impl ThinAnswer {
    /// For a fill over its contact line, against the pull-back angle; a wall is
    /// wetted, so nothing draws back from it.
    pub(super) fn of(filling: &Filling, filled: &Filled, pull_back: Angle) -> Self {
        if filling.blank().wall() > Length::ZERO {
            return Self::default();
        }
        let shape = filled.shape();
        Self {
            share: Some(shape.thin_share(pull_back)),
            reach: shape.thin_reach(),
            mending: None,
        }
    }
}
