//! Two runs side by side, and a start from the command line.

use std::fs;
use std::path::PathBuf;

use assert_cmd::cargo::cargo_bin_cmd;

const DEMO: &str = include_str!("../../data/demo.toml");

struct Folder(tempfile::TempDir);

impl Folder {
    fn new() -> Self {
        Self(tempfile::tempdir().expect("a folder"))
    }

    fn file(&self, name: &str, text: &str) -> PathBuf {
        let path = self.0.path().join(name);
        fs::write(&path, text).expect("written");
        path
    }
}

fn run(arguments: &[&str]) -> (i32, String, String) {
    let done = cargo_bin_cmd!("brimful")
        .args(arguments)
        .output()
        .expect("it runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
    (
        done.status.code().expect("an exit code"),
        text(done.stdout),
        text(done.stderr),
    )
}

/// A warmer room with the same vapour dries sooner (psychrometrics, ASHRAE Fundamentals: 16 °C
/// and 64 % is 47 % at 21 °C), so that its latest start is no earlier.
#[test]
fn a_warmer_room_stands_beside_the_colder_one() {
    let folder = Folder::new();
    let cold = folder.file("cold.toml", DEMO);
    let warm = DEMO
        .replace("temperature = \"16 C\"", "temperature = \"21 C\"")
        .replace("humidity = \"64 %\"", "humidity = \"47 %\"");
    assert_ne!(warm, DEMO);
    let warm = folder.file("warm.toml", &warm);
    let names = [
        cold.to_str().expect("a name"),
        warm.to_str().expect("a name"),
    ];
    let (code, text, _) = run(&["plan", names[0], "--against", names[1]]);
    assert_eq!(code, 0);
    for about in ["Can be", "Start", "Ready", "Wait", "Buy", "Space", "Care"] {
        assert!(
            text.lines().any(|line| line.starts_with(about)),
            "{about}: {text}"
        );
    }
    assert!(text.contains("safety data sheet come first"));
    assert!(
        text.lines().all(|line| line.chars().count() <= 100),
        "{text}"
    );
    let (_, json, _) = run(&["plan", names[0], "--against", names[1], "--json"]);
    let both: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    let start = |way: usize| {
        both[way]["latest_start"]
            .as_str()
            .expect("a start")
            .to_owned()
    };
    assert!(start(1) > start(0), "{json}");
    assert_eq!(both[0]["file"], names[0]);
}

/// Two days are too few for coats that need more: exit 1, with what still can be done.
#[test]
fn a_start_too_late_is_told_with_what_still_can_be_done() {
    let folder = Folder::new();
    let file = folder.file("fair.toml", DEMO);
    let name = file.to_str().expect("a name");
    let (code, json, error) = run(&["plan", name, "--from", "2027-04-12 18:00", "--json"]);
    assert_eq!(code, 1);
    assert!(error.contains("too late"), "{error}");
    let plan: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(plan["can_be_done"], false);
    assert_eq!(plan["calendar"]["too_late"], true);
    let ways = plan["still_can"].as_array().expect("ways");
    let saved: Vec<u64> = ways
        .iter()
        .map(|way| way["pieces"].as_u64().expect("pieces"))
        .collect();
    assert!(saved.is_sorted_by(|a, b| a >= b), "{saved:?}");
    for way in ways {
        assert!(
            way["ready"].as_str().expect("a date") <= "2027-04-17T08:00:00",
            "{way}"
        );
    }
}

#[test]
fn an_early_start_is_in_time_and_laid_out_from_there() {
    let folder = Folder::new();
    let file = folder.file("fair.toml", DEMO);
    let name = file.to_str().expect("a name");
    let (code, json, _) = run(&["plan", name, "--from", "2027-03-20 09:30", "--json"]);
    assert_eq!(code, 0);
    let plan: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    let start = plan["calendar"]["start"].as_str().expect("a start");
    // the blanks are ordered on that day and take six
    assert!(start.starts_with("2027-03-26"), "{start}");
    assert!(plan["calendar"]["chance_ready"].as_f64().expect("a chance") > 0.999);
}

#[test]
fn a_start_that_is_none_is_told() {
    let folder = Folder::new();
    let file = folder.file("fair.toml", DEMO);
    let name = file.to_str().expect("a name");
    let (code, _, error) = run(&["plan", name, "--from", "next week"]);
    assert_eq!(code, 2);
    assert!(error.contains("expected a date and time"), "{error}");
    let (code, _, error) = run(&["plan", name, "--from", "2027-05-01 10:00"]);
    assert_eq!(code, 1);
    assert!(error.contains("not before the run's ready_by"), "{error}");
    let (code, _, error) = run(&["plan", name, "--against", "nowhere.toml"]);
    assert_eq!(code, 2);
    assert!(error.contains("nowhere.toml"), "{error}");
}

/// A tray is told of with or without dates, and one that is not there is not.
#[test]
fn trays_are_told_of_where_there_are_some() {
    let folder = Folder::new();
    let space = |file: &str| {
        let file = folder.file("fair.toml", file);
        let name = file.to_str().expect("a name").to_owned();
        let (_, text, _) = run(&["plan", &name, "--against", &name]);
        let mut lines = text.lines().skip_while(|line| !line.starts_with("Space"));
        let first = lines.next().expect("a line of space").to_owned();
        let more = lines.take_while(|line| line.starts_with(' '));
        more.fold(first, |all, line| format!("{all} {line}"))
    };
    let undated = DEMO.replace("ready_by = 2027-04-17T08:00:00\n", "");
    assert_ne!(undated, DEMO);
    assert!(
        space(&undated).contains(" of 6 trays"),
        "{}",
        space(&undated)
    );
    let file = folder.file("free.toml", &undated);
    let name = file.to_str().expect("a name").to_owned();
    let (_, text, _) = run(&["plan", &name, "--against", &name]);
    for row in ["Ready", "Work"] {
        let told = text.lines().find(|line| line.starts_with(row));
        assert!(
            told.is_some_and(|told| !told.contains("not told")),
            "{text}"
        );
    }
    assert!(text.contains("after the first step"), "{text}");
    let json = |arguments: &[&str]| {
        let (_, json, _) = run(arguments);
        serde_json::from_str::<serde_json::Value>(&json).expect("JSON")
    };
    let both = json(&["plan", &name, "--against", &name, "--json"]);
    let own = json(&["plan", &name, "--json"]);
    assert!(own["undated"]["hands_on_h"].is_f64());
    assert_eq!(both[0]["hands_on_h"], own["undated"]["hands_on_h"]);
    assert_eq!(both[0]["takes_h"][0], own["undated"]["shortest_h"]);
    assert_eq!(both[0]["waves"], own["trays"]["waves"]);
    // too cold for its glaze: no dates at all
    let cold = DEMO.replace("temperature = \"16 C\"", "temperature = \"6 C\"");
    assert!(space(&cold).contains("6 trays"), "{}", space(&cold));
    assert!(
        !space(&cold).contains("no trays told of"),
        "{}",
        space(&cold)
    );
    let winter = include_str!("../../data/winter.toml");
    let place = winter.find("[[tray]]").expect("a tray");
    let end = winter.find("[hours]").expect("hours");
    let none = format!("{}{}", &winter[..place], &winter[end..]);
    assert!(space(&none).contains("no trays told of"));
}
