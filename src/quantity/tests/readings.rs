//! What is read, as a table: text, kind, value in the unit the kind is held in.

use crate::quantity::{self, Kind, Measured, parse};

use Kind::{
    Angle, Area, Density, Diffusivity, DynamicViscosity, Humidity, Irradiance, Length, Mass,
    MolarEnergy, Money, Pressure, RadiantExposure, Ratio, Share, Speed, SurfaceTension, Time,
    Volume,
};

const READ: &[(&str, Kind, f64)] = &[
    ("25 mm", Length, 0.025),
    ("25mm", Length, 0.025),
    (" 25\u{a0}mm ", Length, 0.025),
    ("25\u{202f}MM", Length, 0.025),
    ("2.5 cm", Length, 0.025),
    (".5 m", Length, 0.5),
    ("+5. mm", Length, 0.005),
    ("2.5e1 mm", Length, 0.025),
    ("50 µm", Length, 5e-5),
    ("50 \u{3bc}m", Length, 5e-5),
    ("1 1/2 in", Length, 0.0381),
    ("1-1/2\"", Length, 0.0381),
    ("1½ in.", Length, 0.0381),
    ("1 ½ inches", Length, 0.0381),
    ("3/4\"", Length, 0.01905),
    ("1/2\u{2033}", Length, 0.0127),
    ("¼ in", Length, 0.00635),
    ("3\u{2044}4 in", Length, 0.01905),
    ("2\u{201d}", Length, 0.0508),
    ("5' 3\"", Length, 1.6002),
    ("5'3\"", Length, 1.6002),
    ("5 ft 3 1/2 in", Length, 1.6129),
    ("0", Length, 0.0),
    ("-0 mm", Length, 0.0),
    ("625 mm2", Area, 6.25e-4),
    ("625 mm²", Area, 6.25e-4),
    ("625 mm^2", Area, 6.25e-4),
    ("1 sq ft", Area, 0.092_903_04),
    ("1 sq. ft.", Area, 0.092_903_04),
    ("1 ft2", Area, 0.092_903_04),
    ("2 m2", Area, 2.0),
    ("60 mL", Volume, 6e-5),
    ("60 ml", Volume, 6e-5),
    ("60 ML", Volume, 6e-5),
    ("0.5 L", Volume, 5e-4),
    ("5 cc", Volume, 5e-6),
    ("2 fl oz", Volume, 5.914_705_912_5e-5),
    ("2 fl. oz.", Volume, 5.914_705_912_5e-5),
    ("2 U.S. fl. oz.", Volume, 5.914_705_912_5e-5),
    ("2 FL OZ", Volume, 5.914_705_912_5e-5),
    ("2 imp fl oz", Volume, 5.682_612_5e-5),
    ("1 US gal", Volume, 3.785_411_784e-3),
    ("1 imperial gallon", Volume, 4.546_09e-3),
    ("1.4 g", Mass, 0.0014),
    ("2 oz wt", Mass, 0.056_699_046_25),
    ("2 oz av", Mass, 0.056_699_046_25),
    ("1 lb 4 oz wt", Mass, 0.566_990_462_5),
    ("1 h 30 min", Time, 5400.0),
    ("1h30", Time, 5400.0),
    ("1 h, 30 min", Time, 5400.0),
    ("1 hour and 30 minutes", Time, 5400.0),
    ("1h30m", Time, 5400.0),
    ("1h 30min", Time, 5400.0),
    ("90 min", Time, 5400.0),
    ("2 days", Time, 172_800.0),
    ("1 day 2 h 30 min", Time, 95_400.0),
    ("24 hours", Time, 86_400.0),
    ("½ h", Time, 1800.0),
    ("50 s", Time, 50.0),
    ("0.3 m/s", Speed, 0.3),
    ("0.3 m per s", Speed, 0.3),
    ("0.3 m / s", Speed, 0.3),
    ("1013 hPa", Pressure, 101_300.0),
    ("101.325 kPa", Pressure, 101_325.0),
    ("1050 kg/m3", Density, 1050.0),
    ("1050 kg/m³", Density, 1050.0),
    ("1.05 g/mL", Density, 1050.0),
    ("1.05 g/cm3", Density, 1050.0),
    ("35 mN/m", SurfaceTension, 0.035),
    ("35 dyn/cm", SurfaceTension, 0.035),
    ("45 deg", Angle, std::f64::consts::FRAC_PI_4),
    ("45°", Angle, std::f64::consts::FRAC_PI_4),
    ("0.785 rad", Angle, 0.785),
    ("-2 deg", Angle, -0.034_906_585_039_886_59),
    ("85 %", Share, 0.85),
    ("85%", Share, 0.85),
    ("95 per cent", Share, 0.95),
    ("50 % RH", Humidity, 0.5),
    ("50%rh", Humidity, 0.5),
    ("50 %", Humidity, 0.5),
    ("68 F", Kind::Temperature, 20.0),
    ("68 °F", Kind::Temperature, 20.0),
    ("68 ℉", Kind::Temperature, 20.0),
    ("20 °C", Kind::Temperature, 20.0),
    ("20 º C", Kind::Temperature, 20.0),
    ("20 C", Kind::Temperature, 20.0),
    ("20c", Kind::Temperature, 20.0),
    ("-4 F", Kind::Temperature, -20.0),
    ("\u{2212}4 F", Kind::Temperature, -20.0),
    ("293.15 K", Kind::Temperature, 20.0),
    ("3 K", Kind::TemperatureDifference, 3.0),
    ("3 C", Kind::TemperatureDifference, 3.0),
    ("9 °F", Kind::TemperatureDifference, 5.0),
    ("2e-11 m2/s", Diffusivity, 2e-11),
    ("20 µm²/s", Diffusivity, 2e-11),
    ("45 kJ/mol", MolarEnergy, 45_000.0),
    ("5 mW/cm2", Irradiance, 50.0),
    ("5 mW/cm²", Irradiance, 50.0),
    ("50 W/m2", Irradiance, 50.0),
    ("150 mJ/cm2", RadiantExposure, 1500.0),
    ("1.5 J/cm²", RadiantExposure, 15_000.0),
    ("0.8 Pa s", DynamicViscosity, 0.8),
    ("0.8 Pa·s", DynamicViscosity, 0.8),
    ("0.8 Pa.s", DynamicViscosity, 0.8),
    ("800 mPa s", DynamicViscosity, 0.8),
    ("800 mPa.s", DynamicViscosity, 0.8),
    ("800 cP", DynamicViscosity, 0.8),
    ("2:1", Ratio, 2.0),
    ("100 : 90", Ratio, 1.111_111_111_111_111_1),
    ("2.3", Ratio, 2.3),
    ("7.20", Money, 7.2),
];

