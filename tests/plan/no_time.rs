//! What a plan tells where a coat has no time here, and of the stage that its time is of.

use crate::common::plan::planned;
use assert_cmd::cargo::cargo_bin_cmd;
use brimful::cure::compare::Effect;
use brimful::plan::{Dates, Plan};
use brimful::quantity::Time;
use brimful::show::label::{Kind, labels};
use brimful::show::sheet::sheet;
use brimful::show::{json, text};

/// Twelve domed discs by a date, in short evenings.
fn file(family: &str, room: &str, more: &str) -> String {
    format!(
        r#"
[run]
name = "test"
ready_by = 2027-01-03T09:00:00
[[piece]]
name = "fob"
count = 12
blank = "disc"
steps = ["dome"]
[[blank]]
name = "disc"
outline = {{ round = "20 mm" }}
porous = false
[[coating]]
name = "stuff"
family = "{family}"
[[step]]
name = "dome"
coating = "stuff"
{more}
[room]
{room}
[hours]
weekdays = ["19:00-21:00"]
weekend = ["10:00-12:00"]
"#
    )
}

const COLD: &str = "temperature = \"14 C\"\nhumidity = \"60 %\"";
const COOL: &str = "temperature = \"17 C\"\nhumidity = \"60 %\"";

fn flat(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The words of a page.
fn read(page: &str) -> String {
    let page = scraper::Html::parse_document(page);
    flat(&page.root_element().text().collect::<Vec<_>>().join(" "))
}

fn without_dates(file: &str) -> String {
    file.replace("ready_by = 2027-01-03T09:00:00\n", "")
}

/// The exit code of `plan` with these files.
fn code(files: &[&str]) -> (i32, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let mut command = cargo_bin_cmd!("brimful");
    command.arg("plan");
    for (number, file) in files.iter().enumerate() {
        let path = folder.path().join(format!("{number}.toml"));
        std::fs::write(&path, file).expect("written");
        if number > 0 {
            command.arg("--against");
        }
        command.arg(path);
    }
    let done = command.output().expect("it runs");
    let told = String::from_utf8(done.stdout).expect("text");
    (done.status.code().expect("a code"), flat(&told))
}

/// Below 15 °C no time past the gel is promised for the epoxy, so that no date can be kept.
#[test]
fn a_date_that_nobody_can_promise_is_not_done() {
    let cold = file("two-part dome epoxy", COLD, "");
    let plan = planned(&cold);
    assert!(matches!(plan.dates, Dates::Untold { .. }));
    assert!(plan.is_too_late() && !plan.can_be_done());
    let heated = |plan: &Plan| {
        let can = plan.still_can.iter();
        can.filter(|can| can.pieces == 12).count()
    };
    assert!(heated(&plan) > 0, "{:?}", plan.still_can);
    let told = flat(&text::plan(&plan));
    assert!(told.contains("Can all 12 pieces, likely by "), "{told}");
    assert!(told.contains("heat the room to 20 °C"), "{told}");
    let told: serde_json::Value =
        serde_json::from_str(&json::plan(&plan).expect("JSON")).expect("JSON");
    assert_eq!(told["can_be_done"], false);
    assert_eq!(code(&[&cold]).0, 1);
    let (_, beside) = code(&[&cold, &file("two-part dome epoxy", COOL, "")]);
    assert!(beside.contains("not done as asked"), "{beside}");
    // without a date nothing is asked that could not be kept
    let undated = cold.replace("ready_by = 2027-01-03T09:00:00\n", "");
    assert!(!planned(&undated).is_too_late());
}

/// Two hours of an evening are too short for what takes five.
#[test]
fn a_date_that_no_order_of_work_keeps_is_not_done() {
    let long = file("two-part dome epoxy", COOL, "set_up = \"5 h\"");
    let plan = planned(&long);
    assert!(matches!(plan.dates, Dates::Never(_)));
    assert!(plan.is_too_late() && !plan.can_be_done());
    assert_eq!(code(&[&long]).0, 1);
}

/// In a closed box a coat that dries may never be there; out of it, it is.
#[test]
fn a_lid_may_be_taken_off_to_keep_the_date() {
    let lid = r#"
[[tray]]
size = ["300 mm", "400 mm"]
lid = { height = "30 mm", air_changes = 0.0 }
"#;
    let plan = planned(&format!(
        "{}{lid}",
        file("water-based dome glaze", COOL, "")
    ));
    assert!(plan.is_too_late() && !plan.can_be_done());
    let told = flat(&text::plan(&plan));
    assert!(told.contains("dry the pieces out of their box"), "{told}");
}

/// A wait begins with the pour, and bubbles are looked for before the lamp is switched on: so what
/// is waited for is the one and the other.
#[test]
fn a_lamp_is_waited_for_after_the_look_for_bubbles() {
    let plan = planned(&file("lamp-cured dome resin", COOL, ""));
    let timed = plan.steps[0].drying.timed().expect("times");
    let look = timed.bubbles.expect("a look").look;
    let under = timed.stages[0].here.expect("a time").likely;
    let Dates::Told(calendar) = &plan.dates else {
        panic!("{:?}", plan.dates);
    };
    let sitting = &calendar.sittings[0];
    let last_look = sitting.looks.last().expect("looked for");
    let lamp = Time::from_s(sitting.next_from.duration_since(*last_look).as_secs_f64());
    assert!(lamp.min() >= under.min().floor(), "{lamp:?} {under:?}");
    let until = plan.steps[0].until_handled.expect("told").likely;
    assert!((until.s() - (look + under).s()).abs() < 1e-6);
    let told = flat(&text::plan(&plan));
    assert!(told.contains("; then put it under the lamp; "), "{told}");
    // and on the papers beside the work, with a date or without
    let undated = planned(&without_dates(&file("lamp-cured dome resin", COOL, "")));
    for plan in [plan, undated] {
        let label = labels(&plan, Kind::Tray).unwrap().expect("trays");
        for page in [sheet(&plan, &[]).unwrap(), label] {
            let page = read(&page);
            let (look, lamp) = (
                page.find("look for bubbles"),
                page.find("then put it under the lamp"),
            );
            assert!(look.is_some() && look < lamp, "{page}");
        }
    }
    // what the room dries needs no lamp
    let aired = planned(&without_dates(&file("water-based dome glaze", COOL, "")));
    let label = read(&labels(&aired, Kind::Tray).unwrap().expect("trays"));
    assert!(!label.contains("lamp") && !read(&sheet(&aired, &[]).unwrap()).contains("the lamp"));
    assert!(told.contains("all pieces of a sitting in one load"));
}

/// The causes told beside a time multiply to that time over its label's: the definition of a ratio
/// that is split into factors. The law's own planning may move it within its band.
#[test]
fn causes_are_those_of_the_stage_told() {
    let plan = planned(&file("two-part dome epoxy", COOL, ""));
    let timed = plan.steps[0].drying.timed().expect("times");
    let awaited = timed
        .awaited
        .as_ref()
        .expect("dry to handle comes before dry through");
    let of = |stage| timed.stages.iter().find(|it| it.stage == stage);
    let handle = of(awaited.stage).expect("on the label");
    let band = handle.here.expect("a time");
    let product = |parts: &[brimful::cure::compare::Part]| -> f64 {
        let effects = parts.iter().map(|part| match part.effect {
            Effect::Times(ratio) => ratio,
            other => panic!("{other:?}"),
        });
        effects.product()
    };
    let told = product(&awaited.factor.parts);
    assert!(band.low / handle.label <= told && told <= band.high / handle.label);
    let whole = product(&timed.factor.parts);
    assert!(whole > band.high / handle.label, "another stage's: {whole}");
    let told = flat(&text::plan(&plan));
    assert!(
        told.contains(" dry through takes 2.3 times the label's time: "),
        "{told}"
    );
    assert!(told.contains(", then dry through takes "), "{told}");
}
