//! The picture of a run's days where there are many waves, many sittings, or odd hours.

use crate::common::chart::{care, legible, read, texts};
use brimful::plan::{Dates, DaysPlan, Plan, days, plan};
use brimful::run::{ClockSpan, Run};
use brimful::show::chart::{CalendarBars, calendar};
use brimful::show::draw::Picture;
use brimful::show::pictures;
use jiff::civil::DateTime;

const DEMO: &str = include_str!("../../data/demo.toml");
const TIDE: &str = "#064F63";
const HEATHER: &str = "#8A3F9E";
const SLATE: &str = "#4A5A68";
const INK: &str = "#1C2A36";
const BUOY: &str = "#B8400F";
const POOL: &str = "#84C0CC";

fn planned(text: &str) -> (DaysPlan, Plan) {
    let run = Run::read(text, "test.toml").unwrap_or_else(|faults| panic!("{faults}"));
    let plan = plan(&run).unwrap_or_else(|why| panic!("{why}"));
    (days(&run, &plan).expect("days"), plan)
}

fn drawn(text: &str) -> Picture {
    let (days, plan) = planned(text);
    let picture = pictures::calendar(Some(&days), &plan).expect("it can be drawn");
    picture.expect("a picture")
}

/// The demo from the first of March on, for other counts and on other trays.
fn long(magnets: u32, fobs: u32, trays: u32) -> String {
    DEMO.replace("count = 60", &format!("count = {magnets}"))
        .replace("count = 40\n", &format!("count = {fobs}\n"))
        .replace("count = 6\ngap", &format!("count = {trays}\ngap"))
        .replace(
            "ready_by = 2027-04-17T08:00:00",
            "start = 2027-03-01T07:00:00",
        )
        // goods at hand, so that the work begins on that day
        .replace("delivery = \"6 days\"\n", "")
        .replace(", delivery = \"4 days\"", "")
        .replace("delivery = \"5 days\"\n", "")
}

fn said(picture: &Picture) -> Vec<String> {
    let mut found = Vec::new();
    texts(read(picture).root(), &mut found);
    found.into_iter().map(|(words, _)| words).collect()
}

/// A line: its colour, its breadth and its points, `[px]`.
struct Line {
    colour: String,
    breadth: f64,
    points: Vec<(f64, f64)>,
}

fn pairs(points: &str) -> Vec<(f64, f64)> {
    let tenth = |number: &str| number.parse::<f64>().expect("a number") / 10.0;
    (points.split_whitespace())
        .map(|pair| pair.split_once(',').expect("a pair"))
        .map(|(x, y)| (tenth(x), tenth(y)))
        .collect()
}

fn lines(picture: &Picture) -> Vec<Line> {
    let svg = roxmltree::Document::parse(&picture.svg).expect("the picture is XML");
    svg.descendants()
        .filter(|node| node.has_tag_name("polyline"))
        .map(|node| Line {
            colour: node.attribute("stroke").unwrap_or_default().to_owned(),
            breadth: node
                .attribute("stroke-width")
                .map_or(1.0, |w| w.parse::<f64>().unwrap())
                / 10.0,
            points: pairs(node.attribute("points").unwrap_or_default()),
        })
        .collect()
}

/// The least and the most `x` of every filled shape of a colour, `[px]`.
fn spans(picture: &Picture, colour: &str) -> Vec<(f64, f64)> {
    let svg = roxmltree::Document::parse(&picture.svg).expect("the picture is XML");
    svg.descendants()
        .filter(|node| node.has_tag_name("polygon") && node.attribute("fill") == Some(colour))
        .map(|node| across(&pairs(node.attribute("points").unwrap_or_default())))
        .collect()
}

fn across(points: &[(f64, f64)]) -> (f64, f64) {
    points
        .iter()
        .fold((f64::MAX, f64::MIN), |(least, most), (x, _)| {
            (least.min(*x), most.max(*x))
        })
}