#[test]
fn every_way_of_writing_is_read() {
    for (text, kind, value) in READ {
        let read = parse::read(text, Some(*kind)).unwrap_or_else(|why| panic!("{why}"));
        assert_eq!(read.kind, *kind, "{text}");
        // One rounding for each of the number, the size and their product.
        let off = (read.si - value).abs();
        assert!(
            off <= 4.0 * f64::EPSILON * value.abs().max(1e-300),
            "{text}: {}",
            read.si
        );
    }
    assert_eq!(READ.len(), 111);
}

#[test]
fn the_unit_alone_tells_the_kind_but_for_three_that_share() {
    let mut told = 0;
    for (text, kind, value) in READ {
        let shares = matches!(kind, Humidity | Money | Kind::TemperatureDifference);
        if shares || *text == "0" || *text == "1h30m" {
            continue;
        }
        let read: Measured = text.parse().unwrap_or_else(|why| panic!("{why}"));
        assert_eq!(read.kind, *kind, "{text}");
        assert!(
            (read.si - value).abs() <= 4.0 * f64::EPSILON * value.abs(),
            "{text}"
        );
        told += 1;
    }
    assert_eq!(told, 102);
    for (text, kind) in [("50 %", Share), ("3 K", Kind::Temperature), ("7.20", Ratio)] {
        assert_eq!(text.parse::<Measured>().map(|read| read.kind), Ok(kind));
    }
}

#[test]
fn a_measured_value_is_given_out_only_as_its_own_kind() {
    let read: Measured = "60 mL".parse().expect("reads");
    assert_eq!(read.volume(), Some(quantity::Volume::from_ml(60.0)));
    assert_eq!((read.mass(), read.humidity()), (None, None));
    let read: Measured = "10 C".parse().expect("reads");
    assert_eq!(
        read.temperature(),
        Some(quantity::Temperature::from_celsius(10.0))
    );
    assert_eq!(read.get::<quantity::TemperatureDifference>(), None);
    let read: Measured = "85 %".parse().expect("reads");
    assert_eq!(read.humidity().map(quantity::Humidity::percent), Some(85.0));
    assert_eq!(Measured::from(quantity::Volume::from_ml(60.0)).kind, Volume);
}
