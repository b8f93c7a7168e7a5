//! Bezels, inner corners and holes from outside: what is asked, said and planned.

use std::f64::consts::PI;
use std::fs;

use crate::common::ask::{Said, agree, ask, number};
use crate::common::plan::planned;
use brimful::plan::{Fit, Plan, Warning, sections};
use brimful::run::Run;

const GLAZE: &str = "water-based dome glaze";
const BEZEL: [&str; 4] = ["--round", "25 mm", "--wall", "2 mm"];

fn dome(blank: &[&str], more: &[&str]) -> Said {
    ask(&[&["dome", "--coating", GLAZE], blank, more].concat())
}

/// A floor of 25 mm holds `π 12.5² h`: 1.6 mm of a wall of 2 mm is 785.4 mm³.
#[test]
fn what_lies_below_the_rim_is_told_and_not_refused() {
    let asked: [&[&str]; 3] = [
        &["--volume", "0.78540 mL"],
        &["--weight", "0.82467 g", "--density", "1050 kg/m3"],
        &["--peak", "1.6 mm"],
    ];
    for more in asked {
        let said = dome(&BEZEL, more);
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{more:?}");
        let text = said.flowing();
        for words in [
            "lies 0.4 mm below the rim: no dome; it wets the wall, so the middle may lie up to 0.53 mm lower still",
            "or fill level with the rim: 0.98 mL",
            "1.6 mm on average",
        ] {
            assert!(text.contains(words), "{words}: {text}");
        }
        assert!(!text.contains("pulls back"), "{text}");
        let json = dome(&BEZEL, &[more, &["--json"]].concat()).json();
        assert_eq!(json["verdict"], "below_rim");
        for (key, want) in [
            ("/below_rim_mm", 0.4),
            ("/mean_height_mm", 1.6),
            ("/volume_ml", PI * 12.5 * 12.5 * 1.6 / 1000.0),
            ("/rim_ml", PI * 12.5 * 12.5 * 2.0 / 1000.0),
        ] {
            assert!(agree(number(&json, key), want, 1e-4), "{key} {json:#}");
        }
        for key in ["peak_mm", "edge_angle_deg", "surface_area_mm2"] {
            assert!(json[key].is_null(), "{key}");
        }
    }
}

/// `h = c √(2 (1 - sin θ))` at a vertical wall (de Gennes, Brochard-Wyart and
/// Quéré, Capillarity and Wetting Phenomena, 2004, ch. 2; from memory). What the
/// wall lifts hangs on it: `ρ g A s = γ P cos θ`, with `P/A = 4/d` for a disc.
#[test]
fn how_far_it_may_climb_the_wall_follows_from_the_capillary_length() {
    let json = dome(&BEZEL, &["--volume", "0.7 mL", "--json"]).json();
    let contact = number(&json, "/window/pull_back/edge_angle_deg").to_radians();
    let c = number(&json, "/capillary_length_mm");
    let climb = c * (2.0 * (1.0 - contact.sin())).sqrt();
    assert!(agree(number(&json, "/climb_mm"), climb, 1e-9));
    let sag = c * c * contact.cos() * 4.0 / 25.0;
    assert!(agree(number(&json, "/sag_mm"), sag, 1e-6));
    let shallow = dome(&BEZEL, &["--volume", "0.02 mL", "--json"]).json();
    let depth = number(&shallow, "/mean_height_mm");
    assert!(agree(number(&shallow, "/sag_mm"), depth, 1e-12));
    let domed = dome(&BEZEL, &["--json"]).json();
    for key in ["climb_mm", "below_rim_mm", "sag_mm"] {
        assert!(domed[key].is_null(), "{key}");
    }
    assert_eq!(domed["verdict"], "holds");
    let open = dome(&["--round", "25 mm"], &["--json"]).json();
    assert!(open["rim_ml"].is_null());
}

/// Just over the rim it stands nearly level: the rim holds what a flat top's
/// edge would let shrink away.
#[test]
fn a_wall_holds_what_barely_rises_over_it() {
    let level = PI * 12.5 * 12.5 * 2.0 / 1000.0;
    let over = format!("{:.4} mL", level * 1.01);
    let said = dome(&BEZEL, &["--volume", &over]);
    assert_eq!(said.code, 0);
    let text = said.flowing();
    assert!(
        !text.contains("pulls back") && !text.contains("Beware"),
        "{text}"
    );
    assert!(
        text.contains("level with the rim at 0.98 mL, target"),
        "{text}"
    );
    // How far out of level so little may lie is not worked out, and not made up.
    assert!(!text.contains("no tilt"), "{text}");
    let exact = format!("{level:.9} mL");
    let text = dome(&BEZEL, &["--volume", &exact]).flowing();
    assert!(text.contains("lies level with the rim: no dome"), "{text}");
}

/// Twelve millimetres in a bezel of 15 mm is a casting and no slip of unit.
#[test]
fn a_deep_bezel_is_no_slip_of_unit() {
    let deep = ["--round", "25 mm", "--wall", "15 mm"];
    for more in [["--peak", "12 mm"], ["--volume", "5.9 mL"]] {
        let said = dome(&deep, &more);
        assert_eq!(said.code, 0, "{}", said.err);
        assert!(!said.out.contains("another unit"), "{}", said.out);
    }
}

