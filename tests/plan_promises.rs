//! What a plan promises it can keep: goods are there before they are used, what can't be done in time
//! is told with what can, and a coat's last time for the next is held against its first.

mod plan_common;

use brimful::plan::{Dates, Otherwise, Plan, Warning, plan};
use brimful::run::Run;
use brimful::show::sheet::sheet;
use brimful::show::{json, text};
use jiff::civil::{DateTime, date};
use plan_common::planned;

/// Pins that are sealed and slabs that are domed in the label's own air, so that the label's hours
/// hold.
const RUN: &str = r#"
[run]
name = "test"
start = 2027-03-01T08:00:00
[[piece]]
name = "pin"
count = 70
blank = "disc"
steps = ["seal", "bag"]
[[piece]]
name = "slab"
count = 2
blank = "disc"
steps = ["dome", "bag"]
[[blank]]
name = "disc"
outline = { round = "20 mm" }
porous = false
have = 0
pack = { of = 25, price = 6.40 }
[[coating]]
name = "sealer"
family = "water-based sealer"
label = { at = ["23 C", "50 %"], handle = "2 h" }
[[coating]]
name = "glaze"
family = "water-based dome glaze"
label = { at = ["23 C", "50 %"], handle = "24 h", recoat = "24 h" }
[[supply]]
name = "kraft bag"
pack = { of = 100, price = 7.50 }
[[step]]
name = "seal"
coating = "sealer"
hands_on = "20 s"
[[step]]
name = "dome"
coating = "glaze"
hands_on = "50 s"
[[step]]
name = "bag"
hands_on = "15 s"
supplies = [{ name = "kraft bag", per_piece = 1 }]
[room]
temperature = "23 C"
humidity = "50 %"
[hours]
weekdays = ["08:00-20:00"]
weekend = ["08:00-20:00"]
first_run = false
"#;

fn with(file: &str, old: &str, new: &str) -> String {
    assert_eq!(file.matches(old).count(), 1, "{old}");
    file.replace(old, new)
}

