//! Long drawings: paths of thousands of points.

use std::f64::consts::TAU;

use brimful::geometry::{Ask, DomeError, Liquid, Outline, Top};
use brimful::quantity::{Angle, Density, Length, SurfaceTension};

fn liquid() -> Liquid {
    Liquid {
        surface_tension: SurfaceTension::from_mn_per_m(35.0),
        density: Density::from_kg_per_m3(1050.0),
    }
}

fn points(count: u32, radius: impl Fn(u32, f64) -> f64) -> Vec<[Length; 2]> {
    (0..count)
        .map(|i| {
            let angle = TAU * f64::from(i) / f64::from(count);
            let r = radius(i, angle);
            [r * angle.cos(), r * angle.sin()].map(Length::from_mm)
        })
        .collect()
}

/// The same smooth curve sampled twenty times as finely holds the same, and is
/// solved in no more triangles: both are read as the curve. Two meshes of a curve
/// that bows inward read its steepest edge angle up to 2e-4 of volume apart.
#[test]
fn ten_thousand_points_of_a_smooth_curve_are_solved_as_a_few_hundred_are() {
    let wave = |_, a: f64| 30.0 * (1.0 + 0.1 * (3.0 * a).cos() + 0.03 * (7.0 * a).sin());
    let volume = |count| {
        let outline = Outline::points(&points(count, wave), Length::ZERO).expect("an outline");
        let top = Top::new(&outline, liquid()).expect("a top");
        let dome = top.dome(Ask::EdgeAngle(Angle::from_deg(45.0)));
        dome.expect("a dome").volume
    };
    let off = (volume(10_000) / volume(500) - 1.0).abs();
    assert!(off < 3e-4, "off by {off:.1e}");
}

/// Not a hang, not a guess. A thread is a hundred thousand times longer than wide.
#[test]
fn ten_thousand_teeth_and_a_thread_are_refused() {
    let teeth = |i: u32, _: f64| if i.is_multiple_of(2) { 30.0 } else { 30.1 };
    let outline = Outline::points(&points(10_000, teeth), Length::ZERO).expect("an outline");
    let refused = Top::new(&outline, liquid()).err();
    assert_eq!(refused, Some(DomeError::TooIntricate));
    let thread = Outline::rectangle(
        Length::from_mm(10_000.0),
        Length::from_mm(0.1),
        Length::ZERO,
    );
    let refused = Top::new(&thread.expect("a thread"), liquid()).err();
    assert_eq!(refused, Some(DomeError::TooIntricate));
    assert!(DomeError::TooIntricate.to_string().contains("detail"));
}

/// A metre of narrow strip is within bounds. At small slope its section is
/// `z = C (1 - cosh(x/c) / cosh(a/c))` with half the width `a`, so that the pressure is
/// `ρ g C = γ m / (c tanh(a/c))`; with `m = sin θ` the balance of forces holds, and
/// what is neglected is a twentieth of the tenth that the weight adds.
#[test]
fn a_metre_long_strip_two_millimetres_wide_is_solved() {
    let (length, width) = (Length::from_mm(1000.0), Length::from_mm(2.0));
    let outline = Outline::rectangle(length, width, Length::ZERO).expect("a strip");
    let top = Top::new(&outline, liquid()).expect("a top");
    let dome = top
        .dome(Ask::EdgeAngle(Angle::from_deg(20.0)))
        .expect("a dome");
    let c = liquid().capillary_length().mm() * 1e-3;
    let linear = 35e-3 * 20.0_f64.to_radians().sin() / (c * (1e-3 / c).tanh());
    let off = (dome.pressure.pa() / linear - 1.0).abs();
    assert!(off < 5e-3, "off by {off:.1e}");
}
