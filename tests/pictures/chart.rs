//! The cross-section of a piece: what it says, and that it says it legibly.

use crate::common::chart::{legible, read, texts};
use crate::common::section::{cap, caps, draw, gallery, magnet, of, puddle};
use brimful::quantity::{Length, Units};
use brimful::show::chart::Section;

#[test]
fn words_never_overlap_or_leave_the_picture() {
    for (name, sample) in gallery() {
        legible(name, &draw(&sample));
    }
}

#[test]
fn the_title_says_what_was_found_about_the_fill() {
    let title = |s: &Section<'_>| draw(s).words.title.replace(['\u{2068}', '\u{2069}'], "");
    assert_eq!(
        title(&magnet()),
        "tide magnet: 2.1 mL fills the 38 mm round."
    );
    let over = Section {
        target: puddle(38.0, 85.0, 3.4, 3.6),
        ..magnet()
    };
    assert_eq!(
        title(&over),
        "tide magnet: 3.6 mL is too much for the 38 mm round."
    );
    let short = Section {
        target: puddle(38.0, 12.0, 0.8, 0.7),
        ..magnet()
    };
    assert_eq!(
        title(&short),
        "tide magnet: 0.70 mL is too little for the 38 mm round."
    );
}

#[test]
fn the_description_gives_every_number_that_the_picture_shows() {
    let text = draw(&magnet()).words.description;
    for part in [
        "a blank 38 mm across, 5 mm thick, porous (grain)",
        "target fill, 2.1 mL, the coating stands 2.0 mm high and meets the top at 44 degrees",
        "pull-back limit, 1.3 mL",
        "brim limit, 3.0 mL",
        "Once dry the target fill stands 0.90 mm high.",
    ] {
        assert!(text.contains(part), "no \"{part}\" in \"{text}\"");
    }
}

#[test]
fn fills_that_differ_read_differently() {
    let sample = of(
        "narrow window",
        "38 mm round",
        38.0,
        caps(38.0, [20.0, 20.3, 20.6]),
    );
    let svg = draw(&sample).svg;
    // V = pi h (3 a^2 + h^2) / 6 with h = a tan(theta / 2), worked by hand: 1.918, 1.948 and 1.979 mL.
    for volume in ["1.92 mL", "1.95 mL", "1.98 mL"] {
        assert!(svg.contains(volume), "no {volume}");
    }
}

#[test]
fn a_picture_is_whole_in_itself_and_can_be_told_in_words() {
    for (name, sample) in gallery() {
        let picture = draw(&sample);
        let xml = roxmltree::Document::parse(&picture.svg).expect("the picture is XML");
        let root = xml.root_element();
        assert_eq!(root.attribute("role"), Some("img"), "{name}");
        let told: Vec<_> = root
            .children()
            .filter(roxmltree::Node::is_element)
            .take(2)
            .collect();
        assert!(
            told[0].has_tag_name("title")
                && told[0]
                    .text()
                    .is_some_and(|t| t.contains("mL") || t.contains("fl oz")),
            "{name}"
        );
        assert!(
            told[1].has_tag_name("desc") && told[1].text().is_some_and(|t| t.len() > 100),
            "{name}"
        );
        let without = picture.svg.replacen("http://www.w3.org/2000/svg", "", 1);
        for reference in [
            "http", "href", "url(", "<image", "<script", "<style", "@import",
        ] {
            assert!(
                !without.contains(reference),
                "{name}: the picture holds {reference}"
            );
        }
    }
}

#[test]
fn a_name_is_shown_as_written_and_never_as_mark_up() {
    let rude = Section {
        piece: "<script>alert('x')</script> & \"tide\"\u{0}",
        ..magnet()
    };
    let picture = draw(&rude);
    assert!(!picture.svg.contains("<script"));
    let mut found = Vec::new();
    texts(read(&picture).root(), &mut found);
    let title: String = found[0].0.replace(['\u{2068}', '\u{2069}'], "");
    assert!(
        title.starts_with("<script>alert('x')</script> & \"tide\"\u{FFFD}"),
        "{title}"
    );
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(96))]

    /// Any dome on any blank gives a picture whose words keep apart.
    #[test]
    fn any_dome_can_be_drawn_legibly(
        width in 3.0..300.0_f64,
        thickness in 0.2..60.0_f64,
        least in 1.0..80.0_f64,
        steps in (0.05..40.0_f64, 0.05..40.0_f64),
        us in proptest::bool::ANY,
        shrinks in proptest::bool::ANY,
    ) {
        let levels = caps(width, [least, least + steps.0, least + steps.0 + steps.1]);
        let dry = shrinks.then(|| cap(width, least * 0.45).surface);
        let sample = Section {
            thickness: Some(Length::from_mm(thickness)),
            dry,
            units: if us { Units::Us } else { Units::Metric },
            ..of("any piece", "round", width, levels)
        };
        legible("any dome", &draw(&sample));
    }
}