/// Where a number of minutes after midnight lies, by two of the hours that are written over the rows.
fn at(picture: &Picture, minutes: f64) -> f64 {
    let mut found = Vec::new();
    texts(read(picture).root(), &mut found);
    let is_hour = |words: &str| words.ends_with(":00") && words.len() == 5;
    let (_, first) = (found.iter())
        .find(|(words, _)| is_hour(words))
        .expect("hours");
    let over = first.top();
    let hours: Vec<(f64, f64)> = (found.iter())
        .filter(|(words, space)| is_hour(words) && (space.top() - over).abs() < 0.5)
        .map(|(words, space)| {
            let hour: f64 = words[..2].parse().expect("an hour");
            (hour, f64::from(f32::midpoint(space.left(), space.right())))
        })
        .collect();
    let [first, .., last] = hours.as_slice() else {
        panic!("{hours:?}")
    };
    first.1 + (last.1 - first.1) * (minutes / 60.0 - first.0) / (last.0 - first.0)
}

#[test]
fn no_word_of_a_day_is_cut() {
    let name = "a coat of sealer from the pier with a ferry timetable on it, 3";
    let named = DEMO.replace("\"seal\"", &format!("{name:?}"));
    let samples = [
        long(200, 200, 6),
        long(200, 40, 2),
        named.clone(),
        named
            .replace(
                "ready_by = 2027-04-17T08:00:00",
                "start = 2027-03-01T07:00:00",
            )
            .replace("count = 60", "count = 200")
            .replace("count = 6\ngap", "count = 2\ngap"),
    ];
    for text in &samples {
        let picture = drawn(text);
        legible("whole", &picture);
        let cut: Vec<String> = said(&picture)
            .into_iter()
            .filter(|words| words.contains('…'))
            .collect();
        assert!(cut.is_empty(), "{cut:?}");
    }
    // which of its coats it is stays with a long name
    let words = said(&drawn(&named)).join(" ").replace('\u{2069}', "");
    assert!(
        words.contains("3 1 of 2") && words.contains("3 2 of 2"),
        "{words}"
    );
}

#[test]
fn waits_that_are_not_drawn_are_told_of() {
    let told = "Waits between sittings are not drawn.";
    let holds = |text: &str| said(&drawn(text)).join(" ").contains(told);
    assert!(!holds(DEMO));
    for text in [long(200, 40, 2), long(200, 200, 6)] {
        assert!(holds(&text));
    }
}

/// Without colour: wave 1 is one broad line, wave 2 a double one, wave 3 is dashed, wave 4 a zigzag;
/// a key names each.
#[test]
fn the_waits_of_waves_are_told_apart_in_grey() {
    let text = long(60, 60, 6);
    let (days, plan) = planned(&text);
    let Dates::Told(told) = &plan.dates else {
        panic!("no calendar")
    };
    assert!(
        told.waves == 4 && days.days.len() <= 16,
        "{} {}",
        told.waves,
        days.days.len()
    );
    let picture = pictures::calendar(Some(&days), &plan).unwrap().unwrap();
    legible("four waves", &picture);
    let lines = lines(&picture);
    let long_ones = |colour: &str| -> Vec<&Line> {
        let mut own: Vec<&Line> = (lines.iter())
            .filter(|line| line.colour == colour)
            .collect();
        own.retain(|line| {
            let (least, most) = across(&line.points);
            most - least > 60.0
        });
        own
    };
    let broad = long_ones(TIDE);
    assert!(
        broad.len() > 3
            && broad
                .iter()
                .all(|line| line.breadth > 2.0 && line.points.len() < 4)
    );
    let double = long_ones(HEATHER);
    assert!(double.len() > 3);
    // each has another beside it, there and back or by itself, some pixels off
    for line in &double {
        let (from, _) = across(&line.points);
        let y = line.points[0].1;
        let beside = (double.iter())
            .flat_map(|other| &other.points)
            .any(|(x, other)| *x >= from - 0.2 && (2.0..4.0).contains(&(other - y).abs()));
        assert!(beside, "{:?}", line.points);
    }
    let dashes = |line: &&Line| {
        let (least, most) = across(&line.points);
        line.colour == SLATE && line.breadth > 1.2 && most - least < 20.0 && most - least > 5.0
    };
    assert!(lines.iter().filter(dashes).count() > 40);
    assert!(long_ones(SLATE).iter().all(|line| line.breadth < 1.2));
    let zigzag = long_ones(INK);
    let turns = |line: &&&Line| {
        let falls = (line.points.windows(3)).filter(|three| {
            let [a, b, c] = [three[0].1, three[1].1, three[2].1];
            (b - a) * (c - b) < 0.0
        });
        falls.count() > 8
    };
    assert!(zigzag.iter().filter(turns).count() > 3);
    let words = said(&picture);
    for wave in 1..=4 {
        let name = format!("wave {wave} waits");
        assert!(words.contains(&name), "no \"{name}\" in {words:?}");
    }
}

