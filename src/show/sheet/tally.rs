//! The money, in short.

use maud::html;

use super::figures::{Figures, Part};
use super::{first, more};

/// At most so many kinds of piece are told.
const MOST: usize = 12;

pub(super) fn write(figures: &Figures) -> Part {
    if !figures.has("/money") {
        return Ok(html! {});
    }
    let (pieces, left_out) = first(figures.each("/money/pieces"), MOST);
    let unpriced = figures.each("/money/unpriced");
    Ok(html! {
        section.money {
            h2 { "Money, in " (figures.name("/money/currency")?) }
            p {
                @for at in &pieces { (piece(figures, at)?) " " }
                (fair(figures)?)
                " To pay now: " strong { (figures.money("/money/to_buy")?) } "."
                @if !unpriced.is_empty() {
                    " Left out for want of a price or an amount: "
                    @for (i, at) in unpriced.iter().enumerate() {
                        @if i > 0 { ", " }
                        (figures.name(at)?)
                    }
                    "."
                }
            }
            (more(left_out))
        }
    })
}

/// "tide magnet: costs 2.04, loses under 2.09, sold at 4.50."
fn piece(figures: &Figures, at: &str) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    Ok(html! {
        strong { (figures.piece(&of("piece"))?) } ": costs "
        (figures.money(&of("variable_cost/used"))?)
        ", loses under " (figures.money(&of("floor"))?)
        @if figures.has(&of("price")) && figures.number(&of("for_fair"))? > 0.0 {
            ", sold at " (figures.money(&of("price"))?)
        } @else if figures.has(&of("wholesale")) {
            ", to a shop at " (figures.money(&of("wholesale/price"))?)
        }
        "."
    })
}

fn fair(figures: &Figures) -> Part {
    let pieces = figures.each("/money/pieces").into_iter().filter(|at| {
        let goes = figures.number(&format!("{at}/for_fair"));
        figures.has(&format!("{at}/price")) && goes.is_ok_and(|goes| goes > 0.0)
    });
    let none_priced = figures.number("/money/offered")? == 0.0;
    let free = figures.number("/money/fixed")? == 0.0;
    Ok(html! {
        @if free {
            @if figures.has("/money/left") {
                "Sold as planned it leaves " (figures.gain("/money/left/in_hand")?)
                (no_price(figures)?) "."
            }
        } @else if figures.has("/money/break_even") {
            (figures.count("/money/break_even")?) " sold"
            @if pieces.count() > 1 { " in the mix" }
            @if figures.number("/money/break_even")? > 1.0 { " pay" } @else { " pays" }
            " for the fair's "
            (figures.money("/money/fixed")?)
            @if figures.number("/money/break_even")? > figures.number("/money/offered")? {
                ", more than the " (figures.count("/money/offered")?) " that you make"
            }
            @if figures.has("/money/left") {
                "; sold as planned it leaves " (figures.gain("/money/left/in_hand")?)
            }
            (no_price(figures)?) "."
        } @else if none_priced {
            "The fair costs " (figures.money("/money/fixed")?)
            ", and no piece that goes there has a price to pay for it."
        } @else {
            "The fair costs " (figures.money("/money/fixed")?)
            ", and no number of pieces is known to pay for it."
        }
    })
}

/// The kinds that are in none of it.
fn no_price(figures: &Figures) -> Part {
    let kinds = figures.each("/money/no_price");
    Ok(html! {
        @if !kinds.is_empty() {
            ", not counting for want of a price: "
            @for (i, at) in kinds.iter().enumerate() {
                @if i > 0 { ", " }
                (figures.piece(at)?)
            }
        }
    })
}
