//! Situations that makers report about what a run takes, from a run file to the answer.
//! All of the runs are invented.

use std::fs;

use crate::common::plan::{close, planned};
use assert_cmd::Command;
use brimful::plan::{Dates, Plan, Stale, Stuff, SupplyPlan, Warning};
use brimful::quantity::Length;
use brimful::show::text;
use brimful::space::How;
use jiff::civil::{Date, date};
use serde_json::Value;

const ROOM: &str = "[room]\ntemperature = \"20 C\"\nhumidity = \"50 %\"\n";

/// A run of one kind of piece of which none is lost, with steps and supplies to choose.
fn run(count: u32, steps: &str, rest: &str) -> String {
    format!(
        r#"
[[piece]]
name = "tile"
count = {count}
blank = "square"
steps = [{steps}]
[[blank]]
name = "square"
outline = {{ rectangle = ["40 mm", "40 mm"] }}
porous = false
bad = "0 %"
have = 50
{rest}{ROOM}"#
    )
}

/// The program's words and its JSON for a run; its sentences unwrapped.
fn told(text: &str) -> (String, Value) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("run.toml");
    fs::write(&file, text).unwrap();
    let said = |more: &[&str]| {
        let mut program = Command::cargo_bin("brimful").unwrap();
        let done = program.arg("plan").arg(&file).args(more).output().unwrap();
        let err = String::from_utf8(done.stderr).unwrap();
        assert_eq!((done.status.code(), err.as_str()), (Some(0), ""));
        String::from_utf8(done.stdout).unwrap()
    };
    let words = said(&[]).split_whitespace().collect::<Vec<_>>().join(" ");
    (words, serde_json::from_str(&said(&["--json"])).unwrap())
}

/// Case C05: 437 mL used against 237 mL planned. By hand: 30 tiles of 7.9 cm2 x 10 cm under
/// two coats of 0.5 mm are 237 mL; 30 % drips make that 338.57 mL poured, two sittings leave
/// 15 mL each in the brush, and 15.66 % of what is drawn stays in bottles: 437.0 mL.
#[test]
fn what_was_used_beyond_the_plan_has_its_own_lines() {
    let text = r#"
[[piece]]
name = "tile"
count = 30
blank = "slab"
steps = ["level"]
[[blank]]
name = "slab"
outline = { rectangle = ["79 mm", "100 mm"] }
porous = false
bad = "0 %"
[[coating]]
name = "film"
family = "water-based sealer"
drips = "30 %"
tool = "15 mL"
heel = "15.66 %"
scatter = "0 %"
bias = "0 %"
bottle = { holds = "120 mL" }
[[step]]
name = "level"
coating = "film"
wet_film = "0.5 mm"
coats = 2
spoilage = "0 %"
"#;
    let (words, json) = told(&format!("{text}{ROOM}"));
    let film = &json["coatings"][0];
    let line = |key: &str| film["lines"][key].as_f64().unwrap();
    close(line("on_pieces_ml"), 237.0, 1e-9);
    close(line("drips_ml"), 237.0 * 0.3 / 0.7, 1e-9);
    close(line("tool_ml"), 30.0, 1e-9);
    let mix_now = 237.0 / 0.7 + 30.0;
    close(line("heel_ml"), mix_now * 0.1566 / 0.8434, 1e-9);
    // printed to the millilitre by the maker
    assert!((film["needed_ml"].as_f64().unwrap() - 437.0).abs() < 0.5);
    // 437 mL from bottles of 120 mL
    assert_eq!(film["bottles"], 4);
    for said in [
        "film: 237 mL on the pieces + 102 mL drips + 30 mL in the tool (2 sittings)",
        "left in bottles = 437 mL",
        "mix or pour out 369 mL",
        "4 bottles of film (120 mL)",
    ] {
        assert!(words.contains(said), "{said}: {words}");
    }
}

/// Case C14: on a scale that reads whole grams 3 g may be a third out. A reading is out by
/// half a gram at most, and each part of a mix 1:1 should be within a twentieth: 10 g of each.
#[test]
fn the_smallest_mix_worth_weighing_is_told() {
    let rest = r#"
[[coating]]
name = "resin"
family = "two-part dome epoxy"
volume_ratio = "1:1"
density_a = "1.1 g/mL"
density_b = "1.1 g/mL"
pot_life = "40 min"
[[step]]
name = "dome"
coating = "resin"
spoilage = "0 %"
"#;
    let (words, json) = told(&run(3, "\"dome\"", rest));
    let least = &json["coatings"][0]["mix"]["cups"]["least"];
    let on = |scale: f64| {
        let all = least.as_array().unwrap().iter();
        let mut on = all.filter(|least| least["scale_g"] == scale);
        on.next().unwrap()["mix_g"].as_f64().unwrap()
    };
    close(on(1.0), 20.0, 1e-9);
    close(on(0.1), 2.0, 1e-9);
    assert!(on(1.0) > 3.0);
    assert!(
        words.contains("smallest mix worth weighing: 20 g on a scale that reads 1 g"),
        "{words}"
    );
}

