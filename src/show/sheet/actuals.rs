//! Room for what is counted and measured on the way.

use maud::{Markup, html};

use super::figures::{Figures, Part};
use super::{first, more};
use crate::quantity::Units;
use crate::show::work;

/// At most so many kinds of piece have a row.
const MOST: usize = 20;

pub(super) fn write(figures: &Figures) -> Part {
    let (pieces, left_out) = first(figures.each("/pieces"), MOST);
    Ok(html! {
        section.actuals {
            h2 { "As it came out" }
            table.list {
                thead { tr {
                    th { "Looked over" }
                    (inspected("At once: good")) (inspected("Again: good"))
                } }
                tbody { @for at in &pieces {
                    tr {
                        th scope="row" {
                            (piece(figures, &format!("{at}/name"))?)
                        }
                        @for _ in 0..8 { td.fill {} }
                    }
                } }
            }
            (more(left_out))
            (room(figures.units))
        }
    })
}

/// A kind of piece by its letter and its name; a long name stands beside its letter further up.
fn piece(figures: &Figures, at: &str) -> Part {
    let name = figures.said(at);
    let mark = figures.mark(name);
    Ok(html! {
        @if let Some(mark) = &mark { (mark) }
        @if mark.is_none() || !work::is_long(name) { (figures.name(at)?) }
    })
}

fn inspected(good: &str) -> Markup {
    html! { th.fill { (good) } th.fill { "Second" } th.fill { "Scrap" } th.fill.why { "Why" } }
}

/// The room's extremes, which decide more than its average.
fn room(units: Units) -> Markup {
    let degrees = match units {
        Units::Metric => "°C",
        Units::Us => "°F",
    };
    html! {
        p.room {
            "The room: warmest " span.line {} " " (degrees) ", coldest " span.line {} " " (degrees)
            ", dampest " span.line {} " %, driest " span.line {} " %; minutes of work in all " span.line {}
        }
    }
}