/// A page's words without its breaks between lines.
fn flat(page: &str) -> String {
    page.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn at(day: i8, hour: i8) -> DateTime {
    date(2027, 3, day).at(hour, 0, 0, 0)
}

/// Which goods a plan says can't be there for the start that was asked for.
fn late_goods(plan: &Plan) -> Vec<&str> {
    let mut found = Vec::new();
    for warning in &plan.warnings {
        if let Warning::OrderTooLate { what, asked, .. } = warning {
            assert_eq!(*asked, at(1, 8));
            found.push(what.as_str());
        }
    }
    found
}

/// Ordered on the day of the start, blanks that take six days are there six days later.
#[test]
fn work_begins_once_its_goods_are_there() {
    let pack = "pack = { of = 25, price = 6.40 }";
    let slow = with(RUN, pack, &format!("{pack}\ndelivery = \"6 days\""));
    let plan = planned(&slow);
    let calendar = plan.dates.calendar().expect("dates");
    assert_eq!(calendar.start, at(7, 8));
    assert_eq!(calendar.order_by[0].by, date(2027, 3, 1));
    assert_eq!(late_goods(&plan), ["disc"]);
    assert_eq!(plan.header.start, Some(at(1, 8)));
    let shown = flat(&text::plan(&plan));
    let want = "disc: ordered on Mon 1 Mar 2027, the day of the start, it comes on Sun 7 Mar 2027, and \"dome\" begins on Sun 7 Mar 2027 08:00; for that to begin on Mon 1 Mar 2027 08:00, order it by Tue 23 Feb 2027 or find it nearer";
    assert!(shown.contains(want), "{shown}");
    // what is in stock, or comes in no time, is waited for by nobody
    for file in [with(&slow, "have = 0", "have = 200"), RUN.to_owned()] {
        let plan = planned(&file);
        assert_eq!(plan.dates.calendar().expect("dates").start, at(1, 8));
        assert!(late_goods(&plan).is_empty());
    }
}

/// Goods of a later step put the work off no further than that step needs; and no order of any is due
/// before the day of the start.
#[test]
fn goods_of_a_later_step_are_there_before_it() {
    let pack = "pack = { of = 100, price = 7.50 }";
    for days in [1, 9, 30] {
        let file = with(RUN, pack, &format!("{pack}\ndelivery = \"{days} days\""));
        let plan = planned(&file);
        let calendar = plan.dates.calendar().expect("dates");
        let bag = calendar
            .sittings
            .iter()
            .find(|it| it.what == "bag")
            .unwrap();
        let there = at(1, 8)
            .date()
            .checked_add(jiff::ToSpan::days(days))
            .unwrap();
        assert!(bag.begins.date() >= there, "{days}: {}", bag.begins);
        assert_eq!(calendar.start, at(1, 8), "{days}");
        assert!(
            calendar
                .order_by
                .iter()
                .all(|order| order.by >= date(2027, 3, 1))
        );
    }
}

/// A date that comes before the goods is too late, and one well after them is not.
#[test]
fn a_date_before_the_goods_come_is_too_late() {
    let pack = "pack = { of = 25, price = 6.40 }";
    let slow = with(RUN, pack, &format!("{pack}\ndelivery = \"6 days\""));
    let by = |day: i8| {
        let start = "start = 2027-03-01T08:00:00";
        planned(&with(
            &slow,
            start,
            &format!("{start}\nready_by = 2027-03-{day:02}T20:00:00"),
        ))
    };
    let (early, late) = (by(6), by(20));
    assert!(early.is_too_late() && !early.can_be_done());
    // with the goods at hand there is time for all of it, and that is told
    let mut ways = early.still_can.iter();
    let goods = vec![("disc".to_owned(), at(1, 8))];
    let at_hand = ways.find(|can| {
        can.changes
            == [Otherwise::GoodsAtHand {
                goods: goods.clone(),
            }]
    });
    assert_eq!(
        at_hand.map(|can| can.pieces),
        Some(72),
        "{:?}",
        early.still_can
    );
    assert_eq!(late_goods(&early), ["disc"]);
    assert!(!late.is_too_late() && late.can_be_done());
    let calendar = late.dates.calendar().expect("dates");
    assert_eq!(calendar.start, at(7, 8));
}

/// Discs that are sealed first and domed later, with sealer in stock and glaze that takes so many days.
fn sealed_then_domed(start: &str, days: u32, ready_by: &str) -> String {
    let file = RUN.replace(
        "steps = [\"seal\", \"bag\"]",
        "steps = [\"seal\", \"dome\"]",
    );
    let file = file.replace(
        "steps = [\"dome\", \"bag\"]",
        "steps = [\"seal\", \"dome\"]",
    );
    let file = with(&file, "count = 70", "count = 2");
    let file = with(&file, "have = 0\n", "have = 90\n");
    let start = format!("start = {start}\nready_by = {ready_by}");
    let file = with(&file, "start = 2027-03-01T08:00:00", &start);
    let file = with(
        &file,
        "handle = \"2 h\"",
        "handle = \"90 h\", recoat = \"90 h\"",
    );
    let sealer = "family = \"water-based sealer\"\n";
    let stock = "bottle = { holds = \"120 mL\", have = 2, delivery = \"9 days\" }\n";
    let file = with(&file, sealer, &format!("{sealer}{stock}"));
    let glaze = "family = \"water-based dome glaze\"\n";
    let bottle = format!("bottle = {{ holds = \"60 mL\", delivery = \"{days} days\" }}\n");
    with(&file, glaze, &format!("{glaze}{bottle}"))
}

/// When the first sitting of a step begins.
fn begins(plan: &Plan, step: &str) -> DateTime {
    let mut sittings = plan.dates.calendar().expect("dates").sittings.iter();
    sittings.find(|it| it.what == step).expect(step).begins
}

/// A step that takes none of the goods on their way waits for none of them, so a day more of delivery
/// makes a date no less sure that is kept with the step that does.
#[test]
fn only_the_step_that_takes_the_goods_waits_for_them() {
    let mut readies = Vec::new();
    for days in [0, 7, 8, 9] {
        let file = sealed_then_domed("2027-04-03T08:00:00", days, "2027-04-14T20:00:00");
        let file = with(&file, "weekdays = [\"08:00-20:00\"]", "weekdays = []");
        let plan = planned(&file);
        let calendar = plan.dates.calendar().expect("dates");
        assert_eq!(begins(&plan, "seal"), date(2027, 4, 3).at(8, 0, 0, 0));
        // the next weekend after sealing, and no goods before they come
        let dome = if days < 9 { 11 } else { 17 };
        let dome = if days < 8 { 10 } else { dome };
        assert_eq!(begins(&plan, "dome").date(), date(2027, 4, dome), "{days}");
        assert_eq!(plan.is_too_late(), days == 9, "{days}: {calendar:?}");
        let chance = calendar.by.as_ref().and_then(|by| by.chance.as_ref());
        if days < 9 {
            let chance = chance.expect("a chance");
            assert!(chance.ready.fraction() > 0.99, "{days}: {chance:?}");
        }
        let late = plan.warnings.iter().find_map(|warning| match warning {
            Warning::OrderTooLate {
                what, step, begins, ..
            } => Some((what, step, begins)),
            _ => None,
        });
        assert_eq!(late.is_some(), days > 7, "{days}: {late:?}");
        if let Some((what, step, until)) = late {
            assert!(what == "glaze" && step == "dome");
            assert_eq!(*until, begins(&plan, "dome"));
        }
        readies.push(calendar.ready);
    }
    assert!(readies.is_sorted(), "{readies:?}");
}

/// Goods that come the day after a start in the evening lose none of that day's work.
#[test]
fn goods_are_there_from_the_beginning_of_their_day() {
    let pack = "pack = { of = 25, price = 6.40 }";
    let file = with(RUN, pack, &format!("{pack}\ndelivery = \"1 days\""));
    let file = with(&file, "2027-03-01T08:00:00", "2027-03-05T18:30:00");
    assert_eq!(
        planned(&file).dates.calendar().expect("dates").start,
        at(6, 8)
    );
}

/// One kind's blanks are waited for by that kind alone.
#[test]
fn a_kind_waits_for_its_own_blanks() {
    let slab = "count = 2\nblank = ";
    let file = with(RUN, &format!("{slab}\"disc\""), &format!("{slab}\"slate\""));
    let blank = "[[blank]]\nname = \"slate\"\noutline = { round = \"20 mm\" }\nporous = false\ndelivery = \"6 days\"\n";
    let plan = planned(&with(&file, "[[blank]]\n", &format!("{blank}[[blank]]\n")));
    assert_eq!(begins(&plan, "seal"), at(1, 8));
    assert_eq!(begins(&plan, "dome"), at(7, 8));
    assert_eq!(late_goods(&plan), ["slate"]);
}

/// Stock that the calendar finds past its date is ordered and waited for.
#[test]
fn stock_past_its_date_by_the_calendar_is_waited_for() {
    let file = with(
        RUN,
        "steps = [\"dome\", \"bag\"]",
        "steps = [\"dome\", \"seal\"]",
    );
    let file = with(&file, "steps = [\"seal\", \"bag\"]", "steps = [\"bag\"]");
    let family = "family = \"water-based sealer\"\n";
    let stock = "bottle = { holds = \"120 mL\", have = 2, best_before = 2027-03-01, delivery = \"4 days\" }\n";
    let plan = planned(&with(&file, family, &format!("{family}{stock}")));
    assert_eq!(begins(&plan, "dome").date(), date(2027, 3, 1));
    assert_eq!(begins(&plan, "seal"), at(5, 8));
    assert_eq!(late_goods(&plan), ["sealer"]);
}

/// What can still be done waits for the goods too, other than with those at hand or without them.
#[test]
fn no_way_promises_a_date_before_its_goods_come() {
    let file = sealed_then_domed("2027-04-05T08:00:00", 5, "2027-04-09T20:00:00");
    let plan = planned(&file);
    assert!(plan.is_too_late());
    let comes = date(2027, 4, 10).at(0, 0, 0, 0);
    assert!(begins(&plan, "dome") >= comes);
    let mut at_hand = 0;
    for can in &plan.still_can {
        let goods = can.changes.iter().find_map(|change| match change {
            Otherwise::GoodsAtHand { goods } => Some(goods),
            _ => None,
        });
        let bare = |change: &Otherwise| matches!(change, Otherwise::NoDome { .. });
        assert!(goods.is_some() || can.changes.iter().any(bare), "{can:?}");
        for (what, by) in goods.into_iter().flatten() {
            assert!(
                what == "glaze" && *by < can.ready.expect("a date"),
                "{can:?}"
            );
            at_hand += 1;
        }
    }
    assert!(at_hand > 0, "{:?}", plan.still_can);
    let shown = flat(&text::plan(&plan));
    assert!(shown.contains("have glaze at hand by "), "{shown}");
    assert!(
        shown.contains("(ordered sooner or found nearer)"),
        "{shown}"
    );
    // a later date, and the ways to it do not begin before the goods are there
    let later = with(&file, "2027-04-09T20", "2027-04-11T06");
    let plan = planned(&later);
    for can in &plan.still_can {
        let other = |change: &Otherwise| {
            matches!(
                change,
                Otherwise::GoodsAtHand { .. } | Otherwise::NoDome { .. }
            )
        };
        let other = can.changes.iter().any(other);
        assert!(other || can.ready.expect("a date") > comes, "{can:?}");
    }
}

/// Leaving the slow kind out whole saves every piece of the other.
#[test]
fn leaving_one_kind_out_is_tried() {
    let slow = with(
        RUN,
        "handle = \"24 h\", recoat = \"24 h\"",
        "handle = \"900 h\"",
    );
    let start = "start = 2027-03-01T08:00:00";
    let slow = with(
        &slow,
        start,
        &format!("{start}\nready_by = 2027-03-05T20:00:00"),
    );
    let plan = planned(&slow);
    assert!(plan.is_too_late());
    let mut ways = plan.still_can.iter();
    let left_out = ways.find_map(|can| match can.changes.as_slice() {
        [Otherwise::LeaveOut { name, .. }] => Some((name.as_str(), can.pieces, can.ready)),
        _ => None,
    });
    let (name, pieces, ready) = left_out.expect("a kind to leave out");
    assert_eq!((name, pieces), ("slab", 70));
    assert!(ready.expect("a date") <= at(5, 20));
    let shown = flat(&text::plan(&plan));
    assert!(shown.contains("70 of 72 pieces, likely by"), "{shown}");
    assert!(
        shown.contains("leave out slab and make all the others"),
        "{shown}"
    );
}

/// Where nothing that is tried helps, that is said.
#[test]
fn that_nothing_can_be_done_is_said() {
    let start = "start = 2027-03-01T08:00:00";
    let slow = with(
        RUN,
        "handle = \"24 h\", recoat = \"24 h\"",
        "handle = \"900 h\"",
    );
    let slow = with(&slow, "\"seal\", \"bag\"", "\"dome\", \"bag\"");
    let slow = slow.replace("steps = [\"dome\", \"bag\"]", "steps = [\"dome\"]");
    let late = with(
        &slow,
        start,
        &format!("{start}\nready_by = 2027-03-05T20:00:00"),
    );
    let said = "nothing that was tried has a single piece ready in time";
    let papers = |file: &str| {
        let plan = planned(file);
        let [told, paper] = [text::plan(&plan), sheet(&plan, &[]).unwrap()].map(|it| flat(&it));
        let all = json::plan(&plan).unwrap();
        let all: serde_json::Value = serde_json::from_str(&all).unwrap();
        (plan, told, paper, all)
    };
    let (plan, told, paper, all) = papers(&late);
    assert!(
        plan.is_too_late() && plan.still_can.is_empty(),
        "{:?}",
        plan.still_can
    );
    assert!(told.contains(said) && paper.contains(said), "{told}");
    assert!(all["nothing_can"].as_str().unwrap().starts_with(said));
    // nor where it is in time
    let (plan, told, paper, all) = papers(&slow);
    assert!(!plan.is_too_late() && !told.contains(said) && !paper.contains(said));
    assert!(all.get("nothing_can").is_none());
}

/// In a cold damp room a coat takes the next later, and its label's latest stays where it is.
#[test]
fn a_label_whose_window_is_shut_here_is_told() {
    let twice = with(
        RUN,
        "steps = [\"dome\", \"bag\"]",
        "steps = [\"dome\", \"again\"]",
    );
    let twice = with(
        &twice,
        "[[step]]\nname = \"bag\"",
        "[[step]]\nname = \"again\"\ncoating = \"glaze\"\nfill = { share = \"90 %\" }\n[[step]]\nname = \"bag\"",
    );
    let label = "recoat = \"24 h\", recoat_until = \"30 h\"";
    let window = |file: &str| {
        let plan = planned(file);
        let shut: Vec<(String, f64, f64)> = (plan.warnings.iter())
            .filter_map(|warning| match warning {
                Warning::NoRecoatWindow { step, until, from } => {
                    Some((step.clone(), until.h(), from.h()))
                }
                _ => None,
            })
            .collect();
        let late = |warning: &&Warning| matches!(warning, Warning::PastRecoat { step, .. } if step == "dome");
        let both = plan.warnings.iter().any(|it| late(&it)) && !shut.is_empty();
        assert!(!both, "{:?}", plan.warnings);
        (shut, flat(&text::plan(&plan)))
    };
    let here = with(&twice, "recoat = \"24 h\"", label);
    let (shut, shown) = window(&here);
    assert!(
        shut.is_empty() && !shown.contains("there is no time for one"),
        "{shut:?}"
    );
    let cold = with(&here, "temperature = \"23 C\"", "temperature = \"15 C\"");
    let (shut, shown) = window(&with(&cold, "humidity = \"50 %\"", "humidity = \"70 %\""));
    let [(step, until, from)] = shut.as_slice() else {
        panic!("{shut:?}");
    };
    // the label's own 30 h at the most, and more than that until it takes one
    assert!(step == "dome" && *until <= 30.0 && from > until, "{shut:?}");
    assert!(shown.contains("there is no time for one"), "{shown}");
    // it gets hard first, to be sanded, as the warning has it
    let plan = planned(&with(&cold, "humidity = \"50 %\"", "humidity = \"70 %\""));
    let Dates::Told(calendar) = &plan.dates else {
        panic!("{:?}", plan.dates);
    };
    let dome = plan.steps.iter().find(|step| step.name == "dome").unwrap();
    let hard = dome
        .drying
        .timed()
        .unwrap()
        .handled()
        .unwrap()
        .here
        .unwrap();
    for booked in calendar.sittings.iter().filter(|it| it.what == "dome") {
        let waits = booked.next_from.duration_since(booked.ends).as_secs_f64();
        assert!(waits >= hard.likely.s() - 60.0, "{booked:?} {hard:?}");
    }
    // with no further coat no window is wanted
    let once = with(RUN, "recoat = \"24 h\"", label);
    let cold = with(&once, "temperature = \"23 C\"", "temperature = \"15 C\"");
    assert!(window(&cold).0.is_empty());
}

/// The times of other days of a record, and no time on the middle one, are not told of one coat: both
/// go by the same air. Resin goes by its mean (no time is promised below 15 °C).
#[test]
fn a_middle_day_that_has_no_time_is_told_with_none() {
    let epoxy = RUN.replace("water-based dome glaze", "two-part dome epoxy");
    let epoxy = with(
        &epoxy,
        "handle = \"24 h\", recoat = \"24 h\"",
        "handle = \"24 h\"",
    );
    let room = "temperature = \"23 C\"\nhumidity = \"50 %\"";
    let file = with(&epoxy, room, "logger = \"room.csv\"");
    let mut told = [0, 0];
    for mean in [12.0, 14.0, 15.5, 18.0] {
        let lines: Vec<String> = (0..14 * 24)
            .map(|hour| {
                let turn = std::f64::consts::TAU * f64::from(hour - 9) / 24.0;
                let celsius = 3.0f64.mul_add(turn.sin(), mean);
                let (day, hour) = (1 + hour / 24, hour % 24);
                format!("2027-03-{day:02} {hour:02}:00,{celsius:.1},60\n")
            })
            .collect();
        let record = format!("Time,Temperature (C),Humidity (%)\n{}", lines.concat());
        let run = Run::read_with(&file, "test.toml", &|_| Ok(record.clone().into_bytes()));
        let plan = plan(&run.unwrap_or_else(|faults| panic!("{faults}"))).unwrap();
        let step = plan.steps.iter().find(|step| step.name == "dome").unwrap();
        let timed = step.drying.timed().unwrap();
        let days = timed.days.expect("a record");
        let stage = timed
            .stages
            .iter()
            .find(|told| told.stage == days.stage)
            .unwrap();
        assert_eq!(
            days.middle.is_some(),
            stage.here.is_some(),
            "{mean}: {days:?}"
        );
        told[usize::from(days.middle.is_some())] += 1;
    }
    assert!(told[0] > 0 && told[1] > 0, "{told:?}");
}