/// The chance of fewer than `wanted` of `tried`, each with chance `p`: piece after piece, none
/// of our code and no factorials.
fn falls_short(tried: u64, wanted: usize, p: f64) -> f64 {
    let mut chances = vec![1.0];
    for _ in 0..tried {
        let mut next = vec![0.0; chances.len() + 1];
        for (good, chance) in chances.iter().enumerate() {
            next[good] += chance * (1.0 - p);
            next[good + 1] += chance * p;
        }
        chances = next;
    }
    chances.iter().take(wanted).sum()
}

fn least(wanted: usize, p: f64) -> u64 {
    (0..=1000)
        .find(|&n| falls_short(n, wanted, p) <= 0.05)
        .unwrap()
}

/// Case C21: nine tiles a box, two or three of them bad, a tenth lost in the work, 60 wanted.
/// Both rates in whole boxes: by hand for the averages, by the sums above for 95 %.
#[test]
fn tiles_by_the_box_are_counted_by_both_rates() {
    for (bad, averages) in [(2.0, (67, 87, 10)), (3.0, (67, 101, 12))] {
        let text = run(
            60,
            "\"glue\"",
            "pack = { of = 9, price = 5.40 }\n[[step]]\nname = \"glue\"\nspoilage = \"10 %\"\n",
        )
        .replace(
            "bad = \"0 %\"\nhave = 50",
            &format!("bad = \"{} %\"", 100.0 * bad / 9.0),
        );
        let plan = planned(&text);
        let tiles = &plan.blanks[0];
        let expected = tiles.expected;
        assert_eq!((expected.start, expected.buy, expected.packs), averages);
        let buy = least(60, 0.9 * (1.0 - bad / 9.0));
        assert_eq!((tiles.start, tiles.buy), (least(60, 0.9), buy), "{bad}");
        assert_eq!((tiles.packs, tiles.pack_of), (buy.div_ceil(9), 9));
        assert!(tiles.packs > expected.packs);
    }
}

/// Case C22: 25 magnets a pack, 16 used.
#[test]
fn sixteen_magnets_of_a_pack_are_told_as_used_and_as_bought() {
    let rest = r#"
[[supply]]
name = "magnet"
pack = { of = 25, price = 6.25 }
delivery = "5 days"
[[step]]
name = "glue"
spoilage = "0 %"
supplies = [{ name = "magnet", per_piece = 1 }]
"#;
    let (words, json) = told(&run(16, "\"glue\"", rest));
    let magnet = &json["supplies"][0];
    for (key, value) in [
        ("needed", 16),
        ("packs", 1),
        ("bought", 25),
        ("left_over", 9),
    ] {
        assert_eq!(magnet[key], value, "{key}");
    }
    close(magnet["price"].as_f64().unwrap(), 6.25, 1e-12);
    close(magnet["used_cost"].as_f64().unwrap(), 4.0, 1e-12);
    close(magnet["delivery_days"].as_f64().unwrap(), 5.0, 1e-12);
    assert!(
        words.contains("1 pack of magnet (25)") && words.contains("16 needed"),
        "{words}"
    );
    assert!(
        words.contains("9 left over; 6.25 to pay, and what is used up is worth 4.00"),
        "{words}"
    );
}

fn supply<'p>(plan: &'p brimful::plan::Plan, name: &str) -> &'p SupplyPlan {
    plan.supplies
        .iter()
        .find(|supply| supply.name == name)
        .unwrap()
}

/// A tenth is lost and found when the pieces are looked over: paper is cut for all that are
/// started, bags only for what is then left. With nothing coated they are looked over at the end.
#[test]
fn bags_are_for_what_is_left_after_the_inspection() {
    let rest = r#"
[[supply]]
name = "paper"
pack = { of = 10 }
[[supply]]
name = "bag"
spares = "10 %"
[[coating]]
name = "film"
family = "water-based sealer"
[[step]]
name = "lay"
spoilage = "0 %"
supplies = [{ name = "paper", per_piece = 1 }]
[[step]]
name = "seal"
coating = "film"
spoilage = "0 %"
[[step]]
name = "bag"
spoilage = "0 %"
supplies = [{ name = "bag", per_piece = 2 }]
[inspect]
late = "10 %"
"#;
    let plan = planned(&run(45, "\"lay\", \"seal\", \"bag\"", rest));
    let start = plan.pieces[0].start;
    assert_eq!(start, {
        let enough = |n: &u64| falls_short(*n, 45, 0.9) <= 0.05;
        (45..=1000).find(enough).unwrap()
    });
    let (paper, bag) = (supply(&plan, "paper"), supply(&plan, "bag"));
    assert_eq!(paper.takers[0].pieces, start);
    // ceil(0.9 n), then two each and a tenth more, in whole numbers
    let left = (9 * start).div_ceil(10);
    assert_eq!(bag.takers[0].pieces, left);
    let needed = (2 * left * 11).div_ceil(10);
    assert!(matches!(bag.stuff, Stuff::Each { needed: n, .. } if n == needed));
    assert_eq!(
        (bag.packs.packs, bag.pack_of, bag.packs.price),
        (needed, 1, None)
    );
    let bare = planned(&run(45, "\"lay\", \"bag\"", rest));
    assert_eq!(supply(&bare, "bag").takers[0].pieces, bare.pieces[0].start);
}

