//! The unit table: every spelling that is read, with its kind and its size.
//!
//! Exact by definition: the inch and the pound (international yard and pound
//! agreement of 1959: 1 yd = 0.9144 m, 1 lb = 0.45359237 kg), the US gallon
//! (231 cubic inches, NIST Handbook 44), the imperial gallon (4.54609 L, UK
//! Weights and Measures Act 1985), the calorie (4.184 J, thermochemical). The
//! inch of mercury is the conventional 3386.389 Pa of NIST SP 811. All from
//! memory, checked against each other in the tests.

use super::Kind;
use std::f64::consts::PI;

/// How a number in some unit becomes the value that the quantity holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Scale {
    /// `held = number * size`
    Times(f64),
    /// `held = (number - zero) / per`, for the temperature scales.
    Shifted {
        /// The number on this scale at 0 °C.
        zero: f64,
        /// How many of this scale's degrees make one kelvin.
        per: f64,
    },
}

impl Scale {
    /// The held value of a number in this unit.
    pub(super) fn held(self, number: f64) -> f64 {
        match self {
            Scale::Times(size) => number * size,
            Scale::Shifted { zero, per } => (number - zero) / per,
        }
    }

    /// The size of one unit, for putting parts in order.
    pub(super) fn size(self) -> f64 {
        match self {
            Scale::Times(size) => size,
            Scale::Shifted { per, .. } => 1.0 / per,
        }
    }
}

/// One unit: its spellings (the preferred one first), kind and size.
#[derive(Debug)]
pub(super) struct Unit {
    /// Spellings, as [`tidy`] leaves them.
    pub(super) names: &'static [&'static str],
    /// What it measures.
    pub(super) kind: Kind,
    /// Its size.
    pub(super) scale: Scale,
}

/// A spelling that means different things to different people: never read.
#[derive(Debug)]
pub(super) struct Ambiguous {
    /// The spellings.
    pub(super) names: &'static [&'static str],
    /// The doubt, in words.
    pub(super) doubt: &'static str,
    /// Unit to write instead, and the metric unit that shows its size.
    pub(super) readings: [(&'static str, &'static str); 2],
}

const fn unit(kind: Kind, scale: f64, names: &'static [&'static str]) -> Unit {
    Unit {
        names,
        kind,
        scale: Scale::Times(scale),
    }
}

const fn degrees(zero: f64, per: f64, names: &'static [&'static str]) -> Unit {
    Unit {
        names,
        kind: Kind::Temperature,
        scale: Scale::Shifted { zero, per },
    }
}

/// Inch, `[m]`, exact.
const INCH: f64 = 0.0254;
/// Foot, `[m]`, exact.
const FOOT: f64 = 0.3048;
/// Avoirdupois pound, `[kg]`, exact.
const POUND: f64 = 0.453_592_37;
/// US gallon of 231 cubic inches, `[m3]`, exact.
const US_GALLON: f64 = 3.785_411_784e-3;
/// Imperial gallon, `[m3]`, exact.
const IMPERIAL_GALLON: f64 = 4.546_09e-3;

