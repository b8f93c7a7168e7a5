//! What a plan says of names, of prices and of stock, where that is easily said wrong.

use crate::common::plan::planned;
use brimful::plan::{Dates, Plan, Warning, costs};
use brimful::quantity::Units;
use brimful::show::{Beside, pictures, sheet, text, words};
use jiff::civil::date;

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

/// A fair that costs nothing and to which nothing goes is not one that no number of pieces pays for.
#[test]
fn a_free_fair_is_not_told_as_never_paid_for() {
    let free = with(SOLD, "stall_fee = 45.00", "stall_fee = 0.00");
    // all to shops, at a price that the fair would pay
    let shops = free.replace(
        "name = \"fox\"",
        "name = \"fox\"\nprice = 9.00\nwholesale = { price = 5.00, count = 1 }",
    );
    // or sold there at a loss
    let loses = with(&free, "name = \"fox\"", "name = \"fox\"\nprice = 0.20");
    for file in [&free, &shops, &loses] {
        let plan = planned(file);
        for page in [flat(&text::plan(&plan)), on_sheet(&plan)] {
            assert!(!page.contains("no number of pieces"), "{page}");
        }
        assert!(plan.can_be_done(), "{:?}", told(&plan));
    }
    let plan = planned(&shops);
    let money = plan.money.as_ref().unwrap();
    assert!(
        money.shared.is_none() && money.outcome.is_none(),
        "{money:?}"
    );
    assert!(!on_sheet(&plan).contains("Sold as planned"));
    let told = told(&planned(&loses)).join("\n");
    assert!(
        told.contains("fox: at 0.20 each one sold loses money; it has to"),
        "{told}"
    );
}

const PEN: &str = r#"
[run]
start = 2027-03-01T09:00:00
[[piece]]
name = "fob"
count = 4
blank = "disc"
steps = ["draw"]
[[blank]]
name = "disc"
outline = { round = "25 mm" }
porous = false
[[coating]]
name = "ink"
family = "permanent ink"
bottle = { holds = "5 mL", price = 3.00, have = 1, best_before = 2026-01-01, delivery = "5 days" }
[[step]]
name = "draw"
coating = "ink"
[room]
temperature = "23 C"
humidity = "50 %"
"#;

/// A pen past its date is ordered, as a bottle would be.
#[test]
fn a_pen_past_its_date_is_not_in_stock() {
    let plan = planned(PEN);
    let page = flat(&text::plan(&plan));
    let none = "ink for 4 pieces, none in stock within its date";
    assert!(page.contains(none), "{page}");
    assert!(on_sheet(&plan).contains(none), "{}", on_sheet(&plan));
    let stale = "ink: the pen in stock is not counted, best before 1 January 2026";
    assert!(told(&plan).join("\n").contains(stale), "{:?}", told(&plan));
    let Dates::Told(calendar) = &plan.dates else {
        panic!("{:?}", plan.dates);
    };
    // wanted on Monday 1 March or soon after, and five days under way
    let order = calendar.order_by.iter().find(|order| order.what == "ink");
    let order = order.expect("an order");
    assert_eq!(
        order.by,
        order
            .wanted
            .date()
            .checked_sub(jiff::ToSpan::days(5))
            .unwrap()
    );
    // ordered no sooner than on that Monday, which is too late for work from then on
    assert!(order.by >= date(2027, 3, 1), "{order:?}");
    let warned =
        |warning: &&Warning| matches!(warning, Warning::OrderTooLate { what, .. } if what == "ink");
    assert!(plan.warnings.iter().any(|w| warned(&w)));

    let good = planned(&with(PEN, "2026-01-01", "2028-01-01"));
    let page = flat(&text::plan(&good));
    assert!(
        page.contains("ink for 4 pieces, with the 1 in stock"),
        "{page}"
    );
    assert!(!told(&good).join("\n").contains("best before"));
    let Dates::Told(calendar) = &good.dates else {
        panic!("{:?}", good.dates);
    };
    assert!(calendar.order_by.is_empty());
}

