//! The picture of a run's days.

use crate::common::chart::{care, legible, read, texts};
use brimful::plan::{Dates, DaysPlan, Plan, days, plan};
use brimful::run::Run;
use brimful::show::chart::{CalendarBars, calendar};
use brimful::show::draw::{DrawError, Picture};
use brimful::show::pictures;

const DEMO: &str = include_str!("../../data/demo.toml");

fn planned(text: &str) -> (Option<DaysPlan>, Plan) {
    let run = Run::read(text, "test.toml").unwrap_or_else(|faults| panic!("{faults}"));
    let plan = plan(&run).unwrap_or_else(|why| panic!("{why}"));
    (days(&run, &plan), plan)
}

fn drawn(text: &str) -> (DaysPlan, Plan, Picture) {
    let (days, plan) = planned(text);
    let picture = pictures::calendar(days.as_ref(), &plan).expect("it can be drawn");
    let days = days.expect("days");
    (days, plan, picture.expect("a picture"))
}

/// One step on one kind of piece, with more tables at its end. Invented.
fn short(head: &str, step: &str, more: &str) -> String {
    format!(
        r#"
[run]
{head}
[[piece]]
name = "tag"
count = 30
blank = "slip"
steps = ["cut"]
[[blank]]
name = "slip"
outline = {{ round = "25 mm" }}
[[step]]
name = "cut"
{step}
[room]
temperature = "20 C"
humidity = "50 %"
{more}
"#
    )
}

const START: &str = "start = 2027-05-03T10:00:00";

/// The demo with names at their worst.
fn renamed(step: &str) -> String {
    DEMO.replace("\"seal\"", &format!("{step:?}"))
}

/// The demo many times over on two trays, which takes weeks.
fn weeks(magnets: u32) -> String {
    DEMO.replace("count = 60", &format!("count = {magnets}"))
        .replace("count = 6\ngap", "count = 2\ngap")
        .replace(
            "ready_by = 2027-04-17T08:00:00",
            "start = 2027-03-01T07:00:00",
        )
}

#[test]
fn words_never_overlap_or_leave_the_picture() {
    let samples = [
        ("demo", DEMO.to_owned()),
        ("one sitting", short(START, "hands_on = \"1 min\"", "")),
        (
            "long",
            renamed("a coat of sealer from the pier with a ferry timetable on it, 3"),
        ),
        (
            "unbroken",
            renamed("Donaudampfschifffahrtsgesellschaftskapitänsmützenlackierung"),
        ),
        ("hebrew", renamed("מגנט גאות 12")),
        ("rude", renamed("<script>alert('x')</script> & \u{1F30A}")),
        (
            "too late",
            DEMO.replace("sure = ", "start = 2027-04-12T07:00:00\nsure = "),
        ),
        ("weeks", weeks(200)),
        ("months", weeks(420)),
        (
            "all awake",
            DEMO.replace("awake = \"07:00-22:30\"", "awake = \"00:00-24:00\""),
        ),
    ];
    for (name, text) in samples {
        let (_, _, picture) = drawn(&text);
        legible(name, &picture);
        assert!(!picture.svg.contains("<script"), "{name}");
        assert!(picture.svg.len() < 130_000, "{name}: {}", picture.svg.len());
    }
}

#[test]
fn a_sitting_lies_at_its_hours() {
    let (_, plan, picture) = drawn(DEMO);
    let Dates::Told(calendar) = &plan.dates else {
        panic!("no calendar")
    };
    // awake from 7:00 to 22:30, so from 6:00 to 24:00 are drawn, from 136 px to 854 px
    let across = |minutes: f64| 136.0 + (854.0 - 136.0) * (minutes - 360.0) / (1440.0 - 360.0);
    let minutes = |at: jiff::civil::DateTime| f64::from(at.hour()) * 60.0 + f64::from(at.minute());
    let svg = roxmltree::Document::parse(&picture.svg).expect("the picture is XML");
    let bars: Vec<(f64, f64)> = svg
        .descendants()
        .filter(|n| n.has_tag_name("polygon") && n.attribute("fill") == Some("#84C0CC"))
        .map(|n| {
            let points = n.attribute("points").unwrap_or_default().split_whitespace();
            let xs = points.map(|p| {
                let x = p.split_once(',').expect("a pair").0;
                x.parse::<f64>().expect("a number") / 10.0
            });
            xs.fold((f64::MAX, f64::MIN), |(l, m), x| (l.min(x), m.max(x)))
        })
        .collect();
    let first = calendar.sittings.first().unwrap();
    let last = calendar.sittings.last().unwrap();
    let starts = |at, x: f64| (x - across(minutes(at))).abs() < 0.06;
    assert!(
        bars.iter().any(|bar| starts(first.begins, bar.0)),
        "{bars:?}"
    );
    assert!(bars.iter().any(|bar| starts(last.ends, bar.1)), "{bars:?}");
    let looks: usize = calendar.sittings.iter().map(|one| one.looks.len()).sum();
    assert!(looks > 0);
    // a ring is a dark dot with a light one on it; one more is the key's
    let light = svg
        .descendants()
        .filter(|n| n.has_tag_name("circle") && n.attribute("fill") == Some("#FFFFFF"))
        .count();
    assert_eq!(light, looks + 1);
}