/// By hand: 40 mm squares with 2.5 mm all around on 200 x 300 mm, 10 mm free along the edges and
/// 5 mm between: rows 50 mm apart, 3 by 5 on a sheet. 31 fill two and leave one.
#[test]
fn shapes_are_laid_on_sheets_with_their_bleed() {
    let rest = r#"
[[supply]]
name = "paper"
sheet = ["200 mm", "300 mm"]
margin = "10 mm"
gap = "5 mm"
have = 1
[[step]]
name = "lay"
spoilage = "0 %"
supplies = [{ name = "paper", bleed = "2.5 mm" }]
"#;
    let plan = planned(&run(31, "\"lay\"", rest));
    let paper = supply(&plan, "paper");
    let Stuff::Sheet { needed, have, lies } = &paper.stuff else {
        panic!("{paper:?}");
    };
    assert_eq!((*needed, *have, paper.packs.buy), (3, 1, 2));
    let lies = lies[0].as_ref().unwrap();
    assert_eq!((lies.count, lies.how), (15, How::Straight));
    assert!(text::plan(&plan).contains("15 to a sheet"));
    // 100 squares cut to the edge with no bleed, pitch 45 mm: 4 by 6
    let close = rest.replace(", bleed = \"2.5 mm\"", "");
    let plan = planned(&run(31, "\"lay\"", &close));
    assert!(matches!(
        supply(&plan, "paper").stuff,
        Stuff::Sheet { needed: 2, .. }
    ));
    // and none fits a sheet of 45 mm with 10 mm free
    let small = rest.replace("[\"200 mm\", \"300 mm\"]", "[\"45 mm\", \"300 mm\"]");
    let plan = planned(&run(31, "\"lay\"", &small));
    let fits_none = |warning: &Warning| matches!(warning, Warning::FitsNoSheet { .. });
    assert!(plan.warnings.iter().any(fits_none) && !plan.can_be_done());
}

/// By hand: 450 mm from 3.2 m seven times, from 40 cm not once, from 10 m 22 times.
#[test]
fn cord_is_cut_from_the_open_spool_first() {
    let rest = r#"
[[supply]]
name = "cord"
spool = "10 m"
pack = { of = 1, price = 4.00 }
have = ["3.2 m", "40 cm"]
[[step]]
name = "hang"
spoilage = "0 %"
supplies = [{ name = "cord", per_piece = "450 mm" }]
"#;
    let plan = planned(&run(30, "\"hang\"", rest));
    let cord = supply(&plan, "cord");
    let Stuff::Cut { spools, have, .. } = &cord.stuff else {
        panic!("{cord:?}");
    };
    assert_eq!((have.len(), spools.new, spools.at_least), (2, 2, 2));
    assert_eq!(spools.taken, Length::from_mm(450.0) * 30.0);
    // 13.5 m of 10 m for 4.00, though two spools cost 8.00
    close(cord.packs.used_cost.unwrap().amount(), 5.4, 1e-9);
    close(cord.packs.price.unwrap().amount(), 8.0, 1e-12);
}

