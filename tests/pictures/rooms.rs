//! The map of rooms: its times are the plan's and `dry`'s, its lines hold, its words stand apart.

use brimful::ask::{DryQuestion, dry};
use brimful::cure::air::{Air, Draught};
use brimful::drying::Room;
use brimful::plan::{Pictured, Plan, When, pictured, plan};
use brimful::quantity::{Humidity, Show, Temperature, Units};
use brimful::run::Run;
use brimful::show::draw::Picture;
use brimful::show::pictures;

use crate::common::chart::{legible, read, texts};
use crate::common::plan::close;

const DEMO: &str = include_str!("../../data/demo.toml");

fn shown(text: &str) -> (Run, Plan, Pictured) {
    let run = Run::read(text, "test.toml").unwrap_or_else(|faults| panic!("{faults}"));
    let plan = plan(&run).unwrap_or_else(|why| panic!("{why}"));
    let shown = pictured(&run, &plan).unwrap();
    (run, plan, shown)
}

/// The demo in another room.
fn room(table: &str) -> String {
    let (before, after) = DEMO.split_once("[room]").expect("the demo has a room");
    let (_, after) = after.split_once("[[tray]]").expect("and a tray after it");
    format!("{before}[room]\n{table}\n[[tray]]{after}")
}

/// The demo with another dome coating.
fn coated(family: &str, label: &str) -> String {
    DEMO.replace("water-based dome glaze", family)
        .replace(
            "label = { at = [\"23 C\", \"50 %\"], handle = \"24 h\", recoat = \"24 h\" }",
            label,
        )
        .replace("surface_tension = \"34 mN/m\"\n", "")
}

/// How long `dry` says that a plan's slowest coat of a coating takes to handle in other air, `[h]`.
fn by_dry((run, plan): (&Run, &Plan), coating: &str, air: Air) -> Option<f64> {
    let own = run.coatings.iter().find(|own| own.name == coating).unwrap();
    let step = plan
        .steps
        .iter()
        .find(|step| step.coating.as_deref() == Some(coating));
    let here = step.unwrap().drying.timed().unwrap().here;
    let question = DryQuestion {
        coating: own.coating.clone(),
        room: Room::Steady(air),
        depth: Some(here.wet_depth()),
        label_depth: None,
        blank: Some(here.exposure().footprint()),
        tray: here.exposure().tray(),
        shut_in: here.enclosure(),
        lamp: None,
        within: None,
        notices: Vec::new(),
        poured: None,
        asleep: None,
    };
    dry(&question).unwrap().hours.get("handle").copied()
}

fn still(temperature: Temperature, humidity: Humidity) -> Air {
    Air::of_room(temperature, humidity, Draught::Still).unwrap()
}

#[test]
fn the_rooms_own_place_has_the_plans_own_time() {
    let (_, plan, shown) = shown(DEMO);
    assert_eq!(shown.rooms.len(), 3);
    for map in &shown.rooms {
        let step = plan
            .steps
            .iter()
            .find(|step| step.name == map.step)
            .unwrap();
        let stages = &step.drying.timed().unwrap().stages;
        let told = stages.iter().find(|told| told.stage == map.stage).unwrap();
        let [here] = map.here.as_slice() else {
            panic!("{:?}", map.here)
        };
        assert_eq!(here.when, When::Always);
        close(here.takes.unwrap().s(), told.here.unwrap().likely.s(), 1e-6);
        // told of the coat that is laid, and of the usual one where its times are that one's
        assert_eq!(Some(map.depth), step.depth, "{}", map.coating);
        let taken = step.drying.timed().unwrap().here.wet_depth();
        assert_eq!(map.as_deep.unwrap_or(map.depth), taken, "{}", map.coating);
    }
    let dome = shown.rooms.iter().find(|map| map.step == "dome").unwrap();
    let named = pictures::all(&plan, &shown).unwrap();
    let named = named
        .iter()
        .find(|one| one.name == "dome-glaze-room")
        .unwrap();
    let words = &named.picture.words.description;
    let [deep, usual] = [dome.depth, dome.as_deep.expect("a thin dome")];
    for want in [
        format!(
            "for a coat {} deep on aluminium tag",
            deep.show(Units::Metric)
        ),
        format!(
            "those of the usual coat, {} deep",
            usual.show(Units::Metric)
        ),
    ] {
        assert!(words.contains(&want), "{want}: {words}");
    }
}

