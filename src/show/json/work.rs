//! The work of a run in its order, as JSON: what the run sheet ticks off.

use serde::Serialize;

use super::mixing::CupfulJson;
use crate::plan::{Calendar, StepPlan};
use crate::show::work::{self, Row};

/// Sittings told together.
#[derive(Serialize)]
pub(super) struct WorkJson<'p> {
    what: &'p str,
    coat: Option<u32>,
    coats: Option<u32>,
    /// On which of two faces it lies; null where it coats one.
    face: Option<&'static str>,
    sittings: usize,
    pieces: Vec<SomeJson<'p>>,
    begins: String,
    ends: String,
    /// Until when the first and the last of the waves are left alone.
    leave_from: Option<String>,
    leave_until: Option<String>,
    /// What is waited for after that, and until when.
    goes_on: Option<&'static str>,
    goes_on_from: Option<String>,
    /// By when the next coat on it has to be begun.
    next_by: Option<String>,
    look_from: Option<String>,
    look_to: Option<String>,
    trays: Option<u32>,
    mixes: Option<u64>,
    cupfuls: Vec<CupfulJson<'p>>,
}

/// How many of a kind of piece.
#[derive(Serialize)]
pub(super) struct SomeJson<'p> {
    pub(super) piece: &'p str,
    pub(super) count: u64,
}

/// The rows of the work list.
pub(super) fn of<'p>(calendar: &'p Calendar, steps: &[StepPlan]) -> Vec<WorkJson<'p>> {
    let rows = work::rows(calendar).into_iter();
    rows.map(|one| row(one, steps)).collect()
}

fn row<'p>(row: Row<'p>, steps: &[StepPlan]) -> WorkJson<'p> {
    let at = |times: Option<[jiff::civil::DateTime; 2]>, which: usize| {
        times.map(|times| times[which].to_string())
    };
    WorkJson {
        what: row.what,
        coat: row.coat.map(|[coat, _]| coat),
        coats: row.coat.map(|[_, of]| of),
        face: row.coat.and_then(|coat| work::face(row.what, coat, steps)),
        sittings: row.sittings,
        pieces: (row.pieces.into_iter())
            .map(|(piece, count)| SomeJson { piece, count })
            .collect(),
        begins: row.begins.to_string(),
        ends: row.ends.to_string(),
        leave_from: at(row.leave_until, 0),
        leave_until: at(row.leave_until, 1),
        goes_on: row.goes_on.map(|(what, _)| what),
        goes_on_from: row.goes_on.map(|(_, at)| at.to_string()),
        next_by: row.next_by.map(|at| at.to_string()),
        look_from: at(row.looks, 0),
        look_to: at(row.looks, 1),
        trays: row.trays,
        mixes: row.mixes,
        cupfuls: (row.cupfuls.into_iter())
            .map(|(mixes, cupful)| CupfulJson::of(mixes, cupful))
            .collect(),
    }
}
