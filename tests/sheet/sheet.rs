//! The run sheet: each of its figures is the plan's, it refers to nothing outside, and
//! leaves out no caution.

use std::collections::BTreeSet;

use crate::common::sheet::{DEMO, Paper, all, demo, printed, select, told, words};
use brimful::coating::{comes_first, families, family};
use jiff::civil::{Date, DateTime, Weekday};
use scraper::{ElementRef, Html};
use serde_json::Value;

/// A unit's size in the unit that a key of the JSON ends with. Sizes of the US and the
/// avoirdupois units: NIST Special Publication 811 (2008), appendix B.
fn size(key: &str, unit: &str) -> f64 {
    let known = [
        ("_l", "L", 1.0),
        ("_l", "US gal", 3.785_411_784),
        ("_ml", "mm³", 1e-3),
        ("_ml", "mL", 1.0),
        ("_ml", "L", 1e3),
        ("_ml", "fl oz", 29.573_529_562_5),
        ("_ml", "US gal", 3_785.411_784),
        ("_g", "mg", 1e-3),
        ("_g", "g", 1.0),
        ("_g", "kg", 1e3),
        ("_g", "oz wt", 28.349_523_125),
        ("_g", "lb", 453.592_37),
        ("_mm", "µm", 1e-3),
        ("_mm", "mm", 1.0),
        ("_mm", "m", 1e3),
        ("_mm", "in", 25.4),
        ("_mm", "ft", 304.8),
        ("_min", "s", 1.0 / 60.0),
        ("_min", "min", 1.0),
        ("_min", "h", 60.0),
        ("_min", "days", 1440.0),
        ("_h", "s", 1.0 / 3600.0),
        ("_h", "min", 1.0 / 60.0),
        ("_h", "h", 1.0),
        ("_h", "days", 24.0),
        ("_percent", "%", 1.0),
        ("chance_ready", "%", 0.01),
        ("_c", "°C", 1.0),
        ("_c", "°F", 5.0 / 9.0),
    ];
    let found = known
        .iter()
        .find(|(end, name, _)| key.ends_with(end) && *name == unit);
    found
        .unwrap_or_else(|| panic!("{key} is not shown in {unit:?}"))
        .2
}

/// A number and half a unit of its last printed place: "1.25", "3/4", "1 1/2".
fn number(text: &str) -> (f64, f64) {
    let parts: Vec<&str> = text.split(' ').collect();
    let fraction = |part: &str| {
        let (above, below) = part.split_once('/').unwrap();
        above.parse::<f64>().unwrap() / below.parse::<f64>().unwrap()
    };
    match parts.as_slice() {
        [whole, part] => (whole.parse::<f64>().unwrap() + fraction(part), 1e-6),
        [part] if part.contains('/') => (fraction(part), 1e-6),
        _ => {
            let places = text.split_once('.').map_or(0, |(_, places)| places.len());
            let half = 0.5 * 10f64.powi(-i32::try_from(places).unwrap());
            (
                text.parse()
                    .unwrap_or_else(|_| panic!("{text} is no number")),
                half,
            )
        }
    }
}

/// What is shown says the number of the JSON within what is printed.
fn says(key: &str, shown: &str, raw: f64) {
    let (bound, shown) = ["over ", "under "]
        .iter()
        .find_map(|bound| Some((*bound, shown.strip_prefix(bound)?)))
        .unwrap_or(("", shown));
    let at = shown.find(|c: char| !(c.is_ascii_digit() || ".-/ ".contains(c)));
    let (figure, unit) = shown.split_at(at.unwrap_or(shown.len()));
    let (value, half) = number(figure.trim());
    let unit = unit.trim();
    if unit.is_empty() {
        // counts are whole and exact, money goes to two places
        let half = if figure.contains('.') { half } else { 0.0 };
        assert!(
            (value - raw).abs() <= half + 1e-9,
            "{key}: {shown} is not {raw}"
        );
        return;
    }
    let unit_size = size(key, unit);
    let zero = if unit == "°F" { 32.0 } else { 0.0 };
    let value = (value - zero) * unit_size;
    match bound {
        "over " => assert!(raw > value, "{key}: {raw} is not over {shown}"),
        "under " => assert!(raw < value, "{key}: {raw} is not under {shown}"),
        // the longest that a mix may be worked with is never rounded up
        _ if key.ends_with("worst_min") => assert!(
            value <= raw && raw < value + 2.0 * half * unit_size,
            "{key}: {shown} is not {raw}"
        ),
        _ => assert!(
            (value - raw).abs() <= half * unit_size * (1.0 + 1e-9) + 1e-9,
            "{key}: {shown} is not {raw}"
        ),
    }
}

