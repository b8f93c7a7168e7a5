//! Which blanks are refused, and why.

use super::{mm, rectangle, round};
use brimful::geometry::{Blank, BlankError, Hole};

#[test]
fn an_edge_radius_must_leave_some_of_the_top_flat() {
    for (outline, fits, too_much) in [
        (round(20.0), 9.9, 10.0),
        (rectangle(30.0, 12.0, 0.0), 5.9, 6.0),
        (rectangle(30.0, 12.0, 6.0), 5.9, 6.1),
    ] {
        let with = |edge| Blank::new(outline.clone(), mm(edge), mm(0.0));
        assert!(with(0.0).is_ok());
        assert!(with(fits).is_ok(), "{outline:?}");
        for edge in [too_much, 1e6, -0.1, f64::NAN, f64::INFINITY] {
            let error = with(edge).expect_err("no such blank");
            assert!(matches!(error, BlankError::Edge { .. }), "{edge}: {error}");
        }
    }
    let error = Blank::new(round(20.0), mm(11.0), mm(0.0)).expect_err("too round");
    assert_eq!(
        error.to_string(),
        "a top edge rounded to 11 mm must leave some of the top flat: moved inward by 11 mm, this \
         outline vanishes"
    );
}

#[test]
fn a_wall_is_from_nothing_to_fifty_millimetres() {
    let with = |wall| Blank::new(round(20.0), mm(0.0), mm(wall));
    assert!(with(0.0).is_ok() && with(50.0).is_ok());
    for wall in [-0.1, 50.1, f64::NAN, f64::INFINITY] {
        assert!(matches!(with(wall), Err(BlankError::Wall { .. })), "{wall}");
    }
    let error = with(60.0).expect_err("too high");
    assert_eq!(
        error.to_string(),
        "a wall may be from 0 to 50 mm high, not 60 mm"
    );
}

#[test]
fn a_wall_goes_with_a_crisp_rim_and_a_whole_floor_only() {
    let error = Blank::new(round(20.0), mm(0.3), mm(2.0)).expect_err("both");
    assert_eq!(error, BlankError::SoftRim);
    let hole = Hole {
        at: [mm(5.0), mm(0.0)],
        diameter: mm(3.0),
    };
    let holed = round(20.0).with_holes(&[hole]).expect("an outline");
    let error = Blank::new(holed.clone(), mm(0.0), mm(2.0)).expect_err("both");
    assert_eq!(error, BlankError::WallWithHoles);
    assert!(Blank::new(holed.clone(), mm(0.5), mm(0.0)).is_ok());
    // 20 mm across with an edge of 3 mm, but the hole's own edge reaches its rim.
    assert!(Blank::new(holed, mm(3.0), mm(0.0)).is_err());
}
