//! Outlines that are neither round nor rectangular, against the reference table.

use std::collections::HashMap;

use crate::common::dome::{liquid, number, rows};
use brimful::geometry::{Ask, Hole, Liquid, Outline, Top};
use brimful::quantity::{Angle, Density, Length, SurfaceTension};

fn mm(x: f64) -> Length {
    Length::from_mm(x)
}

fn points(file: &str) -> Outline {
    let points: Vec<[Length; 2]> = rows(file)
        .iter()
        .map(|row| [mm(number(row, "x_mm")), mm(number(row, "y_mm"))])
        .collect();
    Outline::points(&points, Length::ZERO).expect("an outline")
}

/// The outlines of the table.
fn outline(shape: &str) -> Outline {
    match shape {
        "ellipse_18x25" => Outline::oval(mm(25.0), mm(18.0)).expect("an oval"),
        "hexagon_25af" => Outline::regular(6, mm(25.0), Length::ZERO).expect("a hexagon"),
        "heart_30w" => points("heart.csv"),
        "star5_40" => points("star.csv"),
        "ring_40_12" => {
            let hole = Hole {
                at: [Length::ZERO; 2],
                diameter: mm(12.0),
            };
            let disc = Outline::round(mm(40.0)).expect("a disc");
            disc.with_holes(&[hole]).expect("a ring")
        }
        other => panic!("an unknown shape {other}"),
    }
}

/// `shapes.csv`: spectral elements of degree 8 on the exact outlines, solved
/// again by Surface Evolver at the same volume (and the ring by a
/// one-dimensional boundary value problem). The worst row states its own error as
/// 1.5e-6 of volume; the tool promises 1e-4. The
/// heart and the star are given as points and read as the curves that they sample.
#[test]
fn every_shape_of_the_table_is_filled_to_its_edge_angle() {
    let table = rows("shapes.csv");
    let mut seen: HashMap<&str, u32> = HashMap::new();
    for row in &table {
        let top = Top::new(&outline(&row["shape"]), liquid(row)).expect("a top");
        assert_eq!(row["control"], "max_edge_angle");
        let angle = Angle::from_deg(number(row, "control_value"));
        let dome = top.dome(Ask::EdgeAngle(angle)).expect("a dome");
        let close = |what: &str, got: f64, key: &str, tolerance: f64| {
            let off = (got / number(row, key) - 1.0).abs();
            let name = format!("{} at {} degrees", row["shape"], row["control_value"]);
            assert!(off < tolerance, "{name}: {what} off by {off:.1e}");
        };
        close("volume", dome.volume.ml(), "V_mL", 1e-4);
        close("pressure", dome.pressure.pa(), "p0_Pa", 1e-4);
        let surface = dome.surface_area.mm2();
        close("surface", surface, "surface_area_mm2", 1e-4);
        let flat = dome.outline_area.mm2();
        close("outline's area", flat, "top_area_mm2", 1e-5);
        // The flat middle is meshed coarsely.
        close("peak", dome.peak.mm(), "peak_height_mm", 1e-3);
        *seen.entry(&row["shape"]).or_default() += 1;
    }
    // Two liquids at two angles each.
    assert_eq!((table.len(), seen.len()), (20, 5));
    assert!(seen.values().all(|&rows| rows == 4), "{seen:?}");
}

/// The parts of a polygon are meshed between slanted mirror lines, where no
/// point lies exactly on its line: no size may fail for its rounding.
#[test]
fn polygons_of_every_size_are_filled() {
    let liquid = Liquid {
        surface_tension: SurfaceTension::from_n_per_m(0.035),
        density: Density::from_kg_per_m3(1050.0),
    };
    for sides in 3..=12 {
        let mut last = 0.0;
        for tenths in (60..600).step_by(13) {
            let across = mm(f64::from(tenths) / 10.0);
            let outline = Outline::regular(sides, across, Length::ZERO).expect("a polygon");
            let top = Top::new(&outline, liquid);
            let top = top.unwrap_or_else(|e| panic!("{sides} sides, {across:?}: {e}"));
            let dome = top.dome(Ask::EdgeAngle(Angle::from_deg(35.0)));
            let volume = dome
                .unwrap_or_else(|e| panic!("{sides} sides, {across:?}: {e}"))
                .volume;
            assert!(volume.ml() > last, "{sides} sides, {across:?}");
            last = volume.ml();
        }
    }
}
