//! Random sizes: fill windows in order, volumes that grow with the angle.

use super::{ANGLES, all, coating, deg, filling, mm, rectangle, round};
use brimful::geometry::{Ask, Blank, EdgeAngles, Filling};
use proptest::prelude::*;

fn in_order(filling: &Filling) {
    let [pull_back, target, brim] = all(&filling.window().expect("a window"));
    assert!(pull_back.volume < target.volume && target.volume < brim.volume);
    assert!(pull_back.peak < target.peak && target.peak < brim.peak);
}

/// On a wide rounding the peak may sink while the volume still grows.
fn volumes_in_order(filling: &Filling) {
    let [pull_back, target, brim] = all(&filling.window().expect("a window"));
    assert!(pull_back.volume < target.volume && target.volume < brim.volume);
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

    /// However wide the rounding: up to the brim limit, half-way round or where
    /// the coating runs off sooner, more liquid stands steeper.
    #[test]
    fn any_round_with_an_edge_fills_steadily_up_to_its_brim(
        diameter in (2.0_f64.ln()..1000.0_f64.ln()).prop_map(f64::exp),
        share in 0.0..1.0_f64,
    ) {
        let blank = Blank::new(round(diameter), mm(share * 0.45 * diameter), mm(0.0));
        let angles = EdgeAngles { target: deg(18.0), ..ANGLES };
        let soft = Filling::new(&blank.expect("a blank"), coating(), angles).expect("a filling");
        volumes_in_order(&soft);
        let brim = soft.window().expect("a window").brim;
        let brim_angle = brim.edge_angle.deg();
        prop_assert!(brim_angle <= 65.0 + 1e-9);
        grows_with_the_angle(&soft, (1..=20).map(|i| f64::from(i) * brim_angle / 20.0));
        // Asked by the volume at any angle, it is that angle.
        for degrees in [15.0, 20.0 + 0.1 * (brim_angle - 20.0), 20.0 + 0.8 * (brim_angle - 20.0)] {
            let dome = soft.dome(Ask::EdgeAngle(deg(degrees))).expect("a dome");
            let again = soft.dome(Ask::Volume(dome.volume)).expect("a dome");
            prop_assert!((again.edge_angle.deg() - degrees).abs() < 1e-4);
        }
        // Nothing stands past the fullest.
        if brim_angle < 64.0 {
            prop_assert!(soft.dome(Ask::EdgeAngle(deg(brim_angle + 1.0))).is_err());
            prop_assert!(soft.dome(Ask::Volume(brim.volume * 1.001)).is_err());
        }
    }

    /// On edges as they are made, narrower than the capillary length, the brim
    /// is the coating's own.
    #[test]
    fn any_round_with_a_narrow_edge_reaches_the_coatings_brim(
        diameter in (4.0_f64.ln()..1000.0_f64.ln()).prop_map(f64::exp),
        edge in 0.01..1.5_f64,
    ) {
        let soft = filling(&round(diameter), edge, 0.0);
        in_order(&soft);
        let brim = soft.window().expect("a window").brim;
        prop_assert!((brim.edge_angle.deg() - 65.0).abs() < 1e-9);
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
