//! The run sheet: one page of HTML to print, tick off and write on.
//!
//! Every figure on it is read from the plan's JSON and bears its place there, so the
//! sheet can't disagree with `plan.json`.

mod actuals;
mod buy;
mod care;
mod coats;
mod figures;
mod head;
mod pieces;
mod tally;
mod work;

use maud::{DOCTYPE, PreEscaped, html};

use figures::{Figures, Part};

use super::draw::clean;
use super::json;
use super::pictures::Named;
use crate::plan::Plan;
use crate::quantity::Units;

/// The paper that a sheet is printed on, upright.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 210 mm by 297 mm (ISO 216).
    A4,
    /// 8 1/2 inches by 11 inches.
    Letter,
}

impl Paper {
    /// The paper that is common where these units are: Letter for US units, A4 for metric ones.
    #[must_use]
    pub const fn of(units: Units) -> Self {
        match units {
            Units::Metric => Self::A4,
            Units::Us => Self::Letter,
        }
    }

    const fn page(self) -> &'static str {
        match self {
            Self::A4 => "@page { size: A4; margin: 9mm }",
            Self::Letter => "@page { size: letter; margin: 9mm }",
        }
    }

    /// What the paper leaves between its margins, a little less in height so that no
    /// rounding of a printer's begins a second page.
    const fn body(self) -> &'static str {
        match self {
            Self::A4 => "@media print { main { min-height: 277mm } }",
            Self::Letter => "@media print { main { min-height: 259mm } }",
        }
    }
}

/// Why a sheet can't be made.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum SheetError {
    /// The plan could not be turned into JSON.
    #[error("the plan can't be told as JSON: {0}")]
    Json(#[from] serde_json::Error),
    /// The sheet shows what the plan's JSON does not hold.
    #[error("the sheet needs {0}, which the plan's JSON does not hold")]
    Missing(String),
}

const STYLE: &str = include_str!("sheet.css");

/// A plan as one self-contained HTML file that prints on a page; more kinds of piece than
/// about five take a second one.
///
/// The pictures go beside the fills, at most two of them and only where the run makes at
/// most two kinds of piece that are poured: on the sheet they must stay large enough to read.
/// [`pictures::windows`](super::pictures::windows) draws what suits it.
///
/// # Errors
/// [`SheetError`] where the plan can't be told as JSON.
pub fn sheet(plan: &Plan, pictures: &[Named], paper: Paper) -> Result<String, SheetError> {
    let figures = Figures::new(json::value(plan)?, plan.header.units);
    let body = body(&figures, pictures)?;
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (clean(&plan.header.name)) ": run sheet" }
                style { (PreEscaped(paper.page())) "\n" (PreEscaped(STYLE)) (PreEscaped(paper.body())) }
            }
            body { (body) }
        }
    };
    Ok(page.into_string())
}

fn body(figures: &Figures, pictures: &[Named]) -> Part {
    Ok(html! {
        main {
            (head::write(figures)?)
            (pieces::write(figures)?)
            div.beside {
                (pieces::windows(pictures))
                (buy::write(figures)?)
            }
            (coats::write(figures)?)
            (care::write(figures)?)
            (work::write(figures)?)
            (actuals::write(figures)?)
            div.beside.foot {
                (tally::write(figures)?)
                section.notes { h2 { "Notes for next time" } }
            }
        }
    })
}

/// The places of a list, those past a page's room left out; and whether some were.
fn first(all: Vec<String>, most: usize) -> (Vec<String>, bool) {
    let more = all.len() > most;
    (all.into_iter().take(most).collect(), more)
}

/// That more stands in the plan's text.
fn more(left_out: bool) -> maud::Markup {
    html! { @if left_out { p.more { "The rest stands in plan.txt." } } }
}
