//! Labels, cards and the pick list: that words fit, that they lie where the maker's sheets have
//! them, and that none goes out without its cautions.

use crate::common::chart::fitting_texts;
use crate::common::plan::planned;
use brimful::coating::{comes_first, for_buyers};
use brimful::plan::Plan;
use brimful::show::label::{Kind, LabelError, labels, pick_list};

const DEMO: &str = include_str!("../../data/demo.toml");
const LONG: &str = "a driftwood mooring fob with a hand-lettered ferry timetable";

/// The demo with more said of its paper, and names put in place of its own.
fn demo(paper: &str, names: &[(&str, &str)]) -> Plan {
    let mut text = DEMO.to_owned();
    for (own, other) in names {
        assert!(text.contains(own), "the demo says {own}");
        text = text.replace(own, other);
    }
    planned(&format!("{text}\n{paper}\n"))
}

fn pages(plan: &Plan) -> [(&'static str, String, [f64; 2]); 3] {
    let paper = plan.paper;
    let size = |sheet: brimful::run::LabelSheet| sheet.size.map(brimful::quantity::Length::mm);
    let told = |page: Result<Option<String>, LabelError>| page.expect("fits").expect("some");
    [
        (
            "tray",
            told(labels(plan, Kind::Tray)),
            size(paper.tray_label),
        ),
        (
            "piece",
            told(labels(plan, Kind::Piece)),
            size(paper.piece_label),
        ),
        (
            "card",
            told(labels(plan, Kind::Card)),
            size(paper.care_card),
        ),
    ]
}

/// Each label that is drawn, by itself, as SVG of its own size.
fn drawn(page: &str, [width, height]: [f64; 2]) -> Vec<String> {
    let (w, h) = (width * 10.0, height * 10.0);
    page.split("<g id=\"label-")
        .skip(1)
        .map(|rest| {
            let (_, rest) = rest.split_once('>').expect("a group");
            let (body, _) = rest.split_once("</g>").expect("its end");
            format!(
                "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}\" height=\"{h}\" font-family=\"DejaVu Sans\">{body}</svg>"
            )
        })
        .collect()
}

/// Where the copies lie, in millimetres from the sheet's upper left corner.
fn places(page: &str) -> Vec<[f64; 2]> {
    page.split("<use ")
        .skip(1)
        .map(|rest| {
            let value = |key: &str| {
                let (_, rest) = rest.split_once(&format!("{key}=\"")).expect(key);
                let (value, _) = rest.split_once('"').expect("its end");
                value.parse::<f64>().expect("a number") / 10.0
            };
            [value(" x"), value(" y")]
        })
        .collect()
}

#[test]
fn words_fit_on_every_label_and_never_overlap() {
    let runs = [
        demo("", &[]),
        demo("", &[("\"tide magnet\"", &format!("\"{LONG}\""))]),
        demo("", &[("\"metric\"", "\"us\"")]),
        demo("", &[("ready_by = 2027-04-17T08:00:00", "")]),
        demo(
            "",
            &[(
                "\"Harbour fair\"",
                "\"<script>alert('x')</script> & \\\"fair\\\" \u{1F30A}\"",
            )],
        ),
        demo("", &[("\"mooring fob\"", "\"מגנט גאות 12\"")]),
        demo("", &[("count = 60", "count = 200")]),
    ];
    for plan in &runs {
        for (which, page, size) in pages(plan) {
            let labels = drawn(&page, size);
            assert!(!labels.is_empty());
            for label in labels {
                let found = fitting_texts(which, &label);
                assert!(found >= 4, "{which}: {found} lines of text");
            }
        }
    }
}

#[test]
fn there_is_a_label_and_a_card_for_every_piece_and_a_label_for_every_tray() {
    let plan = demo("", &[]);
    let [tray, piece, card] = pages(&plan).map(|(_, page, _)| places(&page).len());
    // 60 magnets and 40 fobs; the demo's plan has 4 trays in one wave and 1 in the other.
    assert_eq!((piece, card), (100, 100));
    let brimful::plan::Dates::Told(calendar) = &plan.dates else {
        panic!("the demo has dates");
    };
    let mut waves: std::collections::BTreeMap<usize, u32> = std::collections::BTreeMap::new();
    for sitting in &calendar.sittings {
        let held: u32 = sitting.trays.iter().sum();
        let most = waves.entry(sitting.wave).or_default();
        *most = held.max(*most);
    }
    assert_eq!(u32::try_from(tray), Ok(waves.values().sum()));
}

/// Sheets of 210 mm by 297 mm with three labels of 63.5 mm by 38.1 mm side by side, 7.2 mm from the left
/// and 15.1 mm from the top, 2.5 mm apart across: worked by hand from those measures.
#[test]
fn labels_lie_where_the_makers_sheets_have_them() {
    let paper = "[paper]\nsheet = \"A4\"\npiece_label = { size = [\"63.5 mm\", \"38.1 mm\"], margin = [\"7.2 mm\", \"15.1 mm\"], gap = [\"2.5 mm\", \"0 mm\"] }";
    let page = labels(&demo(paper, &[]), Kind::Piece)
        .expect("fits")
        .expect("some");
    let places = places(&page);
    let near = |got: [f64; 2], want: [f64; 2]| {
        // a hundredth of a tenth of a millimetre is written
        assert!(
            got.iter().zip(want).all(|(g, w)| (g - w).abs() < 1e-3),
            "{got:?} for {want:?}"
        );
    };
    near(places[0], [7.2, 15.1]);
    near(places[1], [73.2, 15.1]);
    near(places[2], [139.2, 15.1]);
    near(places[3], [7.2, 53.2]);
    // (297 - 15.1) / 38.1 = 7.4: seven rows, so the 22nd begins a sheet
    near(places[20], [139.2, 243.7]);
    near(places[21], [7.2, 15.1]);
    assert_eq!(
        page.matches("class=\"page\"").count(),
        5,
        "100 labels, 21 to a sheet"
    );
    assert!(page.contains("@page{size:210mm 297mm;"));
}

#[test]
fn us_runs_print_on_letter_sheets_and_any_sheet_can_be_named() {
    let us = labels(&demo("", &[("\"metric\"", "\"us\"")]), Kind::Tray);
    assert!(
        us.expect("fits")
            .expect("some")
            .contains("@page{size:215.9mm 279.4mm;")
    );
    let own = demo("[paper]\nsheet = [\"148 mm\", \"210 mm\"]", &[]);
    let page = labels(&own, Kind::Tray).expect("fits").expect("some");
    assert!(page.contains("@page{size:148mm 210mm;"));
}

#[test]
fn a_label_too_small_for_its_cautions_is_refused_with_what_it_needs() {
    let plan = demo(
        "[paper]\ntray_label = { size = [\"60 mm\", \"20 mm\"] }",
        &[],
    );
    let Err(LabelError::TooSmall { key, needs_mm, .. }) = labels(&plan, Kind::Tray) else {
        panic!("it can't fit");
    };
    assert_eq!(key, "tray_label");
    let grown = format!("[paper]\ntray_label = {{ size = [\"60 mm\", \"{needs_mm} mm\"] }}");
    assert!(labels(&demo(&grown, &[]), Kind::Tray).is_ok());
}

/// Of a name of 80 letters, the most that is read, on labels whose size the maker did not choose.
#[test]
fn labels_of_a_usual_size_grow_with_long_names() {
    let name = "a mooring fob ".repeat(6);
    let name = &name.trim()[..80];
    let plan = demo("", &[("\"tide magnet\"", &format!("\"{name}\""))]);
    for (which, page, _) in pages(&plan) {
        assert!(page.contains("a mooring fob"), "{which}");
    }
}

/// Trays are poured one after another, so none of them says an hour to look at that may lie before its own pour.
#[test]
fn every_tray_looks_for_bubbles_after_its_own_pour() {
    let page = labels(&demo("", &[]), Kind::Tray)
        .expect("fits")
        .expect("some");
    let words = page.replace('\n', " ");
    assert!(words.contains("look for bubbles 18 min after"), "{words}");
    // 71 of one kind in that wave: each tray names its own
    let own: Vec<u64> = (words.split(" × tide magnet: wave 1"))
        .filter_map(|before| before.rsplit(['>', ' ']).next()?.parse().ok())
        .collect();
    assert!(own.len() > 1, "{own:?}");
    assert_eq!(own.iter().sum::<u64>(), 71, "{own:?}");
    assert!(!words.contains("bubbles 09:42"));
}

#[test]
fn no_label_goes_out_without_its_cautions() {
    let epoxy = DEMO.replace(
        "family = \"water-based dome glaze\"\nsurface_tension = \"34 mN/m\"",
        "family = \"two-part dome epoxy\"",
    );
    assert_ne!(epoxy, DEMO);
    for plan in [demo("", &[]), planned(&epoxy)] {
        let [tray, piece, card] = pages(&plan).map(|(_, page, size)| drawn(&page, size));
        let words = |svg: &str| {
            let svg = roxmltree::Document::parse(svg).expect("XML");
            let lines = svg.descendants().filter(|n| n.has_tag_name("text"));
            lines.filter_map(|n| n.text()).collect::<Vec<_>>().join(" ")
        };
        assert!(!plan.cautions.is_empty());
        for label in &tray {
            let label = words(label);
            assert!(label.contains(comes_first()), "{label}");
            for family in &plan.cautions {
                for line in family.cautions.lines {
                    assert!(
                        label.contains(&line.short),
                        "no \"{}\" in {label}",
                        line.short
                    );
                }
            }
        }
        // the magnets come first, the fobs hang on a cord
        for (labels, at_length) in [(&piece, false), (&card, true)] {
            for line in for_buyers() {
                let say = if at_length { &line.say } else { &line.short };
                // the first letter may have been made a large one
                let told = |label: &String| words(label).contains(&say[1..]);
                let on: Vec<bool> = labels.iter().map(told).collect();
                let wanted = match line.concern.as_str() {
                    "magnet" => [true, false],
                    "cord" => [false, true],
                    _ => [true, true],
                };
                assert_eq!(on, wanted, "{}", line.concern);
            }
        }
        let list = pick_list(&plan);
        assert!(list.contains(&maud::html! { (comes_first()) }.into_string()));
    }
}

#[test]
fn nothing_refers_outside_and_names_show_as_themselves() {
    let rude = "<script>alert('x')</script> & \u{5d2}\u{5d0}\u{5d5}\u{5ea} \u{1F30A}";
    let plan = demo(
        "",
        &[
            ("\"tide magnet\"", &format!("\"{rude}\"")),
            ("\"waxed cord\"", "\"<b>cord</b>\""),
        ],
    );
    let mut all: Vec<String> = pages(&plan).map(|(_, page, _)| page).to_vec();
    all.push(pick_list(&plan));
    for page in &all {
        let bare = page.replace("http://www.w3.org/2000/svg", "");
        for outside in [
            "http:", "https:", "//", "<script", "<link", "<img", "<b>", "url(",
        ] {
            assert!(!bare.contains(outside), "{outside}");
        }
    }
    // words are escaped as maud does it, and as themselves once read
    let svg = &drawn(
        &all[1],
        plan.paper
            .piece_label
            .size
            .map(brimful::quantity::Length::mm),
    )[0];
    let svg = roxmltree::Document::parse(svg).expect("XML");
    let told: Vec<_> = svg.descendants().filter_map(|n| n.text()).collect();
    assert!(told.join(" ").contains(rude), "{told:?}");
    assert!(all[3].contains("&lt;b&gt;cord&lt;/b&gt;"));
}

/// The cells of a page's row that names a thing in bold.
fn row(page: &scraper::Html, thing: &str) -> Vec<String> {
    let of = |what: &str| scraper::Selector::parse(what).expect("a selector");
    let words = |element: scraper::ElementRef| {
        let text: String = element.text().collect();
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let [tr, strong, td] = ["tr", "strong", "td"].map(of);
    let rows = page.select(&tr);
    let mut named = rows.filter(|row| row.select(&strong).any(|name| words(name) == thing));
    let row = named.next().unwrap_or_else(|| panic!("no row for {thing}"));
    assert!(named.next().is_none(), "{thing} has one row");
    row.select(&td).map(words).collect()
}

/// What is in stock stands in the demo's file: 12 discs, no tags, 3 sheets, no magnets, 12 rings, 30 bags; a
/// quarter of a bottle of sealer, half a bottle of glaze. From stock goes no more than is needed.
#[test]
fn the_pick_list_gathers_all_that_a_run_takes() {
    let plan = demo("", &[("have = 30", "have = 3000")]);
    let text = pick_list(&plan);
    let page = scraper::Html::parse_document(&text);
    assert!(page.errors.is_empty(), "{:?}", page.errors);
    let told = |thing: &str| row(&page, thing)[2..].to_vec();
    let blank = &plan.blanks[0];
    let start = blank.start.to_string();
    assert_eq!(
        told("beech disc"),
        [start, "12".into(), format!("{} × 25", blank.packs)]
    );
    assert_eq!(told("aluminium tag")[1], "none");
    assert_eq!(told("print sealer")[1..], ["0.25 × 120 mL", "1 × 120 mL"]);
    assert_eq!(told("dome glaze")[1..], ["0.5 × 60 mL", "1 × 250 mL"]);
    assert_eq!(told("print glue")[1..], ["0.8 × 100 mL", "none"]);
    assert_eq!(told("print paper"), ["4 sheets", "3", "1 × 20"]);
    assert_eq!(told("disc magnet")[1..], ["none", "3 × 25"]);
    assert_eq!(told("waxed cord")[1..], ["3.5 m", "1 × 10 m"]);
    assert_eq!(told("split ring")[1..], ["12", "1 × 50"]);
    let [needed, stock, buy] = <[String; 3]>::try_from(told("kraft bag")).expect("three");
    assert_eq!(
        (needed == stock, buy.as_str()),
        (true, "none"),
        "{needed} {stock}"
    );

    // in the order in which they are gathered, and no money
    let order = [
        "Blanks",
        "Coatings",
        "Paper and other sheets",
        "Cord, chain, wire",
        "Findings and packaging",
    ];
    let places = order.map(|group| text.find(group).unwrap_or_else(|| panic!("no {group}")));
    assert!(places.is_sorted(), "{places:?}");
    assert!(text.find("disc magnet") < text.find("kraft bag"));
    assert!(!text.contains("EUR") && !text.contains("0.25 EUR"));
    for amount in ["6.40", "0.07", "0.25 EUR", "118.60"] {
        assert!(!text.contains(amount), "{amount} is money");
    }
}
