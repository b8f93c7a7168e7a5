//! What a run file leans on where it leaves something out, and the template that shows what it may hold.

use crate::common::run::{assumed, mm, percent, read, short, span};
use brimful::quantity::{Money, Share, Time};
use brimful::run::{Run, Stuff};

const TEMPLATE: &str = include_str!("../../data/template.toml");

#[test]
fn a_run_without_hours_leans_on_evenings_and_weekends() {
    let run = read(&short(""));
    let evening = vec![span((19, 0), (21, 0))];
    let day = vec![span((10, 0), (12, 0)), span((14, 0), (17, 0))];
    let [weekdays @ .., saturday, sunday] = &run.hours.days;
    assert!(weekdays.iter().all(|day| *day == evening));
    assert_eq!([saturday, sunday], [&day; 2]);
    assert_eq!(run.hours.awake, span((7, 0), (22, 30)));
    assert!(run.hours.off.is_empty() && !run.hours.first_run);
    let told = [
        ("hours.weekdays", "19:00-21:00"),
        ("hours.weekend", "10:00-12:00 and 14:00-17:00"),
        ("hours.awake", "07:00-22:30"),
        ("hours.first_run", "false"),
    ];
    for (key, value) in told {
        assert_eq!(assumed(&run, key), Some(value));
    }
    // nothing else is made up for one who does not ask for it
    assert_eq!((run.header.start, run.header.seed), (None, 1));
    assert!(run.trays.is_empty() && run.shelves.is_empty() && run.supplies.is_empty());
    assert!(run.inspection.is_none() && run.selling.is_none());
}

#[test]
fn with_hours_a_day_not_given_is_free() {
    let run = read(&short(
        "[hours]\nsaturday = [\"9:00 – 12:00\", \"13:00-24:00\"]\nawake = \"00:00-24:00\"",
    ));
    let [others @ .., saturday, sunday] = &run.hours.days;
    assert!(others.iter().all(Vec::is_empty) && sunday.is_empty());
    assert_eq!(*saturday, [span((9, 0), (12, 0)), span((13, 0), (24, 0))]);
    assert_eq!(assumed(&run, "hours.first_run"), Some("false"));
    assert_eq!(assumed(&run, "hours.awake"), None);
    let run = read(&short("[hours]\nweekdays = [\"18:30-21:30\"]"));
    assert_eq!(assumed(&run, "hours.awake"), Some("07:00-22:30"));
    assert_eq!(run.hours.awake, span((7, 0), (22, 30)));
}

#[test]
fn the_only_tray_needs_no_name_and_leans_on_defaults() {
    let text = "[[tray]]\nsize = [\"12 in\", \"16 in\"]\nlid = { height = \"30 mm\" }\n[[shelf]]\nsize = [\"800 mm\", \"400 mm\"]";
    let run = read(&short(text));
    let (tray, shelf) = (&run.trays[0], &run.shelves[0]);
    assert_eq!((tray.name.as_str(), shelf.name.as_str()), ("tray", "shelf"));
    assert_eq!(
        [tray.gap, tray.margin, tray.magnet_gap],
        [10.0, 10.0, 40.0].map(mm)
    );
    assert_eq!((tray.count, shelf.count, shelf.levels), (1, 1, 1));
    let lid = tray.lid.unwrap();
    assert!((lid.air_changes.per_h() - 0.5).abs() < 1e-12 && lid.count.is_none());
    let told = [
        ("tray[0].gap", "10 mm"),
        ("tray[0].margin", "10 mm"),
        ("tray[0].count", "1"),
        ("tray[0].lid.air_changes", "0.5"),
        ("shelf[0].count", "1"),
        ("shelf[0].levels", "1"),
    ];
    for (key, value) in told {
        assert_eq!(assumed(&run, key), Some(value));
    }
    // no piece of it is a magnet, so how far apart two are is not leaned on
    assert_eq!(assumed(&run, "tray[0].magnet_gap"), None);
}

