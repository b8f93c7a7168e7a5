//! Bezels: a wall around a floor.

use std::f64::consts::PI;

use super::{ANGLES, all, close, coating, deg, filling, mm, rectangle, round};
use brimful::geometry::{
    Ask, Blank, DomeError, EdgeAngles, Filling, GRAVITY, Liquid, Outline, Top,
};
use brimful::quantity::{Density, SurfaceTension, Volume};

/// A full floor, π a² h, and on it the dome of `round.csv` (arc-length
/// integration in scipy at 1e-12): every row, by angle, volume, mass and peak.
#[test]
fn a_round_bezel_holds_its_floor_and_the_dome_of_the_table() {
    const WALL: f64 = 3.0;
    let mut reader = csv::Reader::from_path("data/reference/dome/round.csv").expect("the table");
    let mut seen = 0;
    for row in reader.deserialize::<std::collections::HashMap<String, String>>() {
        let row = row.expect("a row");
        let number = |key: &str| row[key].parse::<f64>().expect(key);
        let liquid = Liquid {
            surface_tension: SurfaceTension::from_n_per_m(number("gamma_N_per_m")),
            density: Density::from_kg_per_m3(number("rho_kg_per_m3")),
        };
        let a = number("radius_mm");
        let blank = Blank::new(round(2.0 * a), mm(0.0), mm(WALL)).expect("a blank");
        let bezel = Filling::new(&blank, liquid, ANGLES).expect("a filling");
        let volume = Volume::from_mm3(PI * a * a * WALL + number("V_mL") * 1e3);
        let peak = mm(WALL + number("peak_height_mm"));
        for ask in [
            Ask::EdgeAngle(deg(number("edge_angle_deg"))),
            Ask::Volume(volume),
            Ask::Mass(volume * liquid.density),
            Ask::Peak(peak),
        ] {
            let dome = bezel.dome(ask).expect("a dome");
            close("volume", dome.volume.mm3(), volume.mm3(), 1e-6);
            close("mass", dome.mass.g(), (volume * liquid.density).g(), 1e-6);
            close("peak", dome.peak.mm(), peak.mm(), 1e-6);
            close(
                "surface",
                dome.surface_area.mm2(),
                number("surface_area_mm2"),
                1e-5,
            );
            // A low dome is the small difference of two large volumes.
            let degrees = dome.edge_angle.deg() - number("edge_angle_deg");
            assert!(degrees.abs() < 1e-3, "{degrees} degrees at {row:?}");
            // Hydrostatics: a column of the wall's height more than at the rim.
            let column = number("rho_kg_per_m3") * GRAVITY * WALL * 1e-3;
            close(
                "pressure",
                dome.pressure.pa(),
                number("p0_Pa") + column,
                1e-6,
            );
        }
        seen += 1;
    }
    assert_eq!(seen, 243);
}

/// Case C20: 4 mm on a free edge is more than it holds; a wall makes it possible.
#[test]
fn a_wall_makes_a_height_possible_that_no_free_edge_holds() {
    let free = filling(&round(40.0), 0.0, 0.0);
    let error = free.dome(Ask::Peak(mm(4.0))).expect_err("too high");
    assert!(matches!(error, DomeError::TooMuch { .. }), "{error}");
    let walled = filling(&round(40.0), 0.0, 2.5);
    let dome = walled.dome(Ask::Peak(mm(4.0))).expect("a dome");
    assert!(dome.volume.mm3() < walled.window().expect("a window").brim.volume.mm3());
    // And what it says of too much is its own: floor and all.
    let Err(DomeError::TooMuch { most, peak }) = walled.dome(Ask::Peak(mm(9.0))) else {
        panic!("9 mm on a wall of 2.5");
    };
    let on_free = free.dome(Ask::EdgeAngle(deg(150.0))).expect("the steepest");
    let floor = round(40.0).area() * mm(2.5);
    close("most", most.mm3(), (on_free.volume + floor).mm3(), 1e-12);
    close("its peak", peak.mm(), on_free.peak.mm() + 2.5, 1e-12);
}

