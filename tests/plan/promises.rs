//! What a plan promises it can keep: what can't be done in time is told with what can, and a coat's
//! last time for the next is held against its first.

use crate::common::calendar::said::{flat, with};
use crate::common::plan::planned;
use crate::common::promises::RUN;
use brimful::plan::{Dates, Otherwise, Plan, StillCan, Warning, plan};
use brimful::run::Run;
use brimful::show::sheet::sheet;
use brimful::show::{json, text};
use jiff::civil::{DateTime, date};

/// The run with slabs that are not dry to handle for five weeks.
fn with_slow_slabs() -> String {
    with(
        RUN,
        "handle = \"24 h\", recoat = \"24 h\"",
        "handle = \"900 h\"",
    )
}

/// Leaving the slow kind out whole saves every piece of the other.
#[test]
fn leaving_one_kind_out_is_tried() {
    let slow = with_slow_slabs();
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
    assert!(ready.expect("a date") <= date(2027, 3, 5).at(20, 0, 0, 0));
    let shown = flat(&text::plan(&plan));
    assert!(shown.contains("70 of 72 pieces, likely by"), "{shown}");
    assert!(
        shown.contains("leave out slab and make all the others"),
        "{shown}"
    );
}

/// What can likely still be done may be less often in time than not, and says so: no more often than the run
/// so changed, planned by itself.
#[test]
fn what_can_still_be_done_tells_how_often_it_is_in_time() {
    let slow = with_slow_slabs();
    let start = "start = 2027-03-01T08:00:00";
    let by = |file: &str, at: DateTime| with(file, start, &format!("{start}\nready_by = {at}"));
    let left_out = |plan: &Plan| {
        let is = |can: &&StillCan| matches!(can.changes[..], [Otherwise::LeaveOut { .. }]);
        let can = plan.still_can.iter().find(is).expect("a kind to leave out");
        (can.ready.unwrap(), can.chance.unwrap())
    };
    let (ready, often) = left_out(&planned(&by(&slow, date(2027, 3, 5).at(20, 0, 0, 0))));
    assert!(often.fraction() > 0.9, "{often:?}");
    // by the very minute at which it is likely ready
    let plan = planned(&by(&slow, ready));
    let (again, chance) = left_out(&plan);
    assert_eq!(again, ready);
    assert!((0.1..0.9).contains(&chance.fraction()), "{chance:?}");
    let shown = flat(&text::plan(&plan));
    assert!(shown.contains("(in time "), "{shown}");
    let slab =
        "[[piece]]\nname = \"slab\"\ncount = 2\nblank = \"disc\"\nsteps = [\"dome\", \"bag\"]\n";
    let alone = planned(&by(&with(&slow, slab, ""), ready));
    let own = alone.dates.calendar().unwrap().by.as_ref().unwrap();
    let own = own.chance.as_ref().unwrap().ready;
    assert!(
        own.fraction() >= chance.fraction() - 1e-9,
        "{own:?} {chance:?}"
    );
    assert!(
        own.fraction() < chance.fraction() + 0.3,
        "{own:?} {chance:?}"
    );
}

