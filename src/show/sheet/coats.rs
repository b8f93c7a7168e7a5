//! Coatings with their mixes, and what to buy.

use maud::{Markup, html};

use super::figures::{Figures, Part};
use super::{first, more};

/// At most so many coatings, mixes and things to buy are told.
const MOST: usize = 24;

pub(super) fn write(figures: &Figures) -> Part {
    let coatings = figures.each("/coatings");
    let buy = buy(figures)?;
    let (coatings, left_out) = first(coatings, MOST);
    Ok(html! {
        @if !coatings.is_empty() {
            section {
                h2 { "Coatings" }
                table.plain {
                    thead { tr {
                        th { "Coating" } th { "Laid" } th { "Uses" } th { "To be sure" }
                        th.write { "Lot" } th.write { "Best before" }
                    } }
                    tbody { @for at in &coatings { (coating(figures, at)?) } }
                }
                (more(left_out))
            }
        }
        @if !buy.is_empty() {
            section.buy {
                h2 { "Buy" }
                ul.ticks {
                    @for thing in buy.iter().take(MOST) { li { span.box {} (thing) } }
                }
                (more(buy.len() > MOST))
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
            td { @for (i, step) in steps.iter().enumerate() {
                @if i > 0 { "; " }
                (laid(figures, step)?)
            } }
            td {
                (figures.volume(&of("needed_ml"))?)
                @if figures.has(&of("needed_g")) { ", " (figures.mass(&of("needed_g"))?) }
            }
            td { (figures.volume(&of("needed_sure_ml"))?) }
            td.write {}
            td.write {}
        }
        @if figures.has(&of("mix")) {
            tr { td.mix colspan="6" { (mix(figures, &of("mix"))?) } }
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

/// How the two parts are measured: for the run, and for one mix.
fn mix(figures: &Figures, at: &str) -> Part {
    let (serves, left_out) = first(figures.each(&format!("{at}/cups/serves")), MOST);
    Ok(html! {
        "By weight or by volume, never both. In all: "
        (parts(figures, &format!("{at}/expected"))?)
        "."
        @for one in &serves { br; (one_mix(figures, one)?) }
        (more(left_out))
    })
}

fn one_mix(figures: &Figures, at: &str) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    Ok(html! {
        (figures.name(&of("step"))?) ", " (figures.name(&of("piece"))?) ": "
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
        strong { "A " (figures.grams(&of("a_g"))?) " + B " (figures.grams(&of("b_g"))?) }
        " (A " (figures.millilitres(&of("a_ml"))?) " + B " (figures.millilitres(&of("b_ml"))?) ")"
    })
}

/// What has to be bought, each with the last day to order it.
fn buy(figures: &Figures) -> Result<Vec<Markup>, super::SheetError> {
    let mut all = Vec::new();
    for at in figures.each("/coatings") {
        all.extend(bottles(figures, &at)?);
    }
    for at in figures.each("/blanks") {
        if figures.number(&format!("{at}/packs"))? > 0.0 {
            all.push(packs(figures, &at)?);
        }
    }
    for at in figures.each("/supplies") {
        if figures.number(&format!("{at}/packs"))? > 0.0 {
            all.push(packs(figures, &at)?);
        }
    }
    for at in figures.each("/advice") {
        all.push(html! {
            "advised, not in the run: " (figures.volume(&format!("{at}/needed_sure_ml"))?)
            " of " (figures.name(&format!("{at}/coating"))?) " for a seal coat"
        });
    }
    Ok(all)
}

fn bottles(figures: &Figures, at: &str) -> Result<Vec<Markup>, super::SheetError> {
    let of = |key: &str| format!("{at}/{key}");
    let name = figures.name(&of("name"))?;
    let by = order_by(figures, figures.said(&of("name")))?;
    if figures.has(&of("sizes")) {
        let mut all = Vec::new();
        for size in figures.each(&of("sizes/each")) {
            if figures.number(&format!("{size}/buy"))? > 0.0 {
                let (count, holds) = (format!("{size}/buy"), format!("{size}/holds_ml"));
                all.push(html! {
                    (figures.count(&count)?) " × " (figures.volume(&holds)?) " " (name) (by)
                });
            }
        }
        return Ok(all);
    }
    if !figures.has(&of("bottles")) {
        let needed = figures.volume(&of("needed_sure_ml"))?;
        return Ok(vec![html! { (needed) " of " (name) ", if not in stock" (by) }]);
    }
    if figures.number(&of("bottles"))? > 0.0 {
        let (count, holds) = (
            figures.count(&of("bottles"))?,
            figures.volume(&of("bottle_ml"))?,
        );
        return Ok(vec![html! { (count) " × " (holds) " " (name) (by) }]);
    }
    Ok(Vec::new())
}

/// "3 × 25 beech disc".
fn packs(figures: &Figures, at: &str) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    Ok(html! {
        (figures.count(&of("packs"))?) " × "
        @if figures.number(&of("pack_of"))? > 1.0 { (figures.count(&of("pack_of"))?) " " }
        @if figures.has(&of("spool_mm")) { (figures.length(&of("spool_mm"))?) " " }
        (figures.name(&of("name"))?)
        (order_by(figures, figures.said(&of("name")))?)
    })
}

fn order_by(figures: &Figures, what: &str) -> Part {
    let order = (figures.each("/calendar/order_by").into_iter())
        .find(|at| figures.said(&format!("{at}/what")) == what);
    Ok(match order {
        None => html! {},
        Some(at) => html! { ", by " strong { (figures.day(&format!("{at}/by"))?) } },
    })
}