/// Along every line `dry` gives the line's time within 2 %, but for places where it gives none:
/// a line may touch those that are too cold.
#[test]
fn every_line_is_where_dry_has_its_time() {
    let epoxy = coated("two-part dome epoxy", "");
    let moist = coated("moisture-curing clear", "");
    let boxed = room(
        "temperature = \"19 C\"\nhumidity = \"52 %\"\ncupboard = { holds = \"60 L\", air_changes = 4, pieces = 24 }",
    );
    for text in [DEMO, &epoxy, &moist, &boxed] {
        let (run, plan, shown) = shown(text);
        assert!(!shown.rooms.is_empty());
        for map in &shown.rooms {
            assert!(map.lines.len() >= 2, "{}: {}", map.coating, map.lines.len());
            let (mut told, mut worst) = (0, 0.0_f64);
            for line in &map.lines {
                for (temperature, humidity) in line.runs.iter().flatten().step_by(7) {
                    let air = still(*temperature, *humidity);
                    if let Some(hours) = by_dry((&run, &plan), &map.coating, air) {
                        let off = (hours / line.takes.h() - 1.0).abs();
                        assert!(
                            off < 0.02,
                            "{} {:?} at {:.1} C {:.2} %: {hours} h",
                            map.coating,
                            line.takes,
                            temperature.celsius(),
                            humidity.percent()
                        );
                        worst = worst.max(off);
                        told += 1;
                    }
                }
            }
            println!("{}: {told} places, at worst {worst:.4}", map.coating);
            assert!(told >= 10, "{}: only {told} places", map.coating);
        }
    }
}

/// The humidity at which the dew point is 3 K under 20 C: by the Antoine equation for water with
/// the constants of the textbooks (log10 p/mmHg = 8.07131 - 1730.63/(233.426 + T); from memory), 83.0 %.
#[test]
fn the_dew_line_is_where_the_dew_point_is_three_degrees_off() {
    let (_, _, shown) = shown(DEMO);
    let antoine = |celsius: f64| 10f64.powf(8.07131 - 1730.63 / (233.426 + celsius));
    for (temperature, humidity) in &shown.rooms[0].dew {
        let celsius = temperature.celsius();
        let wanted = antoine(celsius - 3.0) / antoine(celsius);
        // the two formulas agree within some 0.3 % of a quotient between 2 and 35 C
        close(humidity.fraction(), wanted, 0.004);
    }
    assert!(shown.rooms[0].dew.len() > 10);
}

/// Left of the edge `dry` gives no date, right of it one.
#[test]
fn the_cold_edge_is_where_dry_stops_giving_dates() {
    let (run, plan, shown) = shown(DEMO);
    let map = shown
        .rooms
        .iter()
        .find(|map| map.coating == "dome glaze")
        .unwrap();
    let cold = map.too_cold.as_ref().expect("it needs 10 C to form a film");
    for (temperature, humidity) in &cold.edge {
        if *humidity >= map.too_damp.unwrap() {
            continue;
        }
        let at = |off: f64| {
            let there = Temperature::from_celsius(temperature.celsius() + off);
            by_dry((&run, &plan), "dome glaze", still(there, *humidity))
        };
        assert!(
            at(-0.1).is_none() && at(0.1).is_some(),
            "{temperature:?} {humidity:?}"
        );
    }
}

#[test]
fn ink_lamps_and_sealed_boxes_have_no_map() {
    let lamp = coated("lamp-cured dome resin", "");
    let (_, _, shown_lamp) = shown(&lamp);
    assert!(
        shown_lamp
            .rooms
            .iter()
            .all(|map| map.coating != "dome glaze")
    );
    let sealed = room(
        "temperature = \"19 C\"\nhumidity = \"52 %\"\ncupboard = { holds = \"5 L\", air_changes = 0, pieces = 24 }",
    );
    let (_, _, shown_sealed) = shown(&sealed);
    assert!(
        shown_sealed
            .rooms
            .iter()
            .all(|map| map.coating != "dome glaze")
    );
}

