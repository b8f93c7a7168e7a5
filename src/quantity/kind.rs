//! The kinds of quantity, and what is particular to each.

use super::{
    Angle, Area, Density, Diffusivity, DynamicViscosity, Humidity, Irradiance, Length, Mass,
    MolarEnergy, Money, Pressure, RadiantExposure, Ratio, Share, Speed, SurfaceTension,
    Temperature, TemperatureDifference, Time, Volume,
};

/// Writes the enum and its two plain tables from one list:
/// kind, what it is called, an example that reads.
macro_rules! kinds {
    ($( $(#[$doc:meta])* $kind:ident, $example:literal; )+) => {
        /// What a quantity measures: one kind for each type of quantity.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum Kind {
            $( $(#[$doc])* $kind, )+
        }

        impl Kind {
            /// Every kind.
            pub const ALL: &'static [Kind] = &[$( Kind::$kind ),+];

            /// What the kind is called in messages, with its article: "a length".
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $( Kind::$kind => $kind::KIND, )+ }
            }

            /// One of the kind as a person would write it: "25 mm".
            #[must_use]
            pub const fn example(self) -> &'static str {
                match self { $( Kind::$kind => $example, )+ }
            }
        }
    };
}

kinds! {
    /// A [`Length`], held in metres.
    Length, "25 mm";
    /// An [`Area`], held in square metres.
    Area, "500 mm2";
    /// A [`Volume`], held in cubic metres.
    Volume, "60 mL";
    /// A [`Mass`], held in kilograms.
    Mass, "1.4 g";
    /// A [`Time`], held in seconds.
    Time, "24 h";
    /// A [`Speed`], held in metres a second.
    Speed, "0.3 m/s";
    /// A [`Pressure`], held in pascals.
    Pressure, "1013 hPa";
    /// A [`Density`], held in kilograms a cubic metre.
    Density, "1050 kg/m3";
    /// A [`SurfaceTension`], held in newtons a metre.
    SurfaceTension, "35 mN/m";
    /// An [`Angle`], held in radians.
    Angle, "45 deg";
    /// A [`Share`], held as a fraction.
    Share, "95 %";
    /// A [`Humidity`], held as a fraction.
    Humidity, "50 %";
    /// A [`Temperature`], held in degrees Celsius.
    Temperature, "20 C";
    /// A [`TemperatureDifference`], held in kelvins.
    TemperatureDifference, "3 K";
    /// A [`Diffusivity`], held in square metres a second.
    Diffusivity, "2e-11 m2/s";
    /// A [`MolarEnergy`], held in joules a mole.
    MolarEnergy, "45 kJ/mol";
    /// An [`Irradiance`], held in watts a square metre.
    Irradiance, "5 mW/cm2";
    /// A [`RadiantExposure`], held in joules a square metre.
    RadiantExposure, "150 mJ/cm2";
    /// A [`DynamicViscosity`], held in pascal seconds.
    DynamicViscosity, "0.8 Pa s";
    /// A [`Ratio`], held as a number.
    Ratio, "2:1";
    /// An amount of [`Money`], held in whole currency units.
    Money, "7.20";
}

impl Kind {
    /// Whether the kind is a plain number, written without a unit.
    #[must_use]
    pub const fn is_plain(self) -> bool {
        matches!(self, Kind::Ratio | Kind::Money)
    }

    /// Whether a value below zero makes sense.
    #[must_use]
    pub const fn can_be_negative(self) -> bool {
        matches!(
            self,
            Kind::Temperature | Kind::TemperatureDifference | Kind::Angle | Kind::Ratio
        )
    }

    /// Whether people write it in parts, such as "1 h 30 min".
    pub(super) const fn comes_in_parts(self) -> bool {
        matches!(self, Kind::Length | Kind::Time | Kind::Mass | Kind::Volume)
    }

    /// Units that a number without one most likely meant.
    pub(super) const fn likely_units(self) -> &'static [&'static str] {
        match self {
            Kind::Length => &["mm"],
            Kind::Area => &["mm2"],
            Kind::Volume => &["mL"],
            Kind::Mass => &["g"],
            Kind::Time => &["min", "h"],
            Kind::Speed => &["m/s"],
            Kind::Pressure => &["hPa"],
            Kind::Density => &["kg/m3", "g/mL"],
            Kind::SurfaceTension => &["mN/m"],
            Kind::Angle => &["deg"],
            Kind::Share | Kind::Humidity => &["%"],
            Kind::Temperature => &["C", "F"],
            Kind::TemperatureDifference => &["K"],
            Kind::Diffusivity => &["m2/s"],
            Kind::MolarEnergy => &["kJ/mol"],
            Kind::Irradiance => &["mW/cm2"],
            Kind::RadiantExposure => &["mJ/cm2"],
            Kind::DynamicViscosity => &["Pa s", "mPa s"],
            Kind::Ratio | Kind::Money => &[],
        }
    }
}
