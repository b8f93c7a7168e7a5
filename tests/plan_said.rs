//! What a plan says of names, of prices and of stock, where that is easily said wrong.

mod plan_common;

use brimful::plan::{Dates, Plan, Warning, costs};
use brimful::quantity::Units;
use brimful::show::{Beside, pictures, sheet, text, words};
use jiff::civil::date;
use plan_common::planned;

fn flat(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The sheet's words, without its tags.
fn on_sheet(plan: &Plan) -> String {
    let page = sheet::sheet(plan, &[]).unwrap();
    let parts = page.split('<').map(|part| match part.split_once('>') {
        Some((_, words)) => words,
        None => part,
    });
    flat(&parts.collect::<Vec<_>>().join(""))
}

fn with(file: &str, from: &str, to: &str) -> String {
    assert!(file.contains(from), "no {from}");
    file.replace(from, to)
}

fn told(plan: &Plan) -> Vec<String> {
    let all = plan.warnings.iter();
    all.map(|warning| words::warning(warning, Units::Metric))
        .collect()
}

const NAMED: &str = r#"
[run]
name = "names"
ready_by = 2027-03-21T16:00:00
[[piece]]
name = "fob"
count = 20
blank = "disc, thin: beech"
steps = ["seal", "dome", "back"]
[[blank]]
name = "disc, thin: beech"
outline = { round = "25 mm" }
porous = true
pack = { of = 30, price = 6.00 }
have = 2
[[coating]]
name = "glaze: best, clear"
family = "water-based dome glaze"
bottle = { holds = "500 mL", price = 7.00 }
[[coating]]
name = "sealer: matt"
family = "water-based sealer"
[[step]]
name = "seal"
coating = "sealer: matt"
[[step]]
name = "dome"
coating = "glaze: best, clear"
[[step]]
name = "back"
supplies = [{ name = "split ring, 8 mm: steel", per_piece = 1 }]
[[supply]]
name = "split ring, 8 mm: steel"
pack = { of = 50, price = 4.00 }
[room]
temperature = "20 C"
humidity = "50 %"
[hours]
weekdays = ["19:00-21:00"]
"#;

/// A name may hold a comma or a colon, and is told whole wherever it is to be bought.
#[test]
fn names_with_commas_and_colons_are_told_whole() {
    let plan = planned(NAMED);
    let page = flat(&text::plan(&plan));
    assert!(
        page.contains("also 1 pack of split ring, 8 mm: steel (50) "),
        "{page}"
    );
    let both = Beside {
        names: ["a", "b"],
        plans: [&plan, &plan],
    };
    let [one, _] = both.ways();
    for bought in [
        "1 bottle of glaze: best, clear (500 mL)",
        "1 pack of disc, thin: beech (30), with the 2 in stock",
        "1 pack of split ring, 8 mm: steel (50)",
    ] {
        assert!(one.buy.iter().any(|buy| buy == bought), "{:?}", one.buy);
    }
    let sealer = &one.buy[plan
        .coatings
        .iter()
        .position(|coating| coating.name == "sealer: matt")
        .unwrap()];
    assert!(
        sealer.ends_with(" of sealer: matt, if not in stock"),
        "{sealer}"
    );
}

/// The cheapest of several bottles stands beside another way of doing it, not the name alone.
#[test]
fn the_cheapest_bottles_are_told_side_by_side() {
    let small = "holds = \"500 mL\", price = 7.00 }";
    let sizes =
        "holds = \"5 mL\", price = 90.00 }\nalso_sold = [{ holds = \"400 mL\", price = 8.00 }]";
    let plan = planned(&with(NAMED, small, sizes));
    let both = Beside {
        names: ["a", "b"],
        plans: [&plan, &plan],
    };
    let [one, _] = both.ways();
    let whole = "glaze: best, clear, the cheapest way: 1 bottle of 400 mL";
    assert!(one.buy.iter().any(|buy| buy == whole), "{:?}", one.buy);
}
