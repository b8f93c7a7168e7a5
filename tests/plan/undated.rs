//! A run without a date is counted as it goes in a week of the maker's hours, as a dated one is.

use crate::common::plan::{close, planned};
use brimful::plan::{Dates, NoDates, Plan, Warning, plan};
use brimful::run::Run;
use brimful::show::{json, text};
use jiff::ToSpan;
use jiff::civil::date;

/// More than its two trays hold at once, in short evenings.
const MANY: &str = r#"
[run]
name = "Many on two trays"
sure = "80 %"
[[piece]]
name = "drop"
count = 120
blank = "disc"
steps = ["seal", "dome", "back"]
[[blank]]
name = "disc"
outline = { round = "25 mm" }
thickness = "4 mm"
porous = true
[[coating]]
name = "glaze"
family = "water-based dome glaze"
bottle = { holds = "60 mL", price = 7.00 }
label = { at = ["23 C", "50 %"], handle = "6 h", recoat = "18 h" }
[[coating]]
name = "sealer"
family = "water-based sealer"
bottle = { holds = "60 mL", price = 7.00 }
label = { at = ["23 C", "50 %"], handle = "2 h", recoat = "30 h" }
[[step]]
name = "seal"
coating = "sealer"
hands_on = "40 s"
coats = 2
[[step]]
name = "dome"
coating = "glaze"
hands_on = "90 s"
[[step]]
name = "back"
hands_on = "60 s"
[room]
temperature = "20 C"
humidity = "50 %"
[[tray]]
size = ["200 mm", "200 mm"]
count = 2
gap = "10 mm"
[hours]
weekdays = ["19:00-21:00"]
weekend = ["10:00-12:00", "14:00-17:00"]
first_run = false
[selling]
currency = "EUR"
stall_fee = 45.00
labour = 14.00
"#;

#[track_caller]
fn with(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "{from}");
    text.replace(from, to)
}

/// The same run begun on each day of a week.
fn begun(text: &str) -> Vec<Plan> {
    let mut run = Run::read(text, "test.toml").unwrap();
    let days = (0..7).map(|day| {
        run.header.start = Some(date(2027, 3, 1).at(0, 0, 0, 0) + day.days());
        plan(&run).unwrap()
    });
    days.collect()
}

fn sittings(plan: &Plan, coating: &str) -> u32 {
    let found = plan.coatings.iter().find(|of| of.name == coating);
    found.unwrap().sittings
}

fn fuller(plan: &Plan) -> Option<u64> {
    plan.warnings.iter().find_map(|warning| match warning {
        Warning::CupboardFuller { most, .. } => Some(*most),
        _ => None,
    })
}

/// Two coats in one wave would be two sittings; two trays take many.
#[test]
fn tools_are_cleaned_as_often_as_in_the_week_that_takes_the_most() {
    let free = planned(MANY);
    let dated = begun(MANY);
    for coating in ["sealer", "glaze"] {
        let most = dated.iter().map(|plan| sittings(plan, coating)).max();
        assert_eq!(sittings(&free, coating), most.unwrap(), "{coating}");
        assert!(most.unwrap() > 4, "{coating}");
    }
    let needed = |plan: &Plan| plan.coatings[1].needed.ml();
    let most = dated.iter().map(needed).fold(0.0, f64::max);
    close(needed(&free), most, 1e-9);
}

/// All hands-on time that the run takes is paid, each piece its share of it.
#[test]
fn all_the_work_that_is_told_is_paid() {
    let free = planned(MANY);
    let hands_on = free.dates.undated().unwrap().hands_on;
    let most = begun(MANY)
        .iter()
        .map(|plan| plan.dates.hands_on().unwrap().h())
        .fold(0.0, f64::max);
    close(hands_on.h(), most, 1e-9);
    let started = f64::from(u32::try_from(free.pieces[0].start).unwrap());
    let labour = free.money.as_ref().unwrap().pieces[0].lines.labour;
    close(labour.time.h() * started, hands_on.h(), 1e-9);
    let json: serde_json::Value = serde_json::from_str(&json::plan(&free).unwrap()).unwrap();
    close(
        json["undated"]["hands_on_h"].as_f64().unwrap(),
        hands_on.h(),
        1e-9,
    );
}

/// A coat of 40 s and 10 min around it go into no spell of 5 min, on whichever day.
#[test]
fn a_run_that_no_week_does_says_why() {
    let short = with(MANY, "[\"19:00-21:00\"]", "[\"19:00-19:05\"]");
    let short = with(
        &short,
        "[\"10:00-12:00\", \"14:00-17:00\"]",
        "[\"10:00-10:05\"]",
    );
    // so few that the trays hold them all
    let free = planned(&with(&short, "count = 120", "count = 20"));
    let Dates::Never(NoDates::TooLong { what, .. }) = &free.dates else {
        panic!("{:?}", free.dates);
    };
    assert!(["seal", "dome"].contains(&what.as_str()), "{what}");
    assert!(free.is_too_late() && !free.can_be_done());
    let told = text::plan(&free);
    assert!(told.contains("no date: even for a single piece"), "{told}");
    // one coat that nobody can tell the time of says so too, and stops nothing
    let cold = planned(&with(MANY, "\"20 C\"", "\"6 C\""));
    assert!(matches!(&cold.dates, Dates::Untold { .. }));
    assert!(!cold.is_too_late());
    let told = text::plan(&cold);
    assert!(told.contains("\nStart     no date: when "), "{told}");
}

