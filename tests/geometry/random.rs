//! Random rounds and rectangles: always a dome, and one that behaves.

use brimful::geometry::{EdgeAngles, Liquid, Outline, Top};
use brimful::quantity::{Angle, Density, Length, SurfaceTension};
use proptest::prelude::*;

fn window(outline: &Outline) -> brimful::geometry::FillWindow {
    let liquid = Liquid {
        surface_tension: SurfaceTension::from_mn_per_m(35.0),
        density: Density::from_kg_per_m3(1050.0),
    };
    let angles = EdgeAngles {
        pull_back: Angle::from_deg(12.0),
        target: Angle::from_deg(35.0),
        brim: Angle::from_deg(75.0),
    };
    let top = Top::new(outline, liquid).unwrap_or_else(|e| panic!("{outline:?}: {e}"));
    top.window(angles)
        .unwrap_or_else(|e| panic!("{outline:?}: {e}"))
}

/// A size between 2 and `most` millimetres, all scales alike.
fn size(most: f64) -> impl Strategy<Value = f64> {
    (2.0_f64.ln()..most.ln()).prop_map(f64::exp)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn any_rectangle_has_a_fill_window_in_order(
        length in size(300.0),
        width in size(300.0),
        share in 0.0..=1.0_f64,
    ) {
        let corner = share * length.min(width) / 2.0;
        let mm = Length::from_mm;
        let outline = Outline::rectangle(mm(length), mm(width), mm(corner)).expect("an outline");
        let w = window(&outline);
        prop_assert!(w.pull_back.volume < w.target.volume && w.target.volume < w.brim.volume);
        prop_assert!(w.pull_back.peak < w.target.peak && w.target.peak < w.brim.peak);
        // The mirrored question has the same answer: length and width swapped.
        let turned = window(&Outline::rectangle(mm(width), mm(length), mm(corner)).expect("one"));
        let off = (turned.target.volume / w.target.volume - 1.0).abs();
        prop_assert!(off < 2e-3, "turned by {off:.1e}");
    }

    /// Between the largest disc inside and the smallest outside.
    #[test]
    fn a_square_holds_more_than_its_inner_disc(side in size(200.0)) {
        let mm = Length::from_mm;
        let square = window(&Outline::rectangle(mm(side), mm(side), mm(0.0)).expect("one"));
        let inner = window(&Outline::round(mm(side)).expect("one"));
        let outer = window(&Outline::round(mm(side * 2.0_f64.sqrt())).expect("one"));
        prop_assert!(inner.target.volume < square.target.volume);
        prop_assert!(square.target.volume < outer.target.volume);
    }

    #[test]
    fn any_round_has_a_fill_window_in_order(diameter in size(1000.0)) {
        let w = window(&Outline::round(Length::from_mm(diameter)).expect("one"));
        prop_assert!(w.pull_back.volume < w.target.volume && w.target.volume < w.brim.volume);
    }
}
