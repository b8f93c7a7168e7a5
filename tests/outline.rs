//! Outlines: the measures of known shapes, and what is refused.

use brimful::geometry::{Hole, Outline, OutlineError};
use brimful::quantity::Length;

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

fn places(points: &[[f64; 2]]) -> Vec<[Length; 2]> {
    points.iter().map(|p| p.map(mm)).collect()
}

/// Asserts agreement within a relative tolerance.
#[track_caller]
fn close(what: &str, got: f64, expected: f64, tolerance: f64) {
    let off = (got / expected - 1.0).abs();
    assert!(
        off <= tolerance,
        "{what}: got {got}, expected {expected}, off by {off:.1e}"
    );
}

fn from_table(file: &str) -> Outline {
    let mut reader =
        csv::Reader::from_path(format!("data/reference/dome/{file}")).expect("a table");
    let points: Vec<[Length; 2]> = reader
        .records()
        .map(|row| {
            let row = row.expect("a row");
            [1, 2].map(|column| mm(row[column].parse().expect("a number")))
        })
        .collect();
    assert!(points.len() > 900, "{}", points.len());
    Outline::points(&points, mm(0.0)).unwrap_or_else(|e| panic!("{file}: {e}"))
}

/// Areas: the exact ones of the arcs and lines that the samples lie on, stated with
/// the tables; perimeters: shapes.csv, which was solved on the same exact edge.
#[test]
fn the_sampled_heart_and_star_measure_as_the_arcs_and_lines_they_were_taken_from() {
    for (file, shape, area) in [
        ("heart.csv", "heart_30w", 501.877_203),
        ("star.csv", "star5_40", 647.251_230),
    ] {
        let outline = from_table(file);
        let mut reader = csv::Reader::from_path("data/reference/dome/shapes.csv").expect("a table");
        let rows: Vec<std::collections::HashMap<String, String>> = reader
            .deserialize()
            .map(|row| row.expect("a row"))
            .collect();
        let row = rows
            .iter()
            .find(|row| row["shape"] == shape)
            .expect("the shape");
        let perimeter: f64 = row["perimeter_mm"].parse().expect("a number");
        println!(
            "{file}: {:.9} {:.9}, corners {}",
            outline.area().mm2() / area - 1.0,
            outline.perimeter().mm() / perimeter - 1.0,
            outline.corners().len()
        );
        close(file, outline.area().mm2(), area, 1e-6);
        close(file, outline.perimeter().mm(), perimeter, 1e-6);
    }
}

#[test]
fn two_hundred_points_on_a_circle_are_read_as_the_circle() {
    let points: Vec<[f64; 2]> = (0..200)
        .map(|i| {
            let (sin, cos) = (std::f64::consts::TAU * f64::from(i) / 200.0).sin_cos();
            [12.5 * cos + 3.0, 12.5 * sin - 7.0]
        })
        .collect();
    let outline = Outline::points(&places(&points), mm(0.0)).expect("an outline");
    close(
        "area",
        outline.area().mm2(),
        std::f64::consts::PI * 12.5 * 12.5,
        1e-8,
    );
    close(
        "perimeter",
        outline.perimeter().mm(),
        std::f64::consts::TAU * 12.5,
        1e-8,
    );
    assert!(outline.corners().is_empty());
}

#[test]
fn a_bow_tie_is_refused_where_it_crosses() {
    let tie = places(&[[0.0, 0.0], [10.0, 10.0], [10.0, 0.0], [0.0, 10.0]]);
    let why = Outline::points(&tie, mm(0.0)).expect_err("crosses");
    assert_eq!(
        why,
        OutlineError::Crosses {
            first: 1,
            second: 3,
            at: [mm(5.0), mm(5.0)]
        }
    );
}

#[test]
fn a_hole_takes_its_area_off_and_adds_its_edge() {
    let hole = Hole {
        at: [mm(0.0), mm(0.0)],
        diameter: mm(12.0),
    };
    let ring = Outline::round(mm(40.0))
        .expect("round")
        .with_holes(&[hole])
        .expect("a ring");
    let pi = std::f64::consts::PI;
    close("area", ring.area().mm2(), pi * (400.0 - 36.0), 1e-12);
    close("perimeter", ring.perimeter().mm(), pi * 52.0, 1e-12);
    assert!(!ring.contains(mm(0.0), mm(5.9)) && ring.contains(mm(0.0), mm(6.1)));
}
