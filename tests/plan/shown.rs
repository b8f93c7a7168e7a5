//! What a plan says of stock, money, work, sittings and bubbles, as a maker reads it.

use crate::common::plan::planned;
use brimful::plan::{Dates, Fit, Plan, Task, Warning};
use brimful::quantity::{Show, Units};
use brimful::show::{json, sheet, text, words};

const DEMO: &str = include_str!("../../data/demo.toml");

fn flat(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Tags domed with a moisture-curing resin of which there is one bottle with a date.
fn dated(best_before: &str) -> Plan {
    planned(&format!(
        r#"
[run]
name = "Moist"
ready_by = 2027-01-03T09:00:00
[[piece]]
name = "keyring"
count = 40
blank = "tag"
steps = ["dome", "fit ring"]
[[blank]]
name = "tag"
outline = {{ rectangle = ["25 mm", "40 mm"], corner = "3 mm" }}
porous = false
[[coating]]
name = "resin"
family = "moisture-curing clear"
bottle = {{ holds = "100 mL", price = 9.00, have = 1, best_before = {best_before} }}
[[coating]]
name = "spare varnish"
family = "water-based sealer"
[[supply]]
name = "ring"
have = 100
best_before = {best_before}
[[supply]]
name = "idle bead"
have = 3
[[step]]
name = "dome"
coating = "resin"
[[step]]
name = "fit ring"
needs = "through"
supplies = [{{ name = "ring", per_piece = 1 }}]
[room]
temperature = "17 C"
humidity = "60 %"
[hours]
weekdays = ["19:00-21:00"]
weekend = ["10:00-12:00"]
"#
    ))
}

/// The last day on which the calendar has a step, by walking its sittings.
fn last_day(plan: &Plan, step: &str) -> String {
    let Dates::Told(calendar) = &plan.dates else {
        panic!("no calendar");
    };
    let days = calendar.sittings.iter().filter(|one| one.what == step);
    days.map(|one| one.ends.date()).max().unwrap().to_string()
}

/// Stock is held against the day of its own last use: the resin is used days before the deadline and the
/// rings after it, so a date between the two is past for the rings alone.
#[test]
fn best_before_is_held_against_the_last_use() {
    let plan = dated("2026-12-31");
    let (poured, fitted) = (last_day(&plan, "dome"), last_day(&plan, "fit ring"));
    assert!(poured.as_str() < "2026-12-31" && fitted.as_str() >= "2026-12-31");
    let bottles = plan.coatings[0].bottles.as_ref().unwrap();
    assert_eq!(bottles.buy, 0, "the bottle in stock does");
    let stale: Vec<&Warning> = (plan.warnings.iter())
        .filter(|warning| warning.code() == "stale")
        .collect();
    let [Warning::Stale { what, past, .. }] = stale.as_slice() else {
        panic!("{stale:?}");
    };
    assert_eq!((what.as_str(), past.by_calendar), ("ring", true));
    assert_eq!(past.used_on.to_string(), fitted);
    let told = words::warning(stale[0], plan.header.units);
    assert!(told.contains("the last use is on"), "{told}");
    let all_past = dated(&poured);
    let bottles = all_past.coatings[0].bottles.as_ref().unwrap();
    assert_eq!(bottles.buy, 1, "from its best-before day on it is not used");
    assert!(
        dated("2027-01-04")
            .warnings
            .iter()
            .all(|warning| warning.code() != "stale")
    );
}

/// What nothing uses is warned of, and its defaults are none that the plan leans on.
#[test]
fn unused_things_take_nothing_for_granted() {
    let plan = dated("2027-05-01");
    let idle = |name: &str| {
        let called = plan
            .assumptions
            .iter()
            .map(brimful::run::Assumption::called);
        called.filter(|key| key.starts_with(name)).count()
    };
    assert_eq!([idle("spare varnish"), idle("idle bead")], [0, 0]);
    assert!(idle("resin") > 0);
    assert!(text::plan(&plan).contains("spare varnish: no piece uses it"));
}

/// Discs in two kinds, sold as told.
fn sold(fee: &str, disc: &str, bar: &str) -> Plan {
    planned(&format!(
        r#"
[run]
name = "Sold"
[[piece]]
name = "disc"
count = 40
blank = "round"
steps = ["dome"]
{disc}
[[piece]]
name = "bar"
count = 40
blank = "round"
steps = ["dome"]
{bar}
[[blank]]
name = "round"
outline = {{ round = "30 mm" }}
porous = false
pack = {{ of = 25, price = 6.00 }}
[[coating]]
name = "glaze"
family = "water-based dome glaze"
bottle = {{ holds = "60 mL", price = 7.00 }}
[[step]]
name = "dome"
coating = "glaze"
[room]
temperature = "20 C"
humidity = "50 %"
[selling]
currency = "EUR"
stall_fee = {fee}
"#
    ))
}

#[test]
fn more_than_is_made_is_said_to_be() {
    let plan = sold("400.00", "price = 4.00", "price = 4.00");
    let pieces = plan.money.as_ref().unwrap().shared.as_ref().unwrap().pieces;
    assert!(pieces.unwrap() > 80, "{pieces:?}");
    let said = "more than the 80 that you make";
    assert!(flat(&text::plan(&plan)).contains(said));
    let json = json::plan(&plan).unwrap();
    let value: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(value["money"]["break_even_over_offered"], true);
    assert_eq!(value["money"]["offered"], 80);
    let few = sold("40.00", "price = 4.00", "price = 4.00");
    assert!(!flat(&text::plan(&few)).contains("more than the"));
}

/// One kind without a price hides no loss of the other: what it leaves is what it would leave were the
/// other given away at no cost, reckoned here from the lines of the plan.
#[test]
fn a_kind_without_a_price_hides_no_loss() {
    let plan = sold("90.00", "price = 4.00\nsold = \"50 %\"", "sold = \"100 %\"");
    let money = plan.money.as_ref().unwrap();
    assert_eq!(money.no_price, ["bar"]);
    let left = money.outcome.as_ref().unwrap();
    assert_eq!(left.kinds.len(), 1);
    let each = money.pieces[0].variable.each.used.amount();
    // those that were started to be sure of 40 are paid for too
    #[expect(clippy::cast_precision_loss, reason = "a small count")]
    let made = 40.0 + money.pieces[0].spare as f64;
    let by_hand = 20.0 * 4.0 - made * each - 90.0;
    assert!((left.in_hand.amount() - by_hand).abs() < 1e-6);
    let told = flat(&text::plan(&plan));
    assert!(told.contains("sold as planned, the fair leaves a loss of"));
    assert!(told.contains("bar is not counted in this, for it has no price"));
    assert!(!told.contains("selling.sold"), "each kind says its own");
    let said = sold("90.00", "price = 4.00", "sold = \"100 %\"");
    assert!(flat(&text::plan(&said)).contains("selling.sold = 100 %"));
}

/// The demo's magnets in hundreds: days of work, in many waves.
fn many() -> Plan {
    let more = DEMO.replacen("count = 60", "count = 1200", 1);
    let file: Vec<String> = (more.lines())
        .map(|line| {
            if line.trim_start().starts_with("ready_by") {
                "ready_by = 2027-12-18T09:00:00".to_owned()
            } else {
                line.to_owned()
            }
        })
        .collect();
    planned(&file.join("\n"))
}

#[test]
fn long_work_is_told_in_hours_and_a_file_has_all_of_it() {
    let plan = many();
    let Dates::Told(calendar) = &plan.dates else {
        panic!("{:?}", plan.dates);
    };
    let hours = calendar.hands_on.h();
    assert!(hours > 48.0, "{hours}");
    let [screen, file] = [text::plan(&plan), text::plan_in_full(&plan)].map(|told| flat(&told));
    assert!(file.contains(&format!("{hours:.0} h of work")));
    assert!(!file.contains("days of work"));
    let (_, cut) = screen.split_once("and so on for ").unwrap();
    assert!(
        cut.contains("more sittings; plan.txt has them all"),
        "{cut}"
    );
    assert!(!file.contains("and so on for"));
    assert!(file.len() > screen.len());
    assert!(file.contains("then leave the first wave at least until"));
}

/// By the task, no row stands before one that some of its pieces need first.
#[test]
fn rows_of_work_stand_in_the_order_of_each_kind() {
    let plan = planned(include_str!("../data/many_and_few.toml"));
    let value: serde_json::Value = serde_json::from_str(&json::plan(&plan).unwrap()).unwrap();
    let rows = value["calendar"]["work"].as_array().unwrap();
    let Dates::Told(calendar) = &plan.dates else {
        panic!("no calendar");
    };
    assert!(rows.len() < calendar.sittings.len() / 2, "by the task");
    for kind in plan.pieces.iter().map(|piece| &piece.name) {
        let mut firsts: Vec<(&str, usize)> = Vec::new();
        let own = (rows.iter().enumerate()).filter(|(_, row)| {
            let pieces = row["pieces"].as_array().unwrap();
            pieces.iter().any(|piece| piece["piece"] == kind.as_str())
        });
        for (place, row) in own {
            let what = row["what"].as_str().unwrap();
            if firsts.iter().all(|(known, _)| *known != what) {
                firsts.push((what, place));
            }
        }
        // as the kind itself goes through the steps
        let mut order: Vec<&str> = Vec::new();
        for sitting in &calendar.sittings {
            let is_own = sitting.pieces.iter().any(|(name, _)| name == kind);
            let is_step = matches!(sitting.task, Task::Step { .. } | Task::Look { .. });
            if is_own && is_step && !order.contains(&sitting.what.as_str()) {
                order.push(&sitting.what);
            }
        }
        let told: Vec<&str> = firsts.iter().map(|(what, _)| *what).collect();
        assert_eq!(told, order, "{kind}");
    }
}

/// A pen's time is its label's in any room: that is said in the plan and on its sheet.
#[test]
fn a_pens_time_carries_its_caution() {
    let plan = planned(
        r#"
[run]
name = "drawn"
[[piece]]
name = "fob"
count = 6
blank = "disc"
steps = ["draw"]
[[blank]]
name = "disc"
outline = { round = "20 mm" }
porous = false
[[coating]]
name = "ink"
family = "permanent ink"
[[step]]
name = "draw"
coating = "ink"
[room]
temperature = "12 C"
humidity = "50 %"
"#,
    );
    let said = "give it more in the cold";
    assert!(flat(&text::plan(&plan)).contains(said));
    assert!(sheet::sheet(&plan, &[]).unwrap().contains(said));
    assert!(json::plan(&plan).unwrap().contains("not-worked-out"));
}

/// A second flood coat lies on the first one's solids, so what it may add is less than what an
/// empty piece holds by just those: 50 % of what was poured at 50 % solids.
#[test]
fn limits_of_a_second_flood_coat_are_of_what_it_adds() {
    let plan = planned(
        r#"
[run]
name = "Coasters"
[[piece]]
name = "coaster"
count = 10
blank = "disc"
steps = ["one", "two", "three"]
[[blank]]
name = "disc"
outline = { round = "40 mm" }
porous = false
[[coating]]
name = "glaze"
family = "water-based dome glaze"
solids = "50 %"
[[step]]
name = "one"
coating = "glaze"
fill = { share = "30 %" }
[[step]]
name = "two"
coating = "glaze"
fill = { share = "50 %" }
[[step]]
name = "three"
coating = "glaze"
fill = { share = "20 %" }
[room]
temperature = "20 C"
humidity = "50 %"
"#,
    );
    let [one, two, three] = plan.pieces[0].fills.as_slice() else {
        panic!("three coats")
    };
    let dry = 0.5 * one.poured.ml();
    assert!((two.under.ml() - dry).abs() < 1e-9 * dry);
    let most = two.pour_up_to(two.window.brim.volume).unwrap().ml();
    assert!((most - (one.window.brim.volume.ml() - dry)).abs() < 1e-9 * most);
    // poured so far it stands at half the brim
    assert!((two.poured.ml() + dry - 0.5 * one.window.brim.volume.ml()).abs() < 1e-9 * most);
    let shown = flat(&text::plan(&plan));
    let coat = |name: &str| {
        let from = shown.find(&format!("coaster, {name}: ")).unwrap();
        shown[from..].split(';').nth(1).unwrap().to_owned()
    };
    assert_ne!(coat("one"), coat("two"), "{shown}");
    assert!(shown.contains("of dry coat; "), "{shown}");
    assert!(shown.contains("limits with the"), "{shown}");
    // the sheet's columns are of what the coat adds too
    let told: serde_json::Value = serde_json::from_str(&json::plan(&plan).unwrap()).unwrap();
    let second = &told["pieces"][0]["further_fills"][0];
    assert!((second["pour_most_ml"].as_f64().unwrap() - most).abs() < 1e-9 * most);
    let page = sheet::sheet(&plan, &[]).unwrap();
    assert!(page.contains("/further_fills/0/pour_most_ml\"") && !page.contains("brim_ml"));
    // a coat that adds nothing to those two has their dry coats under it, not what it was asked for
    let dry = dry + 0.5 * two.poured.ml();
    assert!(
        three.fit == Fit::AlreadyFull && three.poured.ml() < 1e-12,
        "{three:?}"
    );
    assert!((three.under.ml() - dry).abs() < 1e-9 * dry, "{three:?}");
    let most = one.window.brim.volume.ml() - dry;
    let third = &told["pieces"][0]["further_fills"][1];
    assert!(
        (third["pour_most_ml"].as_f64().unwrap() - most).abs() < 1e-9 * most,
        "{third}"
    );
    let want = format!(
        "limits with the {} of dry coat",
        three.under.show(Units::Metric)
    );
    assert!(
        shown.contains(&want) && shown.contains("three: pour nothing, it is full"),
        "{shown}"
    );
}