/// Where one kind is the trouble as many of it are made as can be, and all of the others; and each way that makes fewer
/// pieces says which.
#[test]
fn fewer_of_one_kind_are_tried() {
    // 600 beads by hand, five minutes each, are 50 hours, and four days of twelve have 48
    let beads = "[[piece]]\nname = \"bead\"\ncount = 600\nblank = \"disc\"\nsteps = [\"string\"]\n[[step]]\nname = \"string\"\nhands_on = \"5 min\"\nspoilage = \"0 %\"\n";
    let start = "start = 2027-03-01T08:00:00";
    let file = |beads: &str| {
        let file = format!("{RUN}{beads}");
        with(
            &file,
            start,
            &format!("{start}\nready_by = 2027-03-04T20:00:00"),
        )
    };
    assert!(!planned(&file("")).is_too_late());
    let plan = planned(&file(beads));
    assert!(plan.is_too_late());
    let mut ways = plan.still_can.iter();
    let few = ways.find_map(|can| match can.changes.as_slice() {
        [Otherwise::FewerOf { left, .. }] => Some((*left, can)),
        _ => None,
    });
    let (left, can) = few.expect("fewer beads");
    assert!((1..600).contains(&left));
    assert_eq!(can.pieces, u64::from(left) + 72);
    let kinds: u64 = can.kinds.iter().map(|(_, count)| count).sum();
    assert_eq!((can.kinds.len(), kinds), (3, can.pieces));
    // as many as can be, to about a hundredth: so many are in time, and a few more too late
    let of = |count: u32| {
        planned(&file(&with(
            beads,
            "count = 600",
            &format!("count = {count}"),
        )))
    };
    assert!(!of(left).is_too_late() && of(left + 6).is_too_late());
    let shown = flat(&text::plan(&plan));
    assert!(
        shown.contains(&format!("make {left} of bead and all the others")),
        "{shown}"
    );
    // all kinds cut alike
    let mut ways = plan.still_can.iter();
    let alike = ways.find(|can| can.changes.is_empty()).expect("fewer");
    let each: Vec<String> = (alike.kinds.iter())
        .map(|(name, count)| format!("{count} × {name}"))
        .collect();
    let (last, first) = each.split_last().expect("some");
    let each = format!("{} and {last}", first.join(", "));
    let said = format!("{} of 672 pieces ({each})", alike.pieces);
    assert!(shown.contains(&said), "{said} in {shown}");
}

/// What can still be done is done about the date alone: a sheet that nothing fits on stops the run all the same.
#[test]
fn what_else_stops_the_run_is_said_with_what_can_be_done() {
    let slow = with_slow_slabs();
    let start = "start = 2027-03-01T08:00:00";
    let slow = with(
        &slow,
        start,
        &format!("{start}\nready_by = 2027-03-05T20:00:00"),
    );
    let felt = "[[supply]]\nname = \"felt\"\nsheet = [\"20 mm\", \"25 mm\"]\n[[step]]\nname = \"seal\"\nsupplies = [{ name = \"felt\", bleed = \"0 mm\" }]";
    let with_felt = with(&slow, "[[step]]\nname = \"seal\"", felt);
    let said = "Can these mend the date alone: what fits on no sheet still does not";
    assert!(flat(&text::plan(&planned(&with_felt))).contains(said));
    assert!(!flat(&text::plan(&planned(&slow))).contains("mend the date alone"));
}

/// A kind that has no step but the dome keeps it where the others leave it out.
#[test]
fn a_kind_of_a_dome_alone_keeps_it() {
    let fobs =
        "[[piece]]\nname = \"fob\"\ncount = 2\nblank = \"disc\"\nsteps = [\"dome\"]\n[[blank]]";
    // 1500 slabs at 50 s are 21 hours of pouring, and 28 of work are left
    let slabs = with(
        RUN,
        "count = 2\nblank = \"disc\"\nsteps = [\"dome\", \"bag\"]",
        "count = 1500\nblank = \"disc\"\nsteps = [\"dome\", \"bag\"]",
    );
    let start = "start = 2027-03-01T08:00:00";
    let file = with(
        &with(&slabs, "[[blank]]", fobs),
        start,
        &format!("{start}\nready_by = 2027-03-03T12:00:00"),
    );
    let plan = planned(&file);
    let ways = plan.still_can.iter().flat_map(|can| &can.changes);
    let but: Vec<_> = ways
        .filter_map(|change| match change {
            Otherwise::NoDome { but, .. } => Some(but.join(",")),
            _ => None,
        })
        .collect();
    assert!(
        !but.is_empty() && but.iter().all(|kinds| kinds == "fob"),
        "{:?}",
        plan.still_can
    );
    assert!(flat(&text::plan(&plan)).contains("and have no dome but on fob"));
}

/// Where nothing that is tried helps, that is said.
#[test]
fn that_nothing_can_be_done_is_said() {
    let start = "start = 2027-03-01T08:00:00";
    let slow = with_slow_slabs();
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
