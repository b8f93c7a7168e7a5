//! A quantity whose kind is told by its unit.
//!
//! A coating's properties are a list of names and values: "1.05 g/mL" must be
//! read before anything knows that a density was wanted.

use super::parse::{self, Quantity};
use super::{
    Angle, Area, Density, Diffusivity, DynamicViscosity, Humidity, Irradiance, Kind, Length, Mass,
    MolarEnergy, Pressure, RadiantExposure, Ratio, Share, Speed, SurfaceTension, Temperature, Time,
    Unreadable, Volume,
};
use std::str::FromStr;

/// A value with the kind that its unit told.
///
/// A bare number or "2:1" is a [`Ratio`]; "%" tells a [`Share`]; "C", "F" and
/// "K" tell a [`Temperature`].
///
/// ```
/// use brimful::quantity::{Kind, Measured};
/// let read: Measured = "1.05 g/mL".parse()?;
/// assert_eq!(read.kind, Kind::Density);
/// assert_eq!(read.density().map(|d| d.kg_per_m3()), Some(1050.0));
/// assert_eq!(read.length(), None);
/// # Ok::<(), brimful::quantity::Unreadable>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// What it measures.
    pub kind: Kind,
    /// The value in the SI unit that [`Kind`] names; a temperature in `[°C]`.
    pub si: f64,
}

impl FromStr for Measured {
    type Err = Unreadable;

    fn from_str(text: &str) -> Result<Self, Unreadable> {
        parse::read(text, None)
    }
}

impl<Q: Quantity> From<Q> for Measured {
    fn from(quantity: Q) -> Self {
        Self {
            kind: Q::OF,
            si: quantity.held(),
        }
    }
}

macro_rules! accessors {
    ($( $name:ident -> $quantity:ident ),+ $(,)?) => {
        impl Measured {
            $(
                #[doc = concat!("The [`", stringify!($quantity), "`], if it is one.")]
                #[must_use]
                pub fn $name(self) -> Option<$quantity> {
                    self.get()
                }
            )+
        }
    };
}

accessors! {
    length -> Length,
    area -> Area,
    volume -> Volume,
    mass -> Mass,
    time -> Time,
    speed -> Speed,
    pressure -> Pressure,
    density -> Density,
    surface_tension -> SurfaceTension,
    angle -> Angle,
    share -> Share,
    temperature -> Temperature,
    diffusivity -> Diffusivity,
    molar_energy -> MolarEnergy,
    irradiance -> Irradiance,
    radiant_exposure -> RadiantExposure,
    viscosity -> DynamicViscosity,
    ratio -> Ratio,
}

impl Measured {
    /// The value as a quantity of that type, if the kind is its own.
    #[must_use]
    pub fn get<Q: Quantity>(self) -> Option<Q> {
        (self.kind == Q::OF).then(|| Q::from_held(self.si))
    }

    /// The [`Humidity`], if it is one or was written in per cent, which by
    /// itself tells a [`Share`].
    #[must_use]
    pub fn humidity(self) -> Option<Humidity> {
        matches!(self.kind, Kind::Humidity | Kind::Share).then(|| Humidity::from_fraction(self.si))
    }
}
