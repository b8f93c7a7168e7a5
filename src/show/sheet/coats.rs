//! Coatings with their mixes.

use maud::html;

use super::figures::{Figures, Part};
use super::{first, more};

/// At most so many coatings, and mixes of each, are told.
const MOST: usize = 24;

/// Of so many kinds what one piece takes is told too.
const FEW: usize = 2;

pub(super) fn write(figures: &Figures) -> Part {
    let coatings = figures.each("/coatings");
    let (coatings, left_out) = first(coatings, MOST);
    Ok(html! {
        @if !coatings.is_empty() {
            section {
                h2 { "Coatings" }
                table.plain.coats {
                    thead { tr {
                        th.name { "Coating" } th.laid { "Laid" } th.uses { "Uses" } th.sure { "To be sure" }
                        th.write { "Lot" } th.write { "Best before" }
                    } }
                    tbody { @for at in &coatings { (coating(figures, at)?) } }
                }
                (more(left_out))
            }
        }
    })
}

fn coating(figures: &Figures, at: &str) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    let name = figures.said(&of("name"));
    let steps: Vec<String> = (figures.each("/steps").into_iter())
        .filter(|step| figures.said(&format!("{step}/coating")) == name)
        .collect();
    Ok(html! {
        tr {
            th scope="row" { (figures.name(&of("name"))?) }
            td.laid data-head="laid" { @for (i, step) in steps.iter().enumerate() {
                @if i > 0 { "; " }
                (laid(figures, step)?)
            } }
            td data-head="uses" {
                (figures.volume(&of("needed_ml"))?)
                @if figures.has(&of("needed_g")) { ", " (figures.mass(&of("needed_g"))?) }
            }
            td data-head="to be sure" { (figures.volume(&of("needed_sure_ml"))?) }
            td.write {}
            td.write {}
        }
        @if figures.has(&of("mix")) {
            tr { td.mix colspan="6" { (mix(figures, &of("mix"), name)?) } }
        }
    })
}

/// "seal: 2 coats of 0.1 mm".
fn laid(figures: &Figures, step: &str) -> Part {
    let of = |key: &str| format!("{step}/{key}");
    let brushed = figures.said(&of("kind")) == "brush" && figures.has(&of("depth_mm"));
    Ok(html! {
        (figures.name(&of("name"))?) ": "
        (figures.count(&of("coats"))?)
        @if figures.number(&of("coats"))? > 1.0 { " coats" } @else { " coat" }
        @if brushed { ", " (figures.length(&of("depth_mm"))?) " wet" }
        @if figures.number(&of("faces"))? > 1.0 { ", both faces" }
    })
}

/// How the two parts are measured: so many mixes, and at most so much in one.
fn mix(figures: &Figures, at: &str, coating: &str) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    let (serves, left_out) = first(figures.each(&format!("{at}/cups/serves")), MOST);
    Ok(html! {
        "By weight or by volume, never both. "
        @if figures.has(&of("mixes")) {
            (figures.count(&of("mixes"))?)
            @if figures.has(&of("least")) {
                " mixes, each as its sitting asks, from " (parts(figures, &of("least"))?)
                " to " (parts(figures, &of("most"))?)
            } @else {
                @if figures.number(&of("mixes"))? > 1.0 { " mixes, each of about " } @else { " mix, of about " }
                (parts(figures, &of("each"))?)
            }
        } @else {
            "For all the mixes together, never in one cup: "
            (parts(figures, &of("expected"))?)
        }
        ". " (heat(figures, coating)?)
        @for one in &serves { br; (one_mix(figures, one, serves.len() <= FEW)?) }
        (more(left_out))
    })
}

/// The caution of a coating's family for while it is worked with, in short: of what is mixed, that
/// a cupful heats itself.
fn heat(figures: &Figures, coating: &str) -> Part {
    let mut families = figures.each("/cautions").into_iter();
    let own = families.find(|at| {
        let coatings = figures.each(&format!("{at}/coatings"));
        coatings.iter().any(|at| figures.said(at) == coating)
    });
    let lines = own.map(|at| figures.each(&format!("{at}/lines")));
    let mut lines = lines.unwrap_or_default().into_iter();
    Ok(
        match lines.find(|at| figures.said(&format!("{at}/when")) == "while") {
            None => html! {},
            Some(at) => html! { "Take care: " (figures.words(&format!("{at}/short"))?) "." },
        },
    )
}

/// At most how much at once; of a few kinds with what one piece takes.
fn one_mix(figures: &Figures, at: &str, few: bool) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    Ok(html! {
        (figures.name(&of("step"))?) ", " (figures.piece(&of("piece"))?) ": "
        @if few {
            "A " (figures.part_finely_weighed(&of("each/a_g"))?)
            " + B " (figures.part_finely_weighed(&of("each/b_g"))?) " a piece; "
        }
        @if figures.has(&of("worst/parts")) {
            "at most " (figures.count(&of("worst/coats"))?) " of "
            (figures.count(&of("coats_in_all"))?) " from one mix, of "
            (parts(figures, &of("worst/parts"))?)
        } @else {
            "a mix may not last for even one piece"
        }
    })
}

fn parts(figures: &Figures, at: &str) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    Ok(html! {
        strong { "A " (figures.part_weighed(&of("a_g"))?) " + B " (figures.part_weighed(&of("b_g"))?) }
        " (A " (figures.part_measured(&of("a_ml"))?) " + B " (figures.part_measured(&of("b_ml"))?) ")"
    })
}
