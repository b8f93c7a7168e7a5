//! Writing quantities as makers read them, in metric or US units.
//!
//! Two or three figures, the unit that fits the size, and what is written
//! can be read again by [`super::parse`].

use super::figures::{decimals, figures, fit};
use super::{
    Angle, Area, Density, Diffusivity, DynamicViscosity, Humidity, Irradiance, Length, Mass,
    MolarEnergy, Money, Pressure, RadiantExposure, Ratio, Share, Speed, SurfaceTension,
    Temperature, TemperatureDifference, Time, Volume,
};
use std::str::FromStr;

pub use super::figures::{digits_told, significant};
pub use super::most::{at_least, at_most, lasting};

/// The units to show in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Units {
    /// Millimetres, millilitres, grams, degrees Celsius.
    #[default]
    Metric,
    /// Inches, US fluid ounces, ounces by weight, degrees Fahrenheit.
    Us,
}

/// A word that names no set of units.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("\"{0}\": units are \"metric\" or \"us\"")]
pub struct UnknownUnits(pub String);

impl FromStr for Units {
    type Err = UnknownUnits;

    fn from_str(text: &str) -> Result<Self, UnknownUnits> {
        match text.trim().to_ascii_lowercase().as_str() {
            "metric" => Ok(Units::Metric),
            "us" => Ok(Units::Us),
            _ => Err(UnknownUnits(text.to_owned())),
        }
    }
}

/// A quantity that can be written for a person.
pub trait Show {
    /// The quantity in the unit that fits it, with about three figures.
    ///
    /// ```
    /// use brimful::quantity::{Length, Show, Units};
    /// let across = Length::from_mm(38.1);
    /// assert_eq!(across.show(Units::Metric), "38.1 mm");
    /// assert_eq!(across.show(Units::Us), "1 1/2 in");
    /// ```
    fn show(&self, units: Units) -> String;
}

/// Writes the value in the first unit whose limit is above it; each step is
/// (limit, size, name). Zero is written in the
/// first unit that is not a fraction.
fn scaled(value: f64, steps: &[(f64, f64, &str)], write: fn(f64) -> String) -> String {
    let step = if value == 0.0 {
        steps
            .iter()
            .find(|(below, size, _)| size < below && *size >= 1.0)
    } else {
        steps.iter().find(|(below, ..)| value.abs() < *below)
    };
    let (_, size, name) = step.or(steps.last()).unwrap_or(&(ALL, 1.0, ""));
    format!("{} {name}", write(value / size))
}

const ALL: f64 = f64::INFINITY;

impl Show for Length {
    fn show(&self, units: Units) -> String {
        match units {
            Units::Metric => scaled(
                self.mm(),
                &[(0.01, 1e-3, "µm"), (1000.0, 1.0, "mm"), (ALL, 1000.0, "m")],
                fit,
            ),
            Units::Us => inches(self.inch()),
        }
    }
}

/// Sixteenths where the length is a whole number of them, else a decimal.
fn inches(value: f64) -> String {
    const NEAR: f64 = 1e-6;
    let sixteenths = (value * 16.0).round();
    let exact = (value * 16.0 - sixteenths).abs() < NEAR && (1.0..192.0).contains(&sixteenths);
    if !exact {
        return if value.abs() < 120.0 {
            format!(
                "{} in",
                figures(value, if value.abs() < 0.995 { 2 } else { 3 })
            )
        } else {
            format!("{} ft", fit(value / 12.0))
        };
    }
    let (mut above, mut below) = (sixteenths % 16.0, 16.0);
    let whole = (sixteenths / 16.0).trunc();
    while above > 0.0 && above % 2.0 == 0.0 {
        above /= 2.0;
        below /= 2.0;
    }
    match (whole > 0.0, above > 0.0) {
        (true, true) => format!("{whole} {above}/{below} in"),
        (false, true) => format!("{above}/{below} in"),
        _ => format!("{whole} in"),
    }
}

impl Show for Area {
    fn show(&self, units: Units) -> String {
        match units {
            Units::Metric => scaled(
                self.mm2(),
                &[(1000.0, 1.0, "mm²"), (1e6, 100.0, "cm²"), (ALL, 1e6, "m²")],
                fit,
            ),
            Units::Us => scaled(
                self.mm2() / (25.4 * 25.4),
                &[(144.0, 1.0, "in²"), (ALL, 144.0, "ft²")],
                fit,
            ),
        }
    }
}

impl Show for Volume {
    fn show(&self, units: Units) -> String {
        match units {
            Units::Metric => scaled(
                self.ml(),
                &[(0.01, 1e-3, "mm³"), (1000.0, 1.0, "mL"), (ALL, 1000.0, "L")],
                fit,
            ),
            Units::Us => scaled(
                self.us_fl_oz(),
                &[(128.0, 1.0, "fl oz"), (ALL, 128.0, "US gal")],
                fit,
            ),
        }
    }
}

