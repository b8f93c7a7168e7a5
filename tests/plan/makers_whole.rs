//! What one part of a plan says against what another does, from the program's JSON.

use crate::common::calendar::said::{ran, with};
use crate::common::calendar::{count, list, moment, number, told};
use serde_json::Value;

const DEMO: &str = include_str!("../../data/demo.toml");

fn codes(plan: &Value) -> Vec<&str> {
    list(&plan["warnings"])
        .iter()
        .map(|warning| warning["code"].as_str().unwrap())
        .collect()
}

/// A tool keeps its share back each time that it is cleaned, so as often as the calendar has a
/// sitting of its coating.
#[test]
fn tools_are_cleaned_as_often_as_the_calendar_says() {
    let plan = told(DEMO);
    for (step, coating) in [("lay print", 0), ("seal", 1), ("dome", 2)] {
        let sat = list(&plan["calendar"]["sittings"])
            .iter()
            .filter(|sitting| sitting["what"] == step)
            .count();
        let coating = &plan["coatings"][coating];
        assert!(sat > 1, "{step}");
        assert_eq!(coating["sittings"], sat, "{step}");
    }
}

/// Each kind is sold by its own share: 60 at 4.50 less 1.9 % by card, and not one of the others.
#[test]
fn each_kind_is_sold_by_its_own_share() {
    let file = with(DEMO, "price = 4.50", "price = 4.50\nsold = \"100 %\"");
    let file = with(&file, "price = 6.50", "price = 6.50\nsold = \"0 %\"");
    let file = with(&file, "seconds = \"60 %\"\n", "");
    let plan = told(&file);
    let kept = 60.0 * 4.50 * (1.0 - 0.019);
    assert!((number(&plan["money"]["left"]["kept"]) - kept).abs() < 1e-6);
    // ten fobs to a shop at 3.60 are told apart
    let fob = number(&plan["money"]["pieces"][1]["variable_cost"]["used"]);
    let shops = number(&plan["money"]["shops"]);
    assert!((shops - 10.0 * (3.60 - fob)).abs() < 1e-6);
}

/// What has to be ordered before the work can begin comes too late; what is not bought is not
/// ordered.
#[test]
fn goods_that_come_after_the_start_are_warned_of() {
    let plan = |start: &str| {
        let told = ran(DEMO, &["--json", "--from", start]).1;
        serde_json::from_str::<Value>(&told).unwrap()
    };
    // six days for the blanks, which are wanted on the first evening
    assert!(codes(&plan("2027-04-05 18:00")).contains(&"order-too-late"));
    let file = with(
        DEMO,
        "have = 12\npack = { of = 25, price = 6.40 }",
        "have = 200\npack = { of = 25, price = 6.40 }",
    );
    let ordered = |plan: &Value| {
        let orders = list(&plan["calendar"]["order_by"]);
        orders.iter().any(|order| order["what"] == "beech disc")
    };
    assert!(ordered(&told(DEMO)) && !ordered(&told(&file)));
}

/// A kind that only one kind of tray holds takes that kind, however the waves begin: a disc of
/// 90 mm lies alone on a tray of 120 mm and on none of 60 mm.
#[test]
fn pieces_take_trays_that_hold_them() {
    let kinds = "name = \"large\"\nsize = [\"120 mm\", \"120 mm\"]\ncount = 2\n\
        [[tray]]\nname = \"small\"\nsize = [\"60 mm\", \"60 mm\"]\ncount = 9\n";
    let old = "name = \"baking tray\"\nsize = [\"300 mm\", \"400 mm\"]\ncount = 6\n";
    let file = with(DEMO, old, kinds);
    let file = with(&file, "{ round = \"38 mm\" }", "{ round = \"90 mm\" }");
    let file = with(&file, "count = 60", "count = 3");
    let file = with(
        &file,
        "{ rectangle = [\"20 mm\", \"50 mm\"], corner = \"3 mm\" }",
        "{ round = \"80 mm\" }",
    );
    let file = with(&file, "count = 40\nblank", "count = 3\nblank");
    let file = with(&file, "count = 10 }", "count = 1 }");
    let plan = told(&file);
    let wet = list(&plan["calendar"]["sittings"]);
    assert!(wet.iter().any(|sitting| count(&sitting["trays"]) > 0));
    for sitting in wet.iter().filter(|sitting| count(&sitting["trays"]) > 0) {
        let pieces: u64 = list(&sitting["pieces"])
            .iter()
            .map(|some| count(&some["count"]))
            .sum();
        assert_eq!(count(&sitting["trays"]), pieces, "{sitting}");
        assert!(pieces <= 2, "{sitting}");
    }
}

