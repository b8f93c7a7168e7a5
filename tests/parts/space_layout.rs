//! Pieces on trays: counts known from outside, room kept, and what must hold for any.

use crate::common::space::{ground, keeps_its_room, mm, points, rectangle, round};
use brimful::geometry::Outline;
use brimful::quantity::Length;
use brimful::space::{How, MAGNET_GAP, SpaceError, lay, least_ground};
use proptest::prelude::*;

/// Case C23: in straight rows (451 - 20 + 10) / 35 = 12.6 by (356 - 20 + 10) / 35 = 9.9.
#[test]
fn a_baking_tray_holds_108_rounds_in_rows_more_staggered_and_6_tiles() {
    let tray = ground([451.0, 356.0], 10.0, 10.0);
    let rounds = lay(&round(25.0), &tray).unwrap();
    keeps_its_room(&round(25.0), &tray, &rounds);
    assert!(rounds.count > 108, "{}", rounds.count);
    assert_eq!(rounds.how, How::Staggered);
    let tiles = lay(&rectangle([108.0; 2]), &tray).unwrap();
    keeps_its_room(&rectangle([108.0; 2]), &tray, &tiles);
    assert_eq!((tiles.count, tiles.how), (6, How::Straight));
    let rows = tiles.rows.unwrap();
    assert_eq!(rows.counts, [3, 3]);
    assert!((rows.pitch.mm() - 118.0).abs() < 1e-9 && (rows.step.mm() - 118.0).abs() < 1e-9);
}

/// Case C25: magnets lie further apart, so fewer do: (451 - 20 + 40) / 65 = 7.2 by
/// (356 - 20 + 40) / 65 = 5.8 straight, and no fewer staggered.
#[test]
fn magnets_take_a_wider_gap() {
    let tray = ground([451.0, 356.0], 10.0, MAGNET_GAP.mm());
    let magnets = lay(&round(25.0), &tray).unwrap();
    keeps_its_room(&round(25.0), &tray, &magnets);
    assert!((35..60).contains(&magnets.count), "{}", magnets.count);
}

/// Side of the square in which so many discs of diameter 1 just fit, `1 / (2 r)` with the radii
/// of the best known packings in a unit square (Graham and Lubachevsky, Specht; from memory, six
/// digits). No pattern may hold more in a square a little smaller.
#[test]
fn discs_in_a_square_come_near_the_best_known() {
    let radii = [
        (1, 0.5),
        (2, 0.292_893),
        (3, 0.254_333),
        (4, 0.25),
        (5, 0.207_107),
        (6, 0.187_681),
        (7, 0.174_458),
        (8, 0.170_541),
        (9, 0.166_667),
        (10, 0.148_204),
        (11, 0.142_399),
        (12, 0.139_959),
        (13, 0.133_994),
        (14, 0.129_332),
        (15, 0.127_167),
        (16, 0.125),
        (17, 0.117_197),
        (18, 0.115_521),
        (19, 0.112_265),
        (20, 0.111_382),
        (30, 0.091_671),
    ];
    let mut short = Vec::new();
    for (count, radius) in radii {
        let side = 20.0 / (2.0 * radius);
        let held = |side: f64| lay(&round(20.0), &ground([side; 2], 0.0, 0.0)).unwrap();
        let least = held(side * (1.0 - 1e-5));
        assert!(
            least.count < count,
            "{} in less than {count} need",
            least.count
        );
        let most = held(side * (1.0 + 1e-5));
        keeps_its_room(
            &round(20.0),
            &ground([side * (1.0 + 1e-5); 2], 0.0, 0.0),
            &most,
        );
        if most.count + 1 < count {
            short.push((count, most.count));
        }
    }
    // rows hold two fewer than the irregular best of 15
    assert_eq!(short, [(15, 13)]);
}

/// A triangle's height is 17.32 of 20: two lie in a parallelogram 30 wide and as high, so a
/// strip of that height and 10 n + 10 wide holds n of them.
#[test]
fn triangles_turn_about_in_a_strip() {
    let triangle = points(&[[0.0, 0.0], [20.0, 0.0], [10.0, 300.0_f64.sqrt()]]);
    for count in [1_u32, 2, 5, 8] {
        let wide = 10.0 * f64::from(count) + 10.0;
        let tray = ground([wide + 0.001, 17.33], 0.0, 0.0);
        let lies = lay(&triangle, &tray).unwrap();
        keeps_its_room(&triangle, &tray, &lies);
        assert_eq!(lies.count, count);
    }
}