/// A wall of no height is a flat top, and the window goes there in proportion
/// to the wall, for `V = A h + V_dome`.
#[test]
fn a_vanishing_wall_leads_to_the_flat_top() {
    for outline in [round(25.0), rectangle(50.0, 20.0, 3.0)] {
        let flat = all(&filling(&outline, 0.0, 0.0).window().expect("a window"));
        let top = Top::new(&outline, coating()).expect("a top");
        assert_eq!(flat, all(&top.window(ANGLES).expect("a window")));
        for wall in [1.0, 1e-3, 1e-6] {
            let low = all(&filling(&outline, 0.0, wall).window().expect("a window"));
            for (low, flat) in low.iter().zip(&flat) {
                let more = (low.volume - flat.volume).mm3();
                close("volume", more, outline.area().mm2() * wall, 1e-6);
                close("peak", (low.peak - flat.peak).mm(), wall, 1e-6);
                assert_eq!(low.edge_angle, flat.edge_angle);
                assert_eq!(low.surface_area, flat.surface_area);
            }
        }
    }
}

#[test]
fn between_level_and_the_pull_back_limit_the_rim_still_holds() {
    let outline = rectangle(30.0, 20.0, 2.0);
    let bezel = filling(&outline, 0.0, 3.0);
    let level = outline.area() * mm(3.0);
    let least = bezel.window().expect("a window").pull_back;
    let between = (level + least.volume) / 2.0;
    let dome = bezel.dome(Ask::Volume(between)).expect("a dome");
    assert!(dome.edge_angle.deg() > 0.0 && dome.edge_angle.deg() < 12.0);
    assert!(dome.peak.mm() > 3.0 && dome.peak.mm() < least.peak.mm());
    close("volume", dome.volume.mm3(), between.mm3(), 1e-9);
}

#[test]
fn an_underfilled_bezel_says_how_far_below_its_rim() {
    let outline = Outline::rectangle(mm(30.0), mm(20.0), mm(0.0)).expect("an outline");
    let bezel = filling(&outline, 0.0, 3.0);
    // 30 x 20 x 2.25 mm
    for ask in [
        Ask::Volume(Volume::from_mm3(1350.0)),
        Ask::Mass(Volume::from_mm3(1350.0) * coating().density),
        Ask::Peak(mm(2.25)),
    ] {
        let Err(DomeError::BelowRim { depth, below, .. }) = bezel.dome(ask) else {
            panic!("{ask:?} is below the rim");
        };
        close("depth", depth.mm(), 2.25, 1e-12);
        close("below", below.mm(), 0.75, 1e-12);
    }
    let level = bezel.dome(Ask::Volume(outline.area() * mm(3.0)));
    assert!(
        matches!(level, Err(DomeError::BelowRim { below, .. }) if below.mm() < 1e-12),
        "level with the rim"
    );
    for nothing in [Ask::Volume(Volume::ZERO), Ask::Peak(mm(-1.0))] {
        let error = bezel.dome(nothing).expect_err("nothing");
        assert!(matches!(error, DomeError::OutOfRange { .. }), "{error}");
    }
    let text = bezel.dome(Ask::Peak(mm(2.25))).expect_err("below");
    assert_eq!(
        text.to_string(),
        "that stays below the rim: 2.25 mm deep in the mean, 0.75 mm short of the rim"
    );
}

/// Water at 20 °C that wets a wall fully climbs √2 c = 3.86 mm (c = 2.73 mm,
/// de Gennes, Brochard-Wyart and Quéré, from memory); at 30 degrees c, at
/// 90 degrees nothing.
#[test]
fn liquid_climbs_a_wall_by_up_to_its_meniscus() {
    let water = Liquid {
        surface_tension: SurfaceTension::from_n_per_m(0.07275),
        density: Density::from_kg_per_m3(998.2),
    };
    let blank = Blank::new(round(40.0), mm(0.0), mm(20.0)).expect("a blank");
    let climb = |degrees: f64| {
        let angles = EdgeAngles {
            pull_back: deg(degrees),
            ..ANGLES
        };
        let bezel = Filling::new(&blank, water, angles).expect("a filling");
        match bezel.dome(Ask::Peak(mm(10.0))) {
            Err(DomeError::BelowRim { climb, .. }) => climb.mm(),
            _ => panic!("10 mm in a wall of 20"),
        }
    };
    assert!((climb(0.0) - 3.86).abs() < 0.005, "{}", climb(0.0));
    close(
        "at 30 degrees",
        climb(30.0),
        water.capillary_length().mm(),
        1e-12,
    );
    assert!(climb(90.0) < 1e-7);
}
