//! The values that a key can hold, and how each is read.

use std::str::FromStr;

use toml::de::{DeInteger, DeValue};

use super::nearest;
use crate::consumption::Faces;
use crate::quantity::parse::Quantity;
use crate::quantity::{
    Angle, Area, Density, Diffusivity, DynamicViscosity, Humidity, Irradiance, Kind, Length, Mass,
    Measured, MolarEnergy, Money, Offset, Pressure, RadiantExposure, Ratio, Share, Speed,
    SurfaceTension, Temperature, TemperatureDifference, Time, Units, Unreadable, Volume,
};
use crate::run::{Air, Needs, Problem};

/// A value that a key can hold.
pub(in crate::run) trait Item: Sized {
    /// What belongs here, with an example.
    fn expected() -> String;

    /// Reads it.
    fn read(value: &DeValue) -> Result<Self, Mistake>;
}

/// Why a value could not be read.
pub(in crate::run) enum Mistake {
    /// Something else belongs here.
    Expected {
        /// What does.
        expected: String,
        /// What was probably meant, as the file would write it.
        nearest: Option<String>,
    },
    /// A quantity that can't be read.
    Quantity(Unreadable),
}

impl Mistake {
    pub fn expected(expected: impl Into<String>) -> Self {
        Self::Expected {
            expected: expected.into(),
            nearest: None,
        }
    }

    /// The mistake as a problem with the value that stands in the file as `read`.
    pub fn at(self, read: String) -> Problem {
        match self {
            Self::Expected { expected, nearest } => Problem::Wrong {
                read,
                expected,
                nearest,
            },
            Self::Quantity(unreadable) => Problem::Unreadable(unreadable),
        }
    }
}

/// The text of a string, or of a number that was left without quotes and unit.
fn words<'v>(value: &'v DeValue) -> Option<&'v str> {
    match value {
        DeValue::String(text) => Some(text),
        DeValue::Integer(number) => Some(number.as_str()),
        DeValue::Float(number) => Some(number.as_str()),
        _ => None,
    }
}

fn quantity_expected(kind: Kind) -> String {
    format!("{}, such as \"{}\"", kind.name(), kind.example())
}

impl<Q: Quantity + FromStr<Err = Unreadable>> Item for Q {
    fn expected() -> String {
        quantity_expected(Q::OF)
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        let text = words(value).ok_or_else(|| Mistake::expected(Self::expected()))?;
        text.parse().map_err(Mistake::Quantity)
    }
}

impl Item for Offset {
    fn expected() -> String {
        "a distance to either side, such as \"-14 mm\"".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        let text = words(value).ok_or_else(|| Mistake::expected(Self::expected()))?;
        text.parse().map_err(Mistake::Quantity)
    }
}

/// Reads a quantity of a kind that is known only when running.
pub(super) fn quantity(value: &DeValue, kind: Kind) -> Result<Measured, Mistake> {
    macro_rules! by_kind {
        ($($quantity:ident),+) => {
            match kind { $( Kind::$quantity => $quantity::read(value).map(Measured::from), )+ }
        };
    }
    by_kind!(
        Length,
        Area,
        Volume,
        Mass,
        Time,
        Speed,
        Pressure,
        Density,
        SurfaceTension,
        Angle,
        Share,
        Humidity,
        TemperatureDifference,
        Temperature,
        Diffusivity,
        MolarEnergy,
        Irradiance,
        RadiantExposure,
        DynamicViscosity,
        Ratio,
        Money
    )
}

/// A name: 1 to 80 characters, none of them a control character.
pub(in crate::run) struct Name(String);

impl Name {
    pub fn as_str(&self) -> &str {
        &self.0
    }

    pub fn into_string(self) -> String {
        self.0
    }
}

impl From<&str> for Name {
    fn from(name: &str) -> Self {
        Self(name.to_owned())
    }
}