/// On the day of its last use, as the calendar has it, the stock is past its date; a day later it is
/// not.
#[test]
fn stock_past_its_date_is_told_and_not_counted() {
    let rest = r#"
[run]
ready_by = 2027-04-17T08:00:00
[[supply]]
name = "pad"
have = 30
best_before = 2027-04-17
[[coating]]
name = "film"
family = "water-based sealer"
bottle = { holds = "500 mL", have = 2, best_before = 2027-04-17 }
[[step]]
name = "seal"
coating = "film"
spoilage = "0 %"
supplies = [{ name = "pad", per_piece = 1 }]
"#;
    let good_until = |day: Date| {
        let best_before = format!("best_before = {day}");
        planned(&run(20, "\"seal\"", rest).replace("best_before = 2027-04-17", &best_before))
    };
    let Dates::Told(calendar) = good_until(date(2027, 4, 18)).dates else {
        panic!("no calendar");
    };
    let last_use = calendar.sittings.last().unwrap().ends.date();
    assert!(last_use < date(2027, 4, 17), "{last_use}");
    let stale = good_until(last_use);
    let pad = supply(&stale, "pad");
    assert_eq!((pad.packs.buy, pad.stale), (20, Some(Stale::Each(30))));
    assert_eq!(stale.coatings[0].bottles.as_ref().unwrap().buy, 1);
    let told = stale
        .warnings
        .iter()
        .filter(|warning| warning.code() == "stale");
    assert_eq!(told.count(), 2);
    let words = text::plan(&stale)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(
        words.contains(&format!(
            "pad: the 30 in stock are not counted, best before {}, and the last use is on {0}",
            last_use.strftime("%-d %B %Y")
        )),
        "{words}"
    );
    assert_eq!(stale.from_stock[0].started, 0);
    let fresh = good_until(last_use.tomorrow().unwrap());
    assert_eq!(
        (supply(&fresh, "pad").packs.buy, supply(&fresh, "pad").stale),
        (0, None)
    );
    assert_eq!(fresh.coatings[0].bottles.as_ref().unwrap().buy, 0);
    // begun on the first, it does; begun as late as can be, it is past its date
    let from_the_first = rest.replace(
        "ready_by = 2027-04-17T08:00:00",
        "ready_by = 2027-04-17T08:00:00\nstart = 2027-04-01T08:00:00",
    );
    let begun = |best_before: &str| {
        let file = run(20, "\"seal\"", &from_the_first);
        planned(&file.replace("best_before = 2027-04-17", best_before))
    };
    let early = begun("best_before = 2027-04-05");
    assert_eq!((supply(&early, "pad").packs.buy), 0);
    let later = |plan: &Plan| {
        let codes = plan.warnings.iter().map(Warning::code);
        codes.filter(|code| *code == "stale-later").count()
    };
    assert_eq!(
        [&early, &begun("best_before = 2027-05-05")].map(later),
        [2, 0]
    );
    let words = text::plan(&early);
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    let said =
        "pad: the list to buy counts on the stock, best before 5 April 2027; begun as late as";
    assert!(words.contains(said), "{words}");
}

/// By hand: 50 blanks, 23 magnets at two a piece: 11 pieces, and the magnets run out. A tenth
/// lost, 95 % sure: 8 of 11, for P(X >= 9) = 0.910 and P(X >= 8) = 0.981.
#[test]
fn the_stock_alone_makes_so_many_and_the_magnets_run_out() {
    let rest = r#"
[[supply]]
name = "magnet"
have = 23
[[step]]
name = "glue"
spoilage = "10 %"
supplies = [{ name = "magnet", per_piece = 2 }]
"#;
    let (words, json) = told(&run(40, "\"glue\"", rest));
    let made = &json["from_stock"][0];
    assert_eq!(
        (made["start"].as_u64(), made["good"].as_u64()),
        (Some(11), Some(8))
    );
    assert!(falls_short(11, 8, 0.9) <= 0.05 && falls_short(11, 9, 0.9) > 0.05);
    assert_eq!(made["runs_out"][0], "magnet");
    assert!(
        words.contains("tile: start 11 to end with 8; first to run out: magnet"),
        "{words}"
    );
}

/// Of three sizes the cheapest that cover what is needed, found by trying all.
#[test]
fn of_several_sizes_the_cheapest_bottles_are_bought() {
    let rest = r#"
[[coating]]
name = "film"
family = "water-based sealer"
bottle = { holds = "60 mL", price = 7.20 }
also_sold = [{ holds = "250 mL", price = 21.50 }, { holds = "100 mL", price = 9.90 }]
[[step]]
name = "seal"
coating = "film"
wet_film = "0.5 mm"
spoilage = "0 %"
"#;
    let sizes: [(f64, u32); 3] = [(60.0, 720), (250.0, 2150), (100.0, 990)];
    for count in [40, 160, 400] {
        let plan = planned(&run(count, "\"seal\"", rest));
        let film = &plan.coatings[0];
        let needed = film.needed_sure.ml();
        let mut best = u32::MAX;
        for (a, b, c) in
            (0..80_u32).flat_map(|a| (0..20).flat_map(move |b| (0..40).map(move |c| (a, b, c))))
        {
            let counts = [a, b, c];
            let bought = || counts.iter().zip(&sizes);
            let holds: f64 = bought().map(|(&n, size)| f64::from(n) * size.0).sum();
            if holds >= needed {
                best = best.min(bought().map(|(n, size)| n * size.1).sum());
            }
        }
        close(film.price.unwrap().amount(), f64::from(best) / 100.0, 1e-9);
        let told = film.sizes.as_ref().unwrap();
        close(told.sizes[1].per_ml.amount(), 0.086, 1e-9);
        assert!(told.chance.fraction() >= 0.95 - 1e-9);
    }
}
