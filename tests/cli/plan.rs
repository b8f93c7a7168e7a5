//! The program from outside: what it prints, what it writes, how it ends.

use std::fs;
use std::path::Path;

use assert_cmd::Command;
use serde_json::Value;

fn brimful(args: &[&str]) -> Command {
    let mut command = Command::cargo_bin("brimful").unwrap();
    command.args(args);
    command
}

/// The exit code, standard output and standard error.
fn ran(args: &[&str]) -> (i32, String, String) {
    let output = brimful(args).env("RUST_BACKTRACE", "1").output().unwrap();
    (
        output.status.code().unwrap(),
        String::from_utf8(output.stdout).unwrap(),
        String::from_utf8(output.stderr).unwrap(),
    )
}

fn path(path: &Path) -> &str {
    path.to_str().unwrap()
}

fn demo_with(from: &str, to: &str, folder: &Path) -> std::path::PathBuf {
    let file = folder.join("run.toml");
    let demo = include_str!("../../data/demo.toml");
    assert!(demo.contains(from));
    fs::write(&file, demo.replace(from, to)).unwrap();
    file
}

#[test]
fn alone_it_plans_the_demo_run_and_says_that_it_is_invented() {
    let (code, out, err) = ran(&[]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.starts_with("This is the demo run"));
    assert!(out.contains("invented") && out.contains("brimful new"));
    assert!(out.contains("Harbour fair: 60 × tide magnet"));
}

#[test]
fn a_new_file_can_be_planned_and_is_not_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("fair.toml");
    let (code, ..) = ran(&["new", path(&file)]);
    assert_eq!(code, 0);
    assert_eq!(ran(&["plan", path(&file)]).0, 0);
    fs::write(&file, "mine").unwrap();
    let (code, _, err) = ran(&["new", path(&file)]);
    assert_eq!(code, 2);
    assert!(
        err.starts_with("error: ") && err.contains("is there already"),
        "{err}"
    );
    assert_eq!(fs::read_to_string(&file).unwrap(), "mine");
}

#[test]
fn a_file_with_mistakes_is_refused_with_all_of_them() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("run.toml");
    fs::write(
        &file,
        "[[piece]]\nname = \"a\"\ncount = 0\nblank = \"b\"\nsteps = [\"s\"]\n[room]\ntemperature = \"20\"\nhumidity = \"140 %\"\n",
    )
    .unwrap();
    let (code, out, err) = ran(&["plan", path(&file)]);
    assert_eq!((code, out.as_str()), (2, ""));
    for part in ["count", "blank", "temperature", "humidity"] {
        assert!(err.contains(part), "{part} is not told in {err}");
    }
    assert!(err.starts_with("error: ") && !err.contains("backtrace"));
}

#[test]
fn a_file_that_is_not_there_is_an_error_without_a_backtrace() {
    let (code, _, err) = ran(&["plan", "no-such-file.toml"]);
    assert_eq!(code, 2);
    assert!(
        err.starts_with("error: no-such-file.toml can't be read: "),
        "{err}"
    );
    assert_eq!(err.lines().count(), 1, "{err}");
}

#[test]
fn more_than_the_edge_holds_ends_with_1_and_says_what_would_do() {
    let folder = tempfile::tempdir().unwrap();
    let file = demo_with(
        "fill = \"safe\"",
        "fill = { peak = \"4 mm\" }",
        folder.path(),
    );
    let (code, out, err) = ran(&["plan", path(&file)]);
    assert_eq!(code, 1);
    assert!(
        out.contains("Harbour fair"),
        "the rest of the plan is still told"
    );
    assert!(
        err.starts_with("error: the run can't be done as asked"),
        "{err}"
    );
    assert!(
        err.contains("ask for") && err.contains("mL or less"),
        "{err}"
    );
}

#[test]
fn json_has_the_keys_that_others_read() {
    let folder = tempfile::tempdir().unwrap();
    let file = demo_with("\"16 C\"", "\"20 C\"", folder.path());
    let (code, out, _) = ran(&["plan", path(&file), "--json"]);
    assert_eq!(code, 0);
    let plan: Value = serde_json::from_str(&out).unwrap();
    let dome = &plan["pieces"][0]["fill"];
    for key in [
        "outline_area_mm2",
        "volume_ml",
        "mass_g",
        "peak_mm",
        "edge_angle_deg",
        "surface_area_mm2",
        "pull_back_ml",
        "brim_ml",
    ] {
        assert!(dome[key].as_f64().unwrap() > 0.0, "{key}");
    }
    assert_eq!(plan["pieces"][0]["name"], "tide magnet");
    let glaze = &plan["coatings"][2];
    assert_eq!(glaze["name"], "dome glaze");
    assert!(glaze["needed_sure_ml"].as_f64() > glaze["needed_ml"].as_f64());
    assert!(glaze["bottles"].is_u64());
    assert!(plan["blanks"][0]["start"].is_u64() && plan["blanks"][0]["buy"].is_u64());
    let dome = &plan["steps"][2];
    let factor = dome["factor"].as_f64().unwrap();
    let hours = dome["hours"]["handle"].as_f64().unwrap();
    assert!(
        (hours / 24.0 - factor).abs() < 1e-9,
        "the label's 24 h, so many times"
    );
    assert!(dome["hours"]["recoat"].is_f64() && dome["hours"].get("through").is_none());
    let warning = &plan["warnings"][0];
    assert!(warning["code"].is_string() && warning["text"].is_string());
}

