//! Labels, lists and pictures in a browser: printed, counted by pages, and measured: that none of them
//! is cut off, and that no two lines of text share a place.
//!
//! Without a browser these tests say so and pass, unless `BRIMFUL_BROWSER=required`.

use crate::common::browser::{browser, close_to, drawn, misfits, pages, pdf};
use crate::common::sheet::{Paper, cases, printed};
use brimful::plan::pictured;
use brimful::run::Run;
use brimful::show::label::{Kind, labels, pick_list};
use brimful::show::pictures;

/// The labels, cards and the pick list of runs of all sorts, each with how many of its sheets there are.
fn papers(paper: Paper) -> Vec<(String, String, Option<usize>)> {
    let of_all_sorts = ["demo in us units", "ten kinds", "names of all sorts"];
    let mut papers = Vec::new();
    for (name, text) in cases() {
        if !of_all_sorts.contains(&name) {
            continue;
        }
        let (plan, _) = printed(&text, paper);
        for kind in [Kind::Tray, Kind::Piece, Kind::Card] {
            let page = labels(&plan, kind).expect("it fits").expect("a label");
            let sheets = page.matches("<svg class=\"page\"").count();
            papers.push((format!("{name}, {kind:?}"), page, Some(sheets)));
        }
        papers.push((format!("{name}, pick list"), pick_list(&plan), None));
    }
    assert_eq!(papers.len(), 4 * of_all_sorts.len());
    papers
}

/// Every label printed on a sheet of its own kind: as many pages as there are sheets, of the paper's
/// size; and a pick list on one page, on two of ten kinds.
fn prints_papers(paper: Paper) {
    let Some(browser) = browser() else { return };
    let papers = papers(paper);
    for (name, page, sheets) in &papers {
        let pages = pages(&pdf(&browser, page));
        for size in &pages {
            close_to(*size, paper);
        }
        let most = if name.starts_with("ten") { 2 } else { 1 };
        match sheets {
            Some(sheets) => assert_eq!(pages.len(), *sheets, "{name} on {paper:?}"),
            None => assert!(
                pages.len() <= most,
                "{name}: {} pages of {paper:?}",
                pages.len()
            ),
        }
    }
    let lists = papers.iter().filter(|(_, _, sheets)| sheets.is_none());
    let lists: Vec<_> = lists
        .map(|(name, page, _)| (name.as_str(), page.clone()))
        .collect();
    // between margins of 12 mm at 96 pixels to an inch
    let wide = match paper {
        Paper::A4 => 703,
        Paper::Letter => 725,
    };
    let got = misfits(&browser, &lists, wide);
    assert_eq!(got, format!("measured {}, misfits 0", lists.len()));
}

#[test]
fn labels_and_lists_print_on_a4() {
    prints_papers(Paper::A4);
}

#[test]
fn labels_and_lists_print_on_letter() {
    prints_papers(Paper::Letter);
}

/// Every sheet of labels, as the browser draws it.
#[test]
fn no_label_leaves_its_sheet_and_no_two_lines_share_a_place() {
    let Some(browser) = browser() else { return };
    let sheets: Vec<_> = papers(Paper::Letter)
        .into_iter()
        .filter_map(|(name, page, sheets)| sheets.map(|_| (name, page)))
        .collect();
    let told = drawn(&browser, &sheets);
    assert!(told.ends_with(", wrong 0"), "{told}");
    let texts: usize = told[9..].split([',', ':']).next().unwrap().parse().unwrap();
    assert!(texts > 400, "{told}");
}

/// Every picture of the demo, of ten kinds in US units, and of names of all sorts.
#[test]
fn every_picture_s_words_stay_in_it_and_apart() {
    let Some(browser) = browser() else { return };
    let mut all = Vec::new();
    for (name, text) in cases() {
        if !["demo", "ten kinds in us units", "names of all sorts"].contains(&name) {
            continue;
        }
        let run = Run::read(&text, "run.toml").unwrap();
        let plan = brimful::plan::plan(&run).unwrap();
        let shown = pictured(&run, &plan).unwrap();
        for named in pictures::all(&plan, &shown).unwrap() {
            all.push((format!("{name}, {}", named.name), named.picture.svg));
        }
    }
    assert!(all.len() > 40, "{}", all.len());
    let told = drawn(&browser, &all);
    assert!(told.ends_with(", wrong 0"), "{told}");
    let texts: usize = told[9..].split([',', ':']).next().unwrap().parse().unwrap();
    assert!(texts > 800, "{told}");
}

/// What is measured can fail: words past the edge, and words over words.
#[test]
fn words_over_words_are_found() {
    let Some(browser) = browser() else { return };
    let svg = |at: &str| {
        format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 40" width="100" height="40"><text x="5" y="20" font-size="10">one</text><text {at} font-size="10">other</text></svg>"#
        )
    };
    for (at, wrong) in [
        ("x=\"9\" y=\"22\"", 1),
        ("x=\"90\" y=\"20\"", 1),
        ("x=\"60\" y=\"20\"", 0),
    ] {
        let told = drawn(&browser, &[("two words".to_owned(), svg(at))]);
        assert!(told.ends_with(&format!(", wrong {wrong}")), "{told}");
    }
}