#[test]
fn magnets_lie_forty_millimetres_apart_or_as_far_as_other_pieces() {
    for (gap, apart, told) in [("5 mm", 40.0, "40 mm"), ("2 in", 50.8, "50.8 mm")] {
        let tray = format!("[[tray]]\nsize = [\"300 mm\", \"400 mm\"]\ngap = \"{gap}\"");
        let run = read(&short(&tray).replace("count = 30", "count = 30\nmagnet = true"));
        assert_eq!(run.trays[0].magnet_gap, mm(apart));
        assert_eq!(assumed(&run, "tray[0].magnet_gap"), Some(told));
        assert_eq!(run.trays[0].margin, run.trays[0].gap);
    }
}

/// The floor of their quotient, a whole number of times also where binary fractions fall short of it.
#[test]
fn levels_are_as_many_pitches_as_a_height_holds() {
    let levels = |height: &str, pitch: &str| {
        let text = format!(
            "[[tray]]\nsize = [\"300 mm\", \"400 mm\"]\n[[shelf]]\nsize = [\"800 mm\", \"400 mm\"]\nheight = \"{height}\"\n{pitch}"
        );
        let run = read(&short(&text));
        (
            run.shelves[0].levels,
            assumed(&run, "shelf[0].pitch").map(str::to_owned),
        )
    };
    let hundred = Some("100 mm".to_owned());
    assert_eq!(levels("1.2 m", ""), (12, hundred.clone()));
    assert_eq!(levels("119 cm", ""), (11, hundred.clone()));
    assert_eq!(levels("100 mm", ""), (1, hundred));
    assert_eq!(levels("0.3 m", "pitch = \"0.1 m\""), (3, None));
    assert_eq!(levels("6 ft", "pitch = \"4 in\""), (18, None));
    assert_eq!(levels("10 m", "pitch = \"10 mm\""), (1000, None));
}

#[test]
fn supplies_and_sheets_lean_on_defaults() {
    let text = "[[supply]]\nname = \"card\"\nsheet = [\"148 mm\", \"210 mm\"]\n[[supply]]\nname = \"cord\"\nspool = \"10 m\"\n[[supply]]\nname = \"ring\"";
    let run = read(&short(text));
    let Stuff::Sheet {
        margin, gap, have, ..
    } = run.supplies[0].stuff
    else {
        panic!("{:?}", run.supplies[0])
    };
    assert_eq!((margin, gap, have), (mm(5.0), mm(2.0), 0));
    let told = [
        ("supply[0].margin", "5 mm"),
        ("supply[0].gap", "2 mm"),
        ("supply[0].have", "0"),
        ("supply[1].have", "none"),
        ("supply[2].have", "0"),
        ("supply[2].spares", "0 %"),
    ];
    for (key, value) in told {
        assert_eq!(assumed(&run, key), Some(value));
    }
    assert!(
        run.supplies
            .iter()
            .all(|supply| supply.spares == Share::ZERO)
    );
}

#[test]
fn inspection_leans_on_defaults() {
    let run = read(&short("[inspect]"));
    let look = run.inspection.unwrap();
    assert_eq!(
        (look.hands_on, look.again_after),
        (Time::from_s(10.0), Time::from_h(48.0))
    );
    assert_eq!((look.late, look.seconds), (Share::ZERO, Share::ZERO));
    let told = [
        ("hands_on", "10 s"),
        ("again_after", "48 h"),
        ("late", "0 %"),
        ("seconds", "0 %"),
    ];
    for (key, value) in told {
        assert_eq!(assumed(&run, &format!("inspect.{key}")), Some(value));
    }
}