fn drawn(text: &str) -> Vec<(String, Picture)> {
    let (_, plan, shown) = shown(text);
    let all = pictures::all(&plan, &shown).unwrap();
    all.into_iter()
        .filter(|named| named.name.ends_with("-room"))
        .map(|named| (named.name, named.picture))
        .collect()
}

#[test]
fn words_stand_apart_at_their_worst() {
    let named = |name: &str| DEMO.replace("\"dome glaze\"", &format!("{name:?}"));
    let texts = [
        DEMO.to_owned(),
        DEMO.replace("show = \"metric\"", "show = \"us\""),
        named("a glaze of many words for driftwood mooring fobs and tags, 2"),
        named("זיגוג כיפה 12"),
        named("<script>alert('x')</script> & 🌊"),
        room("temperature = \"23 C\"\nhumidity = \"50 %\""),
        room("temperature = \"-4 C\"\nhumidity = \"97 %\""),
        room("temperature = \"44 C\"\nhumidity = \"8 %\""),
        room("temperature = \"18 C\"\nhumidity = \"60 %\"\nnight = [\"9 C\", \"90 %\"]"),
        room("temperature = \"18.2 C\"\nhumidity = \"60 %\"\nnight = [\"18 C\", \"61 %\"]"),
        coated("two-part dome epoxy", ""),
        coated("moisture-curing clear", ""),
    ];
    for (which, text) in texts.iter().enumerate() {
        let all = drawn(text);
        assert!(!all.is_empty(), "{which}");
        for (name, picture) in all {
            legible(&format!("{which} {name}"), &picture);
            assert!(
                picture.svg.len() < 60_000,
                "{which} {name}: {}",
                picture.svg.len()
            );
            assert!(!picture.svg.contains("<script>") && !picture.svg.contains(" id="));
        }
    }
}

/// The dot of the room lies as far between two ticks as its temperature.
#[test]
fn the_room_lies_at_its_temperature_and_humidity() {
    let (_, picture) = drawn(DEMO).pop().unwrap();
    let mut found = Vec::new();
    texts(read(&picture).root(), &mut found);
    let middle = |words: &str| {
        let space = found
            .iter()
            .filter(|(own, _)| own == words)
            .map(|(_, space)| *space);
        let all: Vec<_> = space.collect();
        f32::midpoint(all[0].left(), all[0].right())
    };
    let svg = roxmltree::Document::parse(&picture.svg).unwrap();
    let dots: Vec<f64> = svg
        .descendants()
        .filter(|node| node.has_tag_name("circle") && node.attribute("fill") == Some("#8A3F9E"))
        .map(|node| node.attribute("cx").unwrap().parse::<f64>().unwrap() / 10.0)
        .collect();
    let (left, right) = (f64::from(middle("15")), f64::from(middle("25")));
    // 16 C between the ticks at 15 and 25; text is centred to half a pixel
    let wanted = left + (right - left) * 0.1;
    assert_eq!(dots.len(), 1);
    assert!((dots[0] - wanted).abs() < 1.0, "{} {wanted}", dots[0]);
}

#[test]
fn the_description_holds_the_numbers_of_the_picture() {
    let (_, _, shown) = shown(DEMO);
    let (_, picture) = drawn(DEMO).pop().unwrap();
    let map = shown
        .rooms
        .iter()
        .find(|map| map.coating == "dome glaze")
        .unwrap();
    let text = &picture.words.description;
    for part in [
        "16 °C, 64 %",
        "23 °C, 50 %",
        "24 h by the label",
        "under 10 °C",
        &format!("damper than {:.0} %", map.too_damp.unwrap().percent()),
    ] {
        assert!(text.contains(part), "no \"{part}\" in \"{text}\"");
    }
}

