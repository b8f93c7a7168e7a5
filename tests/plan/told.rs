//! What a plan tells of cold nights, boxes, help, bands and runs without a date.

use crate::common::plan::planned;
use brimful::plan::{Dates, Plan, TimeBand, Warning, plan};
use brimful::quantity::Time;
use brimful::run::Run;
use brimful::show::{json, sheet, text, words};
use jiff::ToSpan;
use jiff::civil::date;
use proptest::prelude::*;

const DEMO: &str = include_str!("../../data/demo.toml");
const WINTER: &str = include_str!("../../data/winter.toml");

fn with(file: &str, from: &str, to: &str) -> String {
    assert!(file.contains(from), "no {from}");
    file.replacen(from, to, 1)
}

fn flat(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A domed disc of some family in some room, without a date.
fn domed(family: &str, room: &str) -> Plan {
    planned(&format!(
        r#"
[run]
name = "test"
[[piece]]
name = "fob"
count = 6
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
[room]
{room}
"#
    ))
}

fn codes(plan: &Plan) -> Vec<&'static str> {
    plan.warnings.iter().map(Warning::code).collect()
}

/// A night in which the epoxy would never get there, were it night for good, is told as one, also
/// where the days bring it there in the end; a milder night is not.
#[test]
fn nights_too_cold_to_cure_in_are_told_everywhere() {
    let epoxy = "two-part dome epoxy";
    for night in ["11 C", "14 C", "16 C"] {
        let alone = domed(
            epoxy,
            &format!("temperature = \"{night}\"\nhumidity = \"50 %\""),
        );
        let never = codes(&alone).contains(&"too-cold-to-cure");
        let room =
            format!("temperature = \"24 C\"\nhumidity = \"45 %\"\nnight = [\"{night}\", \"50 %\"]");
        let both = domed(epoxy, &room);
        assert!(both.steps[0].until_handled.is_some(), "{night}");
        assert_eq!(codes(&both).contains(&"hardly-cures"), never, "{night}");
        for all in [
            flat(&text::plan(&both)),
            json::plan(&both).unwrap(),
            sheet::sheet(&both, &[]).unwrap(),
        ] {
            assert_eq!(all.contains("the resin hardly cures on"), never, "{night}");
        }
    }
}

/// A room that is warm enough by day is not to be warmed to less than it has.
#[test]
fn help_for_cold_nights_is_told_of_the_nights() {
    let room = "temperature = \"19 C\"\nhumidity = \"50 %\"\nnight = [\"12 C\", \"70 %\"]";
    let words = flat(&text::plan(&domed("water-based dome glaze", room)));
    assert!(!words.contains("warm the room to 18 °C"), "{words}");
    assert!(
        words.contains("keep the room from ever cooling below 18 °C"),
        "{words}"
    );
    // where the day is colder too, the whole room is warmed
    let room = "temperature = \"15 C\"\nhumidity = \"50 %\"\nnight = [\"12 C\", \"70 %\"]";
    let words = flat(&text::plan(&domed("water-based dome glaze", room)));
    assert!(words.contains("warm the room to 18 °C"), "{words}");
}

/// What can still be done in a room that is warm by day is told of its nights too.
#[test]
fn what_can_still_be_done_is_told_of_the_nights() {
    for (day, words) in [
        ("22 C", "keep the room from ever cooling below 20 °C"),
        (
            "18 C",
            "heat the room to 20 °C, with nothing in it that makes its air damper",
        ),
    ] {
        let mut file = with(
            WINTER,
            "temperature = \"18 C\"",
            &format!("temperature = \"{day}\""),
        );
        let start = "ready_by = 2027-01-23T15:00:00\nstart = 2027-01-20T18:00:00";
        file = with(&file, "ready_by = 2027-01-23T15:00:00", start);
        file = with(
            &file,
            "handle = \"24 h\", recoat = \"24 h\"",
            "handle = \"40 h\", recoat = \"40 h\"",
        );
        let plan = planned(&file);
        assert!(plan.is_too_late(), "{day}");
        let all: Vec<String> = (plan.still_can.iter())
            .flat_map(|can| &can.changes)
            .map(|change| words::otherwise(change, brimful::quantity::Units::Metric))
            .collect();
        assert!(all.iter().any(|told| told == words), "{day}: {all:?}");
    }
}