#[test]
fn every_day_and_its_trays_are_the_calendar_s_own() {
    for text in [DEMO.to_owned(), weeks(200)] {
        let (days, plan, picture) = drawn(&text);
        let Dates::Told(calendar) = &plan.dates else {
            panic!("no calendar")
        };
        assert_eq!(days.days[0].date, calendar.start.date());
        for day in &days.days {
            // brute force: minute by minute, from the sittings alone
            let mut most: u32 = 0;
            for minute in 0..1440 {
                let at = day.date.at(0, 0, 0, 0) + jiff::Span::new().minutes(minute);
                let mut held = std::collections::BTreeMap::new();
                for one in &calendar.sittings {
                    if one.begins <= at && one.lifted.is_some_and(|until| at < until) {
                        held.insert(one.wave, one.trays.iter().sum::<u32>());
                    }
                }
                most = most.max(held.values().sum());
            }
            assert_eq!(day.most_trays, most, "{}", day.date);
        }
        for sitting in &calendar.sittings {
            let day = days
                .days
                .iter()
                .any(|day| day.date == sitting.begins.date());
            assert!(day, "{} has no day", sitting.begins);
        }
        let first = calendar.start.strftime("%a %-d %b: %H:%M-").to_string();
        let told = picture.words.description;
        assert!(told.contains(&first), "no \"{first}\" in {told}");
    }
}

#[test]
fn the_title_says_when_all_is_ready() {
    let (_, plan, picture) = drawn(DEMO);
    let title = &picture.words.title;
    let calendar = plan.dates.calendar().unwrap();
    let spare = plan.header.ready_by.unwrap().duration_since(calendar.ready);
    let begun = calendar.start.strftime("%a %-d %b %H:%M");
    let spare = spare.as_hours();
    assert!((1..48).contains(&spare), "{spare}");
    let told = format!("Begun {begun}, all is ready {spare} h before");
    assert!(title.starts_with(&told), "{title}");
    let late = DEMO.replace("sure = ", "start = 2027-04-12T07:00:00\nsure = ");
    let (_, _, picture) = drawn(&late);
    assert!(
        picture.words.title.ends_with("too late."),
        "{}",
        picture.words.title
    );
    let (_, _, picture) = drawn(&short(START, "hands_on = \"1 min\"", ""));
    assert!(
        picture.words.title.starts_with("Begun Mon 3 May"),
        "{}",
        picture.words.title
    );
}

#[test]
fn a_long_run_tells_each_day_in_a_line() {
    let (days, plan, picture) = drawn(&weeks(200));
    let Dates::Told(calendar) = &plan.dates else {
        panic!("no calendar")
    };
    assert!(days.days.len() > 16 && calendar.sittings.len() > 40);
    let mut found = Vec::new();
    texts(read(&picture).root(), &mut found);
    let said: Vec<&str> = found.iter().map(|(words, _)| words.as_str()).collect();
    assert!(said.iter().any(|words| words.contains('×')), "{said:?}");
    assert!(
        said.join(" ")
            .contains("What is done on a day stands beside it.")
    );
}

#[test]
fn a_run_without_a_calendar_has_no_such_picture() {
    let undated = DEMO.replace("ready_by = 2027-04-17T08:00:00\n", "");
    let never = short(START, "hands_on = \"20 h\"", "");
    let cold = DEMO.replace("temperature = \"16 C\"", "temperature = \"2 C\"");
    for (text, what) in [(undated, "not asked"), (never, "never"), (cold, "untold")] {
        let (days, plan) = planned(&text);
        let right = match what {
            "not asked" => matches!(plan.dates, Dates::Undated(_)),
            "never" => matches!(plan.dates, Dates::Never(_)),
            _ => matches!(plan.dates, Dates::Untold { .. }),
        };
        assert!(right, "{what}: {:?}", plan.dates);
        assert!(days.is_none(), "{what}");
        assert!(pictures::calendar(days.as_ref(), &plan).unwrap().is_none());
    }
}

#[test]
fn no_days_are_refused() {
    let (days, plan) = planned(DEMO);
    let Dates::Told(told) = &plan.dates else {
        panic!("no calendar")
    };
    let none = DaysPlan {
        days: Vec::new(),
        ..days.unwrap()
    };
    let refused = calendar(&CalendarBars {
        calendar: told,
        days: &none,
        care: Some(care()),
    });
    assert!(matches!(refused, Err(DrawError::NotPositive { .. })));
}