/// Where the lines of equal time run, `[px]`: they are drawn in the gallery's darkest blue at ten times
/// the size.
fn curves(svg: &str) -> Vec<Vec<[f64; 2]>> {
    let svg = roxmltree::Document::parse(svg).unwrap();
    let lines = svg.descendants().filter(|node| {
        node.has_tag_name("polyline") && node.attribute("stroke") == Some("#064F63")
    });
    let points = |points: &str| -> Vec<[f64; 2]> {
        let pairs = points.split_whitespace().map(|pair| {
            let (x, y) = pair.split_once(',').unwrap();
            [x, y].map(|part| part.parse::<f64>().unwrap() / 10.0)
        });
        pairs.collect()
    };
    lines
        .map(|node| points(node.attribute("points").unwrap()))
        .collect()
}

/// How many curves a space touches, followed in steps of half a pixel.
fn touched(curves: &[Vec<[f64; 2]>], [left, top, right, bottom]: [f64; 4]) -> usize {
    let inside = |[x, y]: [f64; 2]| left < x && x < right && top < y && y < bottom;
    let meets = |curve: &&Vec<[f64; 2]>| {
        curve.windows(2).any(|pair| {
            let [[x, y], [to_x, to_y]] = [pair[0], pair[1]];
            let steps = ((to_x - x).hypot(to_y - y) * 2.0).ceil().max(1.0);
            let mut step = 0.0;
            while step <= steps {
                let share = step / steps;
                if inside([x + (to_x - x) * share, y + (to_y - y) * share]) {
                    return true;
                }
                step += 1.0;
            }
            false
        })
    };
    curves.iter().filter(meets).count()
}

/// The notes at the run's room and at the label's air stand on no line of equal time if a place near
/// by is free of them: it is looked for here all around, at every few pixels.
#[test]
fn notes_keep_off_the_lines_where_they_can() {
    let (mut clear, mut on_lines) = (0, 0);
    let runs = [
        DEMO.to_owned(),
        include_str!("../../data/winter.toml").to_owned(),
        coated("two-part dome epoxy", ""),
        coated("moisture-curing clear", ""),
        room("temperature = \"12 C\"\nhumidity = \"78 %\""),
        DEMO.replace("show = \"metric\"", "show = \"us\""),
    ];
    for text in &runs {
        let (_, plan, shown) = shown(text);
        for map in &shown.rooms {
            let picture = pictures::rooms(map, &plan).unwrap();
            let curves = curves(&picture.svg);
            assert!(!curves.is_empty());
            let mut words = Vec::new();
            texts(read(&picture).root(), &mut words);

            for (index, (name, space)) in words.iter().enumerate() {
                if !(name.starts_with("this room") || name.starts_with("label's air")) {
                    continue;
                }
                // the second line of a note comes next
                let (_, under) = &words[index + 1];
                let note = [
                    space.left().min(under.left()),
                    space.top(),
                    space.right().max(under.right()),
                    under.bottom(),
                ]
                .map(f64::from);
                if touched(&curves, note) == 0 {
                    clear += 1;
                    continue;
                }
                on_lines += 1;
                let [wide, high] = [note[2] - note[0], note[3] - note[1]];
                let others = words
                    .iter()
                    .enumerate()
                    .filter(|(other, _)| *other != index && *other != index + 1);
                let others: Vec<_> = others.map(|(_, (_, space))| *space).collect();
                for off in [[0.0, -20.0], [0.0, 20.0], [20.0, 0.0], [-20.0, 0.0]] {
                    let moved = [note[0] + off[0], note[1] + off[1]];
                    let moved = [moved[0], moved[1], moved[0] + wide, moved[1] + high];
                    let free = others.iter().all(|other| {
                        let other = [other.left(), other.top(), other.right(), other.bottom()]
                            .map(f64::from);
                        moved[2] < other[0]
                            || moved[0] > other[2]
                            || moved[3] < other[1]
                            || moved[1] > other[3]
                    });
                    assert!(
                        !free || touched(&curves, grown(moved)) > 0,
                        "{}: \"{name}\" stands on a line, and {off:?} px off it would not",
                        map.coating
                    );
                }
            }
        }
    }
    assert!(clear >= 8, "{clear} clear, {on_lines} on lines");
}

/// A space with as much around it as words are drawn on.
fn grown([left, top, right, bottom]: [f64; 4]) -> [f64; 4] {
    [left - 8.0, top - 8.0, right + 8.0, bottom + 8.0]
}