fn day(date: Date) -> (&'static str, &'static str) {
    let weekday = match date.weekday() {
        Weekday::Monday => "Monday",
        Weekday::Tuesday => "Tuesday",
        Weekday::Wednesday => "Wednesday",
        Weekday::Thursday => "Thursday",
        Weekday::Friday => "Friday",
        Weekday::Saturday => "Saturday",
        Weekday::Sunday => "Sunday",
    };
    let months = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    (weekday, months[usize::try_from(date.month()).unwrap() - 1])
}

/// The ways in which the sheet writes a moment.
fn ways(when: DateTime) -> [String; 6] {
    let (weekday, month) = day(when.date());
    let clock = format!("{:02}:{:02}", when.hour(), when.minute());
    let short = format!("{} {} {}", &weekday[..3], when.day(), &month[..3]);
    [
        format!("{weekday} {} {month} {}, {clock}", when.day(), when.year()),
        format!("{short} {clock}"),
        // where a plan has dates of two years
        format!("{short} {} {clock}", when.year()),
        format!("{short} {}", when.year()),
        short,
        clock,
    ]
}

/// Walks every marked element of a sheet; gives how many of each sort there are.
fn walk(page: &Html, plan: &Value) -> [usize; 3] {
    let mut counts = [0; 3];
    for element in select(page, "[data-from]") {
        let from = element.value().attr("data-from").unwrap();
        let source = plan
            .pointer(from)
            .unwrap_or_else(|| panic!("{from} is not there"));
        let shown = words(element);
        match element.value().name() {
            "data" => {
                counts[0] += 1;
                let raw = element.value().attr("value").unwrap();
                // the reader of the JSON is off by a last bit now and then
                let (raw, source) = (raw.parse::<f64>().unwrap(), source.as_f64().unwrap());
                assert!((raw - source).abs() <= 1e-15 * source.abs(), "{from}");
                // a band's ends have no unit of their own
                let key = from.trim_end_matches("/low").trim_end_matches("/high");
                says(key, &shown, raw);
            }
            "time" => {
                counts[1] += 1;
                let raw = element.value().attr("datetime").unwrap();
                assert_eq!(Some(raw), source.as_str(), "{from}");
                let when: DateTime = raw.parse().unwrap();
                assert!(ways(when).contains(&shown), "{shown} is not {raw}");
            }
            _ => {
                counts[2] += 1;
                assert_eq!(Some(shown.as_str()), source.as_str(), "{from}");
            }
        }
    }
    counts
}

/// The words of an element outside every marked one and every picture in it.
fn unmarked(element: ElementRef, words: &mut String) {
    for child in element.children() {
        if let Some(text) = child.value().as_text() {
            words.push_str(text);
        }
        let inner = ElementRef::wrap(child).filter(|inner| {
            inner.value().attr("data-from").is_none() && inner.value().name() != "svg"
        });
        if let Some(inner) = inner {
            unmarked(inner, words);
        }
    }
}

#[test]
fn every_figure_is_the_plans_and_no_digit_stands_apart() {
    assert_eq!(all().len(), 21);
    for (name, plan, source) in all() {
        let page = Html::parse_document(source);
        assert!(page.errors.is_empty(), "{name}: {:?}", page.errors);
        let [figures, times, said] = walk(&page, &told(plan));
        assert!(figures > 30 && said > 20, "{name}: {figures}, {said}");
        assert_eq!(
            times > 0,
            plan.header.ready_by.is_some() || plan.header.start.is_some(),
            "{name}"
        );
        let mut apart = String::new();
        unmarked(select(&page, "body")[0], &mut apart);
        assert!(apart.contains("Make and pour"), "{name}");
        assert!(!apart.contains(|c: char| c.is_numeric()), "{name}: {apart}");
    }
}