/// Two L of three squares make a rectangle of 2 by 3 squares, so 6 squares by 6 hold 12.
#[test]
fn angles_lie_into_each_other() {
    let angle = points(&[
        [0.0, 0.0],
        [20.0, 0.0],
        [20.0, 10.0],
        [10.0, 10.0],
        [10.0, 20.0],
        [0.0, 20.0],
    ]);
    let tray = ground([60.001, 60.001], 0.0, 0.0);
    let lies = lay(&angle, &tray).unwrap();
    keeps_its_room(&angle, &tray, &lies);
    assert!(lies.count >= 11, "{}", lies.count);
}

/// A rhombus on its point fills the plane in slanted or shifted rows: in a wide strip it takes
/// its own area, not its box's.
#[test]
fn a_rhombus_nests() {
    let rhombus = points(&[[0.0, -20.0], [10.0, 0.0], [0.0, 20.0], [-10.0, 0.0]]);
    let tray = ground([300.0, 300.0], 0.0, 0.0);
    let lies = lay(&rhombus, &tray).unwrap();
    keeps_its_room(&rhombus, &tray, &lies);
    // 225 by area; its boxes alone hold 15 x 7
    assert!(lies.count > 190, "{}", lies.count);
}

/// An oblong told askew lies straight: its narrowest rectangle is what fits.
#[test]
fn what_is_told_askew_is_laid_upright() {
    let (sin, cos) = 0.4_f64.sin_cos();
    let turn = |[x, y]: [f64; 2]| [cos * x - sin * y, sin * x + cos * y];
    let oblong = points(&[[0.0, 0.0], [40.0, 0.0], [40.0, 10.0], [0.0, 10.0]].map(turn));
    let tray = ground([80.01, 30.01], 0.0, 0.0);
    let lies = lay(&oblong, &tray).unwrap();
    keeps_its_room(&oblong, &tray, &lies);
    assert_eq!(lies.count, 6);
    let least = least_ground(&oblong, mm(5.0)).unwrap().map(Length::mm);
    let sides = [least[0].min(least[1]), least[0].max(least[1])];
    assert!((sides[0] - 20.0).abs() < 1e-6 && (sides[1] - 50.0).abs() < 1e-6);
}

#[test]
fn values_out_of_range_are_refused() {
    let disc = round(25.0);
    for (size, margin, gap, words) in [
        (
            [0.0, 5.0],
            0.0,
            0.0,
            "a tray's or sheet's length is above 0 mm",
        ),
        (
            [5.0, f64::NAN],
            0.0,
            0.0,
            "a tray's or sheet's width is above 0 mm",
        ),
        (
            [5.0, 5.0],
            -1.0,
            0.0,
            "the margin is from 0 mm to 100 m, not -1 mm",
        ),
        (
            [5.0, 5.0],
            0.0,
            f64::INFINITY,
            "the gap is from 0 mm to 100 m, not inf mm",
        ),
    ] {
        let refused = lay(&disc, &ground(size, margin, gap)).unwrap_err();
        assert!(refused.to_string().contains(words), "{refused}");
    }
    let many = lay(&round(1.0), &ground([1000.0; 2], 0.0, 0.0)).unwrap_err();
    assert!(matches!(many, SpaceError::TooMany { .. }), "{many}");
}

#[test]
fn a_tray_that_is_too_small_holds_none() {
    for outline in [
        round(25.0),
        rectangle([25.0; 2]),
        points(&[[0.0, 0.0], [25.0, 0.0], [0.0, 25.0]]),
    ] {
        for size in [[24.0, 300.0], [300.0, 24.0], [1.0, 1.0]] {
            let none = lay(&outline, &ground(size, 5.0, 3.0)).unwrap();
            assert_eq!((none.count, none.places.len()), (0, 0));
        }
    }
}

