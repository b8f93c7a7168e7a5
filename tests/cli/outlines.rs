//! Blanks of any outline from outside: the flags, the run file, the words.

use std::fs;

use crate::common::ask::{Said, agree, ask, number};

const GLAZE: &str = "water-based dome glaze";

/// A rectangle of 40 mm by 20 mm, drawn by us.
const PLATE: &str = "<svg xmlns='http://www.w3.org/2000/svg'><path d='M 0 0 H 4 V 2 H 0 Z'/></svg>";

fn dome(blank: &[&str], more: &[&str]) -> Said {
    ask(&[&["dome", "--coating", GLAZE], blank, more].concat())
}

/// Domes with the liquid of the reference shapes, at an edge angle of 30 degrees.
///
/// Volumes: a spectral-element Newton solver of its own, checked by a surface
/// relaxation program at the same volume; good to 1e-8 and printed with ten
/// digits. 1e-4 is what this program asks of itself.
#[test]
fn outlines_hold_what_the_reference_solver_says() {
    let rows: [(&[&str], f64, f64); 3] = [
        (
            &["--oval", "25 mm", "18 mm"],
            353.429_173_5,
            0.245_133_130_3,
        ),
        (&["--regular", "6", "25 mm"], 541.265_877_4, 0.383_109_952_1),
        (
            &["--round", "40 mm", "--hole", "12 mm", "0 mm", "0 mm"],
            1_143.539_726,
            0.712_165_662_5,
        ),
    ];
    for (blank, area, volume) in rows {
        let asked = ["--edge-angle", "30 deg", "--density", "1050 kg/m3"];
        let tension = ["--surface-tension", "35 mN/m", "--json"];
        let said = dome(blank, &[asked.as_slice(), &tension].concat());
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{blank:?}");
        let json = said.json();
        let got = number(&json, "/outline_area_mm2");
        assert!(agree(got, area, 1e-6), "{blank:?}: {got} mm2");
        let got = number(&json, "/volume_ml");
        assert!(agree(got, volume, 1e-4), "{blank:?}: {got} mL");
    }
}

/// A rectangle that is drawn is the rectangle, sharp and with rounded corners.
#[test]
fn a_drawing_holds_what_its_shape_holds() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("plate.svg");
    fs::write(&file, PLATE).unwrap();
    let file = file.to_str().unwrap();
    for corner in ["0 mm", "3 mm"] {
        let more = ["--corner", corner, "--json"];
        let drawn = dome(&["--outline", file, "--width", "40 mm"], &more);
        let told = dome(&["--rectangle", "40 mm", "20 mm"], &more);
        assert_eq!((drawn.code, drawn.err.as_str()), (0, ""));
        for key in ["/outline_area_mm2", "/volume_ml", "/brim_ml", "/peak_mm"] {
            let (drawn, told) = (number(&drawn.json(), key), number(&told.json(), key));
            assert!(agree(drawn, told, 1e-4), "{key}: {drawn}, {told}");
        }
    }
}

#[test]
fn each_blank_is_named_in_words() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("plate.svg");
    fs::write(&file, PLATE).unwrap();
    let file = file.to_str().unwrap();
    let rows: [(&[&str], &str); 8] = [
        (&["--round", "38 mm"], "38 mm round,"),
        (
            &["--rectangle", "20 mm", "50 mm"],
            "20 mm x 50 mm rectangle with sharp corners,",
        ),
        (&["--oval", "25 mm", "18 mm"], "oval 25 mm x 18 mm,"),
        (
            &["--regular", "6", "25 mm", "--corner", "2 mm"],
            "hexagon 25 mm across flats with 2 mm corners,",
        ),
        (
            &["--regular", "5", "25 mm"],
            "pentagon 25 mm from flat to corner with sharp corners,",
        ),
        (
            &["--regular", "14", "25 mm"],
            "14-sided outline 25 mm across flats with sharp corners,",
        ),
        (
            &["--outline", file, "--width", "40 mm"],
            "drawing 40 mm wide,",
        ),
        (
            &[
                "--round", "38 mm", "--hole", "3 mm", "0 mm", "14 mm", "--hole", "3 mm", "0 mm",
                "-14 mm",
            ],
            "38 mm round with 2 holes,",
        ),
    ];
    for (blank, words) in rows {
        let said = dome(blank, &[]);
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{blank:?}");
        assert!(said.out.starts_with(words), "{blank:?}: {}", said.out);
    }
}

