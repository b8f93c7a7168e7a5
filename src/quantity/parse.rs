//! Reading quantities as people write them.
//!
//! ```
//! use brimful::quantity::{Length, Temperature, Time};
//! assert_eq!("1 1/2 in".parse(), Ok(Length::from_in(1.5)));
//! assert_eq!("68 °F".parse(), Ok(Temperature::from_celsius(20.0)));
//! assert_eq!("1 h 30 min".parse(), Ok(Time::from_min(90.0)));
//! assert!("2 oz".parse::<brimful::quantity::Volume>().is_err());
//! # Ok::<(), brimful::quantity::Unreadable>(())
//! ```
//!
//! A number may be a decimal with a point, a fraction, or both ("1 1/2",
//! "1½"); a unit may stand against it. "fl oz" is the US one. A bare "oz",
//! "pt", "qt" or "gal" is never read. Zero needs no unit, except as a
//! temperature.

use super::measured::Measured;
use super::number;
use super::reader::{Fault, Reader, no_number};
use super::tidy::tidy;
use super::unreadable::{Problem, Unreadable};
use super::{
    Angle, Area, Density, Diffusivity, DynamicViscosity, Humidity, Irradiance, Kind, Length, Mass,
    MolarEnergy, Money, Pressure, RadiantExposure, Ratio, Share, Speed, SurfaceTension,
    Temperature, TemperatureDifference, Time, Volume,
};

/// A type of quantity: what kind it is, and the one number that it holds.
pub trait Quantity: Sized {
    /// Its kind.
    const OF: Kind;
    /// From the value in the unit that [`Kind`] names for it.
    fn from_held(value: f64) -> Self;
    /// The value in the unit that [`Kind`] names for it.
    fn held(&self) -> f64;
}

macro_rules! read {
    ($( $quantity:ident ),+ $(,)?) => { $(
        impl Quantity for $quantity {
            const OF: Kind = Kind::$quantity;
            fn from_held(value: f64) -> Self {
                Self(value)
            }
            fn held(&self) -> f64 {
                self.0
            }
        }

        impl std::str::FromStr for $quantity {
            type Err = Unreadable;
            fn from_str(text: &str) -> Result<Self, Unreadable> {
                read(text, Some(Kind::$quantity)).map(|found| Self(found.si))
            }
        }
    )+ };
}

read!(
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
    Money,
);

/// Reads a text as one kind of quantity, or as whichever its unit tells.
pub(super) fn read(text: &str, expected: Option<Kind>) -> Result<Measured, Unreadable> {
    attempt(text, expected).map_err(|fault| Unreadable {
        read: text.to_owned(),
        expected,
        problem: fault.problem,
        nearest: fault
            .nearest
            .into_iter()
            .filter(|near| attempt(near, expected).is_ok())
            .collect(),
    })
}

fn attempt(text: &str, expected: Option<Kind>) -> Result<Measured, Fault> {
    let text = tidy(text);
    if text.is_empty() {
        return Err(Problem::Empty.into());
    }
    let (number, rest) = number::take(&text).map_err(|why| no_number(why, &text))?;
    let rest = rest.trim_start();
    let head = text[..text.len() - rest.len()].trim_end();
    let reader = Reader {
        head,
        number,
        rest,
        expected,
    };
    if rest.is_empty() {
        reader.bare()
    } else if expected.is_none_or(Kind::is_plain) && rest.starts_with(':') {
        reader.proportion()
    } else {
        reader.with_unit()
    }
}
