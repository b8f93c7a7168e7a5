//! A run told in US units has no metric unit in any text, page, picture or word of its JSON.

use brimful::plan::{Plan, pictured, plan};
use brimful::run::Run;
use brimful::show::label::{Kind, labels, pick_list};
use brimful::show::pictures;
use brimful::show::{json, sheet::sheet, text};
use scraper::{Html, Node};
use serde_json::Value;

/// A heart that turns inward sharply, and a bezel, under resins of each kind, beside what the other
/// cases have.
fn more() -> Vec<(&'static str, String)> {
    let other = |family: &str| {
        crate::common::sheet::demo(&[
            (
                "family = \"water-based dome glaze\"\nsurface_tension = \"34 mN/m\"",
                &format!("family = \"{family}\""),
            ),
            (
                "label = { at = [\"23 C\", \"50 %\"], handle = \"24 h\", recoat = \"24 h\" }",
                "",
            ),
        ])
    };
    let outline = "outline = { round = \"38 mm\" }";
    vec![
        ("lamp", other("lamp-cured dome resin")),
        ("moisture", other("moisture-curing clear")),
        ("epoxy by its own label", other("two-part dome epoxy")),
        (
            "an inner corner",
            crate::common::sheet::demo(&[(
                outline,
                "outline = { points = [[0, 0], [15, 8], [30, 0], [30, 30], [0, 30]], unit = \"mm\", corner = \"2 mm\" }",
            )]),
        ),
        (
            "below the rim",
            crate::common::sheet::demo(&[
                (outline, "outline = { round = \"38 mm\" }\nwall = \"2 mm\""),
                ("fill = \"safe\"", "fill = { volume = \"0.9 mL\" }"),
            ]),
        ),
        (
            "under lids",
            crate::common::sheet::demo(&[(
                "name = \"baking tray\"",
                "name = \"baking tray\"\nlid = { height = \"30 mm\", air_changes = 0, count = 2 }",
            )]),
        ),
        (
            "damp",
            crate::common::sheet::demo(&[("humidity = \"64 %\"", "humidity = \"83 %\"")]),
        ),
        (
            "barely warm",
            crate::common::sheet::demo(&[("temperature = \"16 C\"", "temperature = \"11 C\"")]),
        ),
    ]
}

/// The same run, told in US units.
fn in_us(text: &str) -> String {
    let us = text.replace("show = \"metric\"", "show = \"us\"");
    if us.contains("show = \"us\"") {
        us
    } else {
        us.replacen("[run]", "[run]\nshow = \"us\"", 1)
    }
}

/// Units that a metric run is told in.
const METRIC: [&str; 22] = [
    "mm",
    "mL",
    "ml",
    "cm",
    "m",
    "g",
    "kg",
    "mg",
    "L",
    "°C",
    "C",
    "K",
    "µm",
    "mm²",
    "cm²",
    "m²",
    "m/s",
    "mm³",
    "litre",
    "litres",
    "metre",
    "millilitre",
];

/// The metric units in some words: after a number, or a word that is one, or after "a".
fn metric(words: &str) -> Vec<String> {
    let split: Vec<&str> = words
        .split(|c: char| c.is_whitespace() || "(),;:\"=[]\u{2068}\u{2069}–".contains(c))
        .filter(|word| !word.is_empty())
        .map(|word| word.trim_end_matches(['.', '\'', '?']))
        .collect();
    let is_unit = |word: &str| METRIC.contains(&word);
    let mut found = Vec::new();
    for pair in split.windows(2) {
        let counted = pair[0].ends_with(|c: char| c.is_ascii_digit())
            || ["a", "in", "per", "of"].contains(&pair[0]);
        let always = [
            "mm", "mL", "°C", "cm", "kg", "mm²", "cm²", "m²", "m/s", "litre",
        ]
        .contains(&pair[1]);
        if is_unit(pair[1]) && (counted || always) {
            found.push(pair.join(" "));
        }
    }
    found
}

/// The words of a page that are read: not its styles, and of its pictures what they are told as too.
fn read(page: &str) -> String {
    let page = Html::parse_document(page);
    let mut words = String::new();
    for node in page.tree.nodes() {
        // nor the letters that kinds of piece go by
        let styled = node.ancestors().any(|it| {
            matches!(it.value(), Node::Element(it)
                if it.name() == "style" || it.attr("class") == Some("mark"))
        });
        if let (Node::Text(text), false) = (node.value(), styled) {
            words.push_str(text);
            words.push(' ');
        }
    }
    words
}

/// Every text in a value that is not a name or key of a unit.
fn said(value: &Value, words: &mut Vec<String>) {
    match value {
        Value::String(text) => words.push(text.clone()),
        Value::Array(all) => all.iter().for_each(|it| said(it, words)),
        Value::Object(all) => all.values().for_each(|it| said(it, words)),
        _ => {}
    }
}

/// All that a run is told as, with what it is called.
fn told(run: &Run, plan: &Plan) -> Vec<(String, String)> {
    let shown = pictured(run, plan).unwrap();
    let mut told = vec![
        ("text".to_owned(), text::plan(plan)),
        ("start".to_owned(), text::start(plan)),
        ("pick list".to_owned(), read(&pick_list(plan))),
    ];
    let windows = pictures::windows(plan, &shown).unwrap();
    told.push(("sheet".to_owned(), read(&sheet(plan, &windows).unwrap())));
    for kind in [Kind::Tray, Kind::Piece, Kind::Card] {
        if let Some(page) = labels(plan, kind).unwrap() {
            told.push((format!("{kind:?} labels"), read(&page)));
        }
    }
    for named in pictures::all(plan, &shown).unwrap() {
        let svg = roxmltree::Document::parse(&named.picture.svg).unwrap();
        let words: Vec<&str> = svg.descendants().filter_map(|node| node.text()).collect();
        told.push((named.name, words.join(" ")));
    }
    let json: Value = serde_json::from_str(&json::plan(plan).unwrap()).unwrap();
    let mut all = Vec::new();
    said(&json, &mut all);
    told.push(("json".to_owned(), all.join(" ; ")));
    told
}

#[test]
fn no_metric_unit_is_left_in_a_us_run() {
    let cases = crate::common::sheet::cases().into_iter().chain(more());
    let mut texts = 0;
    let mut left = Vec::new();
    for (name, text) in cases {
        let run =
            Run::read(&in_us(&text), "run.toml").unwrap_or_else(|why| panic!("{name}: {why}"));
        let plan = plan(&run).unwrap_or_else(|why| panic!("{name}: {why}"));
        for (what, words) in told(&run, &plan) {
            texts += 1;
            for unit in metric(&words) {
                left.push(format!("{name}, {what}: {unit}"));
            }
        }
    }
    assert!(texts > 400, "{texts}");
    left.dedup();
    assert!(left.is_empty(), "{}: {left:#?}", left.len());
}

/// The walk itself finds what it is to find.
#[test]
fn metric_units_are_found_in_words() {
    for (words, found) in [
        ("edge = 0 mm (taken as sharp)", 1),
        ("at 23 C and 50 %", 1),
        ("a litre covers 215 ft²; what a mL costs", 2),
        ("64 mm in a metre", 2),
        ("some 14 L of fresh air", 1),
        ("less than 3 K above", 1),
        ("0.12 in or 4 fl oz at 61 °F", 0),
    ] {
        assert_eq!(metric(words).len(), found, "{words}");
    }
}
