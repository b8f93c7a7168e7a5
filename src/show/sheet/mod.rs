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
mod room;
mod tally;
mod work;

use maud::{DOCTYPE, PreEscaped, html};

use figures::{Figures, Part};
use room::{MARGIN, SPARE, Sections};

use super::draw::{clean, figure};
use super::json;
use super::pictures::Named;
use super::words;
use super::work::MOST_CUPFULS;
use crate::plan::Plan;
use crate::quantity::Length;

/// The paper's size, and how high the sheet at least is on it.
fn paper([width, height]: [Length; 2]) -> String {
    let mm = |mm: f64| figure::trimmed(mm, 3);
    format!(
        "@page {{ size: {}mm {}mm; margin: {MARGIN}mm }}\n@media print {{ main {{ min-height: {}mm }} }}\n",
        mm(width.mm()),
        mm(height.mm()),
        mm((height.mm() - 2.0 * MARGIN - SPARE).floor())
    )
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

/// Unlike mixes of a row are told where they are no more than so many and there is room.
const MANY_CUPFULS: usize = 12;

const STYLE: &str = include_str!("sheet.css");

/// A plan as one self-contained HTML file that prints on a page; more kinds of piece than
/// about five take a second one.
///
/// The pictures go beside the fills, at most two of them and only where the run makes at
/// most two kinds of piece that are poured: on the sheet they must stay large enough to read. They
/// stay away where a page more would be needed for them, for the table has all their figures.
/// [`pictures::windows`](super::pictures::windows) draws what suits it.
///
/// # Errors
/// [`SheetError`] where the plan can't be told as JSON.
pub fn sheet(plan: &Plan, pictures: &[Named]) -> Result<String, SheetError> {
    let figures = Figures::new(
        json::value(plan)?,
        plan.header.units,
        words::in_two_years(plan),
    );
    let body = body(&figures, pictures, plan.paper.sheet)?;
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (clean(&plan.header.name)) ": run sheet" }
                style { (PreEscaped(paper(plan.paper.sheet))) (PreEscaped(STYLE)) }
            }
            body { (body) }
        }
    };
    Ok(page.into_string())
}

fn body(figures: &Figures, pictures: &[Named], paper: [Length; 2]) -> Part {
    let pictures = pieces::windows(pictures);
    let (head, fills) = (head::write(figures)?, pieces::write(figures)?);
    let (buy, coats) = (buy::write(figures)?, coats::write(figures)?);
    let care = care::write(figures)?;
    let (actuals, money) = (actuals::write(figures)?, tally::write(figures)?);
    let set = |recipes| {
        let work = work::Work::of(figures, recipes)?;
        let sections = Sections {
            head: &head.0,
            pieces: &fills.0,
            buy: &buy.0,
            coats: &coats.0,
            care: &care.0,
            work: &work.table.0,
            actuals: &actuals.0,
            money: &money.0,
            pictures: pictures.is_some(),
            units: figures.units,
        };
        Ok::<_, SheetError>((room::setting(&sections, paper), work))
    };
    let (few, many) = (set(MOST_CUPFULS)?, set(MANY_CUPFULS)?);
    // all recipes, where they take no page more than few
    let ((fewest, _), (pages, _)) = (few.0, many.0);
    let ((_, setting), work) = if pages <= fewest { many } else { few };
    Ok(html! {
        main {
            (head)
            (fills)
            div.beside {
                @if let Some(pictures) = pictures.filter(|_| setting.pictures) { (pictures) }
                (buy)
            }
            (coats)
            (care)
            (work.set(setting.rows))
            (actuals)
            div.beside.foot {
                (money)
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