#[test]
fn selling_leans_on_defaults() {
    let run = read(&short("[selling]\ncurrency = \"£\""));
    let selling = run.selling.as_ref().unwrap();
    assert_eq!(selling.currency, "£");
    assert!(selling.fees.is_empty() && selling.kit.is_empty() && !selling.stall_paid);
    assert_eq!(
        (selling.at_stall, selling.labour, selling.seconds),
        (None, None, None)
    );
    assert_eq!(
        (selling.card_fee, selling.sales_tax),
        (Share::ZERO, Share::ZERO)
    );
    assert_eq!(
        (selling.sold, selling.sale_fee),
        (percent(100.0), Money::ZERO)
    );
    assert!((selling.pieces_per_sale - 1.0).abs() < 1e-12);
    let told = [
        ("stall_fee", "0"),
        ("card_fee", "0 %"),
        ("sale_fee", "0"),
        ("pieces_per_sale", "1"),
        ("sales_tax", "0 %"),
        ("sold", "100 %"),
    ];
    for (key, value) in told {
        assert_eq!(assumed(&run, &format!("selling.{key}")), Some(value));
    }
    // without hours at the stall, whether they are paid is not leaned on
    assert_eq!(assumed(&run, "selling.stall_paid"), None);
    let run = read(&short("[selling]\ncurrency = \"kr\"\nat_stall = \"6 h\""));
    assert_eq!(assumed(&run, "selling.stall_paid"), Some("false"));
}

#[test]
fn a_supply_that_is_wrong_in_itself_is_told_once() {
    let text = "[[supply]]\nname = \"cord\"\nspool = \"ten metres\"";
    let text = short(text).replace(
        "name = \"cut\"",
        "name = \"cut\"\nsupplies = [{ name = \"cord\", per_piece = \"45 cm\" }]",
    );
    let faults = Run::read(&text, "run.toml").unwrap_err();
    let keys: Vec<&str> = faults.as_slice().iter().map(|it| it.key.as_str()).collect();
    assert_eq!(keys, ["supply[0].spool"]);
}

/// The template's text with the tables that it only shows, each line of them behind `# `, taken in; and how
/// many there are.
fn with_shown_tables() -> (String, usize) {
    let (mut text, mut tables, mut inside) = (String::new(), 0, false);
    for line in TEMPLATE.lines() {
        let shown = line.strip_prefix("# ");
        let begins = shown.is_some_and(|shown| shown.starts_with('['));
        inside = begins || (inside && shown.is_some());
        tables += usize::from(begins);
        text += shown.filter(|_| inside).unwrap_or(line);
        text += "\n";
    }
    (text, tables)
}

#[test]
fn every_line_that_the_template_shows_can_be_taken_in() {
    let (text, tables) = with_shown_tables();
    let run = read(&text);
    assert_eq!((tables, run.supplies.len(), run.shelves.len()), (8, 3, 1));
    assert!(run.inspection.is_some() && run.selling.is_some());
    // those that take another beside them, or stand in another's stead
    let not_alone = ["pour", "logger", "weather", "month", "heated"];
    let lines: Vec<&str> = text.lines().collect();
    let mut taken = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        let Some((key, _)) = line
            .strip_prefix("# ")
            .and_then(|shown| shown.split_once(" = "))
        else {
            continue;
        };
        if key.contains(' ') || not_alone.contains(&key) {
            continue;
        }
        let mut changed = lines.clone();
        changed[at] = &line[2..];
        if let Err(faults) = Run::read(&changed.join("\n"), "template.toml") {
            panic!("{line}\n{faults}");
        }
        taken.push(key);
    }
    let expected = [
        "start",
        "seed",
        "magnet",
        "price",
        "sold",
        "wholesale",
        "edge",
        "wall",
        "holes",
        "bad",
        "have",
        "pack",
        "delivery",
        "bottle",
        "label",
        "also_sold",
        "wet_film",
        "hands_on",
        "set_up",
        "clean_up",
        "spoilage",
        "supplies",
        "faces",
        "sides",
        "night",
        "cupboard",
        "margin",
        "magnet_gap",
        "lid",
        "monday",
        "off",
    ];
    assert_eq!(taken, expected);
}
