//! Prandtl's membrane analogy: without weight and at small slope the dome obeys
//! the equation of the stress function of a twisted bar of the same section,
//! so the handbook's torsion table is a table of domes.

use super::super::contour::{Contour, Curve, Piece, Side};
use super::{close, plate, rows};
use crate::geometry::newton::Goal;

/// A slope at which the dome is linear to the square of this.
const SLOPE: f64 = 1e-4;

fn ellipse(a: f64, b: f64) -> Contour {
    let half = std::f64::consts::FRAC_PI_2;
    let arc = Curve::Arc {
        centre: [0.0, 0.0],
        radii: [a / 2.0, b / 2.0],
        from: 0.0,
        to: half,
    };
    let line = |from, to| Piece {
        curve: Curve::Line(from, to),
        side: Side::Mirror,
    };
    Contour {
        loops: vec![vec![
            line([0.0, 0.0], [a / 2.0, 0.0]),
            Piece {
                curve: arc,
                side: Side::Pinned,
            },
            line([0.0, b / 2.0], [0.0, 0.0]),
        ]],
        copies: 4.0,
    }
}

/// The whole triangle, no symmetry used.
fn equilateral_triangle(side: f64) -> Contour {
    let corners = [
        [0.0, 0.0],
        [side, 0.0],
        [side / 2.0, side * 0.75_f64.sqrt()],
    ];
    let pieces = (0..3).map(|i| Piece {
        curve: Curve::Line(corners[i], corners[(i + 1) % 3]),
        side: Side::Pinned,
    });
    Contour {
        loops: vec![pieces.collect()],
        copies: 1.0,
    }
}

/// `torsion.csv`: the classical series, with Timoshenko and Goodier's table
/// (Theory of Elasticity, torsion of rectangular bars; from memory) and the
/// three digits of Oasys' GSA theory page beside it. With the slope m at the
/// middle of the long side: mean height = m b k1/(2 k), peak = m b kp/k, and
/// the slope at the middle of the long side is the steepest.
#[test]
fn the_torsion_table_is_reproduced_by_domes() {
    let (mut seen, mut handbook) = (0, 0);
    for row in rows("dome/torsion.csv") {
        let number = |key: &str| row[key].parse::<f64>().expect(key);
        // An infinite bar is a strip, and stands in strip.csv.
        if row["aspect_a_over_b"] == "inf" {
            continue;
        }
        let b = 20.0;
        let (contour, area) = match row["shape"].as_str() {
            "rectangle" => {
                let aspect = number("aspect_a_over_b");
                (
                    Contour::rectangle_quarter(aspect * b, b, 0.0),
                    aspect * b * b,
                )
            }
            "ellipse" => {
                let aspect = match row["aspect_a_over_b"].as_str() {
                    "25/18" => 25.0 / 18.0,
                    other => other.parse().expect("an aspect"),
                };
                (
                    ellipse(aspect * b, b),
                    std::f64::consts::PI / 4.0 * aspect * b * b,
                )
            }
            "equilateral_triangle" => (equilateral_triangle(b), b * b * 0.1875_f64.sqrt()),
            other => panic!("an unknown shape {other}"),
        };
        let plate = plate(&contour, f64::INFINITY, b, 0.0);
        let dome = plate.solve(Goal::EdgeAngle(SLOPE)).expect("a dome");
        let name = format!("{} {}", row["shape"], row["aspect_a_over_b"]);
        let mean = dome.volume / area / (SLOPE * b);
        close(&name, mean, number("mean_height_over_slope_b"), 1e-4);
        if let Ok(peak) = row["peak_height_over_slope_b"].parse::<f64>() {
            close(&name, dome.peak / (SLOPE * b), peak, 1e-3);
        }
        // The handbook's k2 = k1/k is twice the mean height: to its three digits.
        if let Ok(k2) = row["handbook_k2"].parse::<f64>() {
            assert!(
                (2.0 * mean - k2).abs() <= 0.5e-3 + 1e-4 * k2,
                "{name}: {} {k2}",
                2.0 * mean
            );
            handbook += 1;
        }
        seen += 1;
    }
    assert_eq!((seen, handbook), (19, 9));
}
