//! What stands in every list of things to get, as makers look for it. All of the runs are invented.

use crate::common::calendar::said::{flowing, with};
use crate::common::calendar::{list, told};
use crate::common::plan::planned;
use brimful::plan::{Plan, pictured};
use brimful::run::Run;
use brimful::show::label::pick_list;
use brimful::show::pictures::windows;
use brimful::show::sheet::sheet;
use serde_json::Value;

/// Tiles with a line drawn around them by a pen, sealed from a bottle nobody told of.
const DRAWN: &str = r#"
[[piece]]
name = "tile"
count = 12
blank = "square"
steps = ["outline", "seal", "fit"]
[[blank]]
name = "square"
outline = { rectangle = ["40 mm", "40 mm"] }
porous = false
bad = "0 %"
[[coating]]
name = "night pen"
family = "permanent ink"
[[coating]]
name = "film"
family = "water-based sealer"
[[supply]]
name = "cork foot"
[[step]]
name = "outline"
coating = "night pen"
spoilage = "0 %"
[[step]]
name = "seal"
coating = "film"
spoilage = "0 %"
[[step]]
name = "fit"
spoilage = "0 %"
supplies = [{ name = "cork foot", per_piece = 4 }]
[room]
temperature = "20 C"
humidity = "50 %"
"#;

