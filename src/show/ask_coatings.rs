//! The coating families, in words.

use super::lines::Lines;
use super::words;
use crate::ask::{CoatingAnswer, PropertyAnswer};
use crate::coating::comes_first;
use crate::quantity::{
    Angle, Density, Diffusivity, DynamicViscosity, Humidity, Irradiance, Kind, Length, Mass,
    Measured, MolarEnergy, RadiantExposure, Ratio, Share, Show, SurfaceTension, Temperature, Time,
    Units, Volume,
};

/// Every family in two lines.
#[must_use]
pub fn coating_list(answers: &[CoatingAnswer]) -> String {
    let longest = answers
        .iter()
        .map(|answer| answer.name.chars().count())
        .max();
    let mut lines = Lines::with_headings_of(longest.unwrap_or(0) + 2);
    for answer in answers {
        let times: Vec<String> = answer
            .label
            .stages
            .iter()
            .map(|stage| {
                format!(
                    "{} {}",
                    words::stage(stage.stage),
                    stage.time.show(Units::Metric)
                )
            })
            .collect();
        lines.line(
            &answer.name,
            &format!(
                "{}; {}; {}",
                answer.applied,
                answer.hardens,
                times.join(", ")
            ),
        );
    }
    lines.gap();
    lines.plain("What is assumed of one, with its sources and cautions: brimful coatings NAME");
    lines.plain(comes_first());
    lines.into_text()
}

/// One family with its properties, sources and cautions.
#[must_use]
pub fn coating_text(answer: &CoatingAnswer, units: Units) -> String {
    let mut lines = Lines::with_headings_of(28);
    lines.plain(&format!(
        "{}: {}; {}",
        answer.name, answer.applied, answer.hardens
    ));
    lines.gap();
    for property in &answer.properties {
        lines.line(&property_name(property.name), &value(property, units));
    }
    let label = &answer.label;
    lines.line(
        "label's air",
        &format!(
            "{} and {} ({})",
            label.temperature.show(units),
            label.humidity.show(units),
            label.source
        ),
    );
    for stage in &label.stages {
        lines.line(
            words::stage(stage.stage),
            &format!("{} ({})", stage.time.show(units), stage.source),
        );
    }
    lines.gap();
    let mut care = Lines::with_headings_of(2);
    for caution in &answer.cautions {
        care.line("-", caution.say);
    }
    lines.into_text() + &care.into_text()
}

/// A property's name, with a few words where the name alone is not plain.
fn property_name(name: &str) -> String {
    match name {
        "soak" => "soaked up by porous blanks".to_owned(),
        "scatter" => "scatter between pieces".to_owned(),
        "bias" => "a maker's own bias".to_owned(),
        "heel" => "left in an empty bottle".to_owned(),
        "drips" => "lost in drips".to_owned(),
        "tool" => "left in the tool a sitting".to_owned(),
        "volume_ratio" => "part A to B by volume".to_owned(),
        plain => plain.replace('_', " "),
    }
}

/// A value with its range and source.
fn value(property: &PropertyAnswer, units: Units) -> String {
    let range = property.range.map_or_else(String::new, |[low, high]| {
        format!(
            ", usually {} to {}",
            measured(low, units),
            measured(high, units)
        )
    });
    format!(
        "{}{range} ({})",
        measured(property.measured, units),
        property.source
    )
}

/// A measured value in the unit that fits it.
fn measured(value: Measured, units: Units) -> String {
    fn show<Q: crate::quantity::parse::Quantity + Show>(
        value: Measured,
        units: Units,
    ) -> Option<String> {
        value.get::<Q>().map(|quantity| quantity.show(units))
    }
    let show = match value.kind {
        Kind::Length => show::<Length>,
        Kind::Volume => show::<Volume>,
        Kind::Mass => show::<Mass>,
        Kind::Time => show::<Time>,
        Kind::Density => show::<Density>,
        Kind::SurfaceTension => show::<SurfaceTension>,
        Kind::Angle => show::<Angle>,
        Kind::Share => show::<Share>,
        Kind::Humidity => show::<Humidity>,
        Kind::Temperature => show::<Temperature>,
        Kind::Diffusivity => show::<Diffusivity>,
        Kind::MolarEnergy => show::<MolarEnergy>,
        Kind::Irradiance => show::<Irradiance>,
        Kind::RadiantExposure => show::<RadiantExposure>,
        Kind::DynamicViscosity => show::<DynamicViscosity>,
        _ => show::<Ratio>,
    };
    let shown = show(value, units).unwrap_or_else(|| value.si.to_string());
    if value.kind == Kind::Ratio {
        format!("{shown}:1")
    } else {
        shown
    }
}
