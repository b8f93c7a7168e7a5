//! `brimful dome`, end to end: keys, exit codes, messages, and figures against
//! the reference tables.

use crate::common::ask::{agree, ask, number};

const GLAZE: &str = "water-based dome glaze";

#[test]
fn the_json_has_every_key_with_its_unit() {
    let said = ask(&[
        "dome",
        "--round",
        "25 mm",
        "--coating",
        GLAZE,
        "--count",
        "48",
        "--json",
    ]);
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    let json = said.json();
    for key in [
        "outline_area_mm2",
        "volume_ml",
        "mass_g",
        "peak_mm",
        "mean_height_mm",
        "edge_angle_deg",
        "surface_area_mm2",
        "pull_back_ml",
        "target_ml",
        "brim_ml",
    ] {
        assert!(number(&json, &format!("/{key}")) > 0.0, "{key}");
    }
    // a disc: pi d^2 / 4
    let area = std::f64::consts::PI * 12.5 * 12.5;
    assert!(agree(number(&json, "/outline_area_mm2"), area, 1e-12));
    assert!(agree(number(&json, "/edge_angle_deg"), 35.0, 1e-9));
    let one = number(&json, "/volume_ml");
    assert!(agree(number(&json, "/total/volume_ml"), 48.0 * one, 1e-12));
    assert!(agree(number(&json, "/ten_gain_g"), 10.0 * one * 1.05, 1e-9));
    // half of it is water of 0.998 g/mL
    let dry = 10.0 * one * (1.05 - 0.5 * 0.998);
    assert!(agree(number(&json, "/ten_gain_dry_g"), dry, 1e-9));
}

/// Every round dome of the reference table with the glaze's liquid: an
/// independent solution good to 3e-12 in the printed figures.
#[test]
fn round_blanks_hold_what_the_reference_table_says() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/data/reference/dome/round.csv");
    let mut rows = 0;
    for row in csv::Reader::from_path(path).unwrap().records() {
        let row = row.unwrap();
        if &row[0] != "glaze_like" {
            continue;
        }
        let value = |column: usize| row[column].parse::<f64>().unwrap();
        let said = ask(&[
            "dome",
            "--round",
            &format!("{} mm", 2.0 * value(3)),
            "--coating",
            GLAZE,
            "--edge-angle",
            &format!("{} deg", &row[4]),
            "--surface-tension",
            "35 mN/m",
            "--density",
            "1050 kg/m3",
            "--json",
        ]);
        assert_eq!(
            said.code, 0,
            "asked by angle it is a question about the shape: {}",
            said.err
        );
        let json = said.json();
        // 1e-6 is what this program asks of itself
        for (key, column) in [("volume_ml", 5), ("peak_mm", 6), ("surface_area_mm2", 7)] {
            let got = number(&json, &format!("/{key}"));
            assert!(agree(got, value(column), 1e-6), "{key} {got} {row:?}");
        }
        rows += 1;
    }
    assert_eq!(rows, 81);
}

/// Rectangles of the reference table, asked by angle and by volume: 1e-4 is
/// what this program asks of itself, the table is good to 6e-6.
#[test]
fn rectangles_hold_what_the_reference_table_says() {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/data/reference/dome/rectangle.csv"
    );
    let mut rows = 0;
    for row in csv::Reader::from_path(path).unwrap().records() {
        let row = row.unwrap();
        let value = |column: usize| row[column].parse::<f64>().unwrap();
        let forty = &row[6] != "volume" && (value(7) - 40.0).abs() < 1e-9;
        if &row[3] != "glaze_like" || !(forty || &row[6] == "volume") {
            continue;
        }
        let (option, amount) = match &row[6] {
            "volume" => ("--volume", format!("{} mL", &row[7])),
            _ => ("--edge-angle", format!("{} deg", &row[7])),
        };
        let sides = [0, 1, 2].map(|column| format!("{} mm", &row[column]));
        let said = ask(&[
            "dome",
            "--rectangle",
            &sides[0],
            &sides[1],
            "--corner",
            &sides[2],
            "--coating",
            GLAZE,
            option,
            &amount,
            "--json",
        ]);
        let json = said.json();
        let volume = number(&json, "/volume_ml");
        assert!(agree(volume, value(8), 1e-4), "{volume} {row:?}");
        let angle = number(&json, "/edge_angle_deg");
        assert!(agree(angle, value(10), 1e-3), "{angle} {row:?}");
        let runs_over = value(10) > 65.0;
        assert_eq!(said.code, i32::from(runs_over), "{row:?}");
        rows += 1;
    }
    assert_eq!(rows, 63);
}

