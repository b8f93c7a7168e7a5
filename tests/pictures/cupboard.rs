//! The picture of the air in a box: whole curves, words clear of them, words that agree.

use std::sync::LazyLock;

use crate::common::chart::{legible, read, texts};
use brimful::plan::{CupboardPlan, Why, cupboards, plan};
use brimful::quantity::Time;
use brimful::run::Run;
use brimful::show::draw::Picture;
use brimful::show::pictures;
use resvg::usvg;

const DEMO: &str = include_str!("../../data/demo.toml");

/// The demo's dome coats in a cupboard.
fn cupboard(air_changes: &str, humidity: &str) -> String {
    let (before, after) = DEMO.split_once("[room]").expect("the demo has a room");
    let (_, after) = after.split_once("[[tray]]").expect("and a tray after it");
    format!(
        "{before}[room]\ntemperature = \"19 C\"\nhumidity = \"{humidity}\"\ncupboard = {{ holds = \"60 L\", air_changes = {air_changes}, pieces = 24 }}\n[[tray]]{after}"
    )
}

fn lidded(air_changes: &str) -> String {
    DEMO.replace(
        "count = 6\ngap = \"10 mm\"",
        &format!(
            "count = 6\ngap = \"10 mm\"\nlid = {{ height = \"40 mm\", air_changes = {air_changes} }}"
        ),
    )
}

fn samples() -> Vec<(String, String)> {
    let mut all = Vec::new();
    for changes in ["0", "0.5", "1", "1.6", "4", "900"] {
        for humidity in ["30 %", "52 %", "74 %", "83 %"] {
            all.push((
                format!("{changes} at {humidity}"),
                cupboard(changes, humidity),
            ));
        }
    }
    // so full that a coat takes several times its label's time, and damps its box for as long
    for changes in ["1", "2"] {
        let crowded = cupboard(changes, "58 %").replace("60 L", "25 L");
        all.push((format!("crowded, {changes}"), crowded));
    }
    for changes in ["0.3", "2", "40", "200"] {
        all.push((format!("lid {changes}"), lidded(changes)));
    }
    all
}

/// A box of a sample, with its picture.
struct Drawn {
    name: String,
    shut: CupboardPlan,
    picture: Picture,
}

static DRAWN: LazyLock<Vec<Drawn>> = LazyLock::new(|| {
    let mut all = Vec::new();
    for (name, text) in samples() {
        let run = Run::read(&text, "test.toml").unwrap_or_else(|faults| panic!("{faults}"));
        let plan = plan(&run).unwrap_or_else(|why| panic!("{why}"));
        for shut in cupboards(&run, &plan).unwrap() {
            let drawn = pictures::cupboard(&shut, &plan);
            all.push(Drawn {
                name: name.clone(),
                picture: drawn.unwrap_or_else(|why| panic!("{name}: {why} {shut:?}")),
                shut,
            });
        }
    }
    all
});

fn said(picture: &Picture) -> Vec<(String, usvg::Rect)> {
    let mut found = Vec::new();
    texts(read(picture).root(), &mut found);
    found
}

/// Points along every line that is drawn as a course, some pixels apart, `[px]`.
fn along_courses(picture: &Picture) -> Vec<(f64, f64)> {
    let svg = roxmltree::Document::parse(&picture.svg).expect("the picture is XML");
    let is_course = |node: &roxmltree::Node| {
        let pen = (node.attribute("stroke"), node.attribute("stroke-width"));
        [("#064F63", "26"), ("#8A3F9E", "22"), ("#1C2A36", "20")]
            .iter()
            .any(|(colour, width)| pen == (Some(colour), Some(width)))
    };
    let mut along = Vec::new();
    for node in svg.descendants().filter(is_course) {
        let points: Vec<(f64, f64)> = (node.attribute("points").unwrap_or_default())
            .split_whitespace()
            .map(|pair| pair.split_once(',').expect("a pair"))
            .map(|(x, y)| {
                (
                    x.parse::<f64>().unwrap() / 10.0,
                    y.parse::<f64>().unwrap() / 10.0,
                )
            })
            .collect();
        for pair in points.windows(2) {
            let ((x0, y0), (x1, y1)) = (pair[0], pair[1]);
            let steps = ((x1 - x0).hypot(y1 - y0) / 2.0).ceil().max(1.0);
            let mut step = 0.0;
            while step <= steps {
                let share = step / steps;
                along.push((x0 + (x1 - x0) * share, y0 + (y1 - y0) * share));
                step += 1.0;
            }
        }
    }
    along
}

