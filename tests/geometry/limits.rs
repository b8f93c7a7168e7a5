//! What a small detail does vanishes with it: corners and holes.

use brimful::geometry::{Ask, Dome, Hole, Liquid, Outline, Top};
use brimful::quantity::{Angle, Density, Length, SurfaceTension, Volume};

fn mm(x: f64) -> Length {
    Length::from_mm(x)
}

/// The glaze-like liquid of the reference tables.
fn dome(outline: &Outline, ask: Ask) -> Dome {
    let liquid = Liquid {
        surface_tension: SurfaceTension::from_n_per_m(0.035),
        density: Density::from_kg_per_m3(1050.0),
    };
    let top = Top::new(outline, liquid).expect("a top");
    top.dome(ask).expect("a dome")
}

/// A corner rounded to the radius r takes (4 - π) r² off the area of four
/// corners, where the coat is thin anyway: the volume misses less than that
/// share, and at least as the square of r.
#[test]
fn sharp_corners_are_the_limit_of_rounded_ones() {
    let ask = Ask::EdgeAngle(Angle::from_deg(50.0));
    let rectangle = |corner: f64| Outline::rectangle(mm(40.0), mm(20.0), mm(corner)).expect("one");
    let hexagon = |corner: f64| Outline::regular(6, mm(25.0), mm(corner)).expect("one");
    let sharp = [dome(&rectangle(0.0), ask), dome(&hexagon(0.0), ask)];
    let mut last = [f64::INFINITY; 2];
    for corner in [2.0, 1.0, 0.5, 0.1] {
        let rounded = [rectangle(corner), hexagon(corner)];
        for (i, outline) in rounded.iter().enumerate() {
            let lost_area = 1.0 - outline.area() / sharp[i].outline_area;
            let missing = 1.0 - dome(outline, ask).volume / sharp[i].volume;
            // 5e-5 is the solver's own.
            assert!(
                missing.abs() < lost_area + 5e-5,
                "{i}, {corner} mm: {missing:.1e}"
            );
            assert!(
                missing.abs() < last[i] + 5e-5,
                "{i}, {corner} mm: {missing:.1e}"
            );
            last[i] = missing.abs();
        }
    }
    assert!(last.iter().all(|lost| *lost < 1e-4), "{last:?}");
}

/// A pinned hole holds a dent whose depth falls only with the logarithm of its
/// radius, as a needle's does in a membrane: with the dome's height h over it,
/// the pressure at the same volume departs about as 1/ln(c/a). So shallow a
/// dome that even a tiny hole's edge is not steep.
#[test]
fn no_hole_is_the_limit_of_a_tiny_one() {
    let disc = Outline::round(mm(30.0)).expect("a disc");
    let ask = Ask::Volume(Volume::from_ml(0.005));
    let whole = dome(&disc, ask).pressure.pa();
    let mut departures = Vec::new();
    for diameter in [4.0, 2.0, 1.0, 0.5, 0.25, 0.125] {
        let hole = Hole {
            at: [mm(4.0), mm(1.0)],
            diameter: mm(diameter),
        };
        let pierced = disc.clone().with_holes(&[hole]).expect("a hole");
        departures.push(dome(&pierced, ask).pressure.pa() / whole - 1.0);
    }
    for pair in departures.windows(2) {
        assert!(pair[1] > 0.0 && pair[1] < pair[0], "{departures:?}");
    }
    // Each halving adds ln 2 to the logarithm: 1/departure grows by even steps.
    let inverse: Vec<f64> = departures.iter().map(|d| 1.0 / d).collect();
    let steps: Vec<f64> = inverse.windows(2).map(|w| w[1] - w[0]).collect();
    let (early, late) = (steps[steps.len() - 2], steps[steps.len() - 1]);
    assert!((late / early - 1.0).abs() < 0.1, "{steps:?}");
}
