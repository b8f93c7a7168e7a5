//! The cross-section of a piece: what it says, that it says it legibly, and that it is to scale.

mod chart_common;

use brimful::quantity::{Angle, Length, Units, Volume};
use brimful::show::chart::{At, Body, Level, Rim, Section, section};
use brimful::show::draw::{DrawError, Picture};

use chart_common::{care, legible, read, texts};

/// A spherical cap on a round top: the exact surface of a dome too small for gravity to flatten.
///
/// With half width `a` and edge angle `theta`: R = a / sin(theta), h = R (1 - cos(theta)),
/// V = pi h (3 a^2 + h^2) / 6.
fn cap(width_mm: f64, theta_deg: f64) -> Level {
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
fn puddle(width_mm: f64, theta_deg: f64, high_mm: f64, ml: f64) -> Level {
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

fn at(across_mm: f64, up_mm: f64) -> At {
    At {
        across: Length::from_mm(across_mm),
        up: Length::from_mm(up_mm.max(0.0)),
    }
}

fn of<'a>(
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
        target,
        pull_back: Some(least),
        brim: Some(most),
        dry: None,
        care: care(),
        units: Units::Metric,
    }
}

/// A magnet of our invented harbour fair.
fn magnet() -> Section<'static> {
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

fn caps(width: f64, angles: [f64; 3]) -> [Level; 3] {
    angles.map(|angle| cap(width, angle))
}