fn outlines() -> impl Strategy<Value = Outline> {
    let side = 8.0..40.0_f64;
    prop_oneof![
        side.clone().prop_map(round),
        [side.clone(), side.clone()].prop_map(rectangle),
        [side.clone(), side.clone()].prop_map(|[a, b]| Outline::oval(mm(a), mm(b)).unwrap()),
        (3..9_u32, side.clone())
            .prop_map(|(n, a)| Outline::regular(n, mm(a), Length::ZERO).unwrap()),
        (side.clone(), side.clone()).prop_map(|(a, b)| points(&[
            [0.0, 0.0],
            [a, 0.0],
            [a / 3.0, b]
        ])),
        [side.clone(), side].prop_map(|[a, b]| {
            let (c, d) = (0.4 * a, 0.3 * b);
            points(&[[0.0, 0.0], [a, 0.0], [a, d], [c, d], [c, b], [0.0, b]])
        }),
    ]
}

/// Triangles that just fill their rows: what is added against rounding must not lose one.
#[test]
fn a_triangle_that_just_fits_its_row_fits_at_any_scale() {
    let count = |times: f64| {
        let (a, b) = (10.125 * times, 11.75 * times);
        let outline = points(&[[0.0, 0.0], [a, 0.0], [a, b]]);
        let tray = ground([91.125 * times, 186.25 * times], 5.0 * times, 0.0);
        lay(&outline, &tray).unwrap().count
    };
    let one = count(1.0);
    assert!([0.5, 2.0, 4.0].iter().all(|&times| count(times) == one));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn every_layout_keeps_its_room(
        outline in outlines(),
        size in [40.0..130.0_f64, 40.0..130.0_f64],
        margin in 0.0..10.0_f64,
        gap in prop_oneof![Just(0.0), 0.0..12.0_f64],
    ) {
        let tray = ground(size, margin, gap);
        keeps_its_room(&outline, &tray, &lay(&outline, &tray).unwrap());
    }

    /// Smaller gaps are held to it for discs and rectangles; an odd outline's shifts go by its gap.
    #[test]
    fn more_room_never_holds_fewer(
        outline in outlines(),
        size in [40.0..200.0_f64, 40.0..200.0_f64],
        more in [0.0..60.0_f64, 0.0..60.0_f64],
        margin in 0.0..10.0_f64,
        gap in 0.0..12.0_f64,
        less in [0.0..1.0_f64, 0.0..1.0_f64],
    ) {
        use brimful::geometry::Form;
        let exact = matches!(outline.form(), Form::Round { .. } | Form::Rectangle { .. });
        let smaller = if exact { gap * less[0] } else { gap };
        let base = lay(&outline, &ground(size, margin, gap)).unwrap().count;
        let larger = [size[0] + more[0], size[1] + more[1]];
        for (size, margin, gap) in [
            (larger, margin, gap),
            (size, margin * less[1], gap),
            (size, margin, smaller),
        ] {
            let held = lay(&outline, &ground(size, margin, gap)).unwrap().count;
            prop_assert!(held >= base, "{held} after {base} on {size:?}, {margin}, {gap}");
        }
    }

    /// Curves are drawn to a fixed tolerance, so only straight sides and discs scale exactly;
    /// sizes are whole eighths, which double without a rounding.
    #[test]
    fn twice_as_large_holds_as_many(
        side in [64..300_u32, 64..300_u32],
        kind in 0..3_u8,
        tray in [400..1600_u32, 400..1600_u32],
        gap in 0..80_u32,
    ) {
        let eighth = |n: u32| f64::from(n) / 8.0;
        let count = |times: f64| {
            let [a, b] = side.map(|n| eighth(n) * times);
            let outline = match kind {
                0 => round(a),
                1 => rectangle([a, b]),
                _ => points(&[[0.0, 0.0], [a, 0.0], [a, b]]),
            };
            let gap = eighth(gap) * times * f64::from(u8::from(kind < 2));
            let tray = ground(tray.map(|n| eighth(n) * times), eighth(40) * times, gap);
            lay(&outline, &tray).unwrap().count
        };
        prop_assert_eq!(count(1.0), count(2.0));
    }

    #[test]
    fn any_sizes_are_answered_or_refused(
        outline in outlines(),
        size in [any::<f64>(), any::<f64>()],
        margin in any::<f64>(),
        gap in any::<f64>(),
    ) {
        let _ = lay(&outline, &ground(size, margin, gap));
    }
}
