//! The lamp of a coat that one cures: what is asked of it, and the answer.

use serde::Serialize;

use super::number::{mj_per_cm2, mm, mw_per_cm2, s};
use crate::coating::{Coating, Key};
use crate::cure::LawError;
use crate::cure::lamp::{Bracket, CRITICAL_DOSE_SPREAD, PENETRATION_SPREAD, Shining};
use crate::drying::{NoTime, under_lamp, usual_light};
use crate::quantity::{Irradiance, Length, RadiantExposure, Time};

/// A lamp as the maker knows it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LampQuestion {
    /// How bright it is.
    pub shines: Shines,
    /// How long one pass lasts, 0.1 s to a day.
    pub pass: Option<Time>,
}

/// How bright a lamp is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shines {
    /// As the family's usual one.
    AsUsual,
    /// So bright at the piece, 0.001 mW/cm2 to 10 W/cm2.
    Here(Irradiance),
    /// Measured at one distance, and the piece held at another.
    Moved {
        /// As it was measured.
        lamp: Shining,
        /// The distance that the piece is held at, 5 mm to 2 m.
        to: Length,
    },
}

/// Why a lamp can't be asked after.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum LampRefusal {
    /// No lamp cures the coating.
    #[error(
        "no lamp cures {0}: --light, --light-at, --held-at and --pass are for lamp-cured resin"
    )]
    NotByLamp(String),
    /// No lamp is so bright or so weak.
    #[error("{0}")]
    Light(&'static str),
    /// Not a distance that a lamp is held at.
    #[error("a lamp is held from 5 mm to 2 m from a piece, and {} mm was asked for", .0.mm())]
    Distance(Length),
    /// Not a time for a pass.
    #[error("a pass under the lamp lasts from 0.1 s to a day, and {} s was asked for", .0.s())]
    Pass(Time),
}

/// What the lamp does to a coat, by the working curve of its resin.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LampAnswer {
    /// The irradiance at the piece that is planned with: the least there may be.
    #[serde(rename = "light_mw_per_cm2", serialize_with = "mw_per_cm2")]
    pub light: Irradiance,
    /// The most there may be.
    #[serde(rename = "most_light_mw_per_cm2", serialize_with = "mw_per_cm2")]
    pub most: Irradiance,
    /// Whether that is the family's usual lamp, for none was told.
    pub light_is_assumed: bool,
    /// The distances, where the lamp was measured at one and the piece is held at another.
    #[serde(skip)]
    pub moved: Option<(Shining, Length)>,
    /// Ec: the dose at which the resin has just set.
    #[serde(rename = "critical_dose_mj_per_cm2", serialize_with = "mj_per_cm2")]
    pub critical_dose: RadiantExposure,
    /// Where that comes from.
    pub critical_dose_source: String,
    /// Dp: the depth within which the light falls to 1/e.
    #[serde(rename = "penetration_depth_mm", serialize_with = "mm")]
    pub penetration_depth: Length,
    /// Where that comes from.
    pub penetration_depth_source: String,
    /// How many times apart laboratories found Ec of one resin.
    pub critical_dose_spread: f64,
    /// How many times apart they found Dp.
    pub penetration_depth_spread: f64,
    /// The dose on the surface that cures the bottom; none where the light does not
    /// reach it.
    #[serde(rename = "dose_mj_per_cm2", serialize_with = "mj_per_cm2")]
    pub dose: Option<RadiantExposure>,
    /// How long that is under this lamp, by the working curve alone.
    #[serde(rename = "under_lamp_s", serialize_with = "s")]
    pub under_lamp: Option<Time>,
    /// How long one pass lasts, where it was told.
    #[serde(rename = "pass_s", serialize_with = "s")]
    pub pass: Option<Time>,
    /// How many passes cure the bottom.
    pub passes: Option<u32>,
    /// The deepest layer that one pass cures; 0 where it is too short for any.
    #[serde(rename = "one_pass_cures_mm", serialize_with = "mm")]
    pub one_pass_cures: Option<Length>,
    /// The equal layers that take the least light in all.
    pub layers: LayersAnswer,
}