impl Show for Mass {
    fn show(&self, units: Units) -> String {
        match units {
            Units::Metric => scaled(
                self.g(),
                &[(0.01, 1e-3, "mg"), (1000.0, 1.0, "g"), (ALL, 1000.0, "kg")],
                fit,
            ),
            Units::Us => scaled(self.oz(), &[(16.0, 1.0, "oz wt"), (ALL, 16.0, "lb")], fit),
        }
    }
}

impl Show for Time {
    /// Seconds to two minutes, minutes to two hours, hours to two days.
    fn show(&self, _: Units) -> String {
        let steps = [
            (120.0, 1.0, "s"),
            (7200.0, 60.0, "min"),
            (172_800.0, 3600.0, "h"),
        ];
        let [s, min, h] = steps;
        scaled(self.s(), &[s, min, h, (ALL, 86_400.0, "days")], |value| {
            if value < 9.95 {
                figures(value, 2)
            } else {
                decimals(value, 0)
            }
        })
    }
}

impl Show for Speed {
    fn show(&self, units: Units) -> String {
        match units {
            Units::Metric => format!("{} m/s", fit(self.m_per_s())),
            Units::Us => format!("{} ft/min", fit(self.m_per_s() / 0.3048 * 60.0)),
        }
    }
}

impl Show for Pressure {
    fn show(&self, units: Units) -> String {
        match units {
            Units::Metric => format!("{} hPa", figures(self.hpa(), 4)),
            Units::Us => format!("{} inHg", figures(self.pa() / 3386.389, 4)),
        }
    }
}

impl Show for Density {
    fn show(&self, units: Units) -> String {
        match units {
            Units::Metric => format!("{} g/mL", figures(self.g_per_ml(), 3)),
            Units::Us => {
                // 1 lb/US gal = 0.45359237 kg / 3.785411784e-3 m3
                let per_gallon = self.kg_per_m3() * 3.785_411_784e-3 / 0.453_592_37;
                format!("{} lb/US gal", figures(per_gallon, 3))
            }
        }
    }
}

impl Show for SurfaceTension {
    fn show(&self, units: Units) -> String {
        let unit = if units == Units::Us { "dyn/cm" } else { "mN/m" };
        format!("{} {unit}", figures(self.mn_per_m(), 3))
    }
}

impl Show for Angle {
    fn show(&self, _: Units) -> String {
        format!("{}°", fit(self.deg()))
    }
}

impl Show for Share {
    fn show(&self, _: Units) -> String {
        format!("{} %", fit(self.percent()))
    }
}

impl Show for Humidity {
    fn show(&self, _: Units) -> String {
        format!("{} %", decimals(self.percent(), 0))
    }
}

impl Show for Temperature {
    fn show(&self, units: Units) -> String {
        match units {
            Units::Metric => format!("{} °C", decimals(self.celsius(), 1)),
            Units::Us => format!("{} °F", decimals(self.fahrenheit(), 0)),
        }
    }
}

impl Show for TemperatureDifference {
    fn show(&self, units: Units) -> String {
        match units {
            Units::Metric => format!("{} °C", decimals(self.k(), 1)),
            Units::Us => format!("{} °F", decimals(self.fahrenheit_degrees(), 1)),
        }
    }
}

impl Show for Diffusivity {
    /// In µm²/s for either set of units: a film's value is near 20.
    fn show(&self, _: Units) -> String {
        format!("{} µm²/s", figures(self.m2_per_s() * 1e12, 3))
    }
}

impl Show for MolarEnergy {
    fn show(&self, _: Units) -> String {
        format!("{} kJ/mol", figures(self.kj_per_mol(), 3))
    }
}

impl Show for Irradiance {
    /// In mW/cm² for either set of units, as lamps are sold.
    fn show(&self, _: Units) -> String {
        format!("{} mW/cm²", fit(self.mw_per_cm2()))
    }
}

impl Show for RadiantExposure {
    fn show(&self, _: Units) -> String {
        let steps = [(1000.0, 1.0, "mJ/cm²"), (ALL, 1000.0, "J/cm²")];
        scaled(self.mj_per_cm2(), &steps, fit)
    }
}

impl Show for DynamicViscosity {
    fn show(&self, _: Units) -> String {
        scaled(
            self.pa_s(),
            &[(1.0, 1e-3, "mPa s"), (ALL, 1.0, "Pa s")],
            fit,
        )
    }
}

impl Show for Ratio {
    fn show(&self, _: Units) -> String {
        figures(self.number(), 3)
    }
}

impl Show for Money {
    /// Two decimals; the currency is the run's to name.
    fn show(&self, _: Units) -> String {
        let text = format!("{:.2}", self.amount());
        if text == "-0.00" {
            "0.00".to_owned()
        } else {
            text
        }
    }
}
