//! Reading the embedded families.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::{Applied, Family, Key, Label, Law, Property, Source, StageTime};
use crate::quantity::Measured;
use crate::stage::Stage;

const FAMILIES: &str = include_str!("../../data/coatings.toml");

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    family: Vec<FamilyTable>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FamilyTable {
    name: String,
    law: String,
    applied: String,
    cautions: String,
    property: BTreeMap<String, PropertyTable>,
    label: LabelTable,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct PropertyTable {
    value: String,
    range: Option<[String; 2]>,
    source: String,
}

#[derive(Deserialize)]
struct LabelTable {
    at: [String; 2],
    at_source: String,
    #[serde(flatten)]
    times: BTreeMap<String, StageTable>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct StageTable {
    time: String,
    source: String,
}

/// Reads every embedded family.
///
/// # Errors
/// What is wrong with the file, in words.
pub(super) fn families() -> Result<Vec<Family>, String> {
    let file: File = toml::from_str(FAMILIES).map_err(|fault| fault.to_string())?;
    file.family.into_iter().map(family).collect()
}

fn family(table: FamilyTable) -> Result<Family, String> {
    let law = match table.law.as_str() {
        "water film" => Law::WaterFilm,
        "epoxy" => Law::Epoxy,
        "airing" => Law::Airing,
        "lamp" => Law::Lamp,
        "moisture cure" => Law::MoistureCure,
        other => return Err(format!("{}: no law called {other}", table.name)),
    };
    let applied = match table.applied.as_str() {
        "flooded" => Applied::Flooded,
        "brushed" => Applied::Brushed,
        "drawn" => Applied::Drawn,
        other => return Err(format!("{}: nothing is applied {other}", table.name)),
    };
    let properties = table
        .property
        .iter()
        .map(property)
        .collect::<Result<_, _>>()?;
    Ok(Family {
        name: table.name,
        law,
        applied,
        cautions: table.cautions,
        properties,
        label: label(table.label)?,
    })
}

fn property((name, table): (&String, &PropertyTable)) -> Result<(Key, Property), String> {
    let key = Key::named(name).ok_or_else(|| format!("no property called {name}"))?;
    let range = match &table.range {
        Some([least, most]) => Some([read(least)?, read(most)?]),
        None => None,
    };
    let value: Measured = read(&table.value)?;
    Ok((
        key,
        Property {
            value,
            range,
            source: Source::from_words(&table.source),
        },
    ))
}

fn label(table: LabelTable) -> Result<Label, String> {
    let [temperature, humidity] = &table.at;
    Ok(Label {
        temperature: read(temperature)?,
        humidity: read(humidity)?,
        at_source: Source::from_words(&table.at_source),
        times: table
            .times
            .into_iter()
            .map(|(name, table)| stage(&name, &table))
            .collect::<Result<_, _>>()?,
    })
}

fn stage(name: &str, table: &StageTable) -> Result<(Stage, StageTime), String> {
    let stage = Stage::ALL
        .into_iter()
        .find(|stage| stage.name() == name)
        .ok_or_else(|| format!("no stage is called {name}"))?;
    let time = StageTime {
        time: read(&table.time)?,
        source: Source::from_words(&table.source),
    };
    Ok((stage, time))
}

fn read<T>(text: &str) -> Result<T, String>
where
    T: std::str::FromStr,
    T::Err: std::fmt::Display,
{
    text.parse()
        .map_err(|fault: T::Err| format!("{text}: {fault}"))
}
