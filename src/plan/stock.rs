//! What is in stock: what is past its date, and what the rest makes.

use jiff::civil::Date;

use super::drawn;
use super::lasts::Lasts;
use super::supplies::{self, Supplies};
use super::uses::{OneKind, for_one_kind};
use super::visits::Visit;
use super::{CoatingPlan, Dates, Notes, PiecePlan, PlanError, Warning};
use crate::consumption::{self, most_good};
use crate::run::Run;

/// Stock that is not counted, for it is past its date.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stale {
    /// Bottles of a coating; half a bottle is 0.5.
    Bottles(f64),
    /// Pens; half a pen is 0.5.
    Pens(f64),
    /// Findings.
    Each(u32),
    /// Open spools.
    Spools(usize),
    /// Sheets.
    Sheets(u32),
}

/// A date that is past on the day of use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Past {
    /// From this day on it is no longer used.
    pub best_before: Date,
    /// The day of its last use by the calendar; without one the day by which all must be ready, or
    /// else on which the work begins.
    pub used_on: Date,
    /// Whether the calendar tells that day.
    pub by_calendar: bool,
}

/// Warns of stock that does if the work begins when the plan has it begin, and not at the latest start that it tells.
pub(super) fn warn_of_later(run: &Run, lasts: &Lasts, dates: &Dates, notes: &mut Notes) {
    let Dates::Told(calendar) = dates else {
        return;
    };
    let latest = calendar
        .by
        .as_ref()
        .and_then(|by| by.likely_start.max(by.sure_start));
    let Some(latest) = latest.filter(|latest| *latest > calendar.start) else {
        return;
    };
    let later = lasts.put_off((latest.date() - calendar.start.date()).get_days());
    let coatings = run.coatings.iter().filter_map(|coating| {
        let some = coating.bottle.is_some_and(|bottle| bottle.have > 0.0);
        let now = lasts.past_coating(coating);
        let past = later.past_coating(coating).filter(|past| past.by_calendar);
        past.filter(|_| some && now.is_none())
            .map(|past| (&coating.name, past))
    });
    let supplies = run.supplies.iter().filter_map(|supply| {
        let now = lasts.past_supply(supply);
        let past = later.past_supply(supply).filter(|past| past.by_calendar);
        past.filter(|_| supplies::in_stock(supply).is_some() && now.is_none())
            .map(|past| (&supply.name, past))
    });
    let warnings = coatings
        .chain(supplies)
        .map(|(what, past)| Warning::StaleLater {
            what: what.clone(),
            past,
            start: latest,
        });
    notes.warnings.extend(warnings);
}

/// What one kind of piece comes to from what is in stock, were nothing bought and nothing else made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FromStock {
    /// The kind of piece.
    pub piece: String,
    /// The most to start.
    pub started: u64,
    /// How many of those to promise good, as surely as the run wants.
    pub good: u64,
    /// What is not enough for one more: blank, coatings, supplies.
    pub runs_out: Vec<String>,
    /// Coatings left out of the counting, for the run does not say what is in stock.
    pub not_counted: Vec<String>,
}

/// Whether what is in stock of something does for so many pieces started.
type Enough<'a> = Box<dyn Fn(u64) -> bool + 'a>;

/// What each kind of piece comes to from stock alone.
pub(super) fn plan(
    (run, lasts): (&Run, &Lasts),
    visits: &[Vec<Visit>],
    (pieces, coatings, dates): (&[PiecePlan], &[CoatingPlan], &Dates),
    supplies: &Supplies,
) -> Result<Vec<FromStock>, PlanError> {
    (pieces.iter().zip(visits).enumerate())
        .map(|(index, (piece, visits))| {
            let in_use = |why| PlanError::Use {
                what: piece.name.clone(),
                why,
            };
            let coatings =
                for_one_kind(run, (index, piece), visits, (coatings, dates)).map_err(in_use)?;
            one((run, lasts), (index, piece), &coatings, supplies).map_err(in_use)
        })
        .collect()
}

fn one(
    (run, lasts): (&Run, &Lasts),
    (index, piece): (usize, &PiecePlan),
    coatings: &[Option<OneKind>],
    supplies: &Supplies,
) -> Result<FromStock, consumption::UseError> {
    let blank = &run.blanks[piece.blank];
    let mut things: Vec<(&str, Enough)> = vec![(
        &blank.name,
        Box::new(|started| started <= u64::from(blank.have)),
    )];
    let mut not_counted = Vec::new();
    for (coating, uses) in run.coatings.iter().zip(coatings) {
        match (uses, coating.bottle) {
            (Some(uses), Some(_)) => things.push((
                &coating.name,
                Box::new(|started| uses.stock_does((run, lasts), coating, started)),
            )),
            (Some(_), None) => not_counted.push(coating.name.clone()),
            (None, _) => {}
        }
    }
    not_counted.extend(drawn::pens_of(run, index));
    for (place, supply) in run.supplies.iter().enumerate() {
        if supplies.is_taken_by(place, index) {
            things.push((
                &supply.name,
                Box::new(move |started| supplies.stock_does((run, lasts), place, (index, started))),
            ));
        }
    }
    let enough: Vec<&dyn Fn(u64) -> bool> = things.iter().map(|(_, enough)| &**enough).collect();
    let found = most_good(&enough, piece.lost, run.header.sure)?;
    let named = found.runs_out.iter().map(|&at| things[at].0.to_owned());
    Ok(FromStock {
        piece: piece.name.clone(),
        started: found.started,
        good: found.good,
        runs_out: named.collect(),
        not_counted,
    })
}
