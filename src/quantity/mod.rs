//! Quantities with units: read and written as people write them.
//!
//! Every quantity is a type of its own over an SI `f64`, so a length cannot be
//! passed where a time is wanted. Constructors and getters name their unit.
//! Reading (`"1 1/2 in".parse::<Length>()`) lives in [`parse`], what reading
//! can refuse in [`unreadable`], writing in metric or US units in [`show`], and
//! a quantity told by its unit alone in [`measured`].

mod figures;
mod kind;
pub mod measured;
mod most;
mod number;
mod offset;
pub mod parse;
mod parts;
mod reader;
pub mod show;
#[cfg(test)]
mod tests;
mod tidy;
mod units;
pub mod unreadable;

pub use kind::Kind;
pub use measured::Measured;
pub use offset::Offset;
pub use show::{Show, Units};
pub use unreadable::Unreadable;

/// Defines one quantity: a newtype over its SI value with named units.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $kind:literal, { $( $(#[$unit_doc:meta])* $from:ident / $to:ident = $factor:expr ),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            /// What the quantity is called in messages.
            pub const KIND: &'static str = $kind;
            /// Zero.
            pub const ZERO: Self = Self(0.0);
            $(
                $(#[$unit_doc])*
                #[must_use]
                pub const fn $from(value: f64) -> Self {
                    Self(value * $factor)
                }
                $(#[$unit_doc])*
                #[must_use]
                pub const fn $to(self) -> f64 {
                    self.0 / $factor
                }
            )+
        }

        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, by: f64) -> Self {
                Self(self.0 * by)
            }
        }
        impl std::ops::Div<f64> for $name {
            type Output = Self;
            fn div(self, by: f64) -> Self {
                Self(self.0 / by)
            }
        }
        impl std::ops::Div for $name {
            type Output = f64;
            fn div(self, by: Self) -> f64 {
                self.0 / by.0
            }
        }
        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(items: I) -> Self {
                items.fold(Self::ZERO, |a, b| a + b)
            }
        }
    };
}

