//! Outlines that are neither round nor rectangular, against the reference table.

use std::collections::HashMap;
use std::time::Instant;

use brimful::geometry::{Ask, Hole, Liquid, Outline, Top};
use brimful::quantity::{Angle, Density, Length, SurfaceTension};

type Row = HashMap<String, String>;

fn rows(file: &str) -> Vec<Row> {
    let mut reader = csv::Reader::from_path(format!("data/reference/dome/{file}")).expect(file);
    reader
        .deserialize()
        .map(|row| row.expect("a row"))
        .collect()
}

fn number(row: &Row, key: &str) -> f64 {
    row[key]
        .parse()
        .unwrap_or_else(|_| panic!("{key}: {}", row[key]))
}

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
/// one-dimensional boundary value problem). The heart and the star are given as
/// points and read as the curves that they sample.
#[test]
fn every_shape_of_the_table_is_filled_to_its_edge_angle() {
    let table = rows("shapes.csv");
    assert_eq!(table.len(), 20);
    for row in &table {
        let liquid = Liquid {
            surface_tension: SurfaceTension::from_n_per_m(number(row, "gamma_N_per_m")),
            density: Density::from_kg_per_m3(number(row, "rho_kg_per_m3")),
        };
        let outline = outline(&row["shape"]);
        let start = Instant::now();
        let top = Top::new(&outline, liquid).expect("a top");
        let meshed = start.elapsed();
        let angle = Angle::from_deg(number(row, "max_edge_angle_deg"));
        let dome = top.dome(Ask::EdgeAngle(angle)).expect("a dome");
        let whole = start.elapsed();
        let off = |got: f64, key: &str| got / number(row, key) - 1.0;
        println!(
            "{} {}: V {:.1e} p {:.1e} S {:.1e} peak {:.1e}, {:?} {:?}",
            row["shape"],
            row["control_value"],
            off(dome.volume.ml(), "V_mL"),
            off(dome.pressure.pa(), "p0_Pa"),
            off(dome.surface_area.mm2(), "surface_area_mm2"),
            off(dome.peak.mm(), "peak_height_mm"),
            meshed,
            whole,
        );
    }
}
