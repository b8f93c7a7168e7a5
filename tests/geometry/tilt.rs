//! Shelves out of level, against the reference table.

use std::collections::HashMap;

use crate::common::dome::{Row, liquid, number, rows};
use brimful::geometry::{Ask, EdgeAngles, Fineness, Outline, Shelf, Tilt, TiltError, Tilted, Top};
use brimful::quantity::{Angle, Length, Volume};

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
    let table = rows("tilt.csv");
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
        let status = row["status"].as_str();
        match (status, got) {
            ("ok", Ok(tilted)) => agree(&what, row, &tilted),
            ("dips_below_top", Err(TiltError::DrawsBack { depth })) => {
                let lowest = -number(row, "min_height_mm");
                // The lowest node of the mesh, not the lowest place.
                assert!((depth.mm() - lowest).abs() < 5e-4, "{what}: {depth:?}");
            }
            // An overhang runs over, whether or not it also dips.
            ("overhang" | "overhang_and_dips_below_top", Err(TiltError::RunsOver)) => {}
            (_, got) => panic!("{what}: {status}, but {got:?}"),
        }
        *seen.entry(status).or_default() += 1;
    }
    let count = |status: &str| seen[status];
    assert_eq!(count("ok"), 39);
    assert_eq!(count("dips_below_top"), 3);
    assert_eq!(count("overhang"), 2);
    assert_eq!(count("overhang_and_dips_below_top"), 4);
}

/// Within the table's own error or 1e-4; heights as on level tops.
fn agree(what: &str, row: &Row, tilted: &Tilted) {
    let angle = number(row, "max_edge_angle_deg");
    let off = (tilted.edge_angle.deg() - angle).abs();
    let allowed = number(row, "err_angle_deg").max(1e-4 * angle);
    assert!(off <= allowed, "{what}: off by {off} degrees");
    if row["shape"] == "disc" {
        // A smooth edge has its smallest angle uphill; at sharp corners it is 0.
        let least = number(row, "min_edge_angle_deg");
        assert!(
            (tilted.least_edge_angle.deg() - least).abs() < 5e-3,
            "{what}"
        );
    }
    let close = |got: f64, key: &str, share: f64| {
        let off = (got / number(row, key) - 1.0).abs();
        assert!(off < share, "{what}: {key} off by {off:.1e}");
    };
    close(tilted.pressure.pa(), "p0_Pa", 1e-4);
    close(tilted.surface_area.mm2(), "surface_area_mm2", 1e-4);
    close(tilted.peak.mm(), "peak_height_mm", 1e-3);
}

const ANGLES: EdgeAngles = EdgeAngles {
    pull_back: Angle::from_deg(12.0),
    target: Angle::from_deg(30.0),
    brim: Angle::from_deg(57.0),
};

/// The table's discs tilted by 2, 3 and 5 degrees stand at 41.35, 47.19 and
/// 59.35 degrees on the low side and at 18.92, 13.42 and 2.41 on the high one. So
/// the tilts at which a disc reaches those angles are known.
#[test]
fn a_disc_runs_over_and_draws_back_at_the_tilts_of_the_table() {
    let table = rows("tilt.csv");
    let mut seen = 0;
    for row in table
        .iter()
        .filter(|r| r["shape"] == "disc" && r["level_max_edge_angle_deg"] == "30")
    {
        let tilt = number(row, "tilt_deg");
        if tilt < 2.0 {
            continue;
        }
        seen += 1;
        for (fineness, share) in [(Fineness::Fine, 1e-3), (Fineness::Coarse, 1e-2)] {
            let shelf = Shelf::new(&outline(row), liquid(row), fineness).expect("a shelf");
            let volume = Volume::from_ml(number(row, "V_mL"));
            let limits = |brim: f64, pull_back: f64| {
                let angles = EdgeAngles {
                    brim: Angle::from_deg(brim),
                    pull_back: Angle::from_deg(pull_back),
                    target: Angle::from_deg(30.0),
                };
                shelf.limits(volume, angles).expect("limits")
            };
            let brim = limits(number(row, "max_edge_angle_deg"), 1.0);
            let runs_over = brim.runs_over.expect("a tilt").tilt.deg();
            assert!((runs_over / tilt - 1.0).abs() < share, "{runs_over} {tilt}");
            let pull_back = limits(80.0, number(row, "min_edge_angle_deg"));
            let draws_back = pull_back.draws_back.expect("a tilt").tilt.deg();
            assert!(
                (draws_back / tilt - 1.0).abs() < share,
                "{draws_back} {tilt}"
            );
        }
    }
    assert_eq!(seen, 3);
}