#[test]
fn flags_that_make_no_outline_are_refused_in_words() {
    let rows: [(&[&str], &str); 11] = [
        (
            &["--outline", "nowhere.svg", "--width", "40 mm"],
            "nowhere.svg can't be read: ",
        ),
        (&["--outline", "nowhere.svg"], "--width"),
        (&["--outline", ".", "--width", "40 mm"], ". can't be read: "),
        (&["--regular", "six", "25 mm"], "a whole number of sides"),
        (&["--regular", "6", "25"], "unit"),
        (&["--regular", "2", "25 mm"], "sides"),
        (&["--round", "25 mm", "--corner", "2 mm"], "--corner"),
        (&["--round", "25 mm", "--oval", "25 mm", "18 mm"], "--oval"),
        (
            &["--round", "25 mm", "--hole", "3 mm", "0 mm", "20 mm"],
            "hole",
        ),
        (&["--hole", "3 mm", "0 mm", "0 mm"], "--round"),
        (
            &["--round", "25 mm", "--edge", "13 mm"],
            "must leave some of the top flat",
        ),
    ];
    for (blank, words) in rows {
        let said = dome(blank, &[]);
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{blank:?}");
        assert!(said.err.contains(words), "{blank:?}: {}", said.err);
    }
}

/// A full floor and the dome of a flat top over the rim: `V = A h + V_dome`.
#[test]
fn a_bezel_holds_its_floor_and_a_dome() {
    let round = ["--round", "25 mm"];
    let flat = number(&dome(&round, &["--json"]).json(), "/volume_ml");
    let bezel = dome(&round, &["--wall", "2 mm", "--json"]).json();
    // pi r^2 h, 1 mL being 1000 mm3
    let floor = std::f64::consts::PI * 12.5 * 12.5 * 2.0 / 1000.0;
    let held = number(&bezel, "/volume_ml");
    assert!(agree(held, floor + flat, 1e-9), "{held} mL");
    let said = dome(&round, &["--wall", "2 mm"]);
    assert!(said.out.starts_with("25 mm round with a wall 2 mm high,"));
    let said = dome(&round, &["--edge", "0.3 mm"]);
    assert!(
        said.out
            .starts_with("25 mm round with an edge rounded to 0.3 mm,")
    );
}

/// Drying asks for a size only: an oval dries as the disc of its area does.
#[test]
fn any_outline_can_be_asked_to_dry() {
    let hours = |blank: &[&str]| {
        let asked = ["dry", "--coating", GLAZE, "--at", "18 C", "60 %", "--json"];
        let said = ask(&[&asked, blank].concat());
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{blank:?}");
        number(&said.json(), "/hours/handle")
    };
    // sqrt(25 * 16) = 20, so both have the same area
    let (oval, disc) = (
        hours(&["--oval", "25 mm", "16 mm"]),
        hours(&["--round", "20 mm"]),
    );
    assert!(agree(oval, disc, 1e-6), "{oval} h, {disc} h");
}

/// A run whose blank is drawn in a file that lies beside it.
const RUN: &str = r#"
[[piece]]
name = "fob"
count = 3
blank = "plate"
steps = ["dome"]
[[blank]]
name = "plate"
outline = { svg = "drawn/plate.svg", width = "40 mm", corner = "3 mm" }
[[coating]]
name = "glaze"
family = "water-based dome glaze"
[[step]]
name = "dome"
coating = "glaze"
[room]
temperature = "18 C"
humidity = "60 %"
"#;

/// The program runs elsewhere, and finds the drawing from where the run file lies.
#[test]
fn a_run_file_finds_its_drawing_beside_it() {
    let folder = tempfile::tempdir().unwrap();
    let run = folder.path().join("fair.toml");
    fs::write(&run, RUN).unwrap();
    fs::create_dir(folder.path().join("drawn")).unwrap();
    fs::write(folder.path().join("drawn/plate.svg"), PLATE).unwrap();
    let run = run.to_str().unwrap();
    let said = ask(&["plan", run]);
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    let words = "fob on plate (drawing 40 mm wide with 3 mm corners)";
    assert!(said.flowing().contains(words), "{}", said.out);
    let alone = dome(
        &["--rectangle", "40 mm", "20 mm", "--corner", "3 mm"],
        &["--json"],
    );
    let planned = number(
        &ask(&["plan", run, "--json"]).json(),
        "/pieces/0/fill/volume_ml",
    );
    let asked = number(&alone.json(), "/volume_ml");
    assert!(agree(planned, asked, 1e-4), "{planned} mL, {asked} mL");
    let pictures = folder.path().join("plan");
    let said = ask(&["plan", run, "--save", pictures.to_str().unwrap()]);
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    let drawn = fs::read_to_string(pictures.join("fob-section.svg")).unwrap();
    assert!(drawn.contains("fills the drawing 40 mm wide"));
}

#[test]
fn a_drawing_larger_than_any_outline_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("large.svg");
    fs::write(&file, vec![b' '; 5_000_001]).unwrap();
    let said = dome(
        &["--outline", file.to_str().unwrap(), "--width", "40 mm"],
        &[],
    );
    assert_eq!(said.code, 2);
    assert!(said.err.contains("larger than 5 MB"), "{}", said.err);
}
