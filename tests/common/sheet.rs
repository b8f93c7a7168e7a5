//! Runs that a sheet is made of: the demo, changed in many ways, and ten kinds of piece.
#![allow(dead_code, reason = "each test file uses some of these")]

use std::sync::OnceLock;

use brimful::plan::{Plan, pictured, plan};
use brimful::run::Run;
use brimful::show::json;
use brimful::show::pictures::windows;
use brimful::show::sheet::sheet;

use scraper::{ElementRef, Html, Selector};
use serde_json::Value;

pub const DEMO: &str = include_str!("../../data/demo.toml");
pub const WINTER: &str = include_str!("../../data/winter.toml");
pub const TEN: &str = include_str!("../data/ten_kinds.toml");

/// What a run is printed on.
#[derive(Debug, Clone, Copy)]
pub enum Paper {
    A4,
    Letter,
}

/// A run's plan and its sheet.
pub fn printed(text: &str, paper: Paper) -> (Plan, String) {
    let text = &format!("{text}\n[paper]\nsheet = \"{paper:?}\"\n");
    let run = Run::read(text, "run.toml").unwrap_or_else(|faults| panic!("{faults}"));
    let plan = plan(&run).unwrap_or_else(|why| panic!("{why}"));
    let windows = windows(&plan, &pictured(&run, &plan).unwrap()).unwrap();
    let page = sheet(&plan, &windows).unwrap();
    (plan, page)
}

/// The demo with some words put in place of others, which it must have.
pub fn demo(changes: &[(&str, &str)]) -> String {
    changes.iter().fold(DEMO.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "the demo has no {from}");
        text.replace(from, to)
    })
}

/// A run without the tables of a name, as "[[tray]]".
pub fn without(text: &str, table: &str) -> String {
    assert!(text.contains(table), "there is no {table}");
    let mut gone = false;
    let kept = text.lines().filter(|line| {
        if line.starts_with('[') {
            gone = line.trim() == table;
        }
        !gone
    });
    kept.fold(String::new(), |text, line| text + line + "\n")
}

const LONG: &str = "harbour-master's particular tide table and lighthouse magnet, second edition";

const EPOXY: (&str, &str) = (
    "family = \"water-based dome glaze\"\nsurface_tension = \"34 mN/m\"",
    "family = \"two-part dome epoxy\"",
);

const LATE: (&str, &str) = (
    "ready_by = 2027",
    "start = 2027-04-14T18:00:00\nready_by = 2027",
);

/// Quotes, a tag, another direction of writing and a sign.
pub const RUDE: &str = "a \"quoted\" <script>alert('x')</script> & עֶרֶב bahr بحر 🐚";

/// The demo without the maker's hours.
fn no_hours() -> String {
    without(DEMO, "[hours]")
}

/// The demo's prices and its stall taken out.
fn no_money() -> String {
    let unsold = without(DEMO, "[selling]");
    unsold
        .replace("price = 4.50\n", "")
        .replace("price = 6.50\n", "")
        .replace("wholesale = { price = 3.60, count = 10 }\n", "")
}

/// Every case, by name.
pub fn cases() -> Vec<(&'static str, String)> {
    let rude = toml::Value::from(RUDE).to_string();
    vec![
        ("demo", DEMO.to_owned()),
        ("demo in us units", demo(&[("\"metric\"", "\"us\"")])),
        ("ten kinds", TEN.to_owned()),
        ("ten kinds in us units", TEN.replace("\"metric\"", "\"us\"")),
        (
            "long names",
            demo(&[
                ("tide magnet", LONG),
                ("Harbour fair", LONG),
                (
                    "mooring fob",
                    "Donaudampfschifffahrtsgesellschaftskapitänsmützenanhänger",
                ),
                (
                    "dome glaze\"\nfamily",
                    "glaze that the shop at the corner sells\"\nfamily",
                ),
                (
                    "coating = \"dome glaze\"",
                    "coating = \"glaze that the shop at the corner sells\"",
                ),
            ]),
        ),
        (
            "one piece each",
            demo(&[
                ("count = 60", "count = 1"),
                ("count = 40", "count = 1"),
                (", count = 10 }", ", count = 1 }"),
            ]),
        ),
        (
            "two hundred",
            demo(&[("count = 60", "count = 200"), ("count = 40", "count = 200")]),
        ),
        (
            "a season of them",
            demo(&[
                ("count = 60", "count = 1500"),
                ("count = 40", "count = 900"),
            ]),
        ),
        ("no date", demo(&[("ready_by = 2027-04-17T08:00:00\n", "")])),
        ("too late", demo(&[LATE])),
        (
            "begun, not due",
            demo(&[(
                "ready_by = 2027-04-17T08:00:00",
                "start = 2027-04-01T18:00:00",
            )]),
        ),
        (
            "too cold",
            demo(&[("temperature = \"16 C\"", "temperature = \"6 C\"")]),
        ),
        ("no money", no_money()),
        ("no trays", without(&without(DEMO, "[[tray]]"), "[[shelf]]")),
        ("epoxy with mixes", demo(&[EPOXY])),
        ("late epoxy", demo(&[EPOXY, LATE])),
        ("no hours given", no_hours()),
        ("in a cupboard", WINTER.to_owned()),
        (
            "half as many again",
            demo(&[("count = 60", "count = 90"), ("count = 40", "count = 60")]),
        ),
        (
            "names of all sorts",
            demo(&[
                ("\"Harbour fair\"", &rude),
                ("\"tide magnet\"", &rude),
                ("\"dome\"", &rude),
                ("\"dome glaze\"", &rude),
            ]),
        ),
        (
            "too full, and night colder",
            demo(&[
                ("fill = \"safe\"", "fill = { dry_height = \"2 mm\" }"),
                (
                    "humidity = \"64 %\"",
                    "humidity = \"64 %\"\nnight = [\"13 C\", \"70 %\"]",
                ),
            ]),
        ),
    ]
}

/// Every case with its plan and its sheet on A4, made once.
pub fn all() -> &'static [(&'static str, Plan, String)] {
    static ALL: OnceLock<Vec<(&'static str, Plan, String)>> = OnceLock::new();
    ALL.get_or_init(|| {
        let each = cases().into_iter().map(|(name, text)| {
            let (plan, page) = printed(&text, Paper::A4);
            (name, plan, page)
        });
        each.collect()
    })
}

pub fn select<'h>(page: &'h Html, what: &str) -> Vec<ElementRef<'h>> {
    page.select(&Selector::parse(what).unwrap()).collect()
}

/// The words of an element with every run of white space made one space.
pub fn words(element: ElementRef) -> String {
    let text: String = element.text().collect();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

pub fn told(plan: &brimful::plan::Plan) -> Value {
    serde_json::from_str(&json::plan(plan).unwrap()).unwrap()
}
