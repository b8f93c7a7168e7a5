//! Times of the dome solvers on rows of the reference tables, and of the
//! demo's plan. Compare runs on one machine, as ratios.

use std::hint::black_box;

use brimful::geometry::{Ask, Liquid, Outline, Top};
use brimful::quantity::{Angle, Density, Length, SurfaceTension};
use criterion::{Criterion, criterion_group, criterion_main};

type Row = std::collections::HashMap<String, String>;

fn rows(file: &str) -> Vec<Row> {
    let path = format!("{}/data/reference/dome/{file}", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::Reader::from_path(path).expect(file);
    reader
        .deserialize()
        .map(|row| row.expect("a row"))
        .collect()
}

fn number(row: &Row, key: &str) -> f64 {
    row[key].parse().expect("a number")
}

fn liquid(row: &Row) -> Liquid {
    Liquid {
        surface_tension: SurfaceTension::from_n_per_m(number(row, "gamma_N_per_m")),
        density: Density::from_kg_per_m3(number(row, "rho_kg_per_m3")),
    }
}

fn round(c: &mut Criterion) {
    let table = rows("round.csv");
    for radius in ["12.5", "50"] {
        for angle in ["30", "60", "75"] {
            let row = table
                .iter()
                .find(|r| {
                    r["fluid"] == "glaze_like"
                        && r["radius_mm"] == radius
                        && r["edge_angle_deg"] == angle
                })
                .expect("a row");
            let outline = Outline::round(Length::from_mm(2.0 * number(row, "radius_mm")));
            let (outline, liquid) = (outline.expect("an outline"), liquid(row));
            let ask = Ask::EdgeAngle(Angle::from_deg(number(row, "edge_angle_deg")));
            c.bench_function(
                &format!("round, radius {radius} mm, {angle} degrees"),
                |b| {
                    b.iter(|| Top::new(black_box(&outline), liquid)?.dome(black_box(ask)));
                },
            );
        }
    }
}

fn rectangle(c: &mut Criterion) {
    let table = rows("rectangle.csv");
    for (length, width, corner) in [
        ("25", "25", "0"),
        ("50", "25", "0"),
        ("50", "50", "0"),
        ("50", "25", "2"),
    ] {
        for angle in ["60", "75"] {
            let row = table
                .iter()
                .find(|r| {
                    r["fluid"] == "glaze_like"
                        && r["control"] == "max_edge_angle"
                        && r["length_mm"] == length
                        && r["width_mm"] == width
                        && r["corner_radius_mm"] == corner
                        && r["control_value"] == angle
                })
                .expect("a row");
            let side = |key: &str| Length::from_mm(number(row, key));
            let outline = Outline::rectangle(
                side("length_mm"),
                side("width_mm"),
                side("corner_radius_mm"),
            );
            let (outline, liquid) = (outline.expect("an outline"), liquid(row));
            let ask = Ask::EdgeAngle(Angle::from_deg(number(row, "control_value")));
            let name = format!("rectangle {length} x {width}, corner {corner}, {angle} degrees");
            c.bench_function(&name, |b| {
                b.iter(|| Top::new(black_box(&outline), liquid)?.dome(black_box(ask)));
            });
        }
    }
}

fn demo(c: &mut Criterion) {
    let text = include_str!("../data/demo.toml");
    c.bench_function("the demo, read and planned", |b| {
        b.iter(|| {
            let run = brimful::run::Run::read(black_box(text), "demo.toml").expect("a run");
            brimful::plan::plan(&run).expect("a plan")
        });
    });
}

criterion_group!(benches, round, rectangle, demo);
criterion_main!(benches);