/// What leaves a coat over four times its label's time is no help, and where nothing does better
/// that is said.
#[test]
fn help_that_does_not_help_is_not_given() {
    for room in [
        "temperature = \"11 C\"\nhumidity = \"80 %\"",
        "temperature = \"20 C\"\nhumidity = \"84 %\"",
        "temperature = \"12 C\"\nhumidity = \"70 %\"\nair = \"sheltered\"\ncupboard = { holds = \"5 L\", air_changes = 0.1, pieces = 24 }",
    ] {
        let plan = domed("water-based dome glaze", room);
        let timed = plan.steps[0].drying.timed().unwrap();
        assert!(timed.helps.iter().all(|help| help.ratio.likely <= 4.0));
        let slow = timed.factor.whole.likely().is_none_or(|times| times > 4.0);
        let told = flat(&text::plan(&plan));
        assert_eq!(
            told.contains("no one thing that was tried"),
            slow && timed.helps.is_empty(),
            "{told}"
        );
        assert!(!told.contains("then over 4 times"), "{told}");
    }
}

/// The same wait is told by the same band in the plan's words and beside another's.
#[test]
fn a_very_slow_wait_has_its_band() {
    let plan = domed(
        "water-based dome glaze",
        "temperature = \"14 C\"\nhumidity = \"79 %\"\nair = \"sheltered\"\ncupboard = { holds = \"40 L\", air_changes = 2, pieces = 40 }",
    );
    let timed = plan.steps[0].drying.timed().unwrap();
    assert!(timed.factor.whole.likely().unwrap() > 4.0);
    let band = words::span(&plan.steps[0].until_handled.unwrap());
    let told = flat(&text::plan(&plan));
    assert!(told.contains(&band), "{band}: {told}");
    assert!(!told.contains("that: more than"), "{told}");
}

/// A cupboard with more pieces than its figure says is warned of with both numbers; the winter run
/// starts all its pieces in one wave, as its counts of started blanks tell.
#[test]
fn a_fuller_cupboard_than_told_is_warned_of() {
    let run = |pieces: u64| planned(&with(WINTER, "pieces = 26", &format!("pieces = {pieces}")));
    let started = run(10).pieces[0].start;
    let fuller = |plan: &Plan| {
        plan.warnings.iter().find_map(|warning| match warning {
            Warning::CupboardFuller { told, most, .. } => Some((u64::from(*told), *most)),
            _ => None,
        })
    };
    assert_eq!(fuller(&run(10)), Some((10, started)));
    assert_eq!(fuller(&run(started)), None);
    let told = flat(&text::plan(&run(10)));
    assert!(told.contains(&format!("{started} wet pieces are in the cupboard at once")));
}

/// A tray of 300 x 400 mm with slates of 4 mm under a glaze of a millimetre takes 0.6 L: it never goes
/// in half a litre, and does in 120 L.
#[test]
fn trays_that_can_not_be_in_their_cupboard_are_told() {
    let small = planned(&with(WINTER, "holds = \"120 L\"", "holds = \"0.5 L\""));
    assert!(codes(&small).contains(&"cupboard-too-small"));
    assert!(!codes(&planned(WINTER)).contains(&"cupboard-too-small"));
}

/// What the box comes to in words is what it comes to in its picture, leaps of less than an hour aside.
#[test]
fn a_box_has_one_humidity() {
    for file in [
        WINTER.to_owned(),
        with(
            WINTER,
            "holds = \"120 L\", air_changes = 2",
            "holds = \"40 L\", air_changes = 2",
        ),
        with(WINTER, "night = [\"13 C\", \"62 %\"]", ""),
    ] {
        let run = Run::read(&file, "test.toml").unwrap_or_else(|faults| panic!("{faults}"));
        let plan = plan(&run).unwrap();
        let shut = brimful::plan::cupboards(&run, &plan).unwrap().remove(0);
        let most = shut.airings[0].most.1;
        let told = flat(&text::plan(&plan));
        let words = format!("the box comes to {:.0} %", most.percent());
        assert!(told.contains(&words), "{words}: {told}");
    }
}

/// A file whose goods take no time to come, so that its work waits for none of them.
fn at_hand(file: &str) -> String {
    let days = ["4", "5", "6"];
    let file = days.iter().fold(file.to_owned(), |file, days| {
        file.replace(&format!(", delivery = \"{days} days\""), "")
            .replace(&format!("delivery = \"{days} days\"\n"), "")
    });
    assert!(!file.contains("delivery"), "{file}");
    file
}

/// In a run of the demo's in epoxy with two trays, the way that is likely ready first is
/// less often in time than another: begun on 3 November it was in time 845 times of 1000, on the 4th
/// 868 times.
#[test]
fn a_later_start_is_never_more_often_in_time() {
    let mut file = with(&at_hand(DEMO), "2027-04-17T08:00:00", "2026-11-22T12:00:00");
    for (from, to) in [
        ("count = 60", "count = 24"),
        ("count = 40", "count = 80"),
        ("count = 6\n", "count = 2\n"),
        (
            "family = \"water-based dome glaze\"\nsurface_tension = \"34 mN/m\"",
            "family = \"two-part dome epoxy\"\nstirring = \"0 min\"",
        ),
        ("also_sold = [{ holds = \"250 mL\", price = 21.50 }]\n", ""),
        ("[room]\n", "[room]\nnight = [\"16 C\", \"62 %\"]\n"),
    ] {
        file = with(&file, from, to);
    }
    let mut run = Run::read(&file, "test.toml").unwrap_or_else(|faults| panic!("{faults}"));
    let mut before = 1.0;
    for day in 2..8 {
        run.header.start = Some(date(2026, 11, day).at(8, 0, 0, 0));
        let Dates::Told(calendar) = plan(&run).unwrap().dates else {
            panic!("no dates on {day} November");
        };
        let chance = calendar.by.unwrap().chance.unwrap().ready.fraction();
        assert!(chance <= before, "{day} November: {chance} after {before}");
        before = chance;
    }
    assert!(before < 0.8, "{before}");
}

