//! Coatings with their mixes.

use maud::html;

use super::figures::{Figures, Part};
use super::{first, more};

/// At most so many coatings, and mixes of each, are told.
const MOST: usize = 24;

/// So many kinds of piece have a line each for what one takes of a mix, by weight and by volume; more are told by
/// weight, one after the other.
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

/// How the two parts are measured: so many mixes, each for its own cup and its pieces.
fn mix(figures: &Figures, at: &str, coating: &str) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    let (serves, left_out) = first(figures.each(&of("cups/serves")), MOST);
    let few = serves.len() <= FEW;
    let dated = !figures.each("/calendar/work").is_empty();
    let by_volume = few || dated && !figures.has(&of("least"));
    Ok(html! {
        @if by_volume { "By weight or by volume, never both. " } @else { "By weight. " }
        @if !figures.has(&of("mixes")) {
            "For all the mixes together, never in one cup: "
            (parts(figures, &of("expected"), true)?)
        } @else {
            (figures.count(&of("mixes"))?)
            @if figures.has(&of("least")) {
                " mixes, each for its own pieces, from " (parts(figures, &of("least"), by_volume)?)
                " to " (parts(figures, &of("most"), by_volume)?)
            } @else if figures.number(&of("mixes"))? < 2.0 {
                " mix, of about " (parts(figures, &of("each"), true)?)
            } @else if dated || serves.len() < 2 {
                " mixes, each of about " (parts(figures, &of("each"), true)?)
            } @else {
                " mixes, each for its own pieces"
            }
        }
        ". "
        @let lasts = of("cups/planned/work") + "/worst_min";
        @if figures.has(&lasts) {
            "Use up the heaviest, " (figures.mass(&of("cups/planned/mass_g"))?) ", in "
            (figures.at_most(&lasts)?) ", stirring and all. "
        }
        (heat(figures, coating)?)
        @if !serves.is_empty() {
            br;
            "By the piece: in each mix " (finely(figures, &of("cups/keeps"), few)?) " for its cup, and for each"
        }
        @for (i, one) in serves.iter().enumerate() {
            @if few { br; } @else if i > 0 { ";" }
            " " (a_piece(figures, one, few, &of("cups/label_mass_g"))?)
        }
        (more(left_out))
        @if !serves.is_empty() {
            @if few { br; } @else { ". " }
            "If one runs short, mix another."
        }
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

/// What a piece takes of a mix, and how many pieces a mix with any of it is for at most.
fn a_piece(figures: &Figures, at: &str, few: bool, label: &str) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    let most = figures.number(&of("in_a_mix"))?;
    let beyond = figures.number(&of("worst/mix_g"))? > figures.number(label)?;
    Ok(html! {
        (figures.name(&of("step"))?) ", " (figures.piece(&of("piece"))?)
        @if figures.number(&of("time"))? > 1.0 { ", time " (figures.count(&of("time"))?) }
        ": " (finely(figures, &of("each"), few)?)
        @if figures.has(&of("further")) {
            " the first coat of a face, " (finely(figures, &of("further"), few)?) " each further"
        }
        @if most < 1.0 {
            ", a mix may not last for even one piece"
        } @else if most < figures.number(&of("in_step"))? {
            @if few {
                ", no mix with any of it for more than " (figures.count(&of("in_a_mix"))?)
                @if most > 1.0 { " pieces of all kinds" } @else { " piece" }
            } @else {
                ", a mix with it for " (figures.count(&of("in_a_mix"))?) " in all"
            }
        }
        @if beyond {
            ", and that one is more than the " (figures.mass(label)?) " that the label speaks of"
        }
    })
}

/// "A 0.76 g + B 0.69 g", and by volume: "(A 0.70 mL + B 0.70 mL)".
fn finely(figures: &Figures, at: &str, by_volume: bool) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    Ok(html! {
        "A " (figures.part_finely_weighed(&of("a_g"))?) " + B " (figures.part_finely_weighed(&of("b_g"))?)
        @if by_volume {
            " (A " (figures.part_finely_measured(&of("a_ml"))?)
            " + B " (figures.part_finely_measured(&of("b_ml"))?) ")"
        }
    })
}

/// "A 6.9 g + B 6.2 g", and by volume: "(A 6.3 mL + B 6.3 mL)".
fn parts(figures: &Figures, at: &str, by_volume: bool) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    Ok(html! {
        strong { "A " (figures.part_weighed(&of("a_g"))?) " + B " (figures.part_weighed(&of("b_g"))?) }
        @if by_volume {
            " (A " (figures.part_measured(&of("a_ml"))?) " + B " (figures.part_measured(&of("b_ml"))?) ")"
        }
    })
}
