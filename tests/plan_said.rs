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

const SOLD: &str = r#"
[run]
start = 2027-03-15T08:00:00
[[piece]]
name = "bee"
count = 30
blank = "disc"
steps = ["dome"]
wholesale = { price = 0.60, count = 30 }
[[piece]]
name = "fox"
count = 1
blank = "disc"
steps = ["dome"]
[[blank]]
name = "disc"
outline = { round = "25 mm" }
porous = false
pack = { of = 25, price = 25.00 }
[[coating]]
name = "glaze"
family = "water-based dome glaze"
bottle = { holds = "60 mL", price = 7.00 }
[[step]]
name = "dome"
coating = "glaze"
[room]
temperature = "20 C"
humidity = "50 %"
[hours]
weekdays = ["19:00-21:00"]
[selling]
currency = "EUR"
stall_fee = 45.00
"#;

/// The blank alone costs 1.00, so that 0.60 loses; what the shop has to pay is a good one's cost,
/// rounded up to a cent, for a shop takes no fees.
#[test]
fn a_shop_that_pays_less_than_a_piece_costs_is_warned_of() {
    let plan = planned(SOLD);
    let cost = plan.money.as_ref().unwrap().pieces[0].variable.each.used;
    assert!(cost.amount() > 1.0);
    let cents = (cost.amount() * 100.0 - 1e-9).ceil() / 100.0;
    let want = format!(
        "bee: at 0.60 each one that a shop takes loses money; it has to cost {cents:.2} or more"
    );
    assert!(told(&plan).contains(&want), "{:?}", told(&plan));
    assert!(plan.can_be_done());
    let paid = with(SOLD, "price = 0.60", &format!("price = {cents:.2}"));
    assert!(!told(&planned(&paid)).join("\n").contains("loses money"));
}

/// What would lose at the fair is no loss where none goes there.
#[test]
fn a_price_that_nobody_pays_is_not_warned_of() {
    let file = with(
        SOLD,
        "wholesale = { price = 0.60, count = 30 }",
        "price = 0.50\nwholesale = { price = 9.00, count = 30 }",
    );
    let loses = |file: &str| {
        let plan = planned(file);
        let picture = pictures::cost(&costs(&plan), &plan).unwrap().unwrap();
        (
            told(&plan).join("\n").contains("bee: at 0.50"),
            picture.words.title.contains("loses"),
            flat(&text::plan(&plan)).contains("at 0.50 leaves"),
            on_sheet(&plan).contains("sold at 0.50"),
        )
    };
    assert_eq!(loses(&file), (false, false, false, false));
    let some = with(
        &file,
        "price = 9.00, count = 30",
        "price = 9.00, count = 29",
    );
    assert_eq!(loses(&some), (true, true, true, true));
}

/// Without a price nobody knows what pays for the fair, which is not that nothing does.
#[test]
fn a_fair_without_prices_is_not_told_as_never_paid_for() {
    let want = "he fair costs 45.00";
    for file in [
        SOLD.to_owned(),
        // a price, but on none that goes to the fair
        with(SOLD, "wholesale =", "price = 9.00\nwholesale ="),
    ] {
        let plan = planned(&file);
        for page in [flat(&text::plan(&plan)), on_sheet(&plan)] {
            assert!(page.contains(want), "{page}");
            assert!(
                page.contains("no piece that goes there has a price to pay for it"),
                "{page}"
            );
            assert!(!page.contains("no number of pieces"), "{page}");
        }
    }
    // priced under its cost, no number does
    let cheap = with(SOLD, "name = \"fox\"", "name = \"fox\"\nprice = 0.20");
    let plan = planned(&cheap);
    for page in [flat(&text::plan(&plan)), on_sheet(&plan)] {
        assert!(page.contains("no number of pieces"), "{page}");
    }
}
