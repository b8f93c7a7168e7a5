//! Wet discs side by side against boundary elements and against the formula worked
//! out elsewhere (`crowding.csv`, 355 rows, every one of them used).

use crate::common::cure_tables::{Row, number, table};
use brimful::cure::air::Air;
use brimful::cure::neighbours::{Neighbours, NeighboursError, Place, mean_by_resistance};
use brimful::cure::transfer::{
    Exposure, Footprint, Tray, kinematic_viscosity_sutherland, transfer_coefficient,
    vapour_diffusivity_massman_1998,
};
use brimful::quantity::{Length, Speed};
use proptest::prelude::*;
use std::f64::consts::PI;

/// Millimetres; the fluxes depend on the spacing in radii alone.
const RADIUS: f64 = 12.5;

fn radius() -> Length {
    Length::from_mm(RADIUS)
}

/// Rows and columns of "grid 4x5".
fn grid(arrangement: &str) -> Option<(u32, u32)> {
    let (rows, columns) = arrangement.split_once("grid ")?.1.split_once('x')?;
    Some((rows.parse().ok()?, columns.parse().ok()?))
}

/// Where the discs of a row lie.
fn places(row: &Row) -> Vec<Place> {
    let spacing = number(row, "spacing_over_R") * RADIUS;
    let around = |count: u32, from_centre: f64| {
        (0..count).map(move |i| {
            let angle = 2.0 * PI * f64::from(i) / f64::from(count);
            Place::mm(from_centre * angle.cos(), from_centre * angle.sin())
        })
    };
    match row["arrangement"].as_str() {
        "pair" => around(2, spacing / 2.0).collect(),
        "equilateral_triangle" => around(3, spacing / 3f64.sqrt()).collect(),
        "hexagon_plus_centre" => around(6, spacing).chain([Place::mm(0.0, 0.0)]).collect(),
        other => {
            let (rows, columns) = grid(other).unwrap();
            Place::in_rows(rows, columns, Length::from_mm(spacing))
        }
    }
}

/// The one of a row's fluxes that it speaks of.
fn spoken_of(row: &Row) -> f64 {
    let neighbours = Neighbours::of(radius(), &places(row)).unwrap();
    match row["which"].as_str() {
        "each" | "ring" | "max(corner)" => neighbours.most().flux,
        "centre" | "min(centre)" => neighbours.least().flux,
        "mean" => neighbours.mean(),
        other => panic!("{other}"),
    }
}

/// The formula to the five digits printed.
#[test]
fn fluxes_are_those_of_the_formula_solved_elsewhere() {
    let rows: Vec<Row> = table("crowding.csv")
        .into_iter()
        .filter(|row| row["quantity"].ends_with("Fabrikant"))
        .collect();
    assert_eq!(rows.len(), 113);
    for row in &rows {
        let (got, want) = (spoken_of(row), number(row, "value"));
        assert!((got - want).abs() < 1e-5, "{got} {row:?}");
    }
}

/// The most that the formula may be off boundary elements, as the module tells it. The
/// rows say by how much it is, 2 in 10 000 for their rounding and meshes.
#[test]
fn fluxes_are_off_boundary_elements_by_what_the_docs_say() {
    let rows: Vec<Row> = table("crowding.csv")
        .into_iter()
        .filter(|row| row["quantity"].starts_with("per-disc flux / isolated flux, BEM"))
        .collect();
    assert_eq!(rows.len(), 98);
    for row in &rows {
        let off = spoken_of(row) / number(row, "value") - 1.0;
        assert!(
            (off - number(row, "rel_diff")).abs() < 2e-4,
            "{off} {row:?}"
        );
        let diameters = number(row, "spacing_over_diameter");
        let most = match (row["arrangement"].as_str(), row["which"].as_str()) {
            ("pair", _) => 0.004,
            ("equilateral_triangle", _) => 0.0145,
            (_, "mean") => 0.0135,
            // hemmed in on all sides
            ("hexagon_plus_centre", "centre") | (_, "min(centre)") => match diameters {
                d if d < 1.25 => 0.38,
                d if d < 1.5 => 0.12,
                d if d < 2.0 => 0.05,
                _ => 0.02,
            },
            _ => 0.03,
        };
        assert!(off.abs() <= most, "{off} {row:?}");
    }
}

fn alone() -> Exposure {
    Exposure::alone(Footprint::Disc {
        diameter: radius() * 2.0,
    })
    .unwrap()
}

