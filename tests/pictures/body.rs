//! What the cut of a blank says of its material and its thickness.

use brimful::quantity::{Angle, Length, Units, Volume};
use brimful::show::chart::{At, Body, Level, Rim, Section, section};
use brimful::show::draw::Picture;

fn draw(section_of: &Section<'_>) -> Picture {
    section(section_of).expect("the sample can be drawn")
}

/// A spherical cap 38 mm across and 2 mm high, by its radius R = (a² + h²) / 2h.
fn magnet() -> Section<'static> {
    let (a, high) = (19.0_f64, 2.0);
    let radius = (a * a + high * high) / (2.0 * high);
    let at = |i: i32| {
        let x = f64::from(i) * a / 40.0;
        At {
            across: Length::from_mm(a + x),
            up: Length::from_mm((radius * radius - x * x).sqrt() - radius + high),
        }
    };
    Section {
        piece: "tide magnet",
        blank: "38 mm round",
        width: Length::from_mm(38.0),
        gaps: Vec::new(),
        thickness: Some(Length::from_mm(5.0)),
        body: Body::Porous,
        rim: Rim::Sharp,
        under: Volume::ZERO,
        target: Level {
            volume: Volume::from_ml(1.14),
            surface: (-40..=40).map(at).collect(),
            edge_angle: Angle::from_rad(2.0 * (high / a).atan()),
        },
        pull_back: None,
        brim: None,
        steepest: None,
        dry: None,
        care: crate::common::chart::care(),
        units: Units::Metric,
    }
}

/// Lines on the cut of the blank: their colour, and whether any rises at 45 degrees.
fn hatching(section_of: &Section<'_>, colour: &str) -> (usize, bool) {
    let picture = draw(section_of);
    let svg = roxmltree::Document::parse(&picture.svg).expect("the picture is XML");
    let lines = svg
        .descendants()
        .filter(|n| n.has_tag_name("polyline") && n.attribute("stroke") == Some(colour));
    let (mut count, mut slanted) = (0, false);
    for line in lines {
        let points = line.attribute("points").unwrap_or_default();
        let numbers: Vec<f64> = points
            .split([' ', ','])
            .filter_map(|n| n.parse().ok())
            .collect();
        let (dx, dy) = (numbers[2] - numbers[0], numbers[1] - numbers[3]);
        count += 1;
        slanted |= (dx - dy).abs() <= 2.0 && dx > 10.0;
    }
    (count, slanted)
}

/// ISO 128 hatches a cut at 45 degrees in unbroken lines; grain runs along, and what nobody
/// says is broken into dashes, of which there are more.
#[test]
fn each_kind_of_blank_has_a_hatching_of_its_own_and_is_named() {
    let of = |body| Section { body, ..magnet() };
    let (grain, slanted) = hatching(&of(Body::Porous), "#C4A67C");
    assert!(grain > 5 && !slanted, "{grain}");
    assert_eq!(hatching(&of(Body::Dense), "#C4A67C").0, 0);
    let (dense, slanted) = hatching(&of(Body::Dense), "#9AA6B1");
    assert!(dense > 20 && slanted, "{dense}");
    let (broken, slanted) = hatching(&of(Body::Unsaid), "#9AA6B1");
    assert!(broken > 2 * dense && slanted, "{broken}");
    for (body, words) in [
        (Body::Porous, "porous (grain)"),
        (Body::Dense, "not porous (hatched)"),
        (Body::Unsaid, "material not said (broken hatching)"),
    ] {
        let picture = draw(&of(body));
        assert!(picture.words.description.contains(words), "{words}");
        // In the description and on the picture.
        assert_eq!(picture.svg.matches(words).count(), 2, "{words}");
    }
}

#[test]
fn a_thickness_that_nobody_said_is_not_shown_as_one() {
    let picture = draw(&Section {
        thickness: None,
        ..magnet()
    });
    assert!(!picture.svg.contains("mm thick"));
    let said = "thickness not said, drawn as 3 mm";
    assert!(picture.words.description.contains(said));
    assert_eq!(picture.svg.matches(said).count(), 2);
    assert!(draw(&magnet()).svg.contains("5 mm thick"));
}