#[test]
fn more_than_the_edge_holds_runs_over_and_says_what_would_make_it_possible() {
    let args = [
        "dome",
        "--round",
        "25 mm",
        "--coating",
        GLAZE,
        "--volume",
        "0.85 mL",
    ];
    let said = ask(&args);
    assert_eq!(said.code, 1);
    assert!(
        said.err
            .starts_with("error: 0.85 mL runs over: the most this edge holds is")
    );
    let text = said.flowing();
    assert!(text.contains("runs over"), "{text}");
    assert!(text.contains("a wall, a bezel or a dam of tape"), "{text}");
    assert!(text.contains("coats, each dry before the next"), "{text}");
    let json = ask(&[&args[..], &["--json"]].concat()).json();
    assert_eq!(json["verdict"], "runs_over");
    assert!(number(&json, "/volume_ml") > number(&json, "/brim_ml"));
}

/// Twenty millilitres on a disc the size of a coin: 41 mm deep.
#[test]
fn far_too_much_is_asked_back_and_no_wall_is_offered() {
    let args = [
        "dome",
        "--round",
        "25 mm",
        "--coating",
        GLAZE,
        "--volume",
        "20 mL",
    ];
    let said = ask(&args);
    assert_eq!(said.code, 1);
    let text = said.flowing();
    assert!(text.contains("was another unit meant?"), "{text}");
    assert!(!text.contains("a wall"), "{text}");
    let json = ask(&[&args[..], &["--json"]].concat()).json();
    assert!(json["way_out"]["wall_mm"].is_null());
}

#[test]
fn what_keeps_its_volume_is_not_built_up_in_coats() {
    let said = ask(&[
        "dome",
        "--round",
        "25 mm",
        "--coating",
        "two-part dome epoxy",
        "--volume",
        "1.1 mL",
    ]);
    assert_eq!(said.code, 1);
    assert!(
        said.flowing().contains("more coats do not help"),
        "{}",
        said.out
    );
}

#[test]
fn too_little_is_warned_of_for_it_pulls_back_from_the_edge() {
    let args = [
        "dome",
        "--round",
        "25 mm",
        "--coating",
        GLAZE,
        "--weight",
        "0.1 g",
    ];
    let said = ask(&args);
    // warned of and no more, as in a plan
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    let text = said.flowing();
    assert!(
        text.contains("Beware 0.1 g pulls back from the edge"),
        "{text}"
    );
    let json = ask(&[&args[..], &["--json"]].concat()).json();
    assert_eq!(json["verdict"], "pulls_back");
    assert!(number(&json, "/volume_ml") < number(&json, "/pull_back_ml"));
}

#[test]
fn a_fill_at_either_limit_holds() {
    for limit in ["12 deg", "65 deg"] {
        let said = ask(&[
            "dome",
            "--round",
            "25 mm",
            "--coating",
            GLAZE,
            "--edge-angle",
            limit,
            "--json",
        ]);
        assert_eq!(said.json()["verdict"], "holds", "{limit}");
    }
    let past = ask(&[
        "dome",
        "--round",
        "25 mm",
        "--coating",
        GLAZE,
        "--edge-angle",
        "66 deg",
        "--json",
    ]);
    assert_eq!(
        (past.code, &past.json()["verdict"]),
        (0, &"runs_over".into())
    );
}