/// Every unit that is read. Where kinds share a spelling ("%", "C"), the kind
/// that comes first is the one told by the unit alone.
#[rustfmt::skip]
pub(super) static TABLE: &[Unit] = &[
    unit(Kind::Length, 1e-3, &["mm", "millimetre", "millimetres", "millimeter", "millimeters"]),
    unit(Kind::Length, 1e-2, &["cm", "centimetre", "centimetres", "centimeter", "centimeters"]),
    unit(Kind::Length, 1.0, &["m", "metre", "metres", "meter", "meters"]),
    unit(Kind::Length, 1e-6, &["um", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"]),
    unit(Kind::Length, INCH, &["in", "\"", "inch", "inches", "''"]),
    unit(Kind::Length, FOOT, &["ft", "'", "foot", "feet"]),
    unit(Kind::Length, 0.9144, &["yd", "yard", "yards"]),
    unit(Kind::Length, INCH / 1000.0, &["mil", "mils", "thou"]),

    unit(Kind::Area, 1e-6, &["mm2", "sq mm"]),
    unit(Kind::Area, 1e-4, &["cm2", "sq cm"]),
    unit(Kind::Area, 1.0, &["m2", "sq m"]),
    unit(Kind::Area, INCH * INCH, &["in2", "sq in", "square inch", "square inches"]),
    unit(Kind::Area, FOOT * FOOT, &["ft2", "sq ft", "square foot", "square feet"]),

    unit(Kind::Volume, 1e-6, &["mL", "millilitre", "millilitres", "milliliter", "milliliters", "cm3", "cc"]),
    unit(Kind::Volume, 1e-5, &["cL", "centilitre", "centilitres"]),
    unit(Kind::Volume, 1e-3, &["L", "litre", "litres", "liter", "liters", "dm3"]),
    unit(Kind::Volume, 1e-9, &["mm3", "uL"]),
    unit(Kind::Volume, 1.0, &["m3"]),
    unit(Kind::Volume, 29.573_529_562_5e-6, &["US fl oz", "fl oz", "floz", "fluid ounce", "fluid ounces", "US fluid ounce", "US fluid ounces"]),
    unit(Kind::Volume, US_GALLON / 8.0, &["US pt", "US pint", "US pints"]),
    unit(Kind::Volume, US_GALLON / 4.0, &["US qt", "US quart", "US quarts"]),
    unit(Kind::Volume, US_GALLON, &["US gal", "US gallon", "US gallons"]),
    unit(Kind::Volume, IMPERIAL_GALLON / 160.0, &["imp fl oz", "UK fl oz", "imperial fl oz", "imperial fluid ounce", "imperial fluid ounces"]),
    unit(Kind::Volume, IMPERIAL_GALLON / 8.0, &["imp pt", "UK pt", "imp pint", "imp pints", "imperial pint", "imperial pints"]),
    unit(Kind::Volume, IMPERIAL_GALLON / 4.0, &["imp qt", "UK qt", "imp quart", "imp quarts", "imperial quart", "imperial quarts"]),
    unit(Kind::Volume, IMPERIAL_GALLON, &["imp gal", "UK gal", "imp gallon", "imp gallons", "imperial gallon", "imperial gallons"]),
    unit(Kind::Volume, INCH * INCH * INCH, &["in3", "cu in"]),

    unit(Kind::Mass, 1e-3, &["g", "gram", "grams", "gramme", "grammes"]),
    unit(Kind::Mass, 1.0, &["kg", "kilo", "kilos", "kilogram", "kilograms"]),
    unit(Kind::Mass, 1e-6, &["mg", "milligram", "milligrams"]),
    unit(Kind::Mass, 28.349_523_125e-3, &["oz wt", "oz av", "oz avdp", "oz by weight", "ounces by weight"]),
    unit(Kind::Mass, POUND, &["lb", "lbs", "pound", "pounds"]),

    unit(Kind::Time, 60.0, &["min", "mins", "minute", "minutes"]),
    unit(Kind::Time, 3600.0, &["h", "hr", "hrs", "hour", "hours"]),
    unit(Kind::Time, 86_400.0, &["days", "day", "d"]),
    unit(Kind::Time, 1.0, &["s", "sec", "secs", "second", "seconds"]),
    unit(Kind::Time, 604_800.0, &["weeks", "week", "wk", "wks"]),

    unit(Kind::Speed, 1.0, &["m/s", "metres/second", "metre/second"]),
    unit(Kind::Speed, 1e-2, &["cm/s"]),
    unit(Kind::Speed, 1.0 / 3.6, &["km/h", "kph"]),
    unit(Kind::Speed, FOOT, &["ft/s"]),
    unit(Kind::Speed, FOOT / 60.0, &["ft/min", "fpm"]),
    unit(Kind::Speed, 0.447_04, &["mph", "mile/hour", "miles/hour"]),

    unit(Kind::Pressure, 100.0, &["hPa", "mbar", "millibar", "millibars"]),
    unit(Kind::Pressure, 1.0, &["Pa"]),
    unit(Kind::Pressure, 1000.0, &["kPa"]),
    unit(Kind::Pressure, 1e5, &["bar"]),
    unit(Kind::Pressure, 101_325.0, &["atm"]),
    unit(Kind::Pressure, 3386.389, &["inHg", "in Hg"]),

    unit(Kind::Density, 1.0, &["kg/m3", "g/L"]),
    unit(Kind::Density, 1000.0, &["g/mL", "g/cm3", "g/cc", "kg/L"]),
    unit(Kind::Density, POUND / US_GALLON, &["lb/US gal", "lbs/US gal"]),
    unit(Kind::Density, POUND / IMPERIAL_GALLON, &["lb/imp gal", "lbs/imp gal"]),

    unit(Kind::SurfaceTension, 1e-3, &["mN/m", "dyn/cm", "dyne/cm", "dynes/cm", "mJ/m2"]),
    unit(Kind::SurfaceTension, 1.0, &["N/m"]),

    unit(Kind::Angle, PI / 180.0, &["deg", "\u{b0}", "degree", "degrees"]),
    unit(Kind::Angle, 1.0, &["rad", "radian", "radians"]),

    unit(Kind::Share, 0.01, &["%", "percent", "per cent", "pct"]),
    unit(Kind::Humidity, 0.01, &["%", "% RH", "%RH", "percent", "per cent", "pct"]),

    degrees(0.0, 1.0, &["C", "\u{b0}C", "deg C", "degC", "degrees C", "celsius", "degrees celsius"]),
    degrees(32.0, 1.8, &["F", "\u{b0}F", "deg F", "degF", "degrees F", "fahrenheit", "degrees fahrenheit"]),
    degrees(273.15, 1.0, &["K", "kelvin", "kelvins"]),

    unit(Kind::TemperatureDifference, 1.0, &["K", "C", "\u{b0}C", "deg C", "degC", "degrees C", "kelvin", "kelvins", "celsius", "degrees celsius"]),
    unit(Kind::TemperatureDifference, 5.0 / 9.0, &["F", "\u{b0}F", "deg F", "degF", "degrees F", "fahrenheit", "degrees fahrenheit"]),

    unit(Kind::Diffusivity, 1.0, &["m2/s"]),
    unit(Kind::Diffusivity, 1e-4, &["cm2/s"]),
    unit(Kind::Diffusivity, 1e-6, &["mm2/s"]),
    unit(Kind::Diffusivity, 1e-12, &["um2/s"]),

    unit(Kind::MolarEnergy, 1000.0, &["kJ/mol"]),
    unit(Kind::MolarEnergy, 1.0, &["J/mol"]),
    unit(Kind::MolarEnergy, 4184.0, &["kcal/mol"]),

    unit(Kind::Irradiance, 10.0, &["mW/cm2", "mW/sq cm"]),
    unit(Kind::Irradiance, 1e-2, &["uW/cm2"]),
    unit(Kind::Irradiance, 1e4, &["W/cm2"]),
    unit(Kind::Irradiance, 1.0, &["W/m2"]),

    unit(Kind::RadiantExposure, 10.0, &["mJ/cm2", "mJ/sq cm"]),
    unit(Kind::RadiantExposure, 1e4, &["J/cm2"]),
    unit(Kind::RadiantExposure, 1.0, &["J/m2"]),

    unit(Kind::DynamicViscosity, 1.0, &["Pa s", "Pas", "Pa\u{b7}s", "pascal second", "pascal seconds"]),
    unit(Kind::DynamicViscosity, 1e-3, &["mPa s", "mPas", "mPa\u{b7}s", "cP", "cps", "centipoise"]),
    unit(Kind::DynamicViscosity, 0.1, &["P", "poise"]),
];

/// Spellings that are refused, with what to write instead.
pub(super) static AMBIGUOUS: &[Ambiguous] = &[
    Ambiguous {
        names: &["oz", "ozs", "ounce", "ounces", "US oz", "UK oz", "imp oz"],
        doubt: "a weight or a volume",
        readings: [("oz wt", "g"), ("US fl oz", "mL")],
    },
    Ambiguous {
        names: &["pt", "pint", "pints"],
        doubt: "US or imperial",
        readings: [("US pt", "mL"), ("imp pt", "mL")],
    },
    Ambiguous {
        names: &["qt", "quart", "quarts"],
        doubt: "US or imperial",
        readings: [("US qt", "L"), ("imp qt", "L")],
    },
    Ambiguous {
        names: &["gal", "gals", "gallon", "gallons"],
        doubt: "US or imperial",
        readings: [("US gal", "L"), ("imp gal", "L")],
    },
    Ambiguous {
        names: &["lb/gal", "lbs/gal"],
        doubt: "US or imperial",
        readings: [("lb/US gal", "g/mL"), ("lb/imp gal", "g/mL")],
    },
];

/// The unit of that kind (of any, where none is named) that is spelt so.
///
/// Capitals count first ("mN" before "MN") and are then overlooked, since
/// labels print "60 ML" and no megalitre is in the table.
pub(super) fn find(spelling: &str, kind: Option<Kind>) -> Option<&'static Unit> {
    let of_kind = || {
        TABLE
            .iter()
            .filter(|unit| kind.is_none_or(|k| k == unit.kind))
    };
    of_kind()
        .find(|unit| unit.names.contains(&spelling))
        .or_else(|| of_kind().find(|unit| same(unit.names, spelling)))
}

/// The refused spelling that this is, if it is one.
pub(super) fn ambiguous(spelling: &str) -> Option<&'static Ambiguous> {
    AMBIGUOUS.iter().find(|entry| same(entry.names, spelling))
}

fn same(names: &[&str], spelling: &str) -> bool {
    names.iter().any(|name| name.eq_ignore_ascii_case(spelling))
}

/// Longest text that may be a mistyped unit, in characters.
const LONGEST_SLIP: usize = 40;

/// The spelling of that kind nearest to a mistyped one, if any is near.
pub(super) fn nearest(spelling: &str, kind: Option<Kind>) -> Option<&'static str> {
    let typed = spelling.to_lowercase();
    let length = typed.chars().count();
    if length > LONGEST_SLIP {
        return None;
    }
    let most = (length / 3).max(1).min(length.saturating_sub(1));
    TABLE
        .iter()
        .filter(|unit| kind.is_none_or(|k| k == unit.kind))
        .flat_map(|unit| unit.names)
        .map(|name| {
            let known = name.to_lowercase();
            let slips = strsim::osa_distance(&typed, &known);
            ((slips, length.abs_diff(known.chars().count())), *name)
        })
        .filter(|((slips, _), _)| *slips <= most)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}