/// A run without a date is as long as the same run begun on the days of a week, and takes its trays.
#[test]
fn a_run_without_a_date_tells_how_long_it_takes() {
    let undated = with(&at_hand(DEMO), "ready_by = 2027-04-17T08:00:00\n", "");
    let mut run = Run::read(&undated, "test.toml").unwrap();
    run.hours.off.clear();
    let told = plan(&run).unwrap();
    let [mut shortest, mut longest] = [f64::INFINITY, 0.0_f64];
    let mut trays = 0;
    for day in 0..7 {
        run.header.start = Some(date(2027, 3, 1).at(0, 0, 0, 0) + day.days());
        let Dates::Told(calendar) = plan(&run).unwrap().dates else {
            panic!("no dates");
        };
        let lasts = calendar.ready.duration_since(calendar.start).as_secs_f64() / 3600.0;
        (shortest, longest) = (shortest.min(lasts), longest.max(lasts));
        trays = trays.max(calendar.busiest.unwrap().1.iter().sum::<u32>());
    }
    let undated = told.dates.undated().unwrap();
    assert!((undated.shortest.h() - shortest).abs() < 1e-6);
    assert!((undated.longest.h() - longest).abs() < 1e-6);
    assert_eq!(undated.busiest.as_ref().unwrap().iter().sum::<u32>(), trays);
    let words = text::plan(&told);
    for line in ["Takes ", "Trays "] {
        assert!(words.lines().any(|of| of.starts_with(line)), "{words}");
    }
    let json: serde_json::Value = serde_json::from_str(&json::plan(&told).unwrap()).unwrap();
    assert_eq!(json["trays"]["used"], trays);
    assert_eq!(json["undated"]["longest_h"], undated.longest.h());
}

/// The numbers of a span and how many hours one of its units is.
fn read(span: &str) -> (f64, f64, f64) {
    let span = span.trim_start_matches("about ");
    let mut words = span.split(' ');
    let from: f64 = words.next().unwrap().parse().unwrap();
    let rest: Vec<&str> = words.collect();
    let (to, unit) = match rest.as_slice() {
        ["to", to, unit] => (to.parse().unwrap(), *unit),
        [unit, ..] => (from, *unit),
        [] => panic!("{span}"),
    };
    let hours = match unit {
        "min" => 1.0 / 60.0,
        "h" => 1.0,
        "day" | "days" => 24.0,
        other => panic!("{other}"),
    };
    (from, to, hours)
}

/// A day is a coarse unit for what is over in two or three.
#[test]
fn a_span_is_told_in_hours_up_to_three_days() {
    let span = |low, likely, high| {
        let [low, likely, high] = [low, likely, high].map(Time::from_h);
        words::span(&TimeBand { low, likely, high })
    };
    assert_eq!(span(35.0, 40.0, 48.0), "35 to 48 h");
    assert_eq!(span(50.0, 60.0, 71.5), "50 to 72 h");
    assert_eq!(span(60.0, 80.0, 100.0), "3 to 5 days");
}

proptest! {
    /// A span never begins past the likely time, nor ends before its high end.
    #[test]
    fn a_span_holds_its_likely_time(
        likely in -2.0_f64..3.0, below in 0.2_f64..1.0, above in 1.0_f64..4.0,
    ) {
        let likely = 10f64.powf(likely);
        let band = TimeBand {
            low: Time::from_h(likely * below),
            likely: Time::from_h(likely),
            high: Time::from_h(likely * above),
        };
        let told = words::span(&band);
        let (from, to, unit) = read(&told);
        let tiny = unit < 0.02 && likely < unit;
        prop_assert!(tiny || told.starts_with("about ") || from * unit <= likely + 1e-9, "{told}: {likely} h");
        prop_assert!(to * unit >= likely * above - 1e-6, "{told}: {}", likely * above);
        let open = words::span(&TimeBand { high: Time::from_s(f64::INFINITY), ..band });
        let (from, _, unit) = read(&open);
        prop_assert!(tiny || from * unit <= likely + 1e-9 || likely < unit, "{open}: {likely} h");
    }
}
