//! Unit sizes against their published definitions.

use crate::quantity::{Kind, units};

/// Spelling, kind, size in the unit that the kind is held in, and who defines it.
/// The figures are the published ones, from memory of the documents named.
const DEFINED: &[(&str, Kind, f64, &str)] = &[
    (
        "in",
        Kind::Length,
        0.0254,
        "international yard and pound agreement, 1959",
    ),
    (
        "ft",
        Kind::Length,
        0.3048,
        "international yard and pound agreement, 1959",
    ),
    (
        "yd",
        Kind::Length,
        0.9144,
        "international yard and pound agreement, 1959",
    ),
    ("mil", Kind::Length, 2.54e-5, "NIST SP 811, B.8"),
    ("in2", Kind::Area, 6.4516e-4, "NIST SP 811, B.8"),
    ("ft2", Kind::Area, 0.092_903_04, "NIST SP 811, B.8"),
    (
        "in3",
        Kind::Volume,
        1.638_706_4e-5,
        "NIST SP 811, B.8 (exact by the inch)",
    ),
    (
        "US fl oz",
        Kind::Volume,
        2.957_352_956_25e-5,
        "NIST Handbook 44, appendix C",
    ),
    (
        "US pt",
        Kind::Volume,
        4.731_764_73e-4,
        "NIST Handbook 44, appendix C",
    ),
    (
        "US qt",
        Kind::Volume,
        9.463_529_46e-4,
        "NIST Handbook 44, appendix C",
    ),
    (
        "US gal",
        Kind::Volume,
        3.785_411_784e-3,
        "NIST Handbook 44, appendix C",
    ),
    (
        "imp fl oz",
        Kind::Volume,
        2.841_306_25e-5,
        "UK Weights and Measures Act 1985",
    ),
    (
        "imp pt",
        Kind::Volume,
        5.682_612_5e-4,
        "UK Weights and Measures Act 1985",
    ),
    (
        "imp qt",
        Kind::Volume,
        1.136_522_5e-3,
        "UK Weights and Measures Act 1985",
    ),
    (
        "imp gal",
        Kind::Volume,
        4.546_09e-3,
        "UK Weights and Measures Act 1985",
    ),
    (
        "lb",
        Kind::Mass,
        0.453_592_37,
        "international yard and pound agreement, 1959",
    ),
    (
        "oz wt",
        Kind::Mass,
        0.028_349_523_125,
        "international yard and pound agreement, 1959",
    ),
    ("mph", Kind::Speed, 0.447_04, "NIST SP 811, B.8"),
    ("ft/min", Kind::Speed, 5.08e-3, "NIST SP 811, B.8"),
    ("atm", Kind::Pressure, 101_325.0, "10th CGPM, 1954"),
    ("bar", Kind::Pressure, 1e5, "SI brochure, 9th edition"),
    (
        "dyn/cm",
        Kind::SurfaceTension,
        1e-3,
        "NIST SP 811, B.8 (dyn = 1e-5 N)",
    ),
    (
        "lb/US gal",
        Kind::Density,
        119.8264,
        "NIST SP 811, B.8, seven figures",
    ),
    (
        "inHg",
        Kind::Pressure,
        3386.389,
        "NIST SP 811, B.8, conventional",
    ),
    (
        "kcal/mol",
        Kind::MolarEnergy,
        4184.0,
        "thermochemical calorie, NIST SP 811, B.8",
    ),
    ("cP", Kind::DynamicViscosity, 1e-3, "NIST SP 811, B.8"),
    ("P", Kind::DynamicViscosity, 0.1, "NIST SP 811, B.8"),
    (
        "W/cm2",
        Kind::Irradiance,
        1e4,
        "SI brochure, 9th edition, by the centimetre",
    ),
    (
        "mW/cm2",
        Kind::Irradiance,
        10.0,
        "SI brochure, 9th edition, by the centimetre",
    ),
    (
        "mJ/cm2",
        Kind::RadiantExposure,
        10.0,
        "SI brochure, 9th edition, by the centimetre",
    ),
    ("deg", Kind::Angle, 0.017_453_292_519_943_295, "pi / 180"),
];

#[test]
fn unit_sizes_are_the_published_ones() {
    for (spelling, kind, size, source) in DEFINED {
        let unit = units::find(spelling, Some(*kind)).expect(spelling);
        // Exact values agree to rounding; lb/US gal is published to seven figures.
        let tolerance = if *spelling == "lb/US gal" {
            5e-7
        } else {
            4.0 * f64::EPSILON
        };
        let error = (unit.scale.size() / size - 1.0).abs();
        assert!(
            error <= tolerance,
            "{spelling}: off by {error:e} from {source}"
        );
    }
    assert_eq!(DEFINED.len(), 31);
}

/// Fixed points of the scales: ice point, steam point, body heat, where the
/// two scales cross, absolute zero (definitions of the scales; ITS-90's 273.15).
#[test]
fn temperature_scales_meet_their_fixed_points() {
    let points = [
        ("F", 32.0, 0.0),
        ("F", 212.0, 100.0),
        ("F", 98.6, 37.0),
        ("F", -40.0, -40.0),
        ("F", -459.67, -273.15),
        ("K", 273.15, 0.0),
        ("K", 0.0, -273.15),
    ];
    for (spelling, number, celsius) in points {
        let unit = units::find(spelling, Some(Kind::Temperature)).expect(spelling);
        let error = unit.scale.held(number) - celsius;
        assert!(error.abs() < 1e-12, "{number} {spelling}: off by {error:e}");
    }
}

#[test]
fn no_spelling_of_one_kind_means_two_sizes() {
    let mut pairs = 0;
    for (at, unit) in units::TABLE.iter().enumerate() {
        for other in units::TABLE[at + 1..]
            .iter()
            .filter(|other| other.kind == unit.kind)
        {
            for (name, theirs) in unit
                .names
                .iter()
                .flat_map(|n| other.names.iter().map(move |t| (n, t)))
            {
                assert!(!name.eq_ignore_ascii_case(theirs), "{name} and {theirs}");
                pairs += 1;
            }
        }
        for name in unit.names {
            assert!(units::ambiguous(name).is_none(), "{name} is also refused");
        }
    }
    assert!(pairs > 1000, "{pairs}");
}

#[test]
fn every_doubtful_spelling_offers_units_that_read() {
    for doubtful in units::AMBIGUOUS {
        for (write, metric) in doubtful.readings {
            let (unit, metric) = (units::find(write, None), units::find(metric, None));
            assert_eq!(unit.expect(write).kind, metric.expect("metric").kind);
        }
    }
    assert_eq!(units::AMBIGUOUS.len(), 5);
}