quantity! {
    /// A length. SI unit: metre.
    Length, "a length", {
        /// In metres, `[m]`.
        from_m / m = 1.0,
        /// In millimetres, `[mm]`.
        from_mm / mm = 1e-3,
        /// In inches, `[in]`, exactly 25.4 mm.
        from_in / inch = 0.0254,
    }
}
quantity! {
    /// An area. SI unit: square metre.
    Area, "an area", {
        /// In square metres, `[m2]`.
        from_m2 / m2 = 1.0,
        /// In square millimetres, `[mm2]`.
        from_mm2 / mm2 = 1e-6,
        /// In square centimetres, `[cm2]`.
        from_cm2 / cm2 = 1e-4,
    }
}
quantity! {
    /// A volume. SI unit: cubic metre.
    Volume, "a volume", {
        /// In cubic metres, `[m3]`.
        from_m3 / m3 = 1.0,
        /// In millilitres, `[mL]`.
        from_ml / ml = 1e-6,
        /// In cubic millimetres, `[mm3]`.
        from_mm3 / mm3 = 1e-9,
        /// In litres, `[L]`.
        from_l / l = 1e-3,
        /// In US fluid ounces, `[US fl oz]`, exactly 29.5735295625 mL.
        from_us_fl_oz / us_fl_oz = 29.573_529_562_5e-6,
    }
}
quantity! {
    /// A mass. SI unit: kilogram.
    Mass, "a mass", {
        /// In kilograms, `[kg]`.
        from_kg / kg = 1.0,
        /// In grams, `[g]`.
        from_g / g = 1e-3,
        /// In avoirdupois ounces, `[oz]` by weight, exactly 28.349523125 g.
        from_oz / oz = 28.349_523_125e-3,
    }
}
quantity! {
    /// A length of time. SI unit: second.
    Time, "a time", {
        /// In seconds, `[s]`.
        from_s / s = 1.0,
        /// In minutes, `[min]`.
        from_min / min = 60.0,
        /// In hours, `[h]`.
        from_h / h = 3600.0,
        /// In days of 24 hours, `[d]`.
        from_days / days = 86_400.0,
    }
}
quantity! {
    /// A speed, of air for instance. SI unit: metre a second.
    Speed, "a speed", {
        /// In metres a second, `[m/s]`.
        from_m_per_s / m_per_s = 1.0,
    }
}
quantity! {
    /// How often the air of a space is replaced. SI unit: once a second.
    AirChanges, "air changes", {
        /// A second, `[1/s]`.
        from_per_s / per_s = 1.0,
        /// An hour, `[1/h]`.
        from_per_h / per_h = 1.0 / 3600.0,
    }
}
quantity! {
    /// A flow of air. SI unit: cubic metre a second.
    AirFlow, "a flow of air", {
        /// In cubic metres a second, `[m3/s]`.
        from_m3_per_s / m3_per_s = 1.0,
        /// In litres a minute, `[L/min]`.
        from_l_per_min / l_per_min = 1e-3 / 60.0,
        /// In cubic feet a minute, `[ft3/min]`, exactly 0.028316846592 m3 a minute.
        from_ft3_per_min / ft3_per_min = 0.028_316_846_592 / 60.0,
    }
}
quantity! {
    /// A pressure. SI unit: pascal.
    Pressure, "a pressure", {
        /// In pascals, `[Pa]`.
        from_pa / pa = 1.0,
        /// In hectopascals, `[hPa]`.
        from_hpa / hpa = 100.0,
    }
}
quantity! {
    /// A density. SI unit: kilogram a cubic metre.
    Density, "a density", {
        /// In kilograms a cubic metre, `[kg/m3]`.
        from_kg_per_m3 / kg_per_m3 = 1.0,
        /// In grams a millilitre, `[g/mL]`.
        from_g_per_ml / g_per_ml = 1000.0,
    }
}
quantity! {
    /// A surface tension. SI unit: newton a metre.
    SurfaceTension, "a surface tension", {
        /// In newtons a metre, `[N/m]`.
        from_n_per_m / n_per_m = 1.0,
        /// In millinewtons a metre, `[mN/m]`.
        from_mn_per_m / mn_per_m = 1e-3,
    }
}
quantity! {
    /// A plane angle. SI unit: radian.
    Angle, "an angle", {
        /// In radians, `[rad]`.
        from_rad / rad = 1.0,
        /// In degrees, `[deg]`.
        from_deg / deg = std::f64::consts::PI / 180.0,
    }
}
quantity! {
    /// A share of a whole, such as solids by volume. SI unit: one.
    Share, "a share", {
        /// As a fraction, `[1]`: a half is 0.5.
        from_fraction / fraction = 1.0,
        /// In per cent, `[%]`: a half is 50.
        from_percent / percent = 0.01,
    }
}
quantity! {
    /// The relative humidity of air, over water at every temperature. SI unit: one.
    Humidity, "a relative humidity", {
        /// As a fraction, `[1]`: saturated is 1.
        from_fraction / fraction = 1.0,
        /// In per cent, `[%]`: saturated is 100.
        from_percent / percent = 0.01,
    }
}
quantity! {
    /// A difference between two temperatures. SI unit: kelvin.
    TemperatureDifference, "a temperature difference", {
        /// In kelvins, `[K]`.
        from_k / k = 1.0,
        /// In Fahrenheit degrees, `[F]` of difference, exactly 5/9 K.
        from_fahrenheit_degrees / fahrenheit_degrees = 5.0 / 9.0,
    }
}
quantity! {
    /// A diffusivity, of water in a film for instance. SI unit: square metre a second.
    Diffusivity, "a diffusivity", {
        /// In square metres a second, `[m2/s]`.
        from_m2_per_s / m2_per_s = 1.0,
    }
}
quantity! {
    /// An energy of activation. SI unit: joule a mole.
    MolarEnergy, "a molar energy", {
        /// In joules a mole, `[J/mol]`.
        from_j_per_mol / j_per_mol = 1.0,
        /// In kilojoules a mole, `[kJ/mol]`.
        from_kj_per_mol / kj_per_mol = 1000.0,
    }
}
quantity! {
    /// The power of light that falls on a surface, a lamp's at a piece for instance.
    /// SI unit: watt a square metre.
    Irradiance, "an irradiance", {
        /// In watts a square metre, `[W/m2]`.
        from_w_per_m2 / w_per_m2 = 1.0,
        /// In milliwatts a square centimetre, `[mW/cm2]`.
        from_mw_per_cm2 / mw_per_cm2 = 10.0,
    }
}
quantity! {
    /// The energy of light that fell on a surface: its dose. SI unit: joule a square metre.
    RadiantExposure, "a radiant exposure", {
        /// In joules a square metre, `[J/m2]`.
        from_j_per_m2 / j_per_m2 = 1.0,
        /// In millijoules a square centimetre, `[mJ/cm2]`.
        from_mj_per_cm2 / mj_per_cm2 = 10.0,
    }
}
quantity! {
    /// A dynamic viscosity: how thick a liquid is to pour. SI unit: pascal second.
    DynamicViscosity, "a viscosity", {
        /// In pascal seconds, `[Pa s]`.
        from_pa_s / pa_s = 1.0,
        /// In millipascal seconds, `[mPa s]`, which are centipoise.
        from_mpa_s / mpa_s = 1e-3,
    }
}
quantity! {
    /// A plain ratio or number, such as a mixing ratio "2:1". SI unit: one.
    Ratio, "a ratio", {
        /// As a number, `[1]`.
        from_number / number = 1.0,
    }
}
quantity! {
    /// An amount of money, in whatever currency the run names.
    Money, "an amount of money", {
        /// In whole currency units.
        from_amount / amount = 1.0,
    }
}

