//! Cross-sections that the tests draw.
#![allow(dead_code, reason = "each test uses a part")]

use brimful::quantity::{Angle, Length, Units, Volume};
use brimful::show::chart::{At, Body, Level, Rim, Section, section};
use brimful::show::draw::Picture;

use crate::common::chart::care;

/// A spherical cap on a round top: the exact surface of a dome too small for gravity to flatten.
///
/// With half width `a` and edge angle `theta`: R = a / sin(theta), h = R (1 - cos(theta)),
/// V = pi h (3 a^2 + h^2) / 6.
pub fn cap(width_mm: f64, theta_deg: f64) -> Level {
    let (a, theta) = (width_mm / 2.0, theta_deg.to_radians());
    let r = a / theta.sin();
    let h = r * (1.0 - theta.cos());
    let surface = (0..=120)
        .map(|i| {
            let t = theta * (f64::from(i) / 60.0 - 1.0);
            at(a + r * t.sin(), r * (t.cos() - theta.cos()))
        })
        .collect();
    Level {
        volume: Volume::from_mm3(std::f64::consts::PI * h * (3.0 * a * a + h * h) / 6.0),
        surface,
        edge_angle: Angle::from_deg(theta_deg),
    }
}

/// A stand-in for a dome that gravity has flattened: it leaves the edge at `theta` and levels off at `high`.
///
/// z = H (1 - exp(-d tan(theta) / H)), with d the distance to the nearer edge. An invented shape for
/// looking at, with an invented volume; the real surfaces come from elsewhere.
pub fn puddle(width_mm: f64, theta_deg: f64, high_mm: f64, ml: f64) -> Level {
    let surface = (0..=400)
        .map(|i| {
            let x = width_mm * (0.5 - 0.5 * (std::f64::consts::PI * f64::from(i) / 400.0).cos());
            let d = x.min(width_mm - x);
            at(
                x,
                high_mm * (1.0 - (-d * theta_deg.to_radians().tan() / high_mm).exp()),
            )
        })
        .collect();
    Level {
        volume: Volume::from_ml(ml),
        surface,
        edge_angle: Angle::from_deg(theta_deg),
    }
}

pub fn at(across_mm: f64, up_mm: f64) -> At {
    At {
        across: Length::from_mm(across_mm),
        up: Length::from_mm(up_mm.max(0.0)),
    }
}

pub fn of<'a>(
    piece: &'a str,
    blank: &'a str,
    width_mm: f64,
    [least, target, most]: [Level; 3],
) -> Section<'a> {
    Section {
        piece,
        blank,
        width: Length::from_mm(width_mm),
        gaps: Vec::new(),
        thickness: Some(Length::from_mm(5.0)),
        body: Body::Porous,
        rim: Rim::Sharp,
        under: Volume::ZERO,
        target,
        pull_back: Some(least),
        brim: Some(most),
        steepest: None,
        dry: None,
        care: care(),
        units: Units::Metric,
    }
}

/// A magnet of our invented harbour fair.
pub fn magnet() -> Section<'static> {
    let levels = [
        puddle(38.0, 20.0, 1.25, 1.3),
        puddle(38.0, 44.0, 2.0, 2.1),
        puddle(38.0, 75.0, 2.9, 3.0),
    ];
    Section {
        dry: Some(puddle(38.0, 26.0, 0.9, 0.9).surface),
        ..of("tide magnet", "38 mm round", 38.0, levels)
    }
}

pub fn caps(width: f64, angles: [f64; 3]) -> [Level; 3] {
    angles.map(|angle| cap(width, angle))
}

/// The pictures that every check below is made on: names, sizes and shapes at their worst.
#[expect(clippy::too_many_lines, reason = "a list, one sample after another")]
pub fn gallery() -> Vec<(&'static str, Section<'static>)> {
    let long = "a driftwood mooring fob with a hand-lettered ferry timetable";
    assert_eq!(long.chars().count(), 60, "the long name has 60 letters");
    let tile = [
        puddle(120.0, 20.0, 1.3, 14.0),
        puddle(120.0, 44.0, 2.1, 22.0),
        puddle(120.0, 75.0, 3.1, 33.0),
    ];
    let thin = |mm| Some(Length::from_mm(mm));
    vec![
        ("magnet", magnet()),
        (
            "long",
            Section {
                piece: long,
                blank: "20 mm by 50 mm rectangle with 3 mm corners",
                ..magnet()
            },
        ),
        (
            "unbroken",
            Section {
                piece: "DonaudampfschifffahrtsgesellschaftskapitänsmützenabzeichenmitÖse",
                ..magnet()
            },
        ),
        (
            "tiny",
            Section {
                thickness: thin(3.0),
                ..of("bead", "5 mm round", 5.0, caps(5.0, [14.0, 38.0, 72.0]))
            },
        ),
        ("large", of("harbour tile", "120 mm round", 120.0, tile)),
        (
            "flat",
            Section {
                thickness: thin(0.8),
                ..of(
                    "skimmed disc",
                    "60 mm round",
                    60.0,
                    caps(60.0, [0.5, 0.8, 1.1]),
                )
            },
        ),
        (
            "tall",
            of(
                "full drop",
                "5 mm round",
                5.0,
                caps(5.0, [60.0, 92.0, 128.0]),
            ),
        ),
        (
            "close",
            of(
                "narrow window",
                "38 mm round",
                38.0,
                caps(38.0, [20.0, 20.3, 20.6]),
            ),
        ),
        (
            "many digits",
            Section {
                dry: Some(cap(38.0, 19.99).surface),
                units: Units::Us,
                ..of(
                    "very narrow window",
                    "1.4961 in round",
                    38.0,
                    caps(38.0, [20.0, 20.01, 20.02]),
                )
            },
        ),
        (
            "over",
            Section {
                target: puddle(38.0, 85.0, 3.4, 3.6),
                ..magnet()
            },
        ),
        (
            "short",
            Section {
                target: puddle(38.0, 12.0, 0.8, 0.7),
                dry: None,
                ..magnet()
            },
        ),
        (
            "told little",
            Section {
                thickness: None,
                body: Body::Unsaid,
                rim: Rim::Soft(Length::from_mm(1.0)),
                units: Units::Us,
                ..magnet()
            },
        ),
        (
            "metal",
            Section {
                body: Body::Dense,
                ..magnet()
            },
        ),
        (
            "bare",
            Section {
                pull_back: None,
                brim: None,
                dry: None,
                ..magnet()
            },
        ),
        (
            "us",
            Section {
                units: Units::Us,
                blank: "1 1/2 in round",
                ..magnet()
            },
        ),
        (
            "hebrew",
            Section {
                piece: "מגנט גאות 12",
                ..magnet()
            },
        ),
        (
            "rude",
            Section {
                piece: "<script>alert('x')</script> & \"tide\" \u{1F30A}\u{0}\u{8}",
                ..magnet()
            },
        ),
    ]
}

pub fn draw(section_of: &Section<'_>) -> Picture {
    section(section_of).expect("the sample can be drawn")
}