/// The pictures that every check below is made on: names, sizes and shapes at their worst.
#[expect(clippy::too_many_lines, reason = "a list, one sample after another")]
fn gallery() -> Vec<(&'static str, Section<'static>)> {
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

fn draw(section_of: &Section<'_>) -> Picture {
    section(section_of).expect("the sample can be drawn")
}

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

/// Points of every filled shape of a colour, `[px]`, in the order drawn.
fn shapes(picture: &Picture, colour: &str) -> Vec<Vec<(f64, f64)>> {
    let svg = roxmltree::Document::parse(&picture.svg).expect("the picture is XML");
    svg.descendants()
        .filter(|n| n.has_tag_name("polygon") && n.attribute("fill") == Some(colour))
        .map(|n| {
            let points = n.attribute("points").unwrap_or_default().split_whitespace();
            points
                .map(|p| {
                    let (x, y) = p.split_once(',').expect("a pair");
                    let tenths = |t: &str| t.parse::<f64>().expect("a number") / 10.0;
                    (tenths(x), tenths(y))
                })
                .collect()
        })
        .collect()
}

fn span(values: impl Iterator<Item = f64>) -> f64 {
    let (least, most) = values.fold((f64::MAX, f64::MIN), |(l, m), v| (l.min(v), m.max(v)));
    most - least
}

#[test]
fn the_piece_is_drawn_to_one_scale_across_and_up() {
    for (width, theta) in [(5.0, 38.0), (38.0, 12.0), (120.0, 4.0)] {
        let picture = draw(&of(
            "cap",
            "round",
            width,
            caps(width, [theta - 1.0, theta, theta + 1.0]),
        ));
        // The target's filled area, first on the whole piece, then in the window on the edge.
        let whole = &shapes(&picture, "#BFE1E8")[0];
        let (across, up) = (
            span(whole.iter().map(|p| p.0)),
            span(whole.iter().map(|p| p.1)),
        );
        // h / (2 a) = tan(theta / 2) / 2, exact for a cap; points are rounded to 0.1 px at both ends.
        let exact = (theta.to_radians() / 2.0).tan() / 2.0;
        assert!(
            (up / across - exact).abs() < 0.2 / across,
            "{width} mm: {} for {exact}",
            up / across
        );
    }
}

#[test]
fn the_edge_is_drawn_at_its_true_angle() {
    for theta in [20.0, 38.0, 60.0] {
        let picture = draw(&of(
            "cap",
            "round",
            38.0,
            caps(38.0, [theta - 8.0, theta, theta + 8.0]),
        ));
        let target = shapes(&picture, "#BFE1E8");
        let whole = &target[0];
        let window = target
            .iter()
            .skip(1)
            .find(|s| s.len() > 8 && s.iter().any(|p| p.0 > 800.0))
            .expect("a window");
        // The edge lies furthest right; its neighbour on the surface lies along a chord of the cap. A chord
        // from the edge that turns through t departs from the tangent by t / 2.
        let i = (0..window.len())
            .max_by(|a, b| window[*a].0.total_cmp(&window[*b].0))
            .expect("points");
        let edge = window[i];
        let near = |p: &&(f64, f64)| (p.0 - edge.0).hypot(p.1 - edge.1) > 6.0 && p.1 < edge.1 - 1.0;
        let next = window.iter().filter(near).min_by(|a, b| {
            let d = |p: &(f64, f64)| (p.0 - edge.0).hypot(p.1 - edge.1);
            d(a).total_cmp(&d(b))
        });
        let (x, y) = *next.expect("a neighbour");
        let chord = (edge.1 - y).atan2(edge.0 - x).to_degrees();
        let scale = span(whole.iter().map(|p| p.0)) / 38.0;
        let radius = 19.0 / theta.to_radians().sin();
        // At least twice as large as the whole, so the chord turns through no more than this.
        let turn = (edge.0 - x).hypot(edge.1 - y) / (2.0 * scale * radius);
        let (least, most) = (theta - turn.to_degrees() / 2.0 - 1.0, theta + 1.0);
        assert!(
            (least..=most).contains(&chord),
            "{theta}: {chord} not within {least} to {most}"
        );
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

#[test]
fn the_same_piece_gives_the_same_bytes() {
    let (one, two) = (draw(&magnet()), draw(&magnet()));
    assert_eq!(one.svg, two.svg);
    assert_eq!(one.png(1.0).expect("a PNG"), two.png(1.0).expect("a PNG"));
}

#[test]
fn a_png_has_the_size_asked_for() {
    for (name, sample) in gallery().into_iter().take(4) {
        let picture = draw(&sample);
        for (scale, times) in [(1.0, 1), (2.0, 2), (3.0, 3)] {
            let png = picture.png(scale).expect("a PNG");
            let reader = png::Decoder::new(std::io::Cursor::new(png))
                .read_info()
                .expect("a PNG");
            let size = (reader.info().width, reader.info().height);
            assert_eq!(
                size,
                (picture.width * times, picture.height * times),
                "{name}"
            );
        }
    }
}

#[test]
fn a_scale_out_of_reason_is_refused() {
    let picture = draw(&magnet());
    for scale in [0.0, -1.0, 8.5, f32::NAN, f32::INFINITY] {
        assert!(
            matches!(picture.png(scale), Err(DrawError::Scale(_))),
            "{scale}"
        );
    }
}

#[test]
fn numbers_that_make_no_piece_are_refused() {
    let not_positive = |s: &Section<'_>| matches!(section(s), Err(DrawError::NotPositive { .. }));
    for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(
            not_positive(&Section {
                width: Length::from_mm(bad),
                ..magnet()
            }),
            "width {bad}"
        );
        assert!(
            not_positive(&Section {
                thickness: Some(Length::from_mm(bad)),
                ..magnet()
            }),
            "thickness {bad}"
        );
        assert!(
            not_positive(&Section {
                target: Level {
                    volume: Volume::from_ml(bad),
                    ..magnet().target
                },
                ..magnet()
            }),
            "volume {bad}"
        );
        assert!(
            not_positive(&Section {
                target: Level {
                    edge_angle: Angle::from_deg(bad),
                    ..magnet().target
                },
                ..magnet()
            }),
            "angle {bad}"
        );
    }
    let surface = |points: Vec<At>| {
        section(&Section {
            dry: Some(points),
            ..magnet()
        })
    };
    let bad = [
        vec![at(0.0, 0.0), at(38.0, 0.0)],
        vec![at(0.0, 0.0), at(10.0, 1.0), at(30.0, 0.0)],
        vec![at(0.0, 0.0), at(f64::NAN, 1.0), at(38.0, 0.0)],
        vec![at(0.0, 0.0), at(19.0, 0.0), at(38.0, 0.0)],
    ];
    for points in bad {
        assert!(
            matches!(
                surface(points.clone()),
                Err(DrawError::Surface {
                    level: "once dry",
                    ..
                })
            ),
            "{points:?}"
        );
    }
    let crossed = Section {
        pull_back: magnet().brim,
        brim: magnet().pull_back,
        ..magnet()
    };
    assert!(matches!(section(&crossed), Err(DrawError::NoWindow { .. })));
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
