//! Rows of the reference tables of domes, by the names of their columns.

use std::collections::HashMap;

use brimful::geometry::Liquid;
use brimful::quantity::{Density, SurfaceTension};

pub type Row = HashMap<String, String>;

/// Every row of a file under `data/reference/dome`.
pub fn rows(file: &str) -> Vec<Row> {
    let mut reader = csv::Reader::from_path(format!("data/reference/dome/{file}")).expect(file);
    reader
        .deserialize()
        .map(|row| row.expect("a row"))
        .collect()
}

pub fn number(row: &Row, key: &str) -> f64 {
    row[key]
        .parse()
        .unwrap_or_else(|_| panic!("{key}: {}", row[key]))
}

/// The row's liquid.
pub fn liquid(row: &Row) -> Liquid {
    Liquid {
        surface_tension: SurfaceTension::from_n_per_m(number(row, "gamma_N_per_m")),
        density: Density::from_kg_per_m3(number(row, "rho_kg_per_m3")),
    }
}
