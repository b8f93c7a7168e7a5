//! What is written, as tables.

use crate::quantity::show::significant;
use crate::quantity::{
    Angle, Area, Density, Diffusivity, DynamicViscosity, Humidity, Irradiance, Length, Mass,
    MolarEnergy, Money, Pressure, RadiantExposure, Ratio, Share, Speed, SurfaceTension,
    TemperatureDifference, Time, Volume,
};
use crate::quantity::{Measured, Show, Temperature, Units, parse::Quantity};

/// Rounding worked by hand: value, digits, text.
const ROUNDED: &[(f64, usize, &str)] = &[
    (0.0999, 2, "0.10"),
    (0.0994, 2, "0.099"),
    (9.96, 2, "10"),
    (9.94, 2, "9.9"),
    (99.96, 3, "100"),
    (12_345.0, 3, "12300"),
    (999_600.0, 3, "1000000"),
    (1234.5, 5, "1234.5"),
    (0.5, 1, "0.5"),
    (0.5, 3, "0.500"),
    (-0.0, 2, "0"),
    (-1.25e-3, 2, "-0.0013"),
    (3.0, 0, "3"),
    (2e-11, 2, "0.000000000020"),
];

#[test]
fn significant_digits_round_and_stay_plain() {
    for (value, digits, text) in ROUNDED {
        assert_eq!(significant(*value, *digits), *text);
    }
    assert_eq!(ROUNDED.len(), 14);
    assert_eq!(significant(f64::NAN, 2), "not a number");
}

/// Shows a text's quantity in both sets of units.
fn both<Q: Quantity + Show>(text: &str) -> (String, String) {
    let read: Measured = crate::quantity::parse::read(text, Some(Q::OF)).expect(text);
    let quantity: Q = read.get().expect("its own kind");
    (quantity.show(Units::Metric), quantity.show(Units::Us))
}

/// How to show the text's quantity, the text, and what is wanted in each units.
type Row = (
    fn(&str) -> (String, String),
    &'static str,
    &'static str,
    &'static str,
);

/// Converted by hand from the definitions named in the table of sizes.
const SHOWN: &[Row] = &[
    (both::<Length>, "25 mm", "25 mm", "0.98 in"),
    (both::<Length>, "38 mm", "38 mm", "1.5 in"),
    (both::<Length>, "1 1/2 in", "38.1 mm", "1 1/2 in"),
    (both::<Length>, "5/8 in", "15.9 mm", "5/8 in"),
    (both::<Length>, "2 in", "50.8 mm", "2 in"),
    (both::<Length>, "1.24 mm", "1.2 mm", "0.049 in"),
    (both::<Length>, "4.2 um", "4.2 µm", "0.00017 in"),
    (both::<Length>, "12.5 m", "12.5 m", "41 ft"),
    (both::<Length>, "0", "0 mm", "0 in"),
    (both::<Area>, "491 mm2", "491 mm²", "0.76 in²"),
    (both::<Area>, "1134 mm2", "11.3 cm²", "1.8 in²"),
    (both::<Area>, "1 ft2", "929 cm²", "1 ft²"),
    (both::<Volume>, "2.14 mL", "2.1 mL", "0.072 fl oz"),
    (both::<Volume>, "60 mL", "60 mL", "2 fl oz"),
    (both::<Volume>, "1.5 L", "1.5 L", "50.7 fl oz"),
    (both::<Volume>, "1 US gal", "3.8 L", "1 US gal"),
    (both::<Mass>, "1.4 g", "1.4 g", "0.049 oz wt"),
    (both::<Mass>, "158 g", "158 g", "5.6 oz wt"),
    (both::<Mass>, "1 kg", "1 kg", "2.2 lb"),
    (both::<Time>, "50 s", "50 s", "50 s"),
    (both::<Time>, "35.4 min", "35 min", "35 min"),
    (both::<Time>, "4 h", "4 h", "4 h"),
    (both::<Time>, "2.5 h", "2.5 h", "2.5 h"),
    (both::<Time>, "33.3 h", "33 h", "33 h"),
    (both::<Time>, "72 h", "3 days", "3 days"),
    (both::<Time>, "0", "0 s", "0 s"),
    (both::<Speed>, "0.3 m/s", "0.3 m/s", "59.1 ft/min"),
    (both::<Pressure>, "1013.25 hPa", "1013 hPa", "29.92 inHg"),
    (both::<Density>, "1050 kg/m3", "1.05 g/mL", "8.76 lb/US gal"),
    (both::<SurfaceTension>, "35 mN/m", "35 mN/m", "35 dyn/cm"),
    (both::<Angle>, "45 deg", "45°", "45°"),
    (both::<Angle>, "0.52 deg", "0.52°", "0.52°"),
    (both::<Share>, "95 %", "95 %", "95 %"),
    (both::<Share>, "99.5 %", "99.5 %", "99.5 %"),
    (both::<Humidity>, "82.4 %", "82 %", "82 %"),
    (both::<Temperature>, "12 C", "12 °C", "54 °F"),
    (both::<Temperature>, "8.27 C", "8.3 °C", "47 °F"),
    (both::<Temperature>, "-0.01 C", "0 °C", "32 °F"),
    (both::<Temperature>, "-17.9 C", "-17.9 °C", "0 °F"),
    (both::<TemperatureDifference>, "3 K", "3 °C", "5.4 °F"),
    (both::<Diffusivity>, "2e-11 m2/s", "20 µm²/s", "20 µm²/s"),
    (both::<MolarEnergy>, "45 kJ/mol", "45 kJ/mol", "45 kJ/mol"),
    (both::<Irradiance>, "5 mW/cm2", "5 mW/cm²", "5 mW/cm²"),
    (
        both::<RadiantExposure>,
        "150 mJ/cm2",
        "150 mJ/cm²",
        "150 mJ/cm²",
    ),
    (
        both::<RadiantExposure>,
        "2500 mJ/cm2",
        "2.5 J/cm²",
        "2.5 J/cm²",
    ),
    (
        both::<DynamicViscosity>,
        "0.8 Pa s",
        "800 mPa s",
        "800 mPa s",
    ),
    (both::<DynamicViscosity>, "5000 cP", "5 Pa s", "5 Pa s"),
    (both::<DynamicViscosity>, "0", "0 Pa s", "0 Pa s"),
    (both::<Ratio>, "100:90", "1.11", "1.11"),
    (both::<Money>, "7.2", "7.20", "7.20"),
];

#[test]
fn quantities_are_written_as_makers_read_them() {
    for (show, text, metric, us) in SHOWN {
        let (in_metric, in_us) = show(text);
        assert_eq!(
            (in_metric.as_str(), in_us.as_str()),
            (*metric, *us),
            "{text}"
        );
    }
    assert_eq!(SHOWN.len(), 50);
}

#[test]
fn units_are_named_metric_or_us() {
    assert_eq!("metric".parse(), Ok(Units::Metric));
    assert_eq!("US".parse(), Ok(Units::Us));
    let why = "imperial".parse::<Units>().expect_err("not offered");
    assert_eq!(why.to_string(), r#""imperial": units are "metric" or "us""#);
}
