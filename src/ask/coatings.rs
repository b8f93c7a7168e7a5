//! What is assumed of each family of coatings.

use serde::Serialize;

use super::CautionAnswer;
use super::care::care;
use super::dry_answer::stage_name;
use super::number::{celsius, h, percent};
use crate::coating::{Applied, Coating, Family, Key, Law, Property};
use crate::quantity::{Humidity, Kind, Measured, Temperature, Time};
use crate::stage::Stage;

/// A family: its properties and its label with their sources, and its cautions.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CoatingAnswer {
    /// Its name.
    pub name: String,
    /// How it goes on: `flooded`, `brushed` or `drawn`.
    pub applied: &'static str,
    /// How it gets hard: `water leaves`, `two parts react` or `solvent airs off`.
    pub hardens: &'static str,
    /// Its properties.
    pub properties: Vec<PropertyAnswer>,
    /// The air that its labels mean, and the times in it.
    pub label: LabelAnswer,
    /// What to take care of; the first line says what comes before this list.
    pub cautions: Vec<CautionAnswer>,
}

/// A property with its range and source.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PropertyAnswer {
    /// Its name in run files.
    pub name: &'static str,
    /// The value, in `unit`.
    pub value: f64,
    /// The unit of the three figures; empty for a plain number.
    pub unit: &'static str,
    /// The least that it usually is, where that is known.
    pub low: Option<f64>,
    /// The most that it usually is, where that is known.
    pub high: Option<f64>,
    /// Where the value comes from.
    pub source: String,
    /// The value as a quantity.
    #[serde(skip)]
    pub measured: Measured,
    /// The range as quantities.
    #[serde(skip)]
    pub range: Option<[Measured; 2]>,
}

/// What a family's labels usually say.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LabelAnswer {
    /// Temperature that the times hold at.
    #[serde(rename = "temperature_c", serialize_with = "celsius")]
    pub temperature: Temperature,
    /// Relative humidity that the times hold at.
    #[serde(rename = "humidity_percent", serialize_with = "percent")]
    pub humidity: Humidity,
    /// Where the two come from.
    pub source: String,
    /// The stages that the label has.
    pub stages: Vec<LabelStage>,
}

/// One stage on a label.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LabelStage {
    /// The stage.
    #[serde(serialize_with = "stage_name")]
    pub stage: Stage,
    /// How long after the coat went on.
    #[serde(rename = "time_h", serialize_with = "h")]
    pub time: Time,
    /// Where the time comes from.
    pub source: String,
}

/// What is assumed of these families.
#[must_use]
pub fn coatings(families: impl IntoIterator<Item = &'static Family>) -> Vec<CoatingAnswer> {
    families.into_iter().map(coating).collect()
}

fn coating(family: &'static Family) -> CoatingAnswer {
    CoatingAnswer {
        name: family.name.clone(),
        applied: match family.applied {
            Applied::Flooded => "flooded",
            Applied::Brushed => "brushed",
            Applied::Drawn => "drawn",
        },
        hardens: match family.law {
            Law::WaterFilm => "water leaves",
            Law::Epoxy => "two parts react",
            Law::Airing => "solvent airs off",
            Law::Lamp => "a lamp cures it",
            Law::MoistureCure => "moisture of the air cures it",
        },
        // a coating of the family, for what is worked out has a source too
        properties: Coating::of(family).properties().map(property).collect(),
        label: label(family),
        cautions: care(family),
    }
}

fn property((key, property): (Key, &Property)) -> PropertyAnswer {
    let (unit, size) = unit(key.kind());
    let [low, high] = property.range.map_or([None, None], |ends| {
        ends.map(|end| Some(tidy(end.si / size)))
    });
    PropertyAnswer {
        name: key.name(),
        value: tidy(property.value.si / size),
        unit,
        low,
        high,
        source: property.source.to_string(),
        measured: property.value,
        range: property.range,
    }
}

/// The unit that a kind is told in, and its size in the unit that is held.
fn unit(kind: Kind) -> (&'static str, f64) {
    match kind {
        Kind::Length => ("mm", 1e-3),
        Kind::Volume => ("mL", 1e-6),
        Kind::Time => ("min", 60.0),
        Kind::Density => ("kg/m3", 1.0),
        Kind::SurfaceTension => ("mN/m", 1e-3),
        Kind::Angle => ("deg", std::f64::consts::PI / 180.0),
        Kind::Share | Kind::Humidity => ("%", 0.01),
        Kind::Temperature => ("C", 1.0),
        Kind::Diffusivity => ("m2/s", 1.0),
        Kind::MolarEnergy => ("kJ/mol", 1e3),
        Kind::Irradiance => ("mW/cm2", 10.0),
        Kind::RadiantExposure => ("mJ/cm2", 10.0),
        Kind::DynamicViscosity => ("Pa s", 1.0),
        // no property is of these; the unit that is held
        Kind::Area => ("m2", 1.0),
        Kind::Mass => ("kg", 1.0),
        Kind::Speed => ("m/s", 1.0),
        Kind::Pressure => ("Pa", 1.0),
        Kind::TemperatureDifference => ("K", 1.0),
        Kind::Ratio | Kind::Money => ("", 1.0),
    }
}

/// Without the last digits, which turning units has blurred: twelve figures.
fn tidy(value: f64) -> f64 {
    format!("{value:.11e}").parse().unwrap_or(value)
}

fn label(family: &Family) -> LabelAnswer {
    let label = &family.label;
    LabelAnswer {
        temperature: label.temperature,
        humidity: label.humidity,
        source: label.at_source.to_string(),
        stages: Stage::ALL
            .into_iter()
            .filter_map(|stage| {
                let told = label.stage(stage)?;
                Some(LabelStage {
                    stage,
                    time: told.time,
                    source: told.source.to_string(),
                })
            })
            .collect(),
    }
}