/// Pieces on a tray that ends half a pitch beyond the outer ones.
fn on_tray(row: &Row) -> Exposure {
    let (rows, columns) = grid(&row["arrangement"]).unwrap();
    let pitch = Length::from_mm(number(row, "spacing_over_R") * RADIUS);
    let tray = Tray {
        length: pitch * f64::from(rows),
        width: pitch * f64::from(columns),
        pieces: rows * columns,
    };
    alone().on(tray).unwrap()
}

/// Air whose plate rule in our form, `0.664 Re^1/2 Sc^1/3`, gives what the rows'
/// uniform flow gives at this Peclet number, `1.128 Pe^1/2`.
fn moving(peclet: f64) -> Air {
    let still = Air::REFERENCE;
    let diffusivity = vapour_diffusivity_massman_1998(&still);
    let schmidt = kinematic_viscosity_sutherland(&still) / diffusivity;
    let slip = peclet * diffusivity / radius().m();
    let speed = slip * (2.0 / PI.sqrt() / 0.664).powi(2) * schmidt.cbrt();
    still.with_speed(Speed::from_m_per_s(speed)).unwrap()
}

/// The rule for a tray, without wind, to the digits printed; it is within 8 % of the
/// mean of the formula.
#[test]
fn rule_for_a_tray_is_near_the_mean_without_wind() {
    let rows: Vec<Row> = table("crowding.csv")
        .into_iter()
        .filter(|row| row["quantity"].ends_with("recommended resistance rule"))
        .collect();
    assert_eq!(rows.len(), 25);
    for row in &rows {
        let by_rule = mean_by_resistance(&on_tray(row), &moving(0.0));
        assert!(
            (by_rule - number(row, "value")).abs() < 1e-5,
            "{by_rule} {row:?}"
        );
        let off = by_rule / spoken_of(row) - 1.0;
        assert!(
            (off - number(row, "rel_diff")).abs() < 1e-4 && off.abs() < 0.08,
            "{off} {row:?}"
        );
    }
}

/// 36 means in a draught: -18 to +5 %, more than half of them within 8 %. Of a tray that
/// is not square the rows took the side along the wind, which a room does not tell: the
/// rule takes the square root of its area, and is up to 4 % further off for it. And 72
/// rows for the first and the last row of pieces, which the rule has no figure for but
/// between which its mean must lie, give or take its own error (that decides in one).
#[test]
fn rule_for_a_tray_holds_in_a_draught() {
    let rows: Vec<Row> = table("crowding.csv")
        .into_iter()
        .filter(|row| row["arrangement"].starts_with("plug_flow grid"))
        .collect();
    let (mut means, mut close, mut bounds, mut above) = (0, 0, 0, 0);
    for row in &rows {
        let by_rule = mean_by_resistance(&on_tray(row), &moving(number(row, "Pe=U*R/D")));
        let value = number(row, "value");
        match row["which"].as_str() {
            "mean" => {
                let off = by_rule / value - 1.0;
                let square = row["arrangement"] != "plug_flow grid 4x5";
                let printed = (off - number(row, "rel_diff")).abs() < 2e-3;
                assert!(printed || !square, "{off} {row:?}");
                assert!((-0.18..=0.065).contains(&off), "{off} {row:?}");
                means += 1;
                close += usize::from(off.abs() <= 0.08);
            }
            "min(downwind)" => {
                // the rule may be 18 % low
                assert!(by_rule / 0.82 > value, "{by_rule} {row:?}");
                assert!((0.23..=0.85).contains(&value), "{row:?}");
                bounds += 1;
                above += usize::from(by_rule > value);
            }
            "max(upwind)" => {
                assert!(by_rule < value && value > 0.79, "{by_rule} {row:?}");
                bounds += 1;
            }
            other => panic!("{other}"),
        }
    }
    assert_eq!((means, bounds, above), (36, 72, 35));
    assert_eq!(close, 21, "within 8 %");
}

/// One disc alone: the flow `4 D R` without wind against five meshes, whose own error
/// is printed (0.06 to 0.64 %), and the blend with a draught within 2.2 %. Where the rows
/// print by how much a rule is off in a draught, they took the chord average over a
/// disc as its exact 0.8075 d, not as the rounded 0.81 d, which moves `kf` by 1.5 in
/// 1000 and the 2 % that they print for the fastest draught to 2.2 %.
#[test]
fn one_disc_alone_agrees_with_boundary_elements() {
    let all = table("crowding.csv");
    let still = moving(0.0);
    let area = alone().footprint().area().m2();
    let unit = 4.0 * vapour_diffusivity_massman_1998(&still) * radius().m();
    let exact = transfer_coefficient(&alone(), &still) * area / unit;
    let meshes: Vec<&Row> = all
        .iter()
        .filter(|row| row["arrangement"] == "single_disc")
        .collect();
    assert_eq!(meshes.len(), 5);
    for row in meshes {
        let off = number(row, "value") / exact - 1.0;
        assert!(
            (off - number(row, "rel_diff")).abs() < 1e-4,
            "{off} {row:?}"
        );
    }
    let draughts: Vec<&Row> = all
        .iter()
        .filter(|row| row["arrangement"] == "plug_flow_single")
        .collect();
    assert_eq!(draughts.len(), 6);
    for row in draughts {
        let moved = transfer_coefficient(&alone(), &moving(number(row, "Pe=U*R/D")));
        let off = moved / transfer_coefficient(&alone(), &still) / number(row, "value") - 1.0;
        assert!(
            (off - number(row, "rel_diff")).abs() < 2e-3 && off.abs() < 0.022,
            "{off} {row:?}"
        );
    }
    assert_eq!(all.len(), 113 + 98 + 25 + 36 + 72 + 5 + 6);
}

