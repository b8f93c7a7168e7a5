//! One outline given in several ways: drawn as points, turned, mirrored, moved.

use std::f64::consts::TAU;

use brimful::geometry::{Ask, Dome, Liquid, Outline, Top};
use brimful::quantity::{Angle, Density, Length, SurfaceTension};

type Points = Vec<[f64; 2]>;

fn mm(x: f64) -> Length {
    Length::from_mm(x)
}

fn glaze() -> Liquid {
    Liquid {
        surface_tension: SurfaceTension::from_mn_per_m(35.0),
        density: Density::from_kg_per_m3(1050.0),
    }
}

fn outline(points: &[[f64; 2]]) -> Outline {
    let points: Vec<[Length; 2]> = points.iter().map(|p| p.map(mm)).collect();
    Outline::points(&points, Length::ZERO).expect("an outline")
}

/// The same points, turned by so many radians.
fn turned(points: &[[f64; 2]], by: f64) -> Points {
    let (sin, cos) = by.sin_cos();
    let turn = |[x, y]: &[f64; 2]| [x * cos - y * sin, x * sin + y * cos];
    points.iter().map(turn).collect()
}

/// Turned, mirrored and moved copies, with what was done.
fn copies(points: &[[f64; 2]]) -> Vec<(String, Outline)> {
    let mut copies = Vec::new();
    for by in [0.3, 1.1, 2.5, 4.0] {
        copies.push((format!("turned by {by}"), outline(&turned(points, by))));
    }
    let mirrored: Points = points.iter().map(|[x, y]| [-x, *y]).collect();
    copies.push(("mirrored".into(), outline(&mirrored)));
    let mirrored = outline(&turned(&mirrored, 0.7));
    copies.push(("mirrored and turned".into(), mirrored));
    let moved: Points = points.iter().map(|[x, y]| [x + 310.0, y - 47.0]).collect();
    copies.push(("moved".into(), outline(&moved)));
    copies
}

#[track_caller]
fn alike(what: &str, got: &Dome, expected: &Dome, tolerance: f64) {
    let measures = [
        ("volume", got.volume / expected.volume),
        ("pressure", got.pressure / expected.pressure),
        ("surface", got.surface_area / expected.surface_area),
        ("area", got.outline_area / expected.outline_area),
    ];
    for (name, ratio) in measures {
        let off = (ratio - 1.0).abs();
        assert!(off < tolerance, "{what}: {name} off by {off:.1e}");
    }
    // The flat middle is meshed coarsely.
    let off = (got.peak / expected.peak - 1.0).abs();
    assert!(off < 1e-3, "{what}: peak off by {off:.1e}");
}

fn circle(radius: f64, count: u32) -> Points {
    let place = |i| {
        let (sin, cos) = (TAU * f64::from(i) / f64::from(count)).sin_cos();
        [radius * cos, radius * sin]
    };
    (0..count).map(place).collect()
}

/// A circle of 200 points goes through the mesh; a round top is integrated along
/// its profile. The two share no code.
#[test]
fn a_circle_of_points_is_filled_as_a_round_top_is() {
    for radius in [4.0, 12.5, 40.0] {
        let points = circle(radius, 200);
        let round = Outline::round(mm(2.0 * radius)).expect("a disc");
        let round = Top::new(&round, glaze()).expect("a top");
        for turn in [0.0, 0.01, 0.4] {
            let top = Top::new(&outline(&turned(&points, turn)), glaze()).expect("a top");
            for degrees in [30.0, 60.0, 75.0] {
                let by_angle = Ask::EdgeAngle(Angle::from_deg(degrees));
                let expected = round.dome(by_angle).expect("a dome");
                let name = format!("radius {radius}, turned by {turn}, {degrees} degrees");
                let tolerance = 1e-5;
                alike(
                    &name,
                    &top.dome(by_angle).expect("a dome"),
                    &expected,
                    tolerance,
                );
                let by_volume = top.dome(Ask::Volume(expected.volume)).expect("a dome");
                alike(&name, &by_volume, &expected, 1e-6);
            }
        }
    }
}

fn heart() -> Points {
    type Row = std::collections::HashMap<String, String>;
    let mut reader = csv::Reader::from_path("data/reference/dome/heart.csv").expect("a heart");
    let rows = reader.deserialize().map(|row| row.expect("a point"));
    let number = |row: &Row, key: &str| row[key].parse().expect("a number");
    rows.map(|row: Row| [number(&row, "x_mm"), number(&row, "y_mm")])
        .collect()
}

/// Meshes of turned outlines differ; the answers differ by no more than is promised.
#[test]
fn an_outline_turned_mirrored_or_moved_holds_the_same() {
    let rectangle = vec![[-25.0, -12.5], [25.0, -12.5], [25.0, 12.5], [-25.0, 12.5]];
    for (shape, points) in [("heart", heart()), ("rectangle", rectangle)] {
        for degrees in [35.0, 60.0] {
            let ask = Ask::EdgeAngle(Angle::from_deg(degrees));
            let dome = |outline: &Outline| {
                let top = Top::new(outline, glaze()).expect("a top");
                top.dome(ask).expect("a dome")
            };
            let expected = if shape == "rectangle" {
                dome(&Outline::rectangle(mm(50.0), mm(25.0), Length::ZERO).expect("one"))
            } else {
                dome(&outline(&points))
            };
            for (how, copy) in copies(&points) {
                alike(
                    &format!("{shape} {how}, {degrees} degrees"),
                    &dome(&copy),
                    &expected,
                    1e-4,
                );
            }
        }
    }
}