impl Item for Name {
    fn expected() -> String {
        "a name of 1 to 80 characters in quotes".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        let name = value.as_str().map(str::trim).filter(|name| {
            !name.is_empty() && name.chars().count() <= 80 && !name.chars().any(char::is_control)
        });
        name.map(Self::from)
            .ok_or_else(|| Mistake::expected(Self::expected()))
    }
}

/// The name of a file: 1 to 1000 characters, none of them a control character.
pub(in crate::run) struct FileName(pub String);

impl Item for FileName {
    fn expected() -> String {
        "the name of an SVG file in quotes, such as \"leaf.svg\"".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        let name = value.as_str().filter(|name| {
            !name.trim().is_empty()
                && name.chars().count() <= 1000
                && !name.chars().any(char::is_control)
        });
        name.map(|name| Self(name.to_owned()))
            .ok_or_else(|| Mistake::expected(Self::expected()))
    }
}

/// A point in a plane, its two numbers in a unit that stands elsewhere.
pub(in crate::run) struct Point(pub [f64; 2]);

impl Item for Point {
    fn expected() -> String {
        "a point: two numbers without quotes, such as [30, 0]".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        let wanted = || Mistake::expected(Self::expected());
        let Some([x, y]) = value.as_array().map(|list| &list[..]) else {
            return Err(wanted());
        };
        let number = |value: &DeValue| Number::read(value).map_err(|_| wanted());
        let (Number(x), Number(y)) = (number(x.get_ref())?, number(y.get_ref())?);
        Ok(Self([x, y]))
    }
}

/// A unit of length.
pub(in crate::run) struct LengthUnit(pub Length);

impl Item for LengthUnit {
    fn expected() -> String {
        "a unit of length, such as \"mm\"".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        let unit = value.as_str().map(str::trim).filter(|unit| {
            !unit.is_empty() && unit.chars().all(|c| c.is_alphabetic() || "\"'".contains(c))
        });
        unit.and_then(|unit| format!("1 {unit}").parse().ok())
            .map(Self)
            .ok_or_else(|| Mistake::expected(Self::expected()))
    }
}

/// A plain number, neither infinite nor nothing.
pub(in crate::run) struct Number(pub f64);

impl Item for Number {
    fn expected() -> String {
        "a number without quotes, such as 7.20".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        let number = match value {
            DeValue::Integer(whole) => decimal(whole).and_then(|whole| whole.parse().ok()),
            DeValue::Float(number) => number.as_str().parse().ok(),
            _ => None,
        };
        let unquoted = value
            .as_str()
            .filter(|text| text.trim().parse::<f64>().is_ok_and(f64::is_finite));
        number
            .filter(|number: &f64| number.is_finite())
            .map(Self)
            .ok_or_else(|| Mistake::Expected {
                expected: Self::expected(),
                nearest: unquoted.map(|text| text.trim().to_owned()),
            })
    }
}

/// The digits of a whole number, if it is written in tens.
fn decimal<'v>(number: &'v DeInteger) -> Option<&'v str> {
    (number.radix() == 10).then(|| number.as_str())
}

/// A whole number.
pub(in crate::run) struct Whole(pub i64);

impl Whole {
    /// As a count. A [`Limit`](super::Limit) has already seen to it that it fits.
    pub fn small(self) -> Option<u32> {
        u32::try_from(self.0).ok()
    }
}

impl Item for Whole {
    fn expected() -> String {
        "a whole number without quotes, such as 60".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        let whole = match value {
            DeValue::Integer(whole) => decimal(whole).and_then(|whole| whole.parse().ok()),
            _ => None,
        };
        let meant =
            words(value).and_then(|text| text.trim().trim_end_matches(".0").parse::<i64>().ok());
        whole.map(Self).ok_or_else(|| Mistake::Expected {
            expected: Self::expected(),
            nearest: meant.map(|whole| whole.to_string()),
        })
    }
}

