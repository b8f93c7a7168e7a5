//! Thin corners and edges, by a second route: heights and slopes of the surface
//! against what is told of it.

use brimful::geometry::{
    Ask, Blank, Corner, EdgeAngles, Filling, Liquid, Outline, Shape, Top, mending_corner,
};
use brimful::quantity::{Angle, Density, Length, SurfaceTension};

fn mm(x: f64) -> Length {
    Length::from_mm(x)
}

fn deg(x: f64) -> Angle {
    Angle::from_deg(x)
}

/// The glaze-like liquid of the reference tables.
const LIQUID: Liquid = Liquid {
    surface_tension: SurfaceTension::from_n_per_m(0.035),
    density: Density::from_kg_per_m3(1050.0),
};

const ANGLES: EdgeAngles = EdgeAngles {
    pull_back: Angle::from_deg(12.0),
    target: Angle::from_deg(35.0),
    brim: Angle::from_deg(65.0),
};

fn square(corner: f64) -> Outline {
    Outline::rectangle(mm(25.0), mm(25.0), mm(corner)).expect("a square")
}

/// The edge angle at a place of the upper edge, from the height a hair inside.
fn slope(shape: &Shape, x: f64) -> f64 {
    let hair = 0.005;
    let height = shape.height_at(mm(x), mm(12.5 - hair)).expect("a height");
    height.mm().atan2(hair).to_degrees()
}

#[test]
fn the_thin_share_is_what_a_walk_along_the_edge_finds() {
    let top = Top::new(&square(0.0), LIQUID).expect("a top");
    let shape = top.shape(Ask::EdgeAngle(deg(35.0))).expect("a dome");
    for limit in [6.0, 12.0, 20.0, 30.0] {
        let places = 500;
        let thin = (0..places)
            .map(|i| 12.5 * (f64::from(i) + 0.5) / f64::from(places))
            .filter(|&x| slope(&shape, x) < limit)
            .count();
        #[expect(clippy::cast_precision_loss, reason = "some hundred")]
        let walked = thin as f64 / f64::from(places);
        let told = shape.thin_share(deg(limit)).fraction();
        // The hair and the walk's step are each worth half a hundredth.
        assert!((told - walked).abs() < 0.01, "{limit}: {told} {walked}");
    }
}

#[test]
fn a_corner_reaches_as_far_as_half_the_peak() {
    for corner in [0.0, 3.0] {
        let outline = square(corner);
        let top = Top::new(&outline, LIQUID).expect("a top");
        let shape = top.shape(Ask::EdgeAngle(deg(35.0))).expect("a dome");
        let reach = shape.thin_reach().expect("corners");
        let Corner { tip, inward, .. } = outline.corners()[0];
        let at = |far: f64| {
            let height =
                shape.height_at(tip[0] + mm(far * inward[0]), tip[1] + mm(far * inward[1]));
            height.expect("a height") / shape.dome.peak
        };
        assert!((at(reach.mm()) - 0.5).abs() < 1e-3, "{corner}");
        assert!(at(0.9 * reach.mm()) < 0.5);
    }
}

/// Solved again at the radius and just short of it: only then does a part of the
/// edge stand under the pull-back angle.
#[test]
fn the_mending_corner_mends_and_a_smaller_one_does_not() {
    let least = |corner: f64| {
        let top = Top::new(&square(corner), LIQUID).expect("a top");
        let shape = top.shape(Ask::EdgeAngle(ANGLES.target)).expect("a dome");
        shape.least_edge_angle().deg()
    };
    let blank = Blank::new(square(0.0), Length::ZERO, Length::ZERO).expect("a blank");
    let radius = mending_corner(&blank, LIQUID, ANGLES).expect("an answer");
    let radius = radius.expect("a radius").mm();
    // A sharp corner lies flat; the largest radius looked at is 6.25 mm, told to a hundredth.
    assert!(least(0.0) < 0.5);
    assert!(least(radius) > 12.0 - 0.01, "{radius}");
    assert!(least(radius - 0.0625) < 12.0, "{radius}");
    let mended = Blank::new(square(radius), Length::ZERO, Length::ZERO).expect("a blank");
    let again = mending_corner(&mended, LIQUID, ANGLES).expect("an answer");
    assert_eq!(again, None, "nothing is left to mend");
}

/// A soft edge's contact line stands within the outline, where a corner is
/// sharper by the edge's radius: it takes a wider corner to mend.
#[test]
fn a_soft_edge_takes_a_wider_corner() {
    let radius = |edge: f64| {
        let blank = Blank::new(square(edge), mm(edge), Length::ZERO).expect("a blank");
        let found = mending_corner(&blank, LIQUID, ANGLES).expect("an answer");
        found.expect("a radius").mm()
    };
    let (crisp, soft) = (radius(0.0), radius(0.5));
    assert!(soft > crisp + 0.1, "{crisp} {soft}");
}

/// A fill at the pull-back limit draws back at the first tilt; one at the brim
/// runs over at none.
#[test]
fn at_the_bounds_of_the_window_no_tilt_is_left() {
    let blank = Blank::new(square(0.0), Length::ZERO, Length::ZERO).expect("a blank");
    let filling = Filling::new(&blank, LIQUID, ANGLES).expect("a filling");
    let limits = |angle: f64| {
        let filled = filling.shape(Ask::EdgeAngle(deg(angle))).expect("a dome");
        filling.level_limits(&filled).expect("limits")
    };
    let low = limits(12.5).draws_back.expect("a tilt").tilt;
    assert!(low.deg() < 0.2, "{low:?}");
    let full = limits(64.9).runs_over.expect("a tilt").tilt;
    assert!(full.deg() < 0.1, "{full:?}");
    assert!(limits(35.0).runs_over.expect("a tilt").tilt.deg() > 1.0);
}