#[test]
fn no_words_lie_on_a_curve_and_every_curve_has_its_words() {
    let mut drawn = 0;
    for Drawn {
        name,
        shut,
        picture,
    } in DRAWN.iter()
    {
        legible(name, picture);
        let words = said(picture);
        let courses = along_courses(picture);
        assert!(courses.len() > 100, "{name}");
        for (line, space) in &words {
            let [left, right] = [space.left(), space.right()].map(f64::from);
            let [top, bottom] = [space.top(), space.bottom()].map(f64::from);
            let on =
                (courses.iter()).find(|(x, y)| *x > left && *x < right && *y > top && *y < bottom);
            assert!(on.is_none(), "{name}: \"{line}\" lies on a curve at {on:?}");
        }
        let told = words
            .iter()
            .filter(|(line, _)| line.contains("dr") && line.contains("%, "));
        assert_eq!(told.count(), shut.airings.len(), "{name}: {words:?}");
        drawn += 1;
    }
    assert!(drawn >= 24, "{drawn}");
}

/// A curve ends where its coat is dry. One that takes five times as long as any other, or is
/// never dry, runs out of the picture, and its words say so.
#[test]
fn the_picture_ends_after_its_slowest_curve() {
    let (mut whole, mut beyond) = (0, 0);
    for Drawn {
        name,
        shut,
        picture,
    } in DRAWN.iter()
    {
        let words = said(picture);
        let last = |airing: &brimful::plan::AiringPlan| airing.humidity.last().unwrap().0;
        for airing in &shut.airings {
            assert!(last(airing) >= shut.ends * 0.999, "{name}");
        }
        let out = (shut.airings.iter())
            .filter(|airing| airing.takes.is_none_or(|takes| takes > shut.ends))
            .count();
        let told = (words.iter())
            .filter(|(line, _)| line.ends_with("past the edge") || line.contains("never dries"))
            .count();
        assert_eq!(out, told, "{name}: {words:?}");
        assert!(out <= 1, "{name}: {out}");
        if out == 1 && shut.airings.len() > 1 {
            let others = shut.airings[1..]
                .iter()
                .map(|airing| airing.takes.unwrap().h());
            let slowest = others.fold(0.0, f64::max);
            let own = shut.airings[0].takes.map_or(f64::INFINITY, Time::h);
            assert!(own > 5.0 * slowest, "{name}: {own} and {slowest}");
            beyond += 1;
        }
        whole += usize::from(out == 0);
    }
    assert!(whole >= 8 && beyond >= 2, "{whole} {beyond}");
}

#[test]
fn what_stays_under_the_limit_is_not_said_to_come_up_to_it() {
    let mut close = 0;
    for Drawn {
        name,
        shut,
        picture,
    } in DRAWN.iter()
    {
        let words: Vec<String> = said(picture).into_iter().map(|(line, _)| line).collect();
        let all = words.join(" ") + &picture.words.title + &picture.words.description;
        for airing in &shut.airings {
            let most = airing.most.1;
            if airing.why == Why::UnderTheLimit {
                assert!(most < shut.limit, "{name}");
            }
            if most < shut.limit && most.percent() > shut.limit.percent() - 0.5 {
                assert!(all.contains("just under 80 %"), "{name}: {all}");
                close += 1;
            }
        }
        let exceeds = |airing: &brimful::plan::AiringPlan| {
            airing.most.1 >= shut.limit && airing.most.1.percent() < shut.limit.percent() + 0.5
        };
        if !shut.airings.iter().any(exceeds) {
            assert!(!all.contains("up to 80 %"), "{name}: {all}");
        }
    }
    assert!(close >= 3, "{close}");
}

