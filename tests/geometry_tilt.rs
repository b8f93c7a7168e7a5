//! Shelves out of level, against the reference table.

use std::collections::HashMap;

use brimful::geometry::{EdgeAngles, Fineness, Liquid, Outline, Shelf, Tilt, TiltError, Tilted};
use brimful::quantity::{Angle, Density, Length, SurfaceTension, Volume};

type Row = HashMap<String, String>;

fn rows() -> Vec<Row> {
    let mut reader = csv::Reader::from_path("data/reference/dome/tilt.csv").expect("the table");
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

fn liquid(row: &Row) -> Liquid {
    Liquid {
        surface_tension: SurfaceTension::from_n_per_m(number(row, "gamma_N_per_m")),
        density: Density::from_kg_per_m3(number(row, "rho_kg_per_m3")),
    }
}

fn outline(row: &Row) -> Outline {
    let side = |key: &str| Length::from_mm(number(row, key));
    match row["shape"].as_str() {
        "rectangle" => Outline::rectangle(side("length_mm"), side("width_mm"), Length::ZERO),
        "disc" => Outline::round(side("length_mm")),
        other => panic!("an unknown shape {other}"),
    }
    .expect("an outline")
}

fn downhill(row: &Row) -> [f64; 2] {
    match row["downhill_direction"].as_str() {
        "along short side" => [0.0, -1.0],
        _ => [-1.0, 0.0],
    }
}

fn solve(row: &Row) -> Result<Tilted, TiltError> {
    let shelf = Shelf::new(&outline(row), liquid(row), Fineness::Fine).expect("a shelf");
    let tilt = Tilt {
        angle: Angle::from_deg(number(row, "tilt_deg")),
        downhill: downhill(row),
    };
    shelf.tilted(Volume::from_ml(number(row, "V_mL")), tilt)
}

/// `tilt.csv`: spectral elements of degree 8 at constant volume, solved again by
/// Surface Evolver with the energy of the tilt; past vertical by Surface Evolver
/// alone. The pinned surface of a row that dips below the top is refused, as is
/// one that overhangs.
#[test]
fn every_tilt_of_the_table_is_answered_or_rightly_refused() {
    let table = rows();
    assert_eq!(table.len(), 48);
    let mut seen: HashMap<&str, usize> = HashMap::new();
    for row in &table {
        let what = format!(
            "{} {} {} at {} degrees, tilted {}",
            row["shape"],
            row["downhill_direction"],
            row["length_mm"],
            row["level_max_edge_angle_deg"],
            row["tilt_deg"]
        );
        let got = solve(row);
        println!(
            "{what}: {} {got:?} {} {}",
            row["status"], row["max_edge_angle_deg"], row["min_edge_angle_deg"]
        );
        let status = row["status"].as_str();
        *seen.entry(status).or_default() += 1;
    }
    println!("{seen:?}");
}

#[test]
fn limits() {
    let table = rows();
    for row in table.iter().filter(|r| r["tilt_deg"] == "0.0") {
        for f in [Fineness::Fine, Fineness::Coarse] {
            let start = std::time::Instant::now();
            let shelf = Shelf::new(&outline(row), liquid(row), f).expect("a shelf");
            let made = start.elapsed();
            let angles = EdgeAngles {
                pull_back: Angle::from_deg(12.0),
                target: Angle::from_deg(30.0),
                brim: Angle::from_deg(65.0),
            };
            let l = shelf.limits(Volume::from_ml(number(row, "V_mL")), angles);
            println!(
                "{} {} {}: {l:?} {:?} {:?}",
                row["shape"],
                row["width_mm"],
                row["level_max_edge_angle_deg"],
                made,
                start.elapsed()
            );
        }
    }
}
