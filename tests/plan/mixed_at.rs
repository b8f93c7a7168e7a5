//! In what air a run's mixes are planned, where the room's changes.

use crate::common::plan::planned;
use brimful::plan::Plan;
use brimful::run::Run;
use brimful::show::text;

fn flat(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn with(file: &str, from: &str, to: &str) -> String {
    assert!(file.contains(from), "no {from}");
    file.replace(from, to)
}

const EPOXY: &str = r#"
[run]
ready_by = 2027-03-21T16:00:00
[[piece]]
name = "fob"
count = 20
blank = "disc"
steps = ["dome"]
[[blank]]
name = "disc"
outline = { round = "25 mm" }
porous = false
[[coating]]
name = "resin"
family = "two-part dome epoxy"
bottle = { holds = "60 mL", price = 7.00 }
[[step]]
name = "dome"
coating = "resin"
hands_on = "90 s"
[room]
temperature = "32 C"
humidity = "40 %"
night = ["16 C", "60 %"]
pour = "21:00"
[hours]
weekdays = ["10:00-12:00"]
"#;

fn mixed_at(plan: &Plan) -> f64 {
    let mix = plan.coatings[0].mix.as_ref().unwrap();
    mix.cups.as_ref().unwrap().room.celsius()
}

/// A mix made in the heat of the day gels as it does there, whatever the hour of the pour is said
/// to be. By day it is 32 °C, from 8 to 20 h.
#[test]
fn mixes_are_planned_in_the_warmest_air_of_the_hours_of_work() {
    let late = planned(EPOXY);
    let early = planned(&with(EPOXY, "pour = \"21:00\"", "pour = \"10:00\""));
    let serves = |plan: &Plan| {
        let mix = plan.coatings[0].mix.as_ref().unwrap();
        mix.cups.as_ref().unwrap().serves[0].most.worst.coats
    };
    assert_eq!(serves(&late), serves(&early));
    let life = |plan: &Plan| {
        let timed = plan.steps[0].drying.timed().unwrap();
        timed.pot_life.unwrap().lasts().likely.min()
    };
    assert!((life(&late) - life(&early)).abs() < 1e-9);
    let page = flat(&text::plan(&late));
    assert!(
        page.contains("pot life here, mixed at 32 °C in the hours of work: "),
        "{page}"
    );
    assert!(
        page.contains("air in which mixes are made = 32 °C"),
        "{page}"
    );
    // night begins at 20:00, so a spell that touches it is cool and one that is cut by it warm
    for (hours, pour, celsius) in [
        ("10:00-12:00", "21:00", 32.0),
        ("20:00-22:00", "21:00", 16.0),
        ("05:00-08:00", "21:00", 16.0),
        ("19:00-21:00", "21:00", 32.0),
        ("07:00-08:30", "21:00", 32.0),
        ("20:00-22:00", "12:00", 32.0),
    ] {
        let file = with(EPOXY, "10:00-12:00", hours);
        let file = with(&file, "pour = \"21:00\"", &format!("pour = \"{pour}\""));
        let file = format!("{file}awake = \"05:00-23:30\"\n");
        let room = mixed_at(&planned(&file));
        assert!((room - celsius).abs() < 1e-9, "{hours}, {pour}: {room}");
    }
}

/// In air that does not change nothing is said of it.
#[test]
fn mixes_in_steady_air_are_planned_in_that() {
    let file = with(
        EPOXY,
        "night = [\"16 C\", \"60 %\"]\npour = \"21:00\"\n",
        "",
    );
    let plan = planned(&file);
    assert!((mixed_at(&plan) - 32.0).abs() < 1e-9);
    let page = flat(&text::plan(&plan));
    assert!(page.contains("pot life here: "), "{page}");
    assert!(!page.contains("air in which mixes are made"), "{page}");
}

/// Of a record each day's hours of work count, and its readings hold for an hour: from 10:00 to
/// noon the last is that of 11:00, 16.0 °C, and half an hour more meets the 16.8 °C of noon.
#[test]
fn of_a_record_the_warmest_hours_of_work_count() {
    let record = include_bytes!("../logs/two_days_in_a_loft.csv");
    let file = &EPOXY[..EPOXY.find("[room]").unwrap()];
    for (hours, pour, celsius) in [
        ("10:00-12:00", "03:00", 16.0),
        ("10:00-12:30", "03:00", 16.8),
        ("10:00-12:00", "15:00", 18.0),
        ("21:00-23:00", "23:00", 14.0),
    ] {
        let file = format!(
            "{file}[room]\nlogger = \"loft.csv\"\npour = \"{pour}\"\n[hours]\nweekdays = [\"{hours}\"]\nawake = \"07:00-23:30\"\n"
        );
        let run = Run::read_with(&file, "test.toml", &|_| Ok(record.to_vec()));
        let run = run.unwrap_or_else(|faults| panic!("{faults}"));
        let warmest = run.room.warmest_at_work(&run.hours).celsius();
        assert!(
            (warmest - celsius).abs() < 1e-9,
            "{hours}, {pour}: {warmest}"
        );
    }
}