/// Saturation pressure over water in hPa by Magnus' formula (WMO-No. 8, coefficients from memory).
fn saturation(celsius: f64) -> f64 {
    6.112 * (17.62 * celsius / (243.12 + celsius)).exp()
}

/// The air in a box follows the room's: when that cools from 18 to 13 °C, one hour after the pour,
/// the vapour is the same and its share of what the air could hold leaps.
#[test]
fn a_box_gets_damp_at_once_when_its_room_cools() {
    let run = Run::read(include_str!("../../data/winter.toml"), "winter.toml").unwrap();
    let plan = plan(&run).unwrap();
    let shut = cupboards(&run, &plan).unwrap().remove(0);
    let course = &shut.airings[0].humidity;
    let after = course.iter().position(|(at, _)| at.h() > 1.0).unwrap();
    let [before, after] = [course[after - 1], course[after]].map(|(_, damp)| damp.percent());
    // of as much water in as much air the pressure goes with the absolute temperature
    let leap = saturation(18.0) / saturation(13.0) * (286.15 / 291.15);
    // a second apart
    assert!(
        (after / before / leap - 1.0).abs() < 0.005,
        "{before} {after}"
    );
    let leaps = shut.airings[0].leaps_to.unwrap().percent();
    assert!(leaps >= after && shut.airings[0].most.1.percent() < leaps - 1.0);
    // what is told to keep it under the limit does so but for an hour after such leaps
    let mut airings = shut.airings.iter();
    let keeps = airings.find(|airing| airing.why == Why::UnderTheLimit);
    let leaps = [1.0, 13.0, 25.0, 37.0, 49.0];
    let lasts = |at: Time| {
        leaps
            .iter()
            .all(|leap| !(1e-4..0.999).contains(&(at.h() - leap)))
    };
    for (at, damp) in &keeps.unwrap().humidity {
        let damp = damp.percent();
        assert!(
            !lasts(*at) || damp < shut.limit.percent(),
            "{} h: {damp}",
            at.h()
        );
    }
    let told = plan.steps[0].drying.timed().unwrap();
    let stage = told.stages.iter().find(|told| told.stage == shut.stage);
    let takes = shut.airings[0].takes.unwrap();
    assert!((takes / stage.unwrap().here.unwrap().likely - 1.0).abs() < 1e-9);
    let picture = pictures::cupboard(&shut, &plan).unwrap();
    for part in ["13 °C to 18 °C", "50 % to 62 %"] {
        let words = &picture.words.description;
        assert!(words.contains(part), "no \"{part}\" in \"{words}\"");
    }
    legible("winter", &picture);
}

/// Words that find no place at their curves stand below them: no run is without its picture, and so
/// without all that is saved, for want of room.
#[test]
fn every_box_has_its_picture() {
    let winter = include_str!("../../data/winter.toml");
    let whole = "cupboard = { holds = \"120 L\", air_changes = 2, pieces = 26 }";
    assert!(winter.contains(whole));
    let mut below = 0;
    for holds in ["5 L", "20 L", "120 L"] {
        for changes in ["0", "0.5", "2"] {
            let text = winter.replace(
                whole,
                &format!(
                    "cupboard = {{ holds = \"{holds}\", air_changes = {changes}, pieces = 24 }}"
                ),
            );
            let run = Run::read(&text, "winter.toml").unwrap();
            let plan = plan(&run).unwrap();
            for shut in cupboards(&run, &plan).unwrap() {
                let picture = pictures::cupboard(&shut, &plan).unwrap();
                legible(&format!("{holds} {changes}"), &picture);
                let words = said(&picture);
                below += words
                    .iter()
                    .filter(|(words, _)| words.contains("hour: "))
                    .count();
            }
        }
    }
    assert!(below > 0, "a sample has words below its curves");
}
