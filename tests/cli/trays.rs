//! `brimful trays`, end to end: counts, keys, refusals and exit codes.

use crate::common::ask::{Said, agree, ask, number};

const TRAY: [&str; 5] = ["--tray", "451 mm", "356 mm", "--gap", "10 mm"];

fn trays(rest: &[&str]) -> Said {
    ask(&[&["trays"], rest].concat())
}

/// Case C23: (451 - 20 + 10) / 118 = 3.7 by (356 - 20 + 10) / 118 = 2.9.
#[test]
fn tiles_are_told_in_words_and_in_json() {
    let args = [
        &["--rectangle", "108 mm", "108 mm"],
        &TRAY[..],
        &["--count", "20"],
    ]
    .concat();
    let said = trays(&args);
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    let text = said.flowing();
    for words in [
        "108 mm x 108 mm rectangle on a tray of 451 mm x 356 mm",
        "Holds 6 pieces",
        "2 rows of 3 along the tray's first side; 118 mm from middle to middle along a row; 118 mm from row to row",
        "4 trays for 20 pieces, 2 on the last",
        "10 mm between pieces, 10 mm along the edge",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    let json = trays(&[&args[..], &["--json"]].concat()).json();
    for (key, value) in [
        ("/per_tray", 6.0),
        ("/rows", 2.0),
        ("/per_row", 3.0),
        ("/trays_needed", 4.0),
        ("/pitch_mm", 118.0),
        ("/row_pitch_mm", 118.0),
        (
            "/covered_percent",
            100.0 * 6.0 * 108.0 * 108.0 / (451.0 * 356.0),
        ),
        ("/gap_mm", 10.0),
        ("/margin_mm", 10.0),
        ("/tray_mm/0", 451.0),
    ] {
        assert!(agree(number(&json, key), value, 1e-9), "{key}: {json:#}");
    }
    assert_eq!(json["layout"], "straight");
}

/// Magnets far apart lie in rows that are not even: rows one apart are nearer than the gap, so those two apart
/// are told by what lies between, 25 + 40 = 65 mm from middle to middle.
#[test]
fn rows_that_are_not_even_are_told_as_they_are() {
    let args = [
        "--round", "25 mm", "--tray", "300 mm", "400 mm", "--magnet", "--count", "30",
    ];
    let json = trays(&[&args[..], &["--json"]].concat()).json();
    let [least, most] = ["least", "most"].map(|of| number(&json, &format!("/row_pitch_{of}_mm")));
    assert!(least < 60.0 && agree(least + most, 65.0, 1e-3), "{json:#}");
    let text = trays(&args).flowing();
    let told = format!("{least:.1} mm to {most:.1} mm from row to row, not evenly");
    assert!(text.contains(&told), "{told}: {text}");
}

/// Case C23: rows alone hold 12 x 9.
#[test]
fn rounds_are_staggered() {
    let said = trays(&[&["--round", "25 mm"], &TRAY[..], &["--count", "96"]].concat());
    assert_eq!(said.code, 0);
    let text = said.flowing();
    assert!(
        text.contains("staggered: every other row shifted"),
        "{text}"
    );
    assert!(text.contains("1 tray for 96 pieces"), "{text}");
    let json = trays(&[&["--round", "25 mm"], &TRAY[..], &["--json"]].concat()).json();
    assert!(number(&json, "/per_tray") > 108.0);
    assert_eq!(json["trays_needed"], serde_json::Value::Null);
}

/// Domes laid edge to edge run into one another while they are wet.
#[test]
fn without_a_gap_wet_domes_are_warned_of() {
    let said = |gap| trays(&[&["--round", "25 mm", "--gap", gap], &TRAY[..3]].concat()).flowing();
    assert!(said("0 mm").contains("Wet domes that touch run together"));
    assert!(!said("1 mm").contains("Wet domes"));
}

/// Case C25.
#[test]
fn magnets_get_a_wider_gap_and_are_told_why() {
    let args = [&["--round", "25 mm"], &TRAY[..], &["--magnet"]].concat();
    let text = trays(&args).flowing();
    for words in [
        "40 mm between pieces (widened for magnets), 10 mm along the edge",
        "common practice, no source; try two on the tray first",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    let json = trays(&[&args[..], &["--json"]].concat()).json();
    assert_eq!(json["widened_for_magnets"], true);
    assert!(number(&json, "/per_tray") < 60.0);
    let wide = [
        "--round", "25 mm", "--tray", "451 mm", "356 mm", "--gap", "50 mm",
    ];
    let json = trays(&[&wide[..], &["--magnet", "--json"]].concat()).json();
    assert_eq!(json["widened_for_magnets"], false);
    assert!(agree(number(&json, "/gap_mm"), 50.0, 1e-9));
}

#[test]
fn the_exit_code_is_1_where_not_one_fits() {
    let said = trays(&[
        "--round", "25 mm", "--tray", "40 mm", "300 mm", "--gap", "10 mm",
    ]);
    assert_eq!(said.code, 1);
    let why = "error: not one fits on a tray of 40 mm x 300 mm: the least that holds one is 45 mm x 45 mm, with 10 mm kept free along its edge\n";
    assert_eq!(said.err, why);
    assert!(said.flowing().contains("Holds not one"), "{}", said.out);
}

#[test]
fn inches_are_shown_where_they_are_wanted() {
    let said = trays(&[
        "--round", "1 in", "--tray", "12 in", "16 in", "--gap", "1/2 in", "--us",
    ]);
    assert_eq!(said.code, 0);
    let text = said.flowing();
    assert!(text.contains("in between pieces"), "{text}");
    assert!(!text.contains("mm"), "{text}");
}

/// Every way to tell an outline is taken; a hexagon's box is 25 mm by 28.9.
#[test]
fn outlines_are_told_as_for_a_dome() {
    for blank in [
        &["--oval", "25 mm", "18 mm"][..],
        &["--regular", "6", "25 mm", "--corner", "2 mm"],
        &["--rectangle", "20 mm", "50 mm", "--corner", "3 mm"],
        &["--round", "38 mm", "--hole", "3 mm", "0 mm", "14 mm"],
    ] {
        let said = trays(&[blank, &["--tray", "300 mm", "400 mm", "--json"]].concat());
        assert_eq!(said.code, 0, "{}", said.err);
        assert!(number(&said.json(), "/per_tray") > 30.0);
        assert_eq!(said.json()["gap_is_assumed"], true);
    }
}

#[test]
fn bad_flags_are_refused() {
    let round = ["--round", "25 mm"];
    for (rest, words) in [
        (&["--tray", "300 mm", "400 mm"][..], "required"),
        (&["--round", "25 mm"], "--tray"),
        (&["--round", "25 mm", "--tray", "300 mm"], "2 values"),
        (
            &["--round", "25 mm", "--tray", "0 mm", "400 mm"],
            "a tray's or sheet's length is above 0 mm",
        ),
        (
            &[
                "--round", "25 mm", "--tray", "300 mm", "400 mm", "--gap", "-1 mm",
            ],
            "a length cannot be below zero",
        ),
        (
            &[
                "--round", "25 mm", "--tray", "300 mm", "400 mm", "--margin", "-1 mm",
            ],
            "a length cannot be below zero",
        ),
        (&["--round", "25 mm", "--tray", "300 mm", "400 g"], "400 g"),
        (
            &["--round", "1 mm", "--tray", "9 m", "9 m", "--gap", "0 mm"],
            "up to 100000 pieces",
        ),
        (
            &[
                "--round", "25 mm", "--tray", "300 mm", "400 mm", "--count", "0",
            ],
            "--count",
        ),
    ] {
        let said = trays(rest);
        assert_eq!(said.code, 2, "{rest:?}: {}", said.out);
        assert!(said.err.contains(words), "{words}: {}", said.err);
    }
    let help = trays(&[&round[..], &["--help"]].concat());
    assert_eq!(help.code, 0);
    assert!(
        help.out
            .contains("brimful trays --round \"25 mm\" --tray \"451 mm\" \"356 mm\"")
    );
}
