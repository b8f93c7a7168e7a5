//! Rounded edges.

use std::f64::consts::PI;

use super::{ANGLES, all, close, coating, deg, filling, mm, rectangle, round};
use brimful::geometry::{
    Ask, Blank, DomeError, EdgeAngles, Filled, Filling, GRAVITY, Hole, Liquid, Outline, Top,
};
use brimful::quantity::{Angle, Density};

/// The advancing angle, degrees: the brim angle less 45 degrees.
const ADVANCING: f64 = 20.0;

fn at(filling: &Filling, degrees: f64) -> Filled<'_> {
    let filled = filling.shape(Ask::EdgeAngle(deg(degrees)));
    filled.unwrap_or_else(|e| panic!("{degrees} degrees: {e}"))
}

/// The solid under the surface, by the dome over the lowered base less the liquid.
fn solid(filled: &Filled) -> f64 {
    (filled.shape().dome.volume - filled.dome.volume).mm3()
}

#[test]
fn no_radius_is_a_sharp_edge_exactly() {
    for outline in [round(25.0), rectangle(50.0, 20.0, 3.0)] {
        let sharp = filling(&outline, 0.0, 0.0).window().expect("a window");
        let top = Top::new(&outline, coating()).expect("a top");
        assert_eq!(all(&sharp), all(&top.window(ANGLES).expect("a window")));
    }
}

/// As the radius goes to nothing every measure of the window goes to the sharp
/// edge's, and what is missing halves with the radius.
#[test]
fn a_vanishing_radius_leads_to_the_sharp_edge() {
    // A mesh's own error, some 1e-5, is a share of the difference.
    for (outline, wide, tolerance) in [
        (round(25.0), 0.002, 1e-3),
        (rectangle(40.0, 20.0, 4.0), 0.2, 0.05),
    ] {
        let sharp = all(&filling(&outline, 0.0, 0.0).window().expect("a window"));
        let missing = |edge: f64| {
            let soft = all(&filling(&outline, edge, 0.0).window().expect("a window"));
            [0, 1, 2].map(|i| {
                assert!((soft[i].edge_angle.deg() - sharp[i].edge_angle.deg()).abs() < 1e-9);
                (sharp[i].volume - soft[i].volume).mm3()
            })
        };
        let (far, near) = (missing(wide), missing(wide / 2.0));
        for i in 0..3 {
            assert!(near[i] > 0.0);
            close("halving", far[i] / near[i], 2.0, tolerance);
        }
    }
}

/// On a disc the solid above the contact line's level is one of revolution,
/// with R the flat part's radius:
///
/// ```text
/// π r [R² (1 - cos α) + R r (α - sin α cos α) + r² (2/3 - cos α + cos³α / 3)]
/// ```
///
/// all the way round that is Pappus's theorem for a quarter disc and the
/// cylinder inside it: π R² r + 2π (R + 4r/3π) π r²/4.
#[test]
fn the_solid_under_a_round_dome_is_that_of_revolution() {
    let (flat, r) = (9.0, 1.0);
    let soft = filling(&round(2.0 * (flat + r)), r, 0.0);
    for turn in [1e-3, 5.0, 30.0, 45.0, 60.0] {
        let filled = at(&soft, ADVANCING + turn);
        close("turn", filled.turn.deg(), turn, 1e-9);
        let (sin, cos) = filled.turn.rad().sin_cos();
        close("inset", filled.inset.mm(), r * (1.0 - sin), 1e-12);
        close("lift", filled.lift.mm(), -r * (1.0 - cos), 1e-7);
        let expected = flat * flat * (1.0 - cos)
            + flat * r * (filled.turn.rad() - sin * cos)
            + r * r * (2.0 / 3.0 - cos + cos.powi(3) / 3.0);
        // The thinnest slice is a difference of volumes 1e8 times its own.
        let tolerance = if turn < 1.0 { 1e-4 } else { 1e-10 };
        close("solid", solid(&filled), PI * r * expected, tolerance);
    }
    // All the way round, on an edge too small for the fall to matter.
    let (flat, r) = (9.0, 0.1);
    let soft = filling(&round(2.0 * (flat + r)), r, 0.0);
    let pappus = PI * flat * flat * r + 2.0 * PI * (flat + 4.0 * r / (3.0 * PI)) * PI * r * r / 4.0;
    close(
        "all round",
        solid(&at(&soft, ADVANCING + 90.0)),
        pappus,
        1e-10,
    );
}

