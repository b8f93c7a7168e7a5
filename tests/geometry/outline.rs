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

const PI: f64 = std::f64::consts::PI;

fn drawing(inner: &str) -> Result<Outline, OutlineError> {
    let text = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 7 9" width="3in">{inner}</svg>"#
    );
    Outline::svg(&text, mm(40.0), mm(0.0))
}

#[test]
fn drawn_shapes_measure_as_the_shapes_they_are() {
    let circle = drawing(r#"<circle cx="3" cy="1" r="0.02"/>"#).expect("a circle");
    close("circle", circle.area().mm2(), PI * 400.0, 1e-8);
    close("circle", circle.perimeter().mm(), PI * 40.0, 1e-8);
    assert!(circle.corners().is_empty());
    let ellipse = drawing(r#"<ellipse rx="1000" ry="500"/>"#).expect("an ellipse");
    close("ellipse", ellipse.area().mm2(), PI * 200.0, 1e-8);
    let rect = drawing(r#"<rect x="1" y="2" width="8" height="4" rx="1"/>"#).expect("a rectangle");
    close(
        "rectangle",
        rect.area().mm2(),
        25.0 * (32.0 - (4.0 - PI)),
        1e-8,
    );
    assert!(rect.corners().is_empty());
    let arcs = drawing(r#"<path d="M-1,0 a1,1 0 0 1 2,0 1,1 0 0 1 -2,0z"/>"#).expect("two arcs");
    close("two arcs", arcs.area().mm2(), PI * 400.0, 1e-8);
    // The area under a parabola: 2/3 of its box.
    let bow = drawing(r#"<path d="M0 0Q5 10 10 0Z"/>"#).expect("a bow");
    close("a bow", bow.area().mm2(), 2.0 / 3.0 * 40.0 * 20.0, 1e-9);
    assert_eq!(bow.corners().len(), 2);
}

#[test]
fn transforms_of_a_drawing_are_honoured_and_up_is_up() {
    let flat = drawing(
        r#"<g transform="translate(5 6) scale(2 1)"><g transform="rotate(90)">
           <polygon points="0,0 2,0 0,8"/></g></g>"#,
    )
    .expect("a triangle");
    // Turned by 90 degrees: (0,0), (0,2), (-8,0); twice as wide: 16 by 2.
    close("width", flat.size()[0].mm(), 40.0, 1e-12);
    close("height", flat.size()[1].mm(), 5.0, 1e-12);
    // The right angle is at the top right of the page, where y is least.
    let right = flat
        .corners()
        .into_iter()
        .find(|c| (c.inner_angle.deg() - 90.0).abs() < 1e-9);
    let tip = right.expect("a right angle").tip.map(Length::mm);
    close("right", tip[0], 20.0, 1e-12);
    close("top", tip[1], 2.5, 1e-12);
}

#[test]
fn drawings_that_are_no_outline_are_refused_with_the_reason() {
    for (inner, reason) in [
        ("", "it holds no path or basic shape"),
        (
            "<defs><circle r='1'/></defs>",
            "it holds no path or basic shape",
        ),
        (
            "<circle r='1'/><circle r='2'/>",
            "it holds 2 shapes; an outline is one, and holes are given apart",
        ),
        (
            "<path d='M0 0h9v9h-9zM2 2h2v2z'/>",
            "its path has 2 parts; an outline is one, and holes are given apart",
        ),
        ("<path d='M0 0h9v9h-9'/>", "its path is open"),
        ("<polyline points='0,0 9,0 9,9'/>", "its path is open"),
        ("<text>tide</text>", "it holds a text, which can't be read"),
        ("<use href='#a'/>", "it holds a use, which can't be read"),
        ("<path d='M0 0h9v9q'/>", "the d of its path can't be read"),
        ("<circle r='10%'/>", "the r of its circle can't be read"),
        (
            "<circle r='5' transform='turn(3)'/>",
            "the transform of its circle can't be read",
        ),
        (
            "<path d='M0 0L10 10V0L0 10Z'/>",
            "crosses or touches itself at (0, 0) mm, where side 1 meets side 3",
        ),
        (
            "<path d='M0 0C20 10 -10 10 10 0Z'/>",
            "crosses or touches itself",
        ),
        ("<path d='M0 0h10z'/>", "encloses no area"),
        (
            "<g display='none'><circle r='1'/></g>",
            "it holds no path or basic shape",
        ),
    ] {
        let why = drawing(inner).expect_err(inner).to_string();
        assert!(why.contains(reason), "{inner}: {why}");
    }
    let why = Outline::svg("leaf", mm(40.0), mm(0.0)).expect_err("no SVG");
    assert!(why.to_string().contains("it is not an SVG"), "{why}");
}

/// Steiner: inside a smooth convex edge that bends less sharply than d, the edge
/// moved inward by d encloses A - P d + π d².
#[test]
fn a_convex_edge_moved_inward_follows_steiner() {
    let heart_less = |outline: &Outline, d: f64| {
        outline.area().mm2() - outline.perimeter().mm() * d + PI * d * d
    };
    let points: Vec<[f64; 2]> = (0..720)
        .map(|i| {
            let (sin, cos) = (std::f64::consts::TAU * f64::from(i) / 720.0).sin_cos();
            [12.5 * cos, 9.0 * sin]
        })
        .collect();
    for outline in [
        Outline::oval(mm(25.0), mm(18.0)).expect("an oval"),
        Outline::points(&places(&points), mm(0.0)).expect("points"),
        drawing(r#"<ellipse rx="20" ry="12"/>"#).expect("drawn"),
        drawing(r#"<rect width="40" height="24" rx="5"/>"#).expect("drawn"),
        Outline::rectangle(mm(40.0), mm(24.0), mm(5.0)).expect("a rectangle"),
        Outline::regular(5, mm(40.0), mm(5.0)).expect("a regular one"),
        Outline::round(mm(40.0)).expect("round"),
    ] {
        for d in [0.1, 1.0, 4.0] {
            let less = outline
                .inset(mm(d))
                .unwrap_or_else(|e| panic!("{:?}: {e}", outline.form()));
            close("area", less.area().mm2(), heart_less(&outline, d), 1e-7);
            close(
                "edge",
                less.perimeter().mm(),
                outline.perimeter().mm() - 2.0 * PI * d,
                1e-7,
            );
        }
    }
}

#[test]
fn sharp_corners_stay_sharp_and_inward_ones_get_round_ends() {
    // An L of 20 by 20 with a 10 by 10 bite; 2 mm further in: 16 by 16 less a
    // bite grown by 2 on two sides, 10 by 10, with a round end of radius 2.
    let ell = places(&[
        [0.0, 0.0],
        [20.0, 0.0],
        [20.0, 10.0],
        [10.0, 10.0],
        [10.0, 20.0],
        [0.0, 20.0],
    ]);
    let ell = Outline::points(&ell, mm(0.0)).expect("an L");
    let less = ell.inset(mm(2.0)).expect("less");
    let bite = 10.0 * 10.0 - (4.0 - PI);
    close("area", less.area().mm2(), 16.0 * 16.0 - bite, 1e-9);
    assert_eq!(less.corners().len(), 5);
    let why = ell.inset(mm(5.9)).expect_err("gone");
    assert_eq!(
        why,
        OutlineError::Inset {
            by: mm(5.9),
            apart: false
        }
    );
    let dumbbell = places(&[
        [0.0, 0.0],
        [10.0, 0.0],
        [10.0, 4.0],
        [20.0, 4.0],
        [20.0, 0.0],
        [30.0, 0.0],
        [30.0, 10.0],
        [20.0, 10.0],
        [20.0, 6.0],
        [10.0, 6.0],
        [10.0, 10.0],
        [0.0, 10.0],
    ]);
    let dumbbell = Outline::points(&dumbbell, mm(0.0)).expect("a dumbbell");
    assert_eq!(dumbbell.corners().len(), 12);
    let why = dumbbell.inset(mm(1.5)).expect_err("apart");
    assert_eq!(
        why,
        OutlineError::Inset {
            by: mm(1.5),
            apart: true
        }
    );
    // 0.5 mm: less P d, and each corner's square or quarter disc.
    let less = dumbbell.inset(mm(0.5)).expect("less");
    let area = 220.0 - 96.0 * 0.5 + (8.0 - 4.0 * PI / 4.0) * 0.25;
    close("area", less.area().mm2(), area, 1e-9);
}

/// A fillet of radius r between sides that turn by φ takes r² (tan φ/2 - φ/2) off a
/// corner that points outward and adds it to one that points inward.
#[test]
fn rounded_corners_take_off_what_geometry_says() {
    let ell = places(&[
        [0.0, 0.0],
        [20.0, 0.0],
        [20.0, 10.0],
        [10.0, 10.0],
        [10.0, 20.0],
        [0.0, 20.0],
    ]);
    let sharp = Outline::points(&ell, mm(0.0)).expect("an L");
    let round = sharp.with_corner(mm(3.0)).expect("rounded");
    let bit = 9.0 * (1.0 - PI / 4.0);
    close("area", round.area().mm2(), 300.0 - 4.0 * bit, 1e-12);
    assert_eq!(round.corners().len(), 6);
    let turned = round
        .corners()
        .iter()
        .filter(|c| c.inner_angle.deg() > 180.0)
        .count();
    assert_eq!(turned, 1);
    assert_eq!(round.with_corner(mm(0.0)).expect("sharp"), sharp);
    let why = sharp.with_corner(mm(6.0)).expect_err("too much");
    assert!(
        why.to_string().contains("it may be from 0 to 5 mm"),
        "{why}"
    );
    let heart = from_table("heart.csv")
        .with_corner(mm(1.0))
        .expect("a rounded heart");
    let tip = from_table("heart.csv").corners()[0];
    let turn = PI - tip.inner_angle.rad();
    close(
        "heart",
        heart.area().mm2(),
        501.877_203 - ((turn / 2.0).tan() - turn / 2.0),
        1e-6,
    );
    assert!(heart.inset(mm(1.0)).is_ok());
}

/// Numbers from -1 to 1 that look random: the fractional parts of an irrational's
/// multiples, squared in index (Weyl).
fn scatter(i: u32) -> f64 {
    let i = f64::from(i);
    2.0 * (i * i * std::f64::consts::SQRT_2 / 2.0).fract() - 1.0
}

/// A circle of 40 mm scanned at 10,000 points, each off by up to 5e-5 of its
/// size: the teeth turn by up to 18 degrees. The exact area and length round are
/// the circle's.
#[test]
fn a_jagged_scan_of_a_circle_is_read_as_a_smooth_curve_of_its_area() {
    let points: Vec<[f64; 2]> = (0..10_000)
        .map(|i| {
            let radius = 20.0 + 40.0 * 5e-5 * scatter(i);
            let (sin, cos) = (2.0 * PI * f64::from(i) / 10_000.0).sin_cos();
            [radius * cos, radius * sin]
        })
        .collect();
    let outline = Outline::points(&places(&points), mm(0.0)).expect("an outline");
    assert_eq!(outline.corners().len(), 0);
    close("area", outline.area().mm2(), PI * 400.0, 1e-4);
    close("perimeter", outline.perimeter().mm(), PI * 40.0, 1e-4);
    let drawn = outline.drawn(mm(0.002));
    assert!(drawn[0].len() < 1000, "{}", drawn[0].len());
    for [x, y] in &drawn[0] {
        let off = x.mm().hypot(y.mm()) - 20.0;
        assert!(off.abs() < 40.0 * 1e-4, "{off}");
    }
}

/// An ellipse of 40 by 30 mm in steps of 2.5 micrometres, below 1e-4 of 30 mm, as
/// a fine bitmap has it. Rounding to whole steps moves the edge by less than half of
/// one: 1.7e-4 of the area if it were all one way. A square's four corners stay.
#[test]
fn steps_of_a_fine_tracing_are_smoothed_over() {
    let step = 0.0025;
    let cell = |x: f64| (x / step).round() * step;
    let mut steps: Vec<[f64; 2]> = Vec::new();
    for i in 0..200_000 {
        let (sin, cos) = (2.0 * PI * f64::from(i) / 200_000.0).sin_cos();
        let place = [cell(20.0 * cos), cell(15.0 * sin)];
        match steps.last().copied() {
            Some(last) if (last[0] - place[0]).abs() + (last[1] - place[1]).abs() < 1e-9 => {}
            Some([_, y]) if (y - place[1]).abs() > 1e-9 => steps.extend([[place[0], y], place]),
            _ => steps.push(place),
        }
    }
    assert!(steps.len() > 40_000);
    let outline = Outline::points(&places(&steps), mm(0.0)).expect("an outline");
    assert_eq!(outline.corners().len(), 0);
    close("area", outline.area().mm2(), PI * 300.0, 1e-4);
    assert!(outline.drawn(mm(0.002))[0].len() < 1000);
    let mut square: Vec<[f64; 2]> = Vec::new();
    for side in 0..4 {
        for i in 0..1000 {
            let off = if i == 0 {
                0.0
            } else {
                0.001 * scatter(1000 * side + i)
            };
            let (along, out) = (-10.0 + 0.02 * f64::from(i), 10.0 + off);
            square.push(match side {
                0 => [along, -out],
                1 => [out, along],
                2 => [-along, out],
                _ => [-out, -along],
            });
        }
    }
    let outline = Outline::points(&places(&square), mm(0.0)).expect("an outline");
    assert_eq!(outline.corners().len(), 4);
    close("square", outline.area().mm2(), 400.0, 1e-4);
}

/// Teeth of a tenth of a millimetre are no noise.
#[test]
fn teeth_that_can_be_seen_stay() {
    let points: Vec<[f64; 2]> = (0..400)
        .map(|i| {
            let (sin, cos) = (2.0 * PI * f64::from(i) / 400.0).sin_cos();
            let radius = if i % 2 == 0 { 20.0 } else { 19.9 };
            [radius * cos, radius * sin]
        })
        .collect();
    let outline = Outline::points(&places(&points), mm(0.0)).expect("an outline");
    assert_eq!(outline.corners().len(), 400);
}

/// The outline of a gear with teeth of 50 micrometres on a circle of 40 mm.
fn gear(points: u32) -> Outline {
    let points: Vec<[f64; 2]> = (0..points)
        .map(|i| {
            let (sin, cos) = (2.0 * PI * f64::from(i) / f64::from(points)).sin_cos();
            let radius = if i % 4 < 2 { 20.0 } else { 19.95 };
            [radius * cos, radius * sin]
        })
        .collect();
    Outline::points(&places(&points), mm(0.0)).expect("a gear")
}

/// What lies d inside all the feet of its teeth is a disc but for their spacing: of
/// 2500, 1e-6 of it.
#[test]
fn a_gear_of_many_teeth_moved_inward_is_the_disc_inside_their_feet() {
    let gear_10k = gear(10_000);
    assert_eq!(gear_10k.corners().len(), 10_000);
    for d in [3.0, 15.0] {
        let less = gear_10k.inset(mm(d)).expect("less");
        close("area", less.area().mm2(), PI * (19.95 - d).powi(2), 1e-5);
    }
    let why = gear(10_004).inset(mm(1.0)).expect_err("too many");
    assert_eq!(
        why,
        OutlineError::InsetPieces {
            count: 10_004,
            most: 10_000
        }
    );
}

/// A needle that tapers to a tenth of a degree.
#[test]
fn a_point_sharper_than_any_blank_is_refused() {
    let points = [[-14.0, 0.0], [17.0, 0.0], [14.0, 0.005], [-14.0, 0.3]];
    let refused = Outline::points(&points.map(|p| p.map(Length::from_mm)), Length::ZERO);
    let told = refused.expect_err("a spike").to_string();
    assert!(
        told.contains("a point of 0.10 degrees at (17.000, 0.000) mm"),
        "{told}"
    );
}
