//! The run sheet's list of work where it is long, and its fills beside its pictures.

use crate::common::sheet::{all, select, told, words};
use scraper::Html;

/// Dozens of sittings have a box to tick for each task of each evening, for two pages hold them;
/// hundreds do not, so there a row says how many it stands for, and the sheet where they are listed.
#[test]
fn a_long_run_is_ticked_off_by_the_evening() {
    let named = |name: &str| {
        let found = all().iter().find(|(known, ..)| *known == name);
        let (_, plan, page) = found.expect("a case");
        (told(plan), Html::parse_document(page))
    };
    let note = "A row of several sittings stands for them all: plan.json lists each.";
    let (plan, page) = named("two hundred");
    let sittings = plan["calendar"]["sittings"].as_array().unwrap().len();
    assert!((40..100).contains(&sittings), "{sittings}");
    let work = plan["calendar"]["work"].as_array().unwrap();
    for row in work {
        let [begins, ends] = ["begins", "ends"].map(|key| row[key].as_str().unwrap());
        assert_eq!(begins[..10], ends[..10], "one row, one evening");
    }
    let boxes = select(&page, ".work tbody tr .tick .box").len();
    assert_eq!(boxes, work.len());
    assert!(boxes > 20, "{boxes}");
    assert!(!words(select(&page, ".work")[0]).contains(note));

    let (plan, page) = named("a season of them");
    assert!(plan["calendar"]["sittings"].as_array().unwrap().len() > 300);
    for row in select(&page, ".work tbody tr") {
        assert!(words(row).contains(" sittings"), "{}", words(row));
    }
    assert!(words(select(&page, ".work")[0]).ends_with(note));
}

/// Beside a syringe that says 2.0 mL a table that says 2 mL looks like another fill.
#[test]
fn fills_read_as_they_do_on_the_syringe() {
    let mut with_pictures = 0;
    for (name, _, source) in all() {
        let mut seen = 0;
        let page = Html::parse_document(source);
        let table: Vec<String> = select(&page, ".fills data")
            .into_iter()
            .map(words)
            .collect();
        for syringe in select(&page, "figure svg") {
            let marked = syringe.text().map(str::trim).filter(|words| {
                words.ends_with(" mL") && !words.contains(',') && *words != "0 mL"
                    || words.ends_with(" fl oz") && !words.contains(',') && *words != "0 fl oz"
            });
            let marked = marked.filter(|words| words.len() < 14);
            for volume in marked {
                assert!(
                    table.iter().any(|it| it == volume),
                    "{name}: no {volume} in {table:?}"
                );
                seen += 1;
            }
        }
        // a syringe marks its fill and, where there is one, a limit on either side
        let syringes = select(&page, "figure svg").len();
        assert!(seen >= 2 * syringes, "{name}: {seen} on {syringes}");
        with_pictures += usize::from(syringes > 0);
    }
    assert!(with_pictures > 10, "{with_pictures}");
}