#[test]
fn the_demos_sheet_shows_what_a_maker_asks_of_it() {
    let (plan, page) = printed(DEMO, Paper::A4);
    let page = Html::parse_document(&page);
    let heads: Vec<String> = select(&page, "h1, h2").into_iter().map(words).collect();
    let wanted = [
        "Harbour fair",
        "Make and pour",
        "Buy",
        "Coatings",
        "Take care",
        "Watch",
        "Work, in order",
        "As it came out",
        "Money, in EUR",
        "Notes for next time",
    ];
    assert_eq!(heads, wanted);
    // the first evening is 7 April 2027
    assert_eq!(words(select(&page, ".batch bdi")[0]), "HF-270407");
    assert_eq!(select(&page, "figure svg").len(), 2);
    let work = words(select(&page, ".work")[0]);
    let sittings = &plan.dates.calendar().unwrap().sittings;
    let domed = sittings.iter().find(|sitting| sitting.what == "dome");
    let looks = &domed.unwrap().looks;
    let [first, last] = [looks[0], looks[looks.len() - 1]].map(|look| look.strftime("%H:%M"));
    let looked = format!("look for bubbles {first}–{last}");
    assert!(work.contains(&looked), "{looked} in {work}");
    assert!(work.contains("seal, coat 2 of 2"), "{work}");
    let buy = words(select(&page, ".buy")[0]);
    assert!(buy.contains("3 × 25 beech disc, by Fri 2 Apr"), "{buy}");
    // lot and best-before of three coatings, to write in
    assert_eq!(select(&page, "td.write").len(), 6);
}

/// The batch code by the rule in words: first letters, then year, month and day.
#[test]
fn batches_are_named_by_letters_and_a_day() {
    let code = |text: &str| {
        let (plan, _) = printed(text, Paper::A4);
        told(&plan)["batch_code"].as_str().unwrap().to_owned()
    };
    assert_eq!(
        code(&demo(&[("Harbour fair", "the old mill at Wye 2027")])),
        "TOMA-270407"
    );
    assert_eq!(code(&demo(&[("Harbour fair", "🐚 ***")])), "RUN-270407");
    assert_eq!(
        code(&demo(&[("ready_by = 2027-04-17T08:00:00\n", "")])),
        "HF"
    );
}

#[test]
fn nothing_outside_is_referred_to() {
    for (name, _, source) in all() {
        assert!(!source.contains("://"), "{name} names an address");
        let page = Html::parse_document(source);
        assert!(
            select(
                &page,
                "script, link, img, iframe, object, embed, base, form"
            )
            .is_empty()
        );
        for element in select(&page, "*") {
            for (key, value) in element.value().attrs() {
                let plain = ![
                    "href",
                    "src",
                    "srcset",
                    "xlink:href",
                    "action",
                    "data",
                    "poster",
                ]
                .contains(&key)
                    && !key.starts_with("on");
                assert!(plain && !value.contains("url("), "{name}: {key} = {value}");
            }
        }
        let styles: String = select(&page, "style")
            .into_iter()
            .flat_map(|it| it.text())
            .collect();
        assert!(
            !styles.contains("url(") && !styles.contains("@import"),
            "{name}"
        );
    }
}

#[test]
fn a_name_shows_as_itself() {
    let names = [
        r#"<script>alert("x")</script>"#,
        r#"a "quoted" 'name' & more"#,
        "מגנט ים של חוף",
        "🐚 shell &amp; <b>pearl</b>",
    ];
    let mut pictures = 0;
    for name in names {
        let quoted = toml::Value::from(name).to_string();
        let text = demo(&[
            ("\"Harbour fair\"", quoted.as_str()),
            ("\"tide magnet\"", quoted.as_str()),
            ("\"dome\"", quoted.as_str()),
        ]);
        let (plan, source) = printed(&text, Paper::A4);
        let page = Html::parse_document(&source);
        assert!(page.errors.is_empty(), "{:?}", page.errors);
        assert!(select(&page, "script, b").is_empty());
        walk(&page, &told(&plan));
        assert_eq!(words(select(&page, "h1 bdi")[0]), name);
        assert_eq!(words(select(&page, "tbody th bdi")[0]), name);
        assert_eq!(
            words(select(&page, "title")[0]),
            format!("{name}: run sheet")
        );
        let shown = select(&page, "bdi")
            .into_iter()
            .filter(|it| words(*it) == name);
        assert!(shown.count() > 8);
        // as the picture's own words, set apart from what stands around them
        for picture in select(&page, "figure svg > title") {
            let picture = words(picture);
            let apart = format!("\u{2068}{name}\u{2069}");
            assert!(
                !picture.contains(name) || picture.contains(&apart),
                "{picture}"
            );
            pictures += usize::from(picture.contains(&apart));
        }
    }
    assert!(pictures >= 1, "{pictures} pictures with the name");
}

