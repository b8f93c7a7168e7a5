//! A blank cut through where it has a hole.

use brimful::geometry::{Hole, Outline};
use brimful::quantity::{Angle, Length, Units, Volume};
use brimful::show::chart::{At, Body, Level, Rim, Section, section};

fn mm(x: f64) -> Length {
    Length::from_mm(x)
}

/// A ring 40 mm across with a hole of 12 mm: the cut leaves it between 14 and
/// 26 mm. A hole beside the cut leaves no gap.
#[test]
fn a_cut_meets_no_blank_over_a_hole() {
    let ring = |y: f64| {
        let hole = Hole {
            at: [mm(0.0), mm(y)],
            diameter: mm(12.0),
        };
        let disc = Outline::round(mm(40.0)).expect("a disc");
        disc.with_holes(&[hole]).expect("a ring")
    };
    let gaps = ring(0.0).cut_gaps();
    let [[from, to]] = gaps.as_slice() else {
        panic!("{gaps:?}");
    };
    // To a millionth of the outline's size.
    assert!((from.mm() - 14.0).abs() < 1e-4 && (to.mm() - 26.0).abs() < 1e-4);
    let disc = Outline::round(mm(40.0)).expect("a disc");
    assert!(disc.cut_gaps().is_empty());
    let beside = Hole {
        at: [mm(12.0), mm(0.0)],
        diameter: mm(6.0),
    };
    let pierced = disc.with_holes(&[beside]).expect("a pierced disc");
    assert!(pierced.cut_gaps().is_empty(), "the cut runs along y");
}

/// Each surface is drawn on both sides of the gap and not over it, and the blank
/// is taken away there.
#[test]
fn nothing_is_drawn_over_a_gap() {
    let at = |across, up| At {
        across: mm(across),
        up: mm(up),
    };
    let ring = vec![
        at(0.0, 0.0),
        at(7.0, 1.0),
        at(14.0, 0.0),
        at(26.0, 0.0),
        at(33.0, 1.0),
        at(40.0, 0.0),
    ];
    let drawn = |gaps: Vec<[Length; 2]>| {
        let picture = section(&Section {
            piece: "porthole ring",
            blank: "40 mm ring",
            width: mm(40.0),
            gaps,
            thickness: Some(mm(3.0)),
            body: Body::Dense,
            rim: Rim::Sharp,
            under: Volume::ZERO,
            target: Level {
                volume: Volume::from_ml(0.7),
                surface: ring.clone(),
                edge_angle: Angle::from_deg(30.0),
            },
            pull_back: None,
            brim: None,
            steepest: None,
            dry: None,
            care: crate::common::chart::care(),
            units: Units::Metric,
        });
        picture.expect("a picture").svg
    };
    let (whole, gapped) = (drawn(Vec::new()), drawn(vec![[mm(14.0), mm(26.0)]]));
    // The target's colour and width stand on its line alone.
    let lines = |svg: &str| {
        let stroked = svg.lines().filter(|l| l.contains("polyline"));
        stroked
            .filter(|l| l.contains("stroke-width=\"26\""))
            .count()
    };
    assert_eq!(lines(&gapped), lines(&whole) + 1, "{}", lines(&whole));
    assert!(gapped.matches("#FFFFFF").count() > whole.matches("#FFFFFF").count());
}