#[test]
fn saving_writes_every_file_once_and_replaces_none_unless_told() {
    let folder = tempfile::tempdir().unwrap();
    let file = demo_with("\"16 C\"", "\"20 C\"", folder.path());
    let saved = folder.path().join("plan");
    let (code, _, err) = ran(&["plan", path(&file), "--save", path(&saved)]);
    assert_eq!((code, err.as_str()), (0, ""));
    let mut names: Vec<String> = fs::read_dir(&saved)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    let papers = [
        "care-cards.html",
        "pick-list.html",
        "piece-labels.html",
        "plan.json",
        "plan.txt",
        "sheet.html",
        "tray-labels.html",
    ];
    for paper in papers {
        assert!(names.contains(&paper.to_owned()), "{paper} in {names:?}");
    }
    let pictures: Vec<&String> = names
        .iter()
        .filter(|name| !papers.contains(&name.as_str()))
        .collect();
    assert!(
        pictures
            .iter()
            .any(|name| *name == "tide-magnet-section.svg")
    );
    for picture in &pictures {
        let (stem, _) = picture.rsplit_once('.').unwrap();
        for kind in ["svg", "png"] {
            assert!(names.contains(&format!("{stem}.{kind}")), "{picture}");
        }
    }
    fs::write(saved.join("plan.txt"), "mine").unwrap();
    let (code, _, err) = ran(&["plan", path(&file), "--save", path(&saved)]);
    assert_eq!(code, 2);
    assert!(err.contains("--force"), "{err}");
    assert_eq!(fs::read_to_string(saved.join("plan.txt")).unwrap(), "mine");
    // what is not written now stays, and is named
    fs::write(saved.join("old-magnet-tray.svg"), "mine").unwrap();
    let (code, out, err) = ran(&["plan", path(&file), "--save", path(&saved), "--force"]);
    assert_eq!(code, 0);
    assert!(
        err.contains("also holds old-magnet-tray.svg, not written now"),
        "{err}"
    );
    assert!(saved.join("old-magnet-tray.svg").is_file());
    assert_eq!(fs::read_to_string(saved.join("plan.txt")).unwrap(), out);
}

#[test]
fn the_demo_s_pictures_alone_can_be_saved_and_a_failed_save_leaves_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let saved = folder.path().join("deep/plots");
    let (code, _, err) = ran(&["--save", path(&saved), "--pictures-only"]);
    assert_eq!((code, err.as_str()), (0, ""));
    let names = fs::read_dir(&saved).unwrap();
    assert!(names.count() >= 4, "two pieces, SVG and PNG of each");
    assert!(!saved.join("plan.txt").exists());
    // a folder can't be made under a file, and nothing is left beside it
    let file = folder.path().join("file");
    fs::write(&file, "mine").unwrap();
    let (code, _, err) = ran(&["--save", path(&file.join("plan"))]);
    assert!(code == 2 && err.contains("is no folder"), "{err}");
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2);
}

#[test]
fn a_reader_that_stops_early_is_no_failure() {
    use std::process::{Command, Stdio};
    let mut child = Command::new(assert_cmd::cargo::cargo_bin("brimful"))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success());
    assert!(output.stderr.is_empty());
}

#[test]
fn help_shows_examples_and_a_wrong_word_is_an_error() {
    let (code, out, _) = ran(&["plan", "--help"]);
    assert_eq!(code, 0);
    assert!(out.contains("Examples:") && out.contains("brimful plan fair.toml --json"));
    assert_eq!(ran(&["plant"]).0, 2);
}

/// A run that names nothing that the fair costs has nothing to pay for by selling.
#[test]
fn a_fair_that_costs_nothing_asks_for_no_number_to_sell() {
    let folder = tempfile::tempdir().unwrap();
    let demo = fs::read_to_string("data/demo.toml").unwrap();
    let (before, after) = demo.split_once("[selling]").unwrap();
    let rest = after.split_once("\n[").map_or("", |(_, rest)| rest);
    assert!(rest.is_empty(), "the money comes last in the demo");
    let file = folder.path().join("free.toml");
    fs::write(&file, format!("{before}[selling]\ncurrency = \"EUR\"\n")).unwrap();
    let (code, out, _) = ran(&["plan", path(&file)]);
    assert_eq!(code, 0);
    for words in [
        "pay for the fair",
        "0.00 EUR",
        "part of the fair",
        "the fair costs 0",
    ] {
        assert!(!out.contains(words), "{words}: {out}");
    }
    assert!(out.contains("sold as planned, the fair leaves"), "{out}");
    assert!(!out.contains(" 1 sittings"), "{out}");
}
