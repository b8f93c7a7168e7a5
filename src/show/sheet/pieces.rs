//! What is made, and how full each piece is.

use maud::{Markup, PreEscaped, html};

use super::figures::{Figures, Part};
use super::{first, more};
use crate::show::pictures::Named;

/// At most so many kinds of piece are told.
const MOST: usize = 20;
/// At most so many pictures, and only if there are no more kinds that are poured.
const PICTURES: usize = 2;

pub(super) fn write(figures: &Figures) -> Part {
    let (pieces, left_out) = first(figures.each("/pieces"), MOST);
    let trays = figures.has("/trays");
    Ok(html! {
        section {
            h2 { "Make and pour" }
            table.plain.fills {
                thead { tr {
                    th { "Piece" } th { "Good" } th { "Start" } th { "Pour each" } th { "Not under" }
                    th { "Not over" } th { "Ten gain" } th { "Wet high" } th { "Dry high" }
                    @if trays { th { "A tray" } }
                } }
                tbody {
                    @for (index, at) in pieces.iter().enumerate() {
                        (piece(figures, at, index)?)
                    }
                }
            }
            (more(left_out))
        }
    })
}

/// The pictures. `None`: there are none, or so many that they would be too small to read.
pub(super) fn windows(pictures: &[Named]) -> Option<Markup> {
    let few = (1..=PICTURES).contains(&pictures.len());
    few.then(|| html! { div.pictures { @for named in pictures { (picture(named)) } } })
}

/// A row for each flood coat, or one for a piece without.
fn piece(figures: &Figures, at: &str, index: usize) -> Part {
    let mut fills = Vec::new();
    if figures.has(&format!("{at}/fill")) {
        fills.push(format!("{at}/fill"));
    }
    fills.extend(figures.each(&format!("{at}/further_fills")));
    let rows = fills.len().max(1);
    let tray = format!("/trays/per_tray/{index}/pieces");
    let name = html! {
        th scope="row" rowspan=(rows) {
            (figures.mark(figures.said(&format!("{at}/name"))).unwrap_or_default())
            (figures.name(&format!("{at}/name"))?)
            " " span.small { (figures.words(&format!("{at}/size"))?) }
        }
        td rowspan=(rows) data-head="good" { (figures.count(&format!("{at}/count"))?) }
        td rowspan=(rows) data-head="start" { strong { (figures.count(&format!("{at}/start"))?) } }
    };
    let last = html! {
        @if figures.has(&tray) { td rowspan=(rows) data-head="a tray" { (figures.count(&tray)?) } }
    };
    Ok(match fills.split_first() {
        None => html! { tr { (name) td colspan="6" { "not poured" } (last) } },
        Some((one, others)) => html! {
            tr { (name) (fill(figures, one)?) (last) }
            @for other in others { tr { (fill(figures, other)?) } }
        },
    })
}

fn fill(figures: &Figures, at: &str) -> Part {
    let of = |key: &str| format!("{at}/{key}");
    // what the syringe marks; with a rim nothing draws back
    let walled = figures.has(&of("rim_ml"));
    let low = if walled {
        "pour_rim_ml"
    } else {
        "pour_least_ml"
    };
    let marks = [low, "poured_ml", "pour_most_ml"].map(of);
    let volume = |key: &str| figures.fill(&of(key), &marks);
    let full = figures.said(&of("fit")) == "already full";
    Ok(html! {
        td data-head="pour" {
            @if full {
                "nothing: it is full"
            } @else {
                strong { (volume("poured_ml")?) } ", " (figures.mass(&of("poured_g"))?)
                @if figures.number(&of("soaks_in_ml"))? > 0.0 {
                    ", and " (volume("soaks_in_ml")?) " that soaks in"
                }
                @if figures.number(&of("faces"))? > 1.0 { " on each face" }
            }
        }
        td data-head="not under" {
            @if figures.has(&of(low)) {
                @if walled { "rim at " }
                (volume(low)?)
            }
        }
        td data-head="not over" {
            @if figures.has(&of("pour_most_ml")) { (volume("pour_most_ml")?) }
            @else { "nothing more" }
        }
        td data-head="ten gain" { (figures.mass(&of("ten_gain_g"))?) }
        td data-head="wet high" {
            // what was asked for stands lower than what is there
            @if full {}
            @else if figures.has(&of("peak_mm")) { (figures.height(&of("peak_mm"))?) }
            @else { (figures.height(&of("mean_height_mm"))?) }
        }
        td data-head="dry high" { (figures.height(&of("dry_peak_mm"))?) }
    })
}

/// A picture as it is, without the name that only a file of its own needs.
fn picture(named: &Named) -> Markup {
    let svg = named
        .picture
        .svg
        .replacen(" xmlns=\"http://www.w3.org/2000/svg\"", "", 1);
    html! { figure { (PreEscaped(svg)) } }
}