#[test]
fn discs_that_overlap_are_named() {
    let places = [
        Place::mm(0.0, 0.0),
        Place::mm(60.0, 0.0),
        Place::mm(40.0, 0.0),
    ];
    let refused = Neighbours::of(radius(), &places).unwrap_err();
    assert!(
        matches!(
            refused,
            NeighboursError::Overlap {
                one: 1,
                other: 2,
                ..
            }
        ),
        "{refused:?}"
    );
    assert_eq!(
        refused.to_string(),
        "pieces 2 and 3 overlap: their centres are 20.00 mm apart"
    );
    assert_eq!(
        Neighbours::of(radius(), &[]),
        Err(NeighboursError::Count(0))
    );
    let nowhere = [Place::mm(f64::NAN, 0.0)];
    assert_eq!(
        Neighbours::of(radius(), &nowhere),
        Err(NeighboursError::Size)
    );
    let point = Neighbours::of(Length::from_mm(0.1), &[Place::mm(0.0, 0.0)]);
    assert_eq!(point, Err(NeighboursError::Size));
}

/// Discs packed as closely as they go, 7 to 217 of them around one in the middle: the
/// formula keeps all of them drying, the outermost fastest.
#[test]
fn packed_discs_all_keep_drying() {
    let packed = |rings: i32, pitch: f64| -> Vec<Place> {
        let mut places = Vec::new();
        for a in -rings..=rings {
            for b in -rings..=rings {
                if (a + b).abs() <= rings {
                    let (a, b) = (f64::from(a), f64::from(b));
                    places.push(Place::mm(pitch * (a + b / 2.0), pitch * b * 0.75f64.sqrt()));
                }
            }
        }
        places
    };
    for rings in [1, 3, 8] {
        let touching = Neighbours::of(radius(), &packed(rings, 2.0 * RADIUS)).unwrap();
        assert!((touching.closest().unwrap().number() - 1.0).abs() < 1e-9);
        assert!(touching.least().flux > 0.0 && touching.most().flux < 0.5);
    }
    let roomy = Neighbours::of(radius(), &packed(3, 3.0 * RADIUS)).unwrap();
    assert_eq!(roomy.fluxes().len(), 37);
    assert_eq!(roomy.least().piece, 18, "the middle one");
    assert!((roomy.closest().unwrap().number() - 1.5).abs() < 1e-9);
    assert_eq!(
        Neighbours::of(radius(), &[Place::mm(3.0, 4.0)])
            .unwrap()
            .closest(),
        None
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Another wet piece on the tray never lets the mean rise, and where the pieces
    /// lie on it, turned or in another order, changes nothing.
    #[test]
    fn more_pieces_never_dry_faster(rows in 1u32..5, columns in 1u32..5, pitch in 2.3f64..8.0, turn in 0.0f64..6.3) {
        let places = Place::in_rows(rows, columns, Length::from_mm(pitch * RADIUS));
        let before = Neighbours::of(radius(), &places).unwrap();
        let more = Place::in_rows(rows + 1, columns, Length::from_mm(pitch * RADIUS));
        let after = Neighbours::of(radius(), &more).unwrap();
        prop_assert!(after.mean() < before.mean());
        prop_assert!(before.most().flux <= 1.0 + 1e-12);
        let (sin, cos) = turn.sin_cos();
        let turned: Vec<Place> = places.iter().rev().map(|place| {
            let (x, y) = (place.x.mm(), place.y.mm());
            Place::mm(x * cos - y * sin + 7.0, x * sin + y * cos - 3.0)
        }).collect();
        let turned = Neighbours::of(radius(), &turned).unwrap();
        prop_assert!((turned.mean() - before.mean()).abs() < 1e-9);
        prop_assert!((turned.least().flux - before.least().flux).abs() < 1e-9);
    }
}