/// Any convex flat part of area A and perimeter P, moved outward by s, has the
/// area A + P s + π s² (Steiner), so that its solid is
///
/// ```text
/// r [A (1 - cos α) + P r (α - sin α cos α) / 2 + π r² (2/3 - cos α + cos³α / 3)]
/// ```
#[test]
fn the_solid_under_a_rectangular_dome_follows_steiner() {
    let r = 1.5;
    let soft = filling(&rectangle(40.0, 24.0, 4.0), r, 0.0);
    let flat = rectangle(37.0, 21.0, 2.5);
    let filled = at(&soft, ADVANCING + 40.0);
    let (sin, cos) = 40.0_f64.to_radians().sin_cos();
    let expected = flat.area().mm2() * (1.0 - cos)
        + flat.perimeter().mm() * r * (40.0_f64.to_radians() - sin * cos) / 2.0
        + PI * r * r * (2.0 / 3.0 - cos + cos.powi(3) / 3.0);
    close("solid", solid(&filled), r * expected, 1e-10);
}

/// Corners rounded less than the edge sharpen within it: cut at `d` inward a
/// rectangle has (L - 2d)(W - 2d) - (4 - π) max(c - d, 0)², summed here by the
/// midpoint rule, whose own error is below 1e-7.
#[test]
fn the_solid_follows_corners_that_sharpen_within_the_rounding() {
    let (length, width, corner, r) = (20.0, 12.0, 0.5, 1.5);
    let soft = filling(&rectangle(length, width, corner), r, 0.0);
    let area = |d: f64| {
        let lost = (4.0 - PI) * (corner - d).max(0.0).powi(2);
        (length - 2.0 * d) * (width - 2.0 * d) - lost
    };
    let (turn, slices) = (45.0_f64.to_radians(), 2000);
    let step = turn / f64::from(slices);
    let slice = |i: i32| {
        let sin = ((f64::from(i) + 0.5) * step).sin();
        area(r * (1.0 - sin)) * r * sin * step
    };
    let expected: f64 = (0..slices).map(slice).sum();
    // Interpolated through five cuts, it is off by 1e-5; of the liquid, of which
    // it is a tenth, that is less than the mesh's own 1e-5.
    close("solid", solid(&at(&soft, ADVANCING + 45.0)), expected, 2e-5);
}

/// The balance of forces on the liquid above the contact line's level, by which
/// the reference tables were verified too: p A - weight = P γ sin θ, with
/// A, P and the pressure p on the contact line's level.
#[test]
fn forces_balance_on_the_moved_contact_line() {
    let liquid = coating();
    for (diameter, edge) in [(8.0, 0.3), (25.0, 0.5), (25.0, 1.0), (100.0, 0.3)] {
        let soft = filling(&round(diameter), edge, 0.0);
        for degrees in [10.0, 20.0, 30.0, 50.0, 65.0, 80.0] {
            let filled = at(&soft, degrees);
            let a = diameter / 2.0 - filled.inset.mm();
            let rho_g = liquid.density.kg_per_m3() * GRAVITY;
            // mm, mm² and mm³ with pascals: micronewtons
            let p = filled.dome.pressure.pa() - rho_g * filled.lift.m();
            let weight = rho_g * (filled.dome.volume.mm3() + solid(&filled)) * 1e-3;
            let pull =
                2.0 * PI * a * liquid.surface_tension.n_per_m() * 1e3 * deg(degrees).rad().sin();
            let held = p * PI * a * a - weight;
            // Pressure and weight nearly cancel on a wide disc.
            assert!(
                (held - pull).abs() < 1e-7 * weight.max(pull),
                "{diameter} {edge} {degrees}: {held} {pull}"
            );
        }
    }
}