/// Nothing is said of trays that no file tells of.
#[test]
fn what_limits_a_run_names_no_tray_where_there_is_none() {
    let limit = |file: &str| {
        let page = text::plan(&planned(file));
        let mut lines = page.lines().skip_while(|line| !line.starts_with("Limit"));
        let first = lines.next().expect("a limit").to_owned();
        let rest = lines.take_while(|line| line.starts_with(' '));
        rest.fold(first, |all, line| format!("{all} {}", line.trim()))
    };
    let tray = "\n[[tray]]\nsize = [\"200 mm\", \"200 mm\"]\ncount = 40\n";
    let slow = with(
        PEN,
        "coating = \"ink\"",
        "coating = \"ink\"\nhands_on = \"25 min\"",
    );
    for file in [PEN, &slow, NAMED] {
        assert!(!limit(file).contains("tray"), "{}", limit(file));
    }
    assert!(
        limit(&slow).contains("your hours of work"),
        "{}",
        limit(&slow)
    );
    let with_tray = format!("{slow}{tray}");
    assert!(
        limit(&with_tray).contains("trays and drying would allow more"),
        "{}",
        limit(&with_tray)
    );
}

/// A run made of one kind, with bottles for a part of it: stock alone can't do the whole of what
/// something must be bought for, and does do it where nothing must.
#[test]
fn stock_alone_agrees_with_what_has_to_be_bought() {
    let file = |count: u32, glaze: u32, sealer: u32| {
        let file = with(NAMED, "count = 20", &format!("count = {count}"));
        let file = with(
            &file,
            "price = 6.00 }\nhave = 2",
            "price = 6.00 }\nhave = 900",
        );
        let file = with(&file, "price = 4.00 }", "price = 4.00 }\nhave = 900");
        let file = with(
            &file,
            "holds = \"500 mL\", price = 7.00 }",
            &format!("holds = \"60 mL\", price = 7.00, have = {glaze} }}"),
        );
        let file = with(
            &file,
            "family = \"water-based sealer\"",
            &format!(
                "family = \"water-based sealer\"\nbottle = {{ holds = \"60 mL\", price = 7.00, have = {sealer} }}"
            ),
        );
        let file = with(&file, "2027-03-21", "2027-06-21");
        let file = with(
            &file,
            "coating = \"sealer: matt\"",
            "coating = \"sealer: matt\"\ncoats = 2",
        );
        format!("{file}[[tray]]\nsize = [\"200 mm\", \"200 mm\"]\ncount = 2\n")
    };
    let mut seen = [0, 0];
    for (count, glaze, sealer) in [
        (400, 9, 1),
        (380, 9, 1),
        (300, 9, 1),
        (100, 2, 1),
        (60, 1, 1),
    ] {
        let plan = planned(&file(count, glaze, sealer));
        let buys = plan.coatings.iter().any(|coating| {
            let bottles = coating.bottles.as_ref();
            bottles.is_some_and(|bottles| bottles.buy > 0)
        });
        let (started, start) = (plan.from_stock[0].started, plan.pieces[0].start);
        assert_eq!(started < start, buys, "{count}: {started} of {start}");
        seen[usize::from(buys)] += 1;
    }
    assert!(seen.iter().all(|&seen| seen > 0), "{seen:?}");
}

/// A file tells that a blank drinks, not what it is of: slate does not cup.
#[test]
fn what_may_cup_is_told_with_what_it_would_be_of() {
    let file = with(
        NAMED,
        "porous = true",
        "porous = true\nthickness = \"4 mm\"",
    );
    let told = told(&planned(&file)).join("\n");
    let words = "4 mm (fob): Thin wood, cork or card coated on one face may cup";
    assert!(told.contains(words), "{told}");
}

/// Two waves that follow one another without a break are told as one sitting, and counted so.
#[test]
fn as_many_sittings_are_counted_as_are_listed() {
    let more = "[[piece]]\nname = \"bar\"\ncount = 5\nblank = \"disc, thin: beech\"\nsteps = [\"seal\", \"dome\"]\n[[blank]]";
    let plan = planned(&with(NAMED, "[[blank]]", more));
    let page = text::plan_in_full(&plan);
    let when = page.split("\nWhen\n").nth(1).expect("the sittings");
    let when = when.split("\n\n").next().expect("the sittings");
    let listed = when.lines().filter(|line| {
        let word = line.split_whitespace().next().unwrap_or_default();
        word.len() == 11 && word.as_bytes()[5] == b'-' && word.as_bytes()[2] == b':'
    });
    let listed = listed.count();
    assert!(
        flat(when).contains(&format!(" in {listed} sittings, ")),
        "{when}"
    );
    let Dates::Told(calendar) = &plan.dates else {
        panic!("{:?}", plan.dates);
    };
    assert!(calendar.sittings.len() > listed, "none are told together");
}