#[test]
fn a_sealer_makes_no_dome() {
    let said = ask(&[
        "dome",
        "--round",
        "25 mm",
        "--coating",
        "water-based sealer",
    ]);
    assert_eq!((said.code, said.out.as_str()), (2, ""));
    assert!(
        said.err
            .contains("water-based sealer is not flooded as a dome"),
        "{}",
        said.err
    );
}

#[test]
fn slips_are_told_with_what_was_probably_meant() {
    let slips: [(&[&str], &str); 9] = [
        (
            &["--round", "-25 mm", "--coating", GLAZE],
            "a length cannot be below zero",
        ),
        (
            &["--round", "25 mm", "--coating", "water-based dome glase"],
            "did you mean \"water-based dome glaze\"?",
        ),
        (
            &["--round", "25", "--coating", GLAZE],
            "a length needs a unit; did you mean \"25 mm\"?",
        ),
        (
            &["--round", "25 mn", "--coating", GLAZE],
            "did you mean \"25 mm\"?",
        ),
        (
            &["--round", "25 mm", "--coating", GLAZE, "--weight", "0.5 mL"],
            "a mass is wanted",
        ),
        (
            &[
                "--rectangle",
                "20 mm",
                "50 mm",
                "--corner",
                "15 mm",
                "--coating",
                GLAZE,
            ],
            "it may be from 0 to 10 mm",
        ),
        (
            &["--round", "25 mm", "--coating", GLAZE, "--peak", "0 mm"],
            "more than nothing",
        ),
        (
            &[
                "--round",
                "25 mm",
                "--coating",
                GLAZE,
                "--density",
                "0 kg/m3",
            ],
            "above zero",
        ),
        (&["--coating", GLAZE], "--round <DIAMETER>"),
    ];
    for (args, expected) in slips {
        let said = ask(&[&["dome"], args].concat());
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{args:?}");
        assert!(said.err.contains(expected), "{args:?}: {}", said.err);
    }
}

#[test]
fn an_unbelievable_density_is_remarked_on() {
    let slip = [
        "dome",
        "--round",
        "25 mm",
        "--coating",
        GLAZE,
        "--density",
        "1.05 kg/m3",
    ];
    let said = ask(&slip);
    assert!(
        said.flowing()
            .contains("taken as it was given, though a coating's density"),
        "{}",
        said.out
    );
    let fair = ask(&[
        "dome",
        "--round",
        "25 mm",
        "--coating",
        GLAZE,
        "--density",
        "1.1 g/mL",
    ]);
    assert!(!fair.out.contains("taken as it was given"));
}

#[test]
fn us_units_are_inches_ounces_and_the_syringe_s_millilitres() {
    let said = ask(&["dome", "--round", "1 in", "--coating", GLAZE, "--us"]);
    assert!(said.out.starts_with("1 in round"), "{}", said.out);
    for unit in [" fl oz (", " mL)", " oz wt", " in at the middle", " in²"] {
        assert!(said.out.contains(unit), "{unit}: {}", said.out);
    }
    assert!(!said.out.contains(" mm "), "{}", said.out);
    let square = [
        "dome",
        "--rectangle",
        "1 in",
        "1 in",
        "--coating",
        GLAZE,
        "--us",
    ];
    let text = ask(&square).flowing();
    assert!(
        text.contains("0.079 in (2 mm) inward from both sides of a sharp corner"),
        "{text}"
    );
}

#[test]
fn help_has_an_example_that_runs() {
    let help = ask(&["dome", "--help"]);
    assert!(help.out.contains(
        "brimful dome --round \"25 mm\" --coating \"water-based dome glaze\" --count 48"
    ));
    let said = ask(&[
        "dome",
        "--round",
        "25 mm",
        "--coating",
        GLAZE,
        "--count",
        "48",
    ]);
    assert_eq!(said.code, 0);
    assert!(
        said.out.contains(" on 48 pieces, before waste"),
        "{}",
        said.out
    );
    assert!(said.out.lines().count() <= 24, "one screen");
}