/// A run of one piece with this blank and this fill.
fn run_text(blank: &str, fill: &str) -> String {
    format!(
        r#"
[[piece]]
name = "porthole"
count = 10
blank = "cup"
steps = ["flood"]
[[blank]]
name = "cup"
porous = false
thickness = "5 mm"
{blank}
[[coating]]
name = "glaze"
family = "water-based dome glaze"
[[step]]
name = "flood"
coating = "glaze"
fill = {fill}
[room]
temperature = "20 C"
humidity = "50 %"
"#
    )
}

fn run(blank: &str, fill: &str) -> Plan {
    planned(&run_text(blank, fill))
}

#[test]
fn a_plan_goes_on_with_a_fill_below_the_rim() {
    let blank = "outline = { round = \"25 mm\" }\nwall = \"2 mm\"";
    let plan = run(blank, "{ volume = \"0.78540 mL\" }");
    let [fill] = plan.pieces[0].fills.as_slice() else {
        panic!("{:?}", plan.pieces[0].fills);
    };
    let Fit::BelowRim(rim) = fill.fit else {
        panic!("{:?}", fill.fit);
    };
    assert!((rim.below.mm() - 0.4).abs() < 1e-4 && rim.climb.mm() > 0.0);
    assert!(agree(fill.poured.ml(), std::f64::consts::FRAC_PI_4, 1e-4));
    assert!((fill.mean_height.mm() - 1.6).abs() < 1e-4);
    let warned = plan
        .warnings
        .iter()
        .find(|w| matches!(w, Warning::BelowRim { .. }));
    let warned = warned.expect("a warning");
    assert!(!warned.stops() && warned.code() == "below-rim");
    assert_eq!(plan.stops().count(), 0);
    let told = brimful::show::text::plan(&plan);
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "porthole, flood: 0.79 mL lies 0.4 mm below the rim: no dome",
        "level with the rim at 0.98 mL",
    ] {
        assert!(told.contains(words), "{words}: {told}");
    }
    assert!(!told.contains("pulls back"), "{told}");
    let json = brimful::show::json::plan(&plan).expect("written");
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    let fill = &json["pieces"][0]["fill"];
    assert!(agree(number(fill, "/below_rim_mm"), 0.4, 1e-4));
    assert!(agree(number(fill, "/mean_height_mm"), 1.6, 1e-4));
    assert!(fill["peak_mm"].is_null() && fill["edge_angle_deg"].is_null());
}

/// What makes no dome has no dome's picture; a second coat that does has one,
/// without a pull-back limit, for the wall holds less too.
#[test]
fn the_picture_is_of_the_first_coat_that_makes_a_dome() {
    let blank = "outline = { round = \"25 mm\" }\nwall = \"2 mm\"";
    let flat = run_text(blank, "{ volume = \"0.3 mL\" }");
    let more = "[[step]]\nname = \"fill\"\ncoating = \"glaze\"\n[room]";
    let twice = flat.replace("[\"flood\"]", "[\"flood\", \"fill\"]");
    for (text, pictures) in [(flat, 0), (twice.replace("[room]", more), 1)] {
        let run = Run::read(&text, "test.toml").expect("a run");
        let plan = brimful::plan::plan(&run).expect("a plan");
        let sections = sections(&run, &plan).expect("sections");
        assert_eq!(sections.len(), pictures);
        for section in sections {
            assert!(section.target.dome.peak.mm() > 2.0 && section.pull_back.is_none());
        }
    }
}

/// An L with legs of 10 mm, and a cross of five squares of 10 mm.
const CORNERED: [(&str, &str, f64); 2] = [
    ("M 0 0 H 30 V 10 H 10 V 20 H 0 Z", "30 mm", 400.0),
    (
        "M 10 0 H 20 V 10 H 30 V 20 H 20 V 30 H 10 V 20 H 0 V 10 H 10 Z",
        "30 mm",
        500.0,
    ),
];

#[test]
fn sharp_inner_corners_are_taken_as_rounded_and_that_is_said() {
    let folder = tempfile::tempdir().expect("a folder");
    let words = "inner corners taken as rounded to 0.5 mm: a sharp one would run over at any fill";
    for (path, width, area) in CORNERED {
        let file = folder.path().join("drawn.svg");
        let svg = format!("<svg xmlns='http://www.w3.org/2000/svg'><path d='{path}'/></svg>");
        fs::write(&file, svg).expect("written");
        let blank = ["--outline", file.to_str().expect("UTF-8"), "--width", width];
        let said = dome(&blank, &[]);
        assert_eq!((said.code, said.err.as_str()), (0, ""));
        assert!(said.flowing().contains(words), "{}", said.out);
        let json = dome(&blank, &["--json"]).json();
        assert!(agree(number(&json, "/outline_area_mm2"), area, 1e-9));
        assert!(agree(number(&json, "/inner_corners_mm"), 0.5, 1e-12));
        let us = dome(&blank, &["--us"]).flowing();
        assert!(us.contains("taken as rounded to 0.02 in: a sharp"), "{us}");
        // The same coating on the outline with all its corners rounded is not remarked on.
        let rounded = dome(&blank, &["--corner", "0.5 mm"]);
        assert_eq!(rounded.code, 0, "{}", rounded.err);
        assert!(!rounded.flowing().contains("inner corners"));
    }
}