/// Where the contact line moves at its advancing angle the work per volume is
/// the pressure, dE/dV = p (principle of virtual work). Of a nearly weightless
/// liquid `E = γ (S - W cos θ_a)`, with S the free surface and W the wetted solid:
/// a quarter torus's part, 2π r (R α + r (1 - cos α)). No mesh, base or solid
/// enters that, so it checks where the line stands and what lies under it.
#[test]
fn the_work_of_filling_further_round_is_the_pressure() {
    let light = Liquid {
        density: Density::from_kg_per_m3(1e-4),
        ..coating()
    };
    let (flat, r) = (8.0, 2.0);
    let blank = Blank::new(round(2.0 * (flat + r)), mm(r), mm(0.0)).expect("a blank");
    let soft = Filling::new(&blank, light, ANGLES).expect("a filling");
    let energy = |degrees: f64| {
        let filled = at(&soft, degrees);
        let turn = deg(degrees - ADVANCING).rad();
        let wetted = 2.0 * PI * r * (flat * turn + r * (1.0 - turn.cos()));
        let gamma = light.surface_tension.n_per_m() * 1e3;
        let e = gamma * (filled.dome.surface_area.mm2() - wetted * deg(ADVANCING).rad().cos());
        (e, filled.dome.volume.mm3())
    };
    for degrees in [25.0, 40.0, 65.0, 90.0] {
        let ((e0, v0), (e1, v1)) = (energy(degrees - 0.2), energy(degrees + 0.2));
        let pressure = at(&soft, degrees).dome.pressure.pa();
        // The difference's own error falls as the step's square, 1e-5 here.
        close("dE/dV", (e1 - e0) / (v1 - v0), pressure, 1e-4);
    }
}

#[test]
fn every_measure_asks_for_the_same_dome() {
    for (outline, tolerance) in [(round(25.0), 1e-7), (rectangle(30.0, 20.0, 3.0), 1e-4)] {
        let soft = filling(&outline, 0.5, 0.0);
        for degrees in [12.0, 35.0, 65.0, 80.0] {
            let dome = at(&soft, degrees).dome;
            for ask in [
                Ask::Volume(dome.volume),
                Ask::Mass(dome.mass),
                Ask::Peak(dome.peak),
            ] {
                let again = soft.dome(ask).unwrap_or_else(|e| panic!("{ask:?}: {e}"));
                close("angle", again.edge_angle.deg(), degrees, tolerance);
                close("volume", again.volume.mm3(), dome.volume.mm3(), tolerance);
                close("peak", again.peak.mm(), dome.peak.mm(), tolerance);
            }
        }
        let more = soft.dome(Ask::Peak(mm(20.0))).expect_err("too high");
        assert!(matches!(more, DomeError::TooMuch { .. }), "{more}");
        for wrong in [0.0, -1.0, 170.0, f64::NAN] {
            let error = soft.dome(Ask::EdgeAngle(deg(wrong))).expect_err("no dome");
            assert!(matches!(error, DomeError::OutOfRange { .. }), "{error}");
        }
    }
}