/// A temperature. Held in degrees Celsius; kelvins are 273.15 more.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Temperature(f64);

impl Temperature {
    /// What the quantity is called in messages.
    pub const KIND: &'static str = "a temperature";

    /// From degrees Celsius, `[°C]`.
    #[must_use]
    pub const fn from_celsius(value: f64) -> Self {
        Self(value)
    }
    /// From kelvins, `[K]`.
    #[must_use]
    pub const fn from_kelvin(value: f64) -> Self {
        Self(value - 273.15)
    }
    /// From degrees Fahrenheit, `[°F]`.
    #[must_use]
    pub const fn from_fahrenheit(value: f64) -> Self {
        Self((value - 32.0) / 1.8)
    }
    /// In degrees Celsius, `[°C]`.
    #[must_use]
    pub const fn celsius(self) -> f64 {
        self.0
    }
    /// In kelvins, `[K]`.
    #[must_use]
    pub const fn kelvin(self) -> f64 {
        self.0 + 273.15
    }
    /// In degrees Fahrenheit, `[°F]`.
    #[must_use]
    pub const fn fahrenheit(self) -> f64 {
        self.0 * 1.8 + 32.0
    }
}

impl std::ops::Sub for Temperature {
    type Output = TemperatureDifference;
    fn sub(self, other: Self) -> TemperatureDifference {
        TemperatureDifference::from_k(self.0 - other.0)
    }
}
impl std::ops::Add<TemperatureDifference> for Temperature {
    type Output = Self;
    fn add(self, by: TemperatureDifference) -> Self {
        Self(self.0 + by.k())
    }
}
impl std::ops::Sub<TemperatureDifference> for Temperature {
    type Output = Self;
    fn sub(self, by: TemperatureDifference) -> Self {
        Self(self.0 - by.k())
    }
}

impl std::ops::Mul<Time> for Irradiance {
    type Output = RadiantExposure;
    fn mul(self, lasts: Time) -> RadiantExposure {
        RadiantExposure::from_j_per_m2(self.0 * lasts.0)
    }
}
impl std::ops::Div<Irradiance> for RadiantExposure {
    type Output = Time;
    fn div(self, light: Irradiance) -> Time {
        Time::from_s(self.0 / light.0)
    }
}
impl std::ops::Mul<Length> for Area {
    type Output = Volume;
    fn mul(self, height: Length) -> Volume {
        Volume::from_m3(self.0 * height.0)
    }
}
impl std::ops::Div<Area> for Volume {
    type Output = Length;
    fn div(self, area: Area) -> Length {
        Length::from_m(self.0 / area.0)
    }
}
impl std::ops::Mul<Density> for Volume {
    type Output = Mass;
    fn mul(self, density: Density) -> Mass {
        Mass::from_kg(self.0 * density.0)
    }
}
impl std::ops::Div<Density> for Mass {
    type Output = Volume;
    fn div(self, density: Density) -> Volume {
        Volume::from_m3(self.0 / density.0)
    }
}