/// A sitting's label stands near it, or the day is told in lines that begin with the time.
#[test]
fn no_leader_runs_far() {
    let evening = |minutes: &str| {
        DEMO.replace(
            "weekdays = [\"18:30-21:30\"]",
            "weekdays = [\"19:30-22:30\"]",
        )
        .replace(
            "again_after = \"48 h\"",
            &format!("again_after = \"{minutes}\""),
        )
    };
    let mut listed = 0;
    for text in [
        DEMO.to_owned(),
        evening("48 h"),
        evening("24 h"),
        long(60, 60, 6),
    ] {
        let picture = drawn(&text);
        legible("evening", &picture);
        for line in lines(&picture) {
            let [(x0, y0), (x1, y1)] = line.points[..] else {
                continue;
            };
            if line.colour == SLATE && line.breadth < 0.7 && (y0 - y1).abs() > 5.0 {
                assert!((x0 - x1).abs() <= 100.0, "{x0} to {x1}");
            }
        }
        let clock = |words: &&String| {
            words.len() == 5 && !words.ends_with(":00") && words.as_bytes()[2] == b':'
        };
        listed += said(&picture).iter().filter(clock).count();
    }
    assert!(listed >= 3, "{listed}");
}

/// Hours told outside those awake are drawn where they are, not at the edge.
#[test]
fn hours_outside_those_awake_are_drawn() {
    let (days, plan) = planned(DEMO);
    let Dates::Told(told) = &plan.dates else {
        panic!("no calendar")
    };
    let short = DaysPlan {
        awake: ClockSpan {
            from: 600,
            to: 1020,
        },
        ..days
    };
    let picture = calendar(&CalendarBars {
        calendar: told,
        days: &short,
        care: Some(care()),
    })
    .unwrap();
    legible("short day", &picture);
    let minutes = |at: DateTime| f64::from(at.hour()) * 60.0 + f64::from(at.minute());
    let bars = spans(&picture, POOL);
    let drawn = |from: f64, to: f64| {
        // hours are written in whole letters, so their middles are told to about a pixel
        let near = |a: f64, b: f64| (a - b).abs() < 1.5;
        bars.iter().any(|bar| near(bar.0, from) && near(bar.1, to))
    };
    let mut seen = 0;
    for sitting in told.sittings.iter().filter(|one| one.ends > one.begins) {
        let [from, to] = [sitting.begins, sitting.ends].map(|time| at(&picture, minutes(time)));
        if matches!(sitting.task, brimful::plan::Task::Step { .. }) && sitting.what == "lay print" {
            assert!(drawn(from, to), "{from} to {to} not among {bars:?}");
            seen += 1;
        }
    }
    assert!(seen >= 2);
}

/// What is due at an hour that is not drawn is marked at the edge, and its time is written.
#[test]
fn a_mark_outside_the_hours_drawn_stands_at_the_edge() {
    let early = DEMO.replace("T08:00:00", "T03:00:00");
    let picture = drawn(&early);
    let words = said(&picture);
    assert!(words.iter().any(|words| words == "due 03:00"), "{words:?}");
    let tip = spans(&picture, BUOY);
    let from = at(&picture, 360.0);
    assert!(
        tip.iter()
            .any(|tip| tip.0 < from && (tip.1 - from).abs() < 10.0),
        "{tip:?} {from}"
    );
}