#[test]
fn a_plan_takes_inner_corners_as_rounded_and_says_so() {
    let outline =
        "outline = { points = [[0,0],[30,0],[30,10],[10,10],[10,20],[0,20]], unit = \"mm\" }";
    let plan = run(outline, "\"safe\"");
    let assumed: Vec<_> = plan
        .assumptions
        .iter()
        .filter(|assumed| assumed.key == "cup: inner corners")
        .collect();
    let [assumed] = assumed.as_slice() else {
        panic!("{:?}", plan.assumptions);
    };
    assert_eq!(assumed.value, "rounded to 0.5 mm");
    assert_eq!(assumed.why, "a sharp one would run over at any fill");
    assert!(agree(plan.pieces[0].top.mm2(), 400.0, 1e-9));
    let rounded = outline.replace("unit", "corner = \"0.5 mm\", unit");
    let plan = run(&rounded, "\"safe\"");
    assert!(plan.assumptions.iter().all(|a| !a.key.contains("corners")));
}

/// A hole is bridged where its rim can carry the column of coating over it:
/// `ρ g h π d²/4 < γ π d` for a coat `h` deep, and no coat is deeper than about
/// two capillary lengths, so `d < 2 c` (our own reasoning).
///
/// Case C26: a hole lies at least its own diameter from the edge (trade).
#[test]
fn small_holes_and_holes_near_the_edge_are_warned_of() {
    let holes = |diameter: &str, up: &str| {
        let blank = ["--round", "38 mm", "--hole", diameter, "0 mm", up];
        let said = dome(&blank, &[]).flowing();
        let json = dome(&blank, &["--json"]).json();
        let codes: Vec<String> = json["warnings"]
            .as_array()
            .expect("a list")
            .iter()
            .map(|warning| warning["code"].as_str().expect("a code").to_owned())
            .filter(|code| code.starts_with("hole"))
            .collect();
        (said, codes)
    };
    let (said, codes) = holes("1.5 mm", "10 mm");
    assert_eq!(codes, ["hole-may-close"]);
    assert!(
        said.contains("a hole of 1.5 mm may close over: mask or plug it"),
        "{said}"
    );
    // 19 - 14 - 2.5 = 2.5 mm are left beside a hole of 5 mm
    let (said, codes) = holes("5 mm", "14 mm");
    assert_eq!(codes, ["hole-near-edge"]);
    assert!(
        said.contains("a hole of 5 mm leaves 2.5 mm to the edge"),
        "{said}"
    );
    // 19 - 10 - 2.5 = 6.5 mm
    let (_, codes) = holes("5 mm", "10 mm");
    assert!(codes.is_empty(), "{codes:?}");
}

#[test]
fn a_plan_warns_of_the_holes_of_its_blanks() {
    let holes = "outline = { round = \"38 mm\" }\nholes = [{ at = [\"0 mm\", \"17 mm\"], across = \"1.5 mm\" }, { at = [\"0 mm\", \"-17 mm\"], across = \"2 mm\" }]";
    let plan = run(holes, "\"safe\"");
    let codes: Vec<&str> = plan.warnings.iter().map(Warning::code).collect();
    assert!(codes.contains(&"hole-may-close") && codes.contains(&"hole-near-edge"));
    let told = brimful::show::text::plan(&plan);
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "cup: 2 holes, the narrowest of 1.5 mm, may close over: mask or plug them",
        "cup: 2 holes lie near the edge: one of 2 mm leaves 1 mm",
    ] {
        assert!(told.contains(words), "{words}: {told}");
    }
}

/// A heart's tip moves further in than its edge does, so no two of the fills
/// that its section shows have the same middle.
#[test]
fn a_heart_with_a_rounded_edge_is_drawn_cut_through() {
    let folder = tempfile::tempdir().expect("a folder");
    let heart =
        "M 0 -4 C 2 -10 10 -10 10 -3 C 10 3 3 7 0 11 C -3 7 -10 3 -10 -3 C -10 -10 -2 -10 0 -4 Z";
    let svg = format!("<svg xmlns='http://www.w3.org/2000/svg'><path d='{heart}'/></svg>");
    fs::write(folder.path().join("heart.svg"), svg).expect("written");
    let blank = "outline = { svg = \"heart.svg\", width = \"30 mm\" }\nedge = \"0.3 mm\"";
    let file = folder.path().join("hearts.toml");
    fs::write(&file, run_text(blank, "\"safe\"")).expect("written");
    let out = folder.path().join("out");
    let [file, out] = [&file, &out].map(|path| path.to_str().expect("UTF-8"));
    let said = ask(&["plan", file, "--save", out]);
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    assert!(folder.path().join("out/porthole-section.svg").exists());
}