/// Every family in use brings all three of its lines, and what comes first.
#[test]
fn no_caution_is_left_out() {
    let kinds: Vec<&str> = families()
        .iter()
        .map(|family| family.name.as_str())
        .collect();
    assert!(kinds.len() >= 7);
    for kind in [
        "water-based dome glaze",
        "two-part dome epoxy",
        "lamp-cured dome resin",
        "moisture-curing clear",
    ] {
        assert!(kinds.contains(&kind), "{kind}");
        let text = demo(&[(
            "family = \"water-based dome glaze\"\nsurface_tension = \"34 mN/m\"",
            &format!("family = \"{kind}\""),
        )]);
        let text = text.replace(
            "label = { at = [\"23 C\", \"50 %\"], handle = \"24 h\", recoat = \"24 h\" }",
            "",
        );
        let (plan, source) = printed(&text, Paper::A4);
        let page = Html::parse_document(&source);
        let care = words(select(&page, ".care")[0]);
        let keys = [
            &family(kind).unwrap().cautions,
            &family("water-based glue").unwrap().cautions,
        ];
        for key in keys {
            let cautions = brimful::coating::cautions(key).unwrap();
            assert!(care.contains(cautions.first), "{kind}");
            for line in cautions.lines {
                assert!(care.contains(&line.say), "{kind}: {}", line.say);
            }
            for line in cautions.general {
                assert!(care.contains(&line.short), "{kind}: {}", line.short);
            }
        }
        // the same in the JSON, with how bad, when, and the rule behind it
        for family in told(&plan)["cautions"].as_array().unwrap() {
            let about = family["about"].as_str().unwrap();
            let known = brimful::coating::cautions(about).unwrap();
            assert_eq!(family["short_first"], comes_first());
            for (line, when) in ["before", "while", "after"].into_iter().enumerate() {
                let (line, known) = (&family["lines"][line], &known.lines[line]);
                assert_eq!(line["when"], when);
                assert_eq!(line["say"], known.say.as_str());
                assert_eq!(line["short"], known.short.as_str());
                assert_eq!(line["behind"], known.behind.as_str());
                let severity = format!("{:?}", known.severity).to_lowercase();
                assert_eq!(line["severity"], severity.as_str());
            }
            assert_eq!(
                family["for_every_piece"].as_array().unwrap().len(),
                known.general.len()
            );
        }
    }
}

#[test]
fn nothing_on_it_is_called_safe() {
    for (name, _, source) in all() {
        let page = Html::parse_document(source);
        let all = words(select(&page, "body")[0])
            .to_lowercase()
            .replace("safety data sheet", "");
        assert!(
            !all.split(|c: char| !c.is_alphanumeric())
                .any(|word| word.starts_with("safe")),
            "{name}"
        );
    }
}

#[test]
fn the_sheet_is_as_large_as_the_run_s_paper() {
    let page = |text: &str, paper| printed(text, paper).1;
    assert!(page(DEMO, Paper::A4).contains("@page { size: 210mm 297mm;"));
    assert!(page(DEMO, Paper::Letter).contains("@page { size: 215.9mm 279.4mm;"));
}

/// However many sittings there are, the list of work stays two pages'.
#[test]
fn many_sittings_are_told_together() {
    for (name, plan, source) in all() {
        let page = Html::parse_document(source);
        let rows = select(&page, ".work tbody tr").len();
        let plan = told(plan);
        let Some(sittings) = plan["calendar"]["sittings"]
            .as_array()
            .filter(|all| !all.is_empty())
        else {
            assert_eq!(rows, plan["steps"].as_array().unwrap().len(), "{name}");
            continue;
        };
        assert!(rows <= sittings.len().min(80), "{name}: {rows}");
        // an evening's own rows wherever two pages have room for them, else at least each task's
        let evening = |sitting: &Value| {
            let begins = sitting["begins"].as_str().unwrap();
            format!("{} {} {}", &begins[..10], sitting["what"], sitting["coat"])
        };
        let evenings: BTreeSet<String> = sittings.iter().map(evening).collect();
        let tasks: BTreeSet<&str> = evenings.iter().map(|own| &own[11..]).collect();
        let least = if evenings.len() <= 40 {
            evenings.len()
        } else {
            tasks.len()
        };
        assert!(rows >= least, "{name}: {rows} of {least}");
        // every piece of every sitting stands in one row of its task
        let work = plan["calendar"]["work"].as_array().unwrap();
        assert_eq!(work.len(), rows, "{name}");
        let pieces = |rows: &[Value]| -> u64 {
            rows.iter()
                .flat_map(|row| row["pieces"].as_array().unwrap())
                .map(|piece| piece["count"].as_u64().unwrap())
                .sum()
        };
        assert_eq!(pieces(work), pieces(sittings), "{name}");
        let counted: u64 = work
            .iter()
            .map(|row| row["sittings"].as_u64().unwrap())
            .sum();
        assert_eq!(counted, sittings.len() as u64, "{name}");
    }
}
