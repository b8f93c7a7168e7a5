//! Cautions, warnings, and what can still be done.

use maud::html;

use super::figures::{Figures, Part};
use super::{first, more};

/// At most so many warnings, so many of them alike, and ways to be in time after all.
const WARNINGS: usize = 6;
const ALIKE: usize = 2;
const WAYS: usize = 3;

pub(super) fn write(figures: &Figures) -> Part {
    Ok(html! { (cautions(figures)?) (warnings(figures)?) (still_can(figures)?) })
}

/// The cautions of every family in use, whole.
fn cautions(figures: &Figures) -> Part {
    let families = figures.each("/cautions");
    let Some(any) = families.first() else {
        return Ok(html! {});
    };
    Ok(html! {
        section.care {
            h2 { "Take care" }
            p { strong { (figures.words(&format!("{any}/first"))?) } }
            @for at in &families {
                p {
                    strong { (figures.words(&format!("{at}/about"))?) }
                    " ("
                    @for (i, coating) in figures.each(&format!("{at}/coatings")).iter().enumerate() {
                        @if i > 0 { ", " }
                        (figures.name(coating)?)
                    }
                    "). "
                    @for line in figures.each(&format!("{at}/lines")) {
                        em { (heading(figures.said(&format!("{line}/when")))) ": " }
                        (figures.words(&format!("{line}/say"))?) " "
                    }
                }
            }
            p {
                strong { "Every coated piece" } ": "
                @for (i, line) in figures.each(&format!("{any}/for_every_piece")).iter().enumerate() {
                    @if i > 0 { "; " }
                    (figures.words(&format!("{line}/short"))?)
                }
                "."
            }
        }
    })
}

/// "before" with a capital.
fn heading(word: &str) -> String {
    crate::show::words::heading(word)
}

/// What to watch for, first what stops the run.
fn warnings(figures: &Figures) -> Part {
    let all = figures.each("/warnings");
    if all.is_empty() {
        return Ok(html! {});
    }
    let many = all.len();
    let (told, _) = first(most_telling(figures, all), WARNINGS);
    let left_out = told.len() < many;
    Ok(html! {
        section.watch {
            h2 { "Watch" }
            ul { @for at in &told {
                li {
                    @if figures.is(&format!("{at}/stops")) { strong { "Can't be done as asked: " } }
                    (figures.words(&format!("{at}/text"))?)
                    "."
                }
            } }
            (more(left_out))
        }
    })
}

/// The warnings that stop the run, then the others, of those of one sort only the first few.
fn most_telling(figures: &Figures, mut all: Vec<String>) -> Vec<String> {
    all.sort_by_key(|at| !figures.is(&format!("{at}/stops")));
    let mut seen: Vec<&str> = Vec::new();
    all.retain(|at| {
        let code = figures.said(&format!("{at}/code"));
        seen.push(code);
        figures.is(&format!("{at}/stops"))
            || seen.iter().filter(|known| **known == code).count() <= ALIKE
    });
    all
}

fn still_can(figures: &Figures) -> Part {
    let ways = figures.each("/still_can");
    if ways.is_empty() {
        return Ok(html! {
            @if figures.has("/nothing_can") {
                section.watch {
                    h2 { "What can still be done" }
                    p { (figures.words("/nothing_can")?) "." }
                }
            }
        });
    }
    let (told, left_out) = first(ways, WAYS);
    Ok(html! {
        section.watch {
            h2 { "What can still be done" }
            ul { @for at in &told {
                @let changes = figures.each(&format!("{at}/changes"));
                li {
                    (figures.count(&format!("{at}/pieces"))?) " pieces"
                    @if figures.has(&format!("{at}/of")) {
                        " (" (figures.words(&format!("{at}/of"))?) ")"
                    }
                    @if figures.has(&format!("{at}/ready")) {
                        " likely by " (figures.moment(&format!("{at}/ready"))?)
                        @if figures.has(&format!("{at}/in_time")) {
                            " (" (figures.words(&format!("{at}/in_time"))?) ")"
                        }
                    }
                    ": "
                    @if changes.is_empty() { "fewer pieces, all else as it is" }
                    @for (i, change) in changes.iter().enumerate() {
                        @if i > 0 { "; " }
                        (figures.words(change)?)
                    }
                    "."
                }
            } }
            (more(left_out))
        }
    })
}