/// A wide pool stands h = 2 c sin(θ/2) over its contact line (de Gennes,
/// Brochard-Wyart and Quéré, from memory), `2 c sin((θ_a + α)/2) - r (1 - cos α)`
/// over the flat: the fullest where `c cos((θ_a + α)/2) = r sin α`. On a pebble's
/// rounding that is long before half-way round, and there it runs over.
#[test]
fn a_wide_rounding_runs_over_before_half_way() {
    let (diameter, r) = (2000.0, 8.0);
    let pebble = filling(&round(diameter), r, 0.0);
    let c = coating().capillary_length().mm();
    let half = |turn: f64| f64::midpoint(deg(ADVANCING).rad(), turn);
    let excess = |turn: f64| c * half(turn).cos() - r * turn.sin();
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..50 {
        let middle = f64::midpoint(low, high);
        if excess(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    let theta = deg(ADVANCING).rad() + low;
    let height = 2.0 * c * half(low).sin() - r * (1.0 - low.cos());
    // The target, 35 degrees, lies past it.
    let Err(DomeError::OutOfRange { steepest }) = pebble.window() else {
        panic!("35 degrees on a rounding of {r} mm");
    };
    // The outline's own bend and its outer ring matter by c/R and r/R.
    assert!(
        (steepest.deg() - theta.to_degrees()).abs() < 0.3,
        "{steepest:?}"
    );
    let most = pebble.dome(Ask::EdgeAngle(steepest)).expect("the fullest");
    close("peak", most.peak.mm(), height, 2e-3);
    let past = pebble.dome(Ask::Volume(most.volume * 1.001));
    assert!(
        matches!(past, Err(DomeError::TooMuch { most: m, .. }) if (m / most.volume - 1.0).abs() < 1e-6)
    );
    let before = pebble
        .dome(Ask::Volume(most.volume * 0.99))
        .expect("a dome");
    assert!(before.edge_angle.deg() < steepest.deg());

    // With an easier target there is a window, and its brim is the fullest.
    let angles = EdgeAngles {
        target: deg(25.0),
        ..ANGLES
    };
    let easy = Filling::new(pebble.blank(), coating(), angles).expect("a filling");
    let window = easy.window().expect("a window");
    assert!(window.brim.edge_angle.deg() < 65.0);
    close("brim", window.brim.volume.mm3(), most.volume.mm3(), 1e-6);
}

/// The contact line waits where the rounding begins until the advancing angle.
#[test]
fn the_contact_line_leaves_the_flat_at_the_advancing_angle() {
    let outline: Outline = round(25.0);
    let soft = filling(&outline, 0.5, 0.0);
    let flat = Top::new(&round(24.0), coating()).expect("a top");
    for degrees in [5.0, 12.0, 20.0] {
        let filled = at(&soft, degrees);
        let ask = Ask::EdgeAngle(deg(degrees));
        assert_eq!(filled.dome.volume, flat.dome(ask).expect("a dome").volume);
        assert_eq!(filled.turn, Angle::ZERO);
        assert_eq!(filled.dome.outline_area, outline.area());
    }
    assert!(at(&soft, 20.1).turn.deg() > 0.0);
    let side = filling(&outline, 0.1, 0.0);
    assert!(side.dome(Ask::EdgeAngle(deg(109.9))).is_ok());
    let past = side
        .dome(Ask::EdgeAngle(deg(110.1)))
        .expect_err("past the rounding");
    assert!(
        matches!(past, DomeError::OutOfRange { steepest } if (steepest.deg() - 110.0).abs() < 1e-9)
    );
}

/// A coating whose brim angle is low: its advancing angle is no smaller than
/// its pull-back angle, and its brim stays its own.
#[test]
fn a_low_brim_is_met_before_half_way() {
    let angles = EdgeAngles {
        pull_back: deg(10.0),
        target: deg(30.0),
        brim: deg(40.0),
    };
    let blank = Blank::new(round(25.0), mm(0.5), mm(0.0)).expect("a blank");
    let low = Filling::new(&blank, coating(), angles).expect("a filling");
    let brim = low.window().expect("a window").brim;
    close("brim", brim.edge_angle.deg(), 40.0, 1e-9);
    close("turn", at(&low, 40.0).turn.deg(), 30.0, 1e-9);
}

#[test]
fn sections_and_heights_count_from_the_blank() {
    let soft = filling(&round(25.0), 1.0, 0.0);
    let filled = at(&soft, 65.0);
    let section = filled.section();
    let (first, last) = (section[0], section[section.len() - 1]);
    close("left", first.0.mm(), filled.inset.mm(), 1e-6);
    close("right", last.0.mm(), 25.0 - filled.inset.mm(), 1e-6);
    close("lowered", first.1.mm(), filled.lift.mm(), 1e-6);
    let middle = filled.height_at(mm(0.0), mm(0.0)).expect("inside");
    close("middle", middle.mm(), filled.dome.peak.mm(), 1e-6);
    assert!(filled.height_at(mm(12.4), mm(0.0)).is_none());
}

/// Any outline takes an edge: asked by angle and by volume, the same dome, and
/// more of it than the flat part holds before the contact line moves, less than a
/// sharp-edged blank does.
#[test]
fn ovals_polygons_and_rings_take_a_soft_edge() {
    let ring = round(30.0).with_holes(&[Hole {
        at: [mm(0.0), mm(0.0)],
        diameter: mm(6.0),
    }]);
    for outline in [
        Outline::oval(mm(30.0), mm(20.0)).expect("an oval"),
        Outline::regular(6, mm(25.0), mm(2.0)).expect("a hexagon"),
        ring.expect("a ring"),
    ] {
        let soft = filling(&outline, 0.5, 0.0);
        let volume = |f: &Filling| f.window().expect("a window").target.volume;
        let flat = outline.inset(mm(0.5)).expect("a flat part");
        let flat = Top::new(&flat, coating()).expect("a top");
        let waiting = flat.dome(Ask::EdgeAngle(deg(ADVANCING))).expect("a dome");
        assert!(waiting.volume < volume(&soft));
        assert!(volume(&soft) < volume(&filling(&outline, 0.0, 0.0)));
        let again = soft.dome(Ask::Volume(volume(&soft))).expect("a dome");
        close("angle", again.edge_angle.deg(), 35.0, 2e-3);
    }
}