/// Whatever day it is begun on, the most that ever lies wet in the cupboard is told.
#[test]
fn a_fuller_cupboard_than_told_is_warned_of_without_a_date() {
    let cupboard = |pieces: u32| {
        with(
            MANY,
            "humidity = \"50 %\"\n[[tray]]",
            &format!(
                "humidity = \"50 %\"\ncupboard = {{ holds = \"8 L\", air_changes = 2, pieces = {pieces} }}\n[[tray]]"
            ),
        )
    };
    let most = begun(&cupboard(1)).iter().filter_map(fuller).max();
    assert!(most.unwrap() > 5, "{most:?}");
    assert_eq!(fuller(&planned(&cupboard(1))), most);
    let most = u32::try_from(most.unwrap()).unwrap();
    let warned = |pieces: u32| {
        // with more pieces it dries slower, so the most may change
        let plan = planned(&cupboard(pieces));
        fuller(&plan).is_some()
    };
    assert!(warned(5));
    assert!(!warned(most.max(300)));
    let told = text::plan(&planned(&cupboard(5)));
    let flat = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("wet pieces are in the cupboard at once, and the file says 5"));
    // half a litre holds no tray
    let small = with(&cupboard(5), "\"8 L\"", "\"0.1 L\"");
    let codes = |plan: Plan| plan.warnings.iter().map(Warning::code).collect::<Vec<_>>();
    assert!(codes(planned(&small)).contains(&"cupboard-too-small"));
}

/// Without trays a piece is taken out of the cupboard when it is dry to handle, not ten days later
/// when it is dry through: mornings of 5 h lay 25 pieces of 10 min, 5 min before and 5 after them.
#[test]
fn pieces_without_trays_leave_the_cupboard_dry_to_handle() {
    let text = r#"
[run]
name = "No trays"
start = 2027-03-01T09:00:00
[[piece]]
name = "drop"
count = 50
blank = "disc"
steps = ["dome"]
[[blank]]
name = "disc"
outline = { round = "25 mm" }
thickness = "4 mm"
[[coating]]
name = "glaze"
family = "water-based dome glaze"
label = { at = ["23 C", "50 %"], handle = "2 h", recoat = "2 h", through = "10 d" }
[[step]]
name = "dome"
coating = "glaze"
hands_on = "10 min"
set_up = "5 min"
clean_up = "5 min"
spoilage = "0 %"
[room]
temperature = "23 C"
humidity = "50 %"
cupboard = { holds = "120 L", air_changes = 2, pieces = 1 }
[hours]
weekdays = ["09:00-14:00"]
weekend = ["09:00-14:00"]
first_run = false
"#;
    let dated = planned(text);
    let calendar = dated.dates.calendar().unwrap();
    let laid = |plan: &Plan| {
        let calendar = plan.dates.calendar().unwrap();
        let mornings = calendar.sittings.iter().map(|one| one.begins.date());
        mornings.collect::<std::collections::BTreeSet<_>>().len()
    };
    assert!(laid(&dated) >= 2);
    for sitting in &calendar.sittings {
        let lifted = sitting.lifted.unwrap();
        assert!(lifted < sitting.next_from, "{lifted}");
        assert_eq!(sitting.leave_until(), lifted);
    }
    // what one morning can lay, of more than twice as many
    let most = fuller(&dated).unwrap();
    assert!(
        most <= 29 && most < dated.pieces[0].start / 2 + 10,
        "{most}"
    );
}

/// Two kinds that never share a sitting each have their own waves, and stock alone makes as much of
/// either as on the day that takes the most.
#[test]
fn stock_alone_is_counted_by_each_kinds_own_waves() {
    let text = with(
        MANY,
        "[[blank]]",
        "[[piece]]\nname = \"pin\"\ncount = 30\nblank = \"disc\"\nsteps = [\"dome\"]\n[[blank]]\nhave = 900",
    );
    let text = text.replace("price = 7.00 }", "price = 7.00, have = 1 }");
    let free = planned(&text);
    let dated = begun(&text);
    for (kind, of) in free.from_stock.iter().enumerate() {
        let least = dated.iter().map(|plan| plan.from_stock[kind].good).min();
        assert!(of.good > 0 && Some(of.good) == least, "{of:?} {least:?}");
        let waves = |plan: &Plan| plan.dates.calendar().unwrap().waves;
        assert!(dated.iter().all(|plan| waves(plan) > 2));
    }
}