impl Item for bool {
    fn expected() -> String {
        "true or false, without quotes".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        value
            .as_bool()
            .ok_or_else(|| Mistake::expected(Self::expected()))
    }
}

/// One of a few words.
fn one_of<T: Copy>(
    value: &DeValue,
    words: &[(&'static str, T)],
    expected: String,
) -> Result<T, Mistake> {
    let text = value.as_str().unwrap_or_default();
    if let Some(&(_, meant)) = words.iter().find(|(word, _)| *word == text) {
        return Ok(meant);
    }
    let near = nearest(text, words.iter().map(|(word, _)| *word)).map(|word| format!("\"{word}\""));
    Err(Mistake::Expected {
        expected,
        nearest: near,
    })
}

impl Item for Units {
    fn expected() -> String {
        "\"metric\" or \"us\"".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        one_of(
            value,
            &[("metric", Self::Metric), ("us", Self::Us)],
            Self::expected(),
        )
    }
}

/// The word that asks for the coating's own target.
pub(in crate::run) struct Safe;

impl Item for Safe {
    fn expected() -> String {
        crate::run::fill::EXPECTED.to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        one_of(value, &[("safe", ())], Self::expected()).map(|()| Self)
    }
}

impl Item for Faces {
    fn expected() -> String {
        "\"one\" or \"both\"".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        one_of(
            value,
            &[("one", Self::One), ("both", Self::Both)],
            Self::expected(),
        )
    }
}

impl Item for Needs {
    fn expected() -> String {
        "\"handle\" or \"through\": what the coats on the piece must have come to".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        let words = [("handle", Self::Handle), ("through", Self::Through)];
        one_of(value, &words, Self::expected())
    }
}

/// How the air moves: a word or a speed.
pub(in crate::run) struct AirWords(pub Air);

impl Item for AirWords {
    fn expected() -> String {
        "\"still\", \"sheltered\", \"draughty\", \"fan\", or a speed such as \"0.3 m/s\"".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        let known = [
            ("still", Air::Still),
            ("sheltered", Air::Sheltered),
            ("draughty", Air::Draughty),
            ("fan", Air::Fan),
            ("drafty", Air::Draughty),
        ];
        let starts_as_number = |text: &str| {
            text.trim_start()
                .starts_with(|c: char| c.is_ascii_digit() || "+-.".contains(c))
        };
        if words(value).is_some_and(starts_as_number) {
            return Speed::read(value).map(Air::Moving).map(Self);
        }
        one_of(value, &known, Self::expected()).map(Self)
    }
}

/// What a bottle holds, by volume or by weight.
pub(in crate::run) enum Contents {
    /// By volume.
    Volume(Volume),
    /// By weight.
    Mass(Mass),
}

impl Item for Contents {
    fn expected() -> String {
        "a volume or a weight, such as \"60 mL\" or \"60 g\"".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        // The volume's own refusal is the better one to show: most bottles are sold by volume.
        Mass::read(value)
            .map(Self::Mass)
            .or_else(|_| Volume::read(value).map(Self::Volume))
    }
}

/// A wet film told by how far a coating goes: area for each volume, such as "10 m2/L".
pub(in crate::run) struct SpreadingRate(pub Length);

impl Item for SpreadingRate {
    fn expected() -> String {
        "an area for each volume, such as \"10 m2/L\"".to_owned()
    }

    fn read(value: &DeValue) -> Result<Self, Mistake> {
        let parts = value
            .as_str()
            .and_then(|text| text.rsplit_once('/').or_else(|| text.rsplit_once(" per ")));
        let read = parts.and_then(|(area, unit)| {
            let area: Area = area.trim().parse().ok()?;
            let volume: Volume = format!("1 {}", unit.trim()).parse().ok()?;
            // w = V/A
            (area > Area::ZERO).then(|| volume / area)
        });
        read.map(Self)
            .ok_or_else(|| Mistake::expected(Self::expected()))
    }
}
