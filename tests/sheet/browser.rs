//! The run sheet in a browser: printed, counted by pages, and measured for words that do not fit.
//!
//! Without a browser these tests say so and pass, unless `BRIMFUL_BROWSER=required`.

use crate::common::browser::{browser, close_to, headings, misfits, pages, pdf};
use crate::common::sheet::{Paper, all, cases, printed};

/// How many pages each run takes: whatever is near the demo one; many kinds of piece or many
/// sittings two, for each has a row to write in. So does epoxy: cautions of two
/// families, six warnings and sixteen rows, some with recipes for two mixes, are more than a page.
fn most(name: &str, paper: Paper) -> usize {
    match name {
        // 18 mm less than A4
        "long names" | "too late" => 1 + usize::from(matches!(paper, Paper::Letter)),
        "ten kinds"
        | "ten kinds in us units"
        | "two hundred"
        | "epoxy with mixes"
        | "late epoxy" => 2,
        _ => 1,
    }
}

/// What must stand under a heading on its own page: a line of words and a row to write in, `[mm]`.
const UNDER: f64 = 3.0 + 4.4;
/// The height of a row for what came of a kind of piece, `[mm]`.
const CAME_OUT: f64 = 5.3;
/// What stays free along the edges, `[mm]`.
const MARGIN: f64 = 9.0;

/// Prints every case; tells of each that takes more pages than it should, and of headings that stand alone.
fn prints(paper: Paper) {
    let Some(browser) = browser() else { return };
    let mut wrong = Vec::new();
    for (name, text) in cases() {
        let (plan, page) = printed(&text, paper);
        let printed = pdf(&browser, &page);
        let pages = pages(&printed);
        for size in &pages {
            close_to(*size, paper);
        }
        if !(1..=most(name, paper)).contains(&pages.len()) {
            wrong.push(format!("{name}: {} pages", pages.len()));
        }
        let headings = headings(&printed);
        assert!(headings.len() > 5, "{name}: {headings:?}");
        for (heading, top) in headings {
            let mut under = UNDER;
            if heading == "As it came out" {
                under += plan.pieces.iter().map(|_| CAME_OUT).sum::<f64>();
            }
            if top < (MARGIN + under) / 25.4 * 72.0 {
                wrong.push(format!("{name}: {heading} stands alone, {top} points up"));
            }
        }
    }
    assert!(wrong.is_empty(), "on {paper:?}: {wrong:#?}");
}

#[test]
fn each_run_prints_on_as_few_pages_of_a4_as_it_can() {
    prints(Paper::A4);
}

#[test]
fn each_run_prints_on_as_few_pages_of_letter_as_it_can() {
    prints(Paper::Letter);
}

/// On paper, between margins of 9 mm at 96 pixels to an inch, and on a phone.
#[test]
fn nothing_is_wider_than_its_place() {
    let Some(browser) = browser() else { return };
    let none = |count: usize| format!("measured {count}, misfits 0");
    let printed: Vec<_> = (all().iter())
        .map(|(name, _, page)| {
            let page = page.replace("@media print", "@media all");
            (*name, page.replace("@media screen", "@media speech"))
        })
        .collect();
    for wide in [725, 748] {
        let got = misfits(&browser, &printed, wide);
        assert_eq!(got, none(printed.len()), "on paper {wide} wide");
    }
    let pages: Vec<_> = (all().iter())
        .map(|(name, _, page)| (*name, page.clone()))
        .collect();
    for phone in [360, 412] {
        assert_eq!(
            misfits(&browser, &pages, phone),
            none(pages.len()),
            "on a phone"
        );
    }
}

/// What is measured can fail: a line that can't be broken is found, and so are many pages.
#[test]
fn what_does_not_fit_is_found() {
    let Some(browser) = browser() else { return };
    let line = format!(
        "<!doctype html><p style='white-space:nowrap'>{}",
        "wide ".repeat(60)
    );
    let got = misfits(&browser, &[("line", line)], 300);
    assert!(
        got.contains("out line") || got.contains("wide line"),
        "{got}"
    );
    assert!(pages(&pdf(&browser, &"<p>line".repeat(400))).len() > 5);
}
