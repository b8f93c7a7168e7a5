//! Tests of the solvers from inside: limits, analogies, convergence.

mod convergence;
mod scratch;
mod disc;
mod round;
mod strip;
mod torsion;

use super::contour::Contour;
use super::mesh::Sizing;
use super::newton::{Goal, Solution};
use super::plate::Plate;

/// The order and sizing that `Top` uses.
pub(super) fn plate(contour: &Contour, c: f64, across: f64, bond: f64) -> Plate {
    let (sizing, order) = Sizing::for_capillary_length(c, across);
    Plate::new(contour, sizing, order, bond).expect("a mesh")
}

pub(super) fn by_angle(plate: &Plate, degrees: f64) -> Solution {
    plate
        .solve(Goal::EdgeAngle(degrees.to_radians()))
        .unwrap_or_else(|| panic!("no dome at {degrees} {}", plate.area))
}

/// Rows of a table under `data/reference`, as columns by name.
pub(super) fn rows(file: &str) -> Vec<std::collections::HashMap<String, String>> {
    let mut reader = csv::Reader::from_path(format!("data/reference/{file}")).expect("a table");
    reader
        .deserialize()
        .map(|row| row.expect("a row"))
        .collect()
}

/// Asserts agreement within a relative tolerance.
#[track_caller]
pub(super) fn close(what: &str, got: f64, expected: f64, tolerance: f64) {
    let off = (got / expected - 1.0).abs();
    assert!(
        off <= tolerance,
        "{what}: got {got}, expected {expected}, off by {off:.1e}"
    );
}