/// Equal layers, each cured before the next.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LayersAnswer {
    /// How many.
    pub count: u32,
    /// How deep each is.
    #[serde(rename = "each_mm", serialize_with = "mm")]
    pub each: Length,
    /// The doses of all of them together.
    #[serde(rename = "dose_mj_per_cm2", serialize_with = "mj_per_cm2")]
    pub dose: RadiantExposure,
    /// How many passes each takes, where a pass was told.
    pub passes_each: Option<u32>,
}

/// The light that a coat gets, if a lamp cures it.
pub(super) struct Lit<'c> {
    coating: &'c Coating,
    /// What a lamp gives here; none for a coat that no lamp cures.
    light: Option<Bracket>,
    asked: Option<LampQuestion>,
}

impl<'c> Lit<'c> {
    /// The light of the lamp asked after, or of the usual one.
    pub(super) fn by(
        coating: &'c Coating,
        asked: Option<LampQuestion>,
    ) -> Result<Self, LampRefusal> {
        let light = match (usual_light(coating), asked) {
            (None, Some(_)) => return Err(LampRefusal::NotByLamp(coating.family().name.clone())),
            (None, None) => None,
            (Some(usual), asked) => Some(shining(usual, asked)?),
        };
        Ok(Self {
            coating,
            light,
            asked,
        })
    }

    /// The irradiance to plan with, where one was told: the least there may be.
    pub(super) fn planned(&self) -> Option<Irradiance> {
        match self.asked?.shines {
            Shines::AsUsual => None,
            Shines::Here(_) | Shines::Moved { .. } => Some(self.light?.least),
        }
    }

    /// What it does to a coat so deep.
    pub(super) fn answer(&self, depth: Length) -> Result<Option<LampAnswer>, NoTime> {
        let Some(light) = self.light else {
            return Ok(None);
        };
        let pass = self.asked.and_then(|asked| asked.pass);
        let found = under_lamp(self.coating, depth, light.least, pass)?;
        let layers = found.in_layers;
        Ok(Some(LampAnswer {
            light: light.least,
            most: light.most,
            light_is_assumed: self.planned().is_none(),
            moved: match self.asked.map(|asked| asked.shines) {
                Some(Shines::Moved { lamp, to }) => Some((lamp, to)),
                _ => None,
            },
            critical_dose: found.curve.critical(),
            critical_dose_source: self.source(Key::CriticalDose),
            penetration_depth: found.curve.penetration(),
            penetration_depth_source: self.source(Key::PenetrationDepth),
            critical_dose_spread: CRITICAL_DOSE_SPREAD,
            penetration_depth_spread: PENETRATION_SPREAD,
            dose: found.in_one.map(|one| one.dose),
            under_lamp: found.in_one.map(|one| one.lasts),
            pass,
            passes: found.in_one.and_then(|one| one.passes),
            one_pass_cures: found.deepest,
            layers: LayersAnswer {
                count: layers.layers.count,
                each: depth / f64::from(layers.layers.count),
                dose: layers.layers.dose,
                passes_each: layers.passes_each,
            },
        }))
    }

    fn source(&self, key: Key) -> String {
        self.coating
            .property(key)
            .map_or_else(String::new, |own| own.source.to_string())
    }
}

/// The least and the most light at the piece.
fn shining(usual: Irradiance, asked: Option<LampQuestion>) -> Result<Bracket, LampRefusal> {
    let steady = |light| Bracket {
        least: light,
        most: light,
    };
    let Some(asked) = asked else {
        return Ok(steady(usual));
    };
    if let Some(pass) = asked.pass
        && !(0.1..=86_400.0).contains(&pass.s())
    {
        return Err(LampRefusal::Pass(pass));
    }
    let bracket = match asked.shines {
        Shines::AsUsual => steady(usual),
        Shines::Here(light) => steady(light),
        Shines::Moved { lamp, to } => {
            bright(lamp.light)?;
            lamp.moved_to(to).map_err(|fault| match fault {
                LawError::OutOfRange { value, .. } => LampRefusal::Distance(Length::from_m(value)),
                _ => LampRefusal::Distance(to),
            })?
        }
    };
    bright(bracket.least)?;
    bright(bracket.most)?;
    Ok(bracket)
}

/// Whether a lamp may be so bright.
fn bright(light: Irradiance) -> Result<(), LampRefusal> {
    Key::LampIrradiance
        .check(light.into())
        .map_err(LampRefusal::Light)
}