/// Where a large bottle is cheaper and bought, pieces bear its price: a hundredth of 21.50 for
/// each 2.5 mL, not of 7.20 for each 0.6 mL.
#[test]
fn pieces_bear_the_price_of_the_bottles_that_are_bought() {
    let plan = told(DEMO);
    let glaze = &plan["coatings"][2];
    assert!((number(&glaze["price"]) - 21.50).abs() < 1e-9);
    let borne: f64 = list(&plan["money"]["pieces"])
        .iter()
        .zip(list(&plan["pieces"]))
        .map(|(money, piece)| {
            let lines = list(&money["started_lines"]);
            let line = lines.iter().find(|line| line["what"] == "dome glaze");
            number(&line.unwrap()["used"]) * number(&piece["start"])
        })
        .sum();
    let needed = number(&glaze["needed_ml"]);
    assert!((borne - needed * 21.50 / 250.0).abs() < 1e-6, "{borne}");
}

/// A piece by itself has no neighbours, however many its tray would hold.
#[test]
fn one_piece_alone_is_not_crowded() {
    let winter = include_str!("../../data/winter.toml");
    let crowded = |file: &str| {
        let plan = told(file);
        let parts = list(&plan["steps"][0]["parts"]).iter();
        let crowding = parts.filter(|part| part["cause"] == "crowding");
        let times: Vec<f64> = crowding.map(|part| number(&part["times"])).collect();
        times[0]
    };
    let full = crowded(&with(winter, "count = 24", "count = 240"));
    let some = crowded(winter);
    let one = crowded(&with(winter, "count = 24", "count = 1"));
    assert!(full > 1.1 && some < 1.1 && some > one, "{full} {some}");
    // its own water is all that its air takes up
    assert!(one < 1.01, "{one}");
}

/// A large tray that its pieces don't fill crowds them less than the small one that they do fill,
/// wherever it stands in the file.
#[test]
fn the_tray_that_crowds_most_counts() {
    let winter = include_str!("../../data/winter.toml");
    let few = with(winter, "count = 24", "count = 3");
    let (before, after) = few.split_once("[[tray]]").unwrap();
    let (baking, rest) = after.split_once("\n[hours]").unwrap();
    let saucer =
        "[[tray]]\nname = \"saucer\"\nsize = [\"105 mm\", \"60 mm\"]\ncount = 2\ngap = \"10 mm\"\n";
    let crowding = |trays: &str| {
        let plan = told(&format!("{before}{trays}\n[hours]{rest}"));
        let parts = list(&plan["steps"][0]["parts"]).iter();
        let mut crowding = parts.filter(|part| part["cause"] == "crowding");
        number(&crowding.next().unwrap()["times"])
    };
    let alone = crowding(saucer);
    assert!(alone > 1.0, "{alone}");
    for trays in [
        format!("{saucer}[[tray]]{baking}"),
        format!("[[tray]]{baking}\n{saucer}"),
    ] {
        assert!(
            (crowding(&trays) - alone).abs() < 1e-12,
            "{}",
            crowding(&trays)
        );
    }
}

