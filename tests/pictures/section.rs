//! The cross-section of a piece: that it is to scale, and what is refused.

use crate::common::section::{at, caps, draw, gallery, magnet, of};
use brimful::quantity::{Angle, Length, Volume};
use brimful::show::chart::{At, Level, Section, section};
use brimful::show::draw::{DrawError, Picture};

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
