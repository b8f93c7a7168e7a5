//! The round solver against its exact limits.

use super::super::round::solve;
use super::{close, rows};

/// `round_checks.csv`: domes computed with scipy's DOP853 at a relative
/// tolerance of 1e-12, from near weightless (radius a thousandth of the
/// capillary length) to nearly flat, with the closed forms they tend to.
#[test]
fn nearly_weightless_and_nearly_flat_domes_agree_with_the_reference_integration() {
    let mut seen = 0;
    for row in rows("dome/round_checks.csv") {
        let number = |key: &str| row[key].parse::<f64>().expect(key);
        let dome = solve(
            number("radius_over_c"),
            number("edge_angle_deg").to_radians(),
        )
        .expect("a dome");
        // The printed digits of the table.
        close("volume", dome.volume, number("V_over_c3"), 1e-8);
        // A tiny dome's peak is the small difference of two pressures.
        close("peak", dome.peak, number("peak_over_c"), 1e-6);
        seen += 1;
    }
    assert_eq!(seen, 42);
}

/// Without weight a dome is a spherical cap: V = π h (3 a² + h²) / 6 with
/// h = a tan(θ/2). The departure falls as (a/c)².
#[test]
fn a_small_dome_tends_to_the_spherical_cap() {
    let mut departures = Vec::new();
    for a in [0.04, 0.02, 0.01] {
        let angle = 60.0_f64.to_radians();
        let h = a * (angle / 2.0).tan();
        let cap = std::f64::consts::PI * h * (3.0 * a * a + h * h) / 6.0;
        departures.push(1.0 - solve(a, angle).expect("a dome").volume / cap);
    }
    for pair in departures.windows(2) {
        close("falling as the square", pair[0] / pair[1], 4.0, 1e-3);
    }
}

/// A wide puddle stands 2 c sin(θ/2) high (de Gennes, Brochard-Wyart and
/// Quéré, Capillarity and Wetting Phenomena, 2004, ch. 2; from memory). A disc
/// approaches that from above as its rim straightens: the excess halves as the
/// radius doubles.
#[test]
fn a_wide_disc_tends_to_the_puddle_height() {
    for degrees in [30.0_f64, 60.0, 90.0] {
        let angle = degrees.to_radians();
        let puddle = 2.0 * (angle / 2.0).sin();
        let excess = |a: f64| solve(a, angle).expect("a dome").peak / puddle - 1.0;
        let (near, far) = (excess(100.0), excess(200.0));
        assert!(near > 0.0 && near < 5e-3, "{degrees} degrees: {near}");
        close("halving", near / far, 2.0, 0.02);
    }
}

/// P π a² - V = 2 π a sin θ: the pressure on the base carries the weight less
/// what the edge pulls down. Volume and pressure come from different sums, so
/// this checks both.
#[test]
fn forces_on_a_round_dome_balance() {
    for a in [0.5_f64, 3.0, 10.0, 60.0, 270.0] {
        for degrees in [5.0_f64, 45.0, 90.0, 140.0] {
            let angle = degrees.to_radians();
            let dome = solve(a, angle).expect("a dome");
            let held = dome.pressure * std::f64::consts::PI * a * a - dome.volume;
            let pull = 2.0 * std::f64::consts::PI * a * angle.sin();
            // The two terms of `held` nearly cancel on wide discs.
            let scale = dome.volume.max(pull);
            assert!(
                (held - pull).abs() < 1e-8 * scale,
                "{a} {degrees}: {held} {pull}"
            );
        }
    }
}
