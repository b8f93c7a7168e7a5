//! `brimful dome` with what is told of the piece: drops, faces, sides, wood, coats.

use crate::common::ask::{agree, ask, number};

const GLAZE: &str = "water-based dome glaze";

/// A count of 100 drops in 5 mL is 0.05 mL a drop.
#[test]
fn drops_are_counted_by_the_makers_own_count() {
    let ask_drops = |more: &[&str]| {
        let args = ["dome", "--round", "25 mm", "--coating", GLAZE, "--volume"];
        ask(&[&args[..], &["0.44 mL"], more].concat())
    };
    for count in [
        &["--drops", "100"][..],
        &["--drops", "40", "--drops-in", "2 mL"],
    ] {
        let json = ask_drops(&[count, &["--json"]].concat()).json();
        // 0.44 / 0.05 = 8.8
        assert_eq!(json["drops_per_piece"], 9);
        let text = ask_drops(count).flowing();
        assert!(
            text.contains("about 9 drops on each, by your own count; drops vary"),
            "{text}"
        );
    }
    assert!(ask_drops(&["--json"]).json()["drops_per_piece"].is_null());
    let odd = ask_drops(&["--drops", "5"]);
    assert!(
        odd.flowing().contains("was something miscounted?"),
        "{}",
        odd.out
    );
    let none = ask_drops(&["--drops", "0"]);
    assert_eq!((none.code, none.out.as_str()), (2, ""));
}

#[test]
fn both_faces_take_twice_and_the_sides_a_brushed_film() {
    let args = [
        "dome",
        "--round",
        "25 mm",
        "--coating",
        GLAZE,
        "--count",
        "10",
    ];
    let one = ask(&[&args[..], &["--json"]].concat()).json();
    let more = [
        "--faces",
        "both",
        "--sides",
        "--thickness",
        "5 mm",
        "--json",
    ];
    let both = ask(&[&args[..], &more].concat()).json();
    let [single, double] = [&one, &both].map(|json| number(json, "/total/volume_ml"));
    assert!(agree(double, 2.0 * single, 1e-12));
    assert!(agree(
        number(&both, "/both_faces/volume_ml"),
        double / 10.0,
        1e-12
    ));
    // two discs, and pi d t
    let disc = std::f64::consts::PI * 12.5 * 12.5;
    assert!(agree(
        number(&both, "/both_faces/area_mm2"),
        2.0 * disc,
        1e-12
    ));
    let side = std::f64::consts::PI * 25.0 * 5.0;
    assert!(agree(number(&both, "/sides/area_mm2"), side, 1e-12));
    let film = number(&both, "/sides/wet_film_mm");
    assert!(agree(
        number(&both, "/sides/volume_ml"),
        side * film / 1000.0,
        1e-9
    ));
    assert_eq!(both["sides"]["coating"], "water-based sealer");
    let text = ask(&[&args[..], &more[..5]].concat()).flowing();
    assert!(
        text.contains("the first must be dry to handle before you turn"),
        "{text}"
    );
    assert!(text.contains("on both faces of 10 pieces"), "{text}");
    assert!(text.contains("on one face freshly poured"), "{text}");
    let bare = ask(&[&args[..], &["--sides"]].concat());
    assert_eq!((bare.code, bare.out.as_str()), (2, ""));
    assert!(bare.err.contains("--thickness"), "{}", bare.err);
}

/// Thin wood coated on one face only may cup (common practice, no source).
#[test]
fn thin_wood_coated_on_one_face_is_warned_of() {
    let warps = |more: &[&str]| {
        let args = ["dome", "--round", "25 mm", "--coating", GLAZE, "--wood"];
        let said = ask(&[&args[..], more].concat());
        assert_eq!(said.code, 0, "{}", said.err);
        said.out.contains("may cup")
    };
    assert!(warps(&["--thickness", "5 mm"]));
    assert!(!warps(&["--thickness", "6 mm"]));
    assert!(!warps(&["--thickness", "5 mm", "--faces", "both"]));
    let thick = ask(&["dome", "--round", "25 mm", "--coating", GLAZE, "--wood"]);
    assert_eq!((thick.code, thick.out.as_str()), (2, ""));
    assert!(thick.err.contains("--thickness"), "{}", thick.err);
}

#[test]
fn solids_that_no_coating_has_are_refused() {
    for solids in ["0 %", "120 %"] {
        let args = ["dome", "--round", "25 mm", "--coating", GLAZE, "--solids"];
        let said = ask(&[&args[..], &[solids]].concat());
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{solids}");
        assert!(said.err.contains('%'), "{}", said.err);
    }
}

/// A dry height in coats, in US units, on one screen.
#[test]
fn coats_are_told_in_inches_and_ounces_too() {
    let args = [
        "dome",
        "--round",
        "1 in",
        "--coating",
        GLAZE,
        "--us",
        "--dry-height",
    ];
    let said = ask(&[&args[..], &["0.06 in", "--count", "48"]].concat());
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    for part in [
        "in high once dry",
        "coat 1: ",
        " fl oz (",
        " in deep",
        "in all coats on 48 pieces",
    ] {
        assert!(said.flowing().contains(part), "{part}: {}", said.out);
    }
    assert!(!said.out.contains(" mm "), "{}", said.out);
    let lines: Vec<&str> = said.out.lines().collect();
    assert!(lines.len() <= 36, "{}", said.out);
    assert!(lines.iter().all(|line| line.chars().count() <= 100));
}