/// A coarse mesh finds a fine one's limits, on outlines of all kinds. That the fine one's are right is what the table
/// shows.
#[test]
fn a_coarse_mesh_finds_the_limits_of_a_fine_one() {
    let mm = Length::from_mm;
    let liquid = liquid(&rows("tilt.csv")[0]);
    let outlines = [
        Outline::round(mm(16.0)),
        Outline::rectangle(mm(50.0), mm(20.0), mm(3.0)),
        Outline::rectangle(mm(60.0), mm(60.0), mm(6.0)),
        Outline::oval(mm(40.0), mm(28.0)),
        Outline::regular(6, mm(18.0), Length::ZERO),
        Outline::regular(3, mm(30.0), mm(2.0)),
    ];
    let angles = EdgeAngles {
        pull_back: Angle::from_deg(15.0),
        target: Angle::from_deg(40.0),
        brim: Angle::from_deg(70.0),
    };
    let mut seen = 0;
    for outline in outlines {
        let outline = outline.expect("an outline");
        let level = Top::new(&outline, liquid).expect("a top");
        let level = level.dome(Ask::EdgeAngle(Angle::from_deg(40.0)));
        let volume = level.expect("a dome").volume;
        let [fine, coarse] = [Fineness::Fine, Fineness::Coarse].map(|fineness| {
            let shelf = Shelf::new(&outline, liquid, fineness).expect("a shelf");
            let limits = shelf.limits(volume, angles).expect("limits");
            [limits.runs_over, limits.draws_back].map(|limit| limit.map(|limit| limit.tilt.deg()))
        });
        for ((fine, coarse), share) in fine.into_iter().zip(coarse).zip([1e-2, 5e-2]) {
            let off = fine.zip(coarse).map(|(fine, coarse)| coarse / fine - 1.0);
            assert!(
                fine == coarse || off.is_some_and(|off| off.abs() < share),
                "{outline:?}: {coarse:?} is not {fine:?}"
            );
            seen += usize::from(off.is_some());
        }
    }
    assert!(seen > 9, "{seen}");
}

/// No way down is worse than the one that is told: the edge angle at the limit
/// is the brim's, and as far down any other way it is no more.
#[test]
fn the_worst_way_down_is_the_one_that_is_told() {
    let table = rows("tilt.csv");
    let row = table
        .iter()
        .find(|r| r["width_mm"] == "25" && r["level_max_edge_angle_deg"] == "30")
        .expect("a row");
    let shelf = Shelf::new(&outline(row), liquid(row), Fineness::Coarse).expect("a shelf");
    let volume = Volume::from_ml(number(row, "V_mL"));
    let limits = shelf.limits(volume, ANGLES).expect("limits");
    let worst = limits.runs_over.expect("a limit");
    let steepest = |downhill: [f64; 2]| {
        let angle = worst.tilt;
        let tilted = shelf.tilted(volume, Tilt { angle, downhill });
        tilted.expect("a dome").edge_angle.deg()
    };
    let told = steepest(worst.downhill);
    assert!((told - 57.0).abs() < 0.05, "{told}");
    for i in 0..12 {
        let (sin, cos) = (f64::from(i) * std::f64::consts::PI / 6.0).sin_cos();
        let other = steepest([cos, sin]);
        assert!(other < 57.0 + 0.1, "{other} at {i}");
    }
}

/// The halves of a level film of the height h and length L differ by
/// `L tan β / 2`, so a wide shallow pool is even to a tenth up to
/// `tan β = h / (5 L)`; a capillary length at either pinned end follows less.
#[test]
fn a_long_pool_is_even_up_to_the_tilt_of_a_level_film() {
    let table = rows("tilt.csv");
    let mm = Length::from_mm;
    let mut last = 1.35;
    for length in [100.0, 200.0] {
        let outline = Outline::rectangle(mm(length), mm(40.0), Length::ZERO).expect("an outline");
        let shelf = Shelf::new(&outline, liquid(&table[0]), Fineness::Coarse).expect("a shelf");
        let volume = Volume::from_ml(length * 40.0 * 0.9e-3);
        let limits = shelf.limits(volume, ANGLES).expect("limits");
        let ratio = limits.even.expect("a tilt").rad().tan() / (0.9 / (5.0 * length));
        assert!((1.0..last).contains(&ratio), "{length}: {ratio}");
        last = ratio;
    }
}

#[test]
fn a_tilt_needs_a_way_down_and_stays_below_45_degrees() {
    let table = rows("tilt.csv");
    let row = &table[0];
    let shelf = Shelf::new(&outline(row), liquid(row), Fineness::Coarse).expect("a shelf");
    for (degrees, downhill) in [
        (-1.0, [1.0, 0.0]),
        (46.0, [1.0, 0.0]),
        (f64::NAN, [1.0, 0.0]),
        (1.0, [0.0, 0.0]),
    ] {
        let angle = Angle::from_deg(degrees);
        let got = shelf.tilted(Volume::from_ml(1.0), Tilt { angle, downhill });
        assert_eq!(got, Err(TiltError::OutOfRange), "{degrees} {downhill:?}");
    }
}
