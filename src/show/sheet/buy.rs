//! What to buy, each with the last day to order it.

use maud::{Markup, html};

use super::figures::{Figures, Part};
use super::{SheetError, more};
use crate::show::mixing::TOGETHER;

/// At most so many things are told.
const MOST: usize = 24;

pub(super) fn write(figures: &Figures) -> Part {
    let buy = buy(figures)?;
    Ok(html! {
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

fn buy(figures: &Figures) -> Result<Vec<Markup>, SheetError> {
    let mut all = Vec::new();
    for at in figures.each("/coatings") {
        all.extend(bottles(figures, &at)?);
    }
    for at in figures.each("/drawn") {
        all.push(pen(figures, &at)?);
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

fn bottles(figures: &Figures, at: &str) -> Result<Vec<Markup>, SheetError> {
    let of = |key: &str| format!("{at}/{key}");
    let name = figures.name(&of("name"))?;
    let kit = figures.has(&of("mix"));
    let by = html! {
        @if kit { ", " (TOGETHER) }
        (order_by(figures, figures.said(&of("name")))?)
    };
    if figures.has(&of("sizes")) {
        let mut all = Vec::new();
        for size in figures.each(&of("sizes/each")) {
            if figures.number(&format!("{size}/buy"))? > 0.0 {
                let (count, holds) = (format!("{size}/buy"), format!("{size}/holds_ml"));
                all.push(html! {
                    (figures.count(&count)?) " × " (figures.holds(&holds)?) " " (name) (by)
                });
            }
        }
        return Ok(all);
    }
    if !figures.has(&of("bottles")) {
        let needed = figures.volume(&of("needed_sure_ml"))?;
        return Ok(vec![
            html! { (needed) " of " (name) ", if not in stock: no bottle or price is told of" (by) },
        ]);
    }
    if figures.number(&of("bottles"))? > 0.0 {
        let (count, holds) = (
            figures.count(&of("bottles"))?,
            figures.holds(&of("bottle_ml"))?,
        );
        return Ok(vec![html! { (count) " × " (holds) " " (name) (by) }]);
    }
    Ok(Vec::new())
}

/// "night pen for 12 pieces, if not in stock: how far one goes is not worked out".
fn pen(figures: &Figures, at: &str) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    let has = figures.has(&of("have")) && figures.number(&of("have"))? > 0.0;
    Ok(html! {
        (figures.name(&of("name"))?) " for " (figures.count(&of("pieces"))?)
        @if figures.number(&of("pieces"))? > 1.0 { " pieces, " } @else { " piece, " }
        @if has { "with the " (figures.plain(&of("have"))?) " in stock" }
        @else if figures.has(&of("stale")) { "none in stock within its date" }
        @else if figures.has(&of("have")) { "none in stock" }
        @else { "if not in stock" }
        ": how far one goes is not worked out"
        (order_by(figures, figures.said(&of("name")))?)
    })
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