/// Fresh air is told in cubic feet where the run is, through all hours of a day too.
#[test]
fn a_box_is_aired_in_cubic_feet_by_night_too() {
    let file = with(
        include_str!("../../data/winter.toml"),
        "sure = \"95 %\"",
        "sure = \"95 %\"\nshow = \"us\"",
    );
    let words = ran(&file, &[]).1;
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains("cubic feet of fresh air a minute"),
        "{words}"
    );
    assert!(!words.contains(" L of fresh air"), "{words}");
}

/// Sittings told together are left until the last of them may be touched, as each has it in the JSON.
#[test]
fn nothing_is_touched_before_the_last_of_those_told_together() {
    let more = with(DEMO, "count = 60", "count = 150");
    let (_, text, _) = ran(&more, &[]);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let plan = told(&more);
    let sittings = list(&plan["calendar"]["sittings"]);
    let mut told_together = 0;
    let follows = |one: &Value, next: &Value| {
        let same = ["what", "coat"].iter().all(|key| one[key] == next[key]);
        same && one["ends"] == next["begins"]
    };
    for span in sittings.chunk_by(follows).filter(|span| span.len() > 1) {
        let latest = span
            .iter()
            .map(|of| moment(&of["next_from"]))
            .max()
            .unwrap();
        if latest > moment(&span[span.len() - 1]["ends"]) {
            told_together += 1;
            let words = latest.strftime(" until %a %-d %b %H:%M").to_string();
            assert!(text.contains(&words), "{words}");
        }
    }
    assert!(told_together > 0, "some are told together");
}

/// 400 tags, 40 ovals and 6 discs that lie one on a tray: six of them are as much as all the trays hold, so waves of as
/// many pieces would have to be as small as six. By what they take of the trays a few waves do.
#[test]
fn large_pieces_make_no_small_waves_of_all_others() {
    let file = r#"
[run]
start = 2027-05-03T18:00:00
ready_by = 2027-06-05T08:00:00
[[piece]]
name = "tag"
count = 400
blank = "tag blank"
steps = ["flood"]
[[piece]]
name = "oval"
count = 40
blank = "oval blank"
steps = ["flood"]
[[piece]]
name = "large"
count = 6
blank = "round blank"
steps = ["flood"]
[[blank]]
name = "tag blank"
outline = { rectangle = ["30 mm", "45 mm"], corner = "3 mm" }
porous = false
[[blank]]
name = "oval blank"
outline = { oval = ["90 mm", "60 mm"] }
porous = false
[[blank]]
name = "round blank"
outline = { round = "200 mm" }
porous = false
[[coating]]
name = "clear"
family = "two-part dome epoxy"
pot_life = "35 min"
pot_life_mass = "100 g"
label = { at = ["23 C", "50 %"], handle = "24 h", recoat = "12 h" }
[[step]]
name = "flood"
coating = "clear"
[room]
temperature = "18 C"
humidity = "60 %"
[[tray]]
size = ["300 mm", "400 mm"]
count = 6
gap = "10 mm"
[hours]
weekdays = ["19:00-21:30"]
weekend = ["10:00-12:00", "14:00-17:00"]
"#;
    let plan = told(file);
    assert_eq!(plan["calendar"]["too_late"], false, "{}", plan["calendar"]);
    // full trays of each kind, one after the other: so many at once at the least
    let pieces = list(&plan["pieces"]).iter();
    let trays: u64 = (pieces.zip(list(&plan["trays"]["per_tray"])))
        .map(|(piece, on_one)| count(&piece["start"]).div_ceil(count(&on_one["pieces"])))
        .sum();
    assert!((15..25).contains(&trays), "{trays}");
    let waves = list(&plan["calendar"]["sittings"]).iter();
    let waves = waves.map(|sitting| count(&sitting["wave"])).max().unwrap();
    assert!(waves >= trays.div_ceil(6) && waves < 20, "{waves}");
}
