//! Random sizes: fill windows in order, volumes that grow with the angle.

use super::{all, deg, filling, rectangle, round};
use brimful::geometry::{Ask, Filling};
use proptest::prelude::*;

fn in_order(filling: &Filling) {
    let [pull_back, target, brim] = all(&filling.window().expect("a window"));
    assert!(pull_back.volume < target.volume && target.volume < brim.volume);
    assert!(pull_back.peak < target.peak && target.peak < brim.peak);
}

fn grows_with_the_angle(filling: &Filling, angles: impl Iterator<Item = f64>) {
    let mut last = 0.0;
    for degrees in angles {
        let ask = Ask::EdgeAngle(deg(degrees));
        let volume = filling.dome(ask).expect("a dome").volume.mm3();
        assert!(volume > last, "{degrees} degrees: {volume} after {last}");
        last = volume;
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn any_round_with_an_edge_has_a_window_in_order(
        diameter in (2.0_f64.ln()..1000.0_f64.ln()).prop_map(f64::exp),
        share in 0.0..1.0_f64,
    ) {
        // As far as such edges are made, and less than the capillary length.
        let edge = share * (0.45 * diameter).min(1.5);
        let soft = filling(&round(diameter), edge, 0.0);
        in_order(&soft);
        let steps = (1..=26).map(|i| f64::from(i) * 2.5);
        grows_with_the_angle(&soft, steps);
        // Asked by the volume at any angle, it is that angle.
        for degrees in [15.0, 22.0, 64.0] {
            let dome = soft.dome(Ask::EdgeAngle(deg(degrees))).expect("a dome");
            let again = soft.dome(Ask::Volume(dome.volume)).expect("a dome");
            prop_assert!((again.edge_angle.deg() - degrees).abs() < 1e-5);
        }
    }

    #[test]
    fn any_round_bezel_has_a_window_in_order(
        diameter in (2.0_f64.ln()..1000.0_f64.ln()).prop_map(f64::exp),
        wall in 0.0..50.0_f64,
    ) {
        in_order(&filling(&round(diameter), 0.0, wall));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(6))]

    #[test]
    fn any_rectangle_with_an_edge_has_a_window_in_order(
        length in 5.0..80.0_f64,
        width in 5.0..80.0_f64,
        corner in 0.0..=1.0_f64,
        share in 0.01..1.0_f64,
        wall in 0.0..10.0_f64,
    ) {
        let short = length.min(width);
        let outline = rectangle(length, width, corner * short / 2.0);
        let edge = share * (0.25 * short).min(1.5);
        let soft = filling(&outline, edge, 0.0);
        in_order(&soft);
        in_order(&filling(&outline, 0.0, wall));
        grows_with_the_angle(&soft, [10.0, 18.0, 20.0, 22.0, 40.0].into_iter());
    }
}