/// The words of a page, each space one.
fn words(page: &str) -> String {
    let page = scraper::Html::parse_document(page);
    let text = page.root_element().text().collect::<Vec<_>>().join(" ");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn sheet_of(text: &str, plan: &Plan) -> String {
    let run = Run::read(text, "run.toml").unwrap();
    let windows = windows(plan, &pictured(&run, plan).unwrap()).unwrap();
    words(&sheet(plan, &windows).unwrap())
}

fn holds_all(text: &str, wanted: &[&str]) {
    for wanted in wanted {
        assert!(text.contains(wanted), "{wanted}: {text}");
    }
}

/// What is needed of a pen nobody can tell, so its pieces are told.
#[test]
fn a_pen_and_a_coating_without_a_bottle_stand_in_every_list() {
    let plan = planned(DRAWN);
    let json = told(DRAWN);
    let film = &plan.coatings[0];
    let amount = {
        use brimful::quantity::{Show, Units};
        film.needed_sure.show(Units::Metric)
    };
    let first = flowing(DRAWN);
    let (first, _) = first.split_once("How full").unwrap();
    let bottle = format!("{amount} of film, if not in stock: no bottle or price is told of");
    let pen = "night pen for 12 pieces, if not in stock: how far one goes is not worked out";
    holds_all(first, &[&bottle, pen]);
    let pens = list(&json["drawn"]);
    assert_eq!(
        (pens.len(), pens[0]["name"].as_str()),
        (1, Some("night pen"))
    );
    assert_eq!(pens[0]["pieces"], 12);
    assert_eq!(pens[0]["steps"][0], "outline");
    let sheet = sheet_of(DRAWN, &plan);
    let (_, buy) = sheet.split_once("Buy").unwrap();
    holds_all(
        buy,
        &[
            "of film , if not in stock: no bottle or price is told of",
            "night pen for 12 pieces",
        ],
    );
    let pick = words(&pick_list(&plan));
    holds_all(
        &pick,
        &[
            "night pen",
            "12 pieces",
            "film",
            &amount,
            "no bottle or price told of",
            "cork foot",
        ],
    );
}

/// Neither has a price, so both are left out of the money, and that is said.
#[test]
fn a_pen_without_a_price_is_told_among_what_money_leaves_out() {
    let sold = format!("{DRAWN}[selling]\ncurrency = \"EUR\"\n");
    let json = told(&sold);
    let unpriced = list(&json["money"]["unpriced"]);
    assert!(unpriced.contains(&Value::from("night pen")), "{unpriced:?}");
}

/// A pen's own day to order it by is told as any other thing's.
#[test]
fn a_pen_is_ordered_in_time() {
    let pen = "family = \"permanent ink\"\nbottle = { holds = \"5 mL\", delivery = \"4 days\" }";
    let file = with(DRAWN, "family = \"permanent ink\"", pen);
    let by = |file: &str| {
        let json = told(&format!("[run]\nready_by = 2027-06-26T20:00:00\n{file}"));
        assert!(json["calendar"]["order_by"].is_array(), "{json}");
        list(&json["calendar"]["order_by"]).to_vec()
    };
    let order = by(&file);
    assert!(
        order.iter().any(|it| it["what"] == "night pen"),
        "{order:?}"
    );

    // of those that are in stock nobody can tell whether they do
    let file = with(&file, "holds = \"5 mL\", ", "holds = \"5 mL\", have = 4, ");
    let order = by(&file);
    assert!(
        order.iter().all(|it| it["what"] != "night pen"),
        "{order:?}"
    );
}

/// A supply, coating or blank that no piece comes to is named, wherever warnings are.
#[test]
fn what_no_piece_takes_is_named() {
    let idle = [
        (
            "[[supply]]\nname = \"waxed cord\"\nspool = \"10 m\"\n",
            "waxed cord",
        ),
        (
            "[[coating]]\nname = \"old glue\"\nfamily = \"water-based glue\"\n",
            "old glue",
        ),
        (
            "[[blank]]\nname = \"slate\"\noutline = { round = \"30 mm\" }\nporous = false\n",
            "slate",
        ),
        (
            "[[supply]]\nname = \"bow\"\n[[step]]\nname = \"tie\"\nsupplies = [{ name = \"bow\", per_piece = 1 }]\n",
            "bow",
        ),
    ];
    let code = |json: &Value| -> Vec<String> {
        let all = list(&json["warnings"]).iter();
        let unused = all.filter(|it| it["code"] == "not-used");
        unused
            .map(|it| it["text"].as_str().unwrap().to_owned())
            .collect()
    };
    assert_eq!(code(&told(DRAWN)), Vec::<String>::new());
    for (more, name) in idle {
        let file = format!("{more}{DRAWN}");
        let told = code(&told(&file));
        assert_eq!(told.len(), more.matches("[[").count(), "{told:?}");
        assert!(
            told[0].starts_with(&format!("{name}: no piece uses it")),
            "{told:?}"
        );
        let said = flowing(&file);
        let sheet = sheet_of(&file, &planned(&file));
        for told in &told {
            assert!(said.contains(told), "{said}");
            assert!(sheet.contains(told), "{sheet}");
        }
    }
}

/// Half a step of the last digit is told as it is, so no two ways of rounding meet: 41 lengths of
/// 250 mm are 10.25 m wherever they stand.
#[test]
fn a_length_is_the_same_in_every_list() {
    let cord = "[[supply]]\nname = \"cork foot\"\nspool = \"20.25 m\"";
    let file = with(DRAWN, "[[supply]]\nname = \"cork foot\"", cord);
    let file = with(&file, "per_piece = 4", "per_piece = \"250 mm\"");
    let file = with(&file, "count = 12", "count = 41");
    let said = flowing(&file);
    holds_all(
        &said,
        &[
            "1 spool of cork foot (20.25 m)",
            "10.25 m needed, in 41 pieces",
        ],
    );
    let plan = planned(&file);
    holds_all(&words(&pick_list(&plan)), &["10.25 m", "1 × 20.25 m"]);
    holds_all(&sheet_of(&file, &plan), &["1 × 20.25 m"]);
}

/// Of a full bottle 6 mL of 120 mL stay in it: wherever the stock is told, why it gives less is said.
#[test]
fn what_stays_in_the_bottle_of_the_stock_is_said() {
    let bottle = "family = \"water-based sealer\"\nheel = \"5 %\"\nbottle = { holds = \"120 mL\", have = 1 }";
    let file = with(DRAWN, "family = \"water-based sealer\"", bottle);
    let said = flowing(&file);
    let why = "of the 120 mL in stock 114 mL come out, the rest stays in the bottles";
    assert!(said.contains(why), "{said}");
    let pick = words(&pick_list(&planned(&file)));
    holds_all(&pick, &["1 × 120 mL", "114 mL come out"]);
}

/// A fair that costs more than it brings is told alike in the plan and on the sheet. By hand: nine of
/// twelve tiles at 2.00 are 18.00, and nothing used has a price.
#[test]
fn a_loss_is_told_in_one_way() {
    let sold =
        "[selling]\ncurrency = \"EUR\"\nstall_fee = 62.98\nsold = \"75 %\"\ncard_fee = \"0 %\"\n";
    let file = with(DRAWN, "count = 12", "count = 12\nprice = 2.00");
    let file = format!("{file}{sold}");
    let said = flowing(&file);
    let sheet = sheet_of(&file, &planned(&file));
    assert!(said.contains("the fair leaves a loss of 44.98"), "{said}");
    assert!(sheet.contains("it leaves a loss of 44.98"), "{sheet}");
    for text in [said, sheet] {
        assert!(!text.contains("-44.98"), "{text}");
    }
}
