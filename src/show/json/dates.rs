//! Trays, dates and what can still be done, as JSON.

use serde::Serialize;

use super::mixing::CupfulJson;
use super::work::{self, SomeJson, WorkJson};
use crate::plan::{Booked, Calendar, Dates, KeptBy, Lies, Plan, StillCan, Task, TrayPlan};
use crate::schedule::Bottleneck;
use crate::show::words;
use crate::space::How;
use crate::stage::Stage;

#[derive(Serialize)]
pub(super) struct TraysJson<'p> {
    /// Of each kind of piece, the most that one tray holds; by the piece's name.
    per_tray: Vec<PerTrayJson<'p>>,
    /// Trays in use at the busiest. `None`: it can't be told, or none is used.
    used: Option<u32>,
    /// Waves that the run is split into.
    waves: Option<usize>,
    busiest_at: Option<String>,
    /// Shelf that the trays in use take up at the busiest.
    shelf_area_m2: Option<f64>,
    kinds: Vec<TrayJson<'p>>,
    over_time: Vec<InUseJson>,
}

#[derive(Serialize)]
struct PerTrayJson<'p> {
    piece: &'p str,
    pieces: u32,
}

#[derive(Serialize)]
struct TrayJson<'p> {
    name: &'p str,
    length_mm: f64,
    width_mm: f64,
    count: u32,
    usable: u32,
    kept_by: Option<&'static str>,
    places: Option<u32>,
    holds: Vec<LiesJson<'p>>,
}

#[derive(Serialize)]
struct LiesJson<'p> {
    piece: &'p str,
    pieces: u32,
    how: &'static str,
    rows: Option<usize>,
    pitch_mm: Option<f64>,
    row_step_mm: Option<f64>,
    gap_mm: f64,
    margin_mm: f64,
}

#[derive(Serialize)]
struct InUseJson {
    from: String,
    trays: u32,
}

/// The trays of a plan; none where none are told of.
pub(super) fn trays(plan: &Plan) -> Option<TraysJson<'_>> {
    if plan.space.trays.is_empty() {
        return None;
    }
    let calendar = plan.dates.calendar();
    let busiest = calendar.and_then(|calendar| calendar.busiest.as_ref());
    let sum = |trays: &[u32]| trays.iter().sum::<u32>();
    let undated = plan.dates.undated();
    Some(TraysJson {
        per_tray: (plan.pieces.iter().enumerate())
            .map(|(index, piece)| PerTrayJson {
                piece: &piece.name,
                pieces: plan.space.per_tray(index).unwrap_or(0),
            })
            .collect(),
        used: busiest
            .map(|(_, trays)| sum(trays))
            .or_else(|| Some(sum(undated?.busiest.as_ref()?))),
        waves: (calendar.map(|calendar| calendar.waves)).or_else(|| Some(undated?.waves)),
        busiest_at: busiest.map(|(at, _)| at.to_string()),
        shelf_area_m2: busiest.map(|(_, trays)| {
            let areas = trays.iter().zip(&plan.space.trays);
            areas
                .map(|(&used, tray)| f64::from(used) * tray.area.m2())
                .sum()
        }),
        kinds: plan
            .space
            .trays
            .iter()
            .map(|tray| kind(tray, plan))
            .collect(),
        over_time: calendar
            .into_iter()
            .flat_map(|calendar| &calendar.occupied)
            .map(|(at, trays)| InUseJson {
                from: at.to_string(),
                trays: sum(trays),
            })
            .collect(),
    })
}

fn kind<'p>(tray: &'p TrayPlan, plan: &'p Plan) -> TrayJson<'p> {
    TrayJson {
        name: &tray.name,
        length_mm: tray.size[0].mm(),
        width_mm: tray.size[1].mm(),
        count: tray.count,
        usable: tray.usable,
        kept_by: tray.kept_by.map(|why| match why {
            KeptBy::Lids => "lids",
            KeptBy::Places => "places",
        }),
        places: tray.places,
        holds: (plan.pieces.iter().zip(&tray.holds))
            .filter_map(|(piece, lies)| Some(lie(&piece.name, lies.as_ref()?)))
            .collect(),
    }
}

fn lie<'p>(piece: &'p str, lies: &Lies) -> LiesJson<'p> {
    LiesJson {
        piece,
        pieces: lies.count,
        how: how(lies.how),
        rows: lies.rows.as_ref().map(|rows| rows.counts.len()),
        pitch_mm: lies.rows.as_ref().map(|rows| rows.pitch.mm()),
        row_step_mm: lies.rows.as_ref().map(|rows| rows.step.mm()),
        gap_mm: lies.ground.gap.mm(),
        margin_mm: lies.ground.margin.mm(),
    }
}

fn how(how: How) -> &'static str {
    match how {
        How::Straight => "straight",
        How::Staggered => "staggered",
        How::Slanted => "slanted",
        How::Alternating => "alternating",
        How::Mixed => "mixed",
    }
}

#[derive(Serialize)]
pub(super) struct CalendarJson<'p> {
    /// When the first sitting begins.
    start: Option<String>,
    /// When the last piece is ready.
    ready: Option<String>,
    /// From that start, in time, from 0 to 1.
    chance_ready: Option<f64>,
    /// As many good pieces as are wanted, from 0 to 1.
    chance_enough: Option<f64>,
    chance_both: Option<f64>,
    /// When it is ready in 5, 50 and 95 of 100 cases.
    ready_in_5_50_95_percent: Option<[Option<String>; 3]>,
    samples: Option<u32>,
    seed: Option<u64>,
    /// The latest start that is as sure as wanted.
    latest_start: Option<String>,
    /// The latest if all takes as long as is likely.
    latest_start_likely: Option<String>,
    too_late: bool,
    /// Why there are no dates.
    why_none: Option<String>,
    hands_on_h: Option<f64>,
    limit: Option<LimitJson<'p>>,
    sittings: Vec<SittingJson<'p>>,
    /// The same told together where there are many, as the run sheet ticks them off.
    work: Vec<WorkJson<'p>>,
    order_by: Vec<OrderJson<'p>>,
}

#[derive(Serialize)]
struct LimitJson<'p> {
    by: &'static str,
    tray: Option<&'p str>,
    hands_pieces_a_day: Option<f64>,
    trays_a_day: Option<f64>,
    tray_pieces_a_day: Option<f64>,
    days_on_tray: Option<f64>,
    waiting_days: Option<f64>,
    hands_days: f64,
    trays_days: Vec<f64>,
}

#[derive(Serialize)]
struct SittingJson<'p> {
    what: &'p str,
    coat: Option<u32>,
    coats: Option<u32>,
    wave: usize,
    pieces: Vec<SomeJson<'p>>,
    begins: String,
    ends: String,
    next_from: String,
    /// By when the next coat on its own has to be begun.
    next_by: Option<String>,
    /// The stage of a coat that is waited for till then.
    waits_for: Option<&'static str>,
    lifted: Option<String>,
    look_for_bubbles: Vec<String>,
    trays: u32,
    mixes: Option<u64>,
    cupfuls: Vec<CupfulJson<'p>>,
}

#[derive(Serialize)]
struct OrderJson<'p> {
    what: &'p str,
    by: String,
    wanted: String,
}

/// The dates of a plan; none where none are asked for.
pub(super) fn calendar(plan: &Plan) -> Option<CalendarJson<'_>> {
    let why_none = match &plan.dates {
        Dates::Undated(_) => return None,
        Dates::Told(_) => None,
        Dates::Untold { step } => Some(format!("no date: how long {step} takes can't be told")),
        Dates::Never(why) => Some(words::no_dates(why, plan)),
    };
    let calendar = plan.dates.calendar();
    let by = calendar.and_then(|calendar| calendar.by.as_ref());
    let chance = by.and_then(|by| by.chance.as_ref());
    Some(CalendarJson {
        start: calendar.map(|calendar| calendar.start.to_string()),
        ready: calendar.map(|calendar| calendar.ready.to_string()),
        chance_ready: chance.map(|chance| chance.ready.fraction()),
        chance_enough: chance.map(|chance| chance.enough.fraction()),
        chance_both: chance.map(|chance| chance.both.fraction()),
        ready_in_5_50_95_percent: chance
            .map(|chance| chance.when.map(|when| when.map(|at| at.to_string()))),
        samples: chance.map(|chance| chance.samples),
        seed: chance.map(|chance| chance.seed),
        latest_start: by.and_then(|by| Some(by.sure_start?.to_string())),
        latest_start_likely: by.and_then(|by| Some(by.likely_start?.to_string())),
        too_late: plan.is_too_late(),
        why_none,
        hands_on_h: calendar.map(|calendar| calendar.hands_on.h()),
        limit: calendar.map(|calendar| limit(calendar, plan)),
        sittings: calendar
            .into_iter()
            .flat_map(|calendar| &calendar.sittings)
            .map(sitting)
            .collect(),
        work: calendar
            .map(|calendar| work::of(calendar, &plan.steps))
            .unwrap_or_default(),
        order_by: calendar
            .into_iter()
            .flat_map(|calendar| &calendar.order_by)
            .map(|order| OrderJson {
                what: &order.what,
                by: order.by.to_string(),
                wanted: order.wanted.to_string(),
            })
            .collect(),
    })
}

fn limit<'p>(calendar: &'p Calendar, plan: &'p Plan) -> LimitJson<'p> {
    let limits = &calendar.limits;
    let none = LimitJson {
        by: "",
        tray: None,
        hands_pieces_a_day: None,
        trays_a_day: None,
        tray_pieces_a_day: None,
        days_on_tray: None,
        waiting_days: None,
        hands_days: limits.hands,
        trays_days: limits.trays.clone(),
    };
    match limits.bottleneck {
        Bottleneck::Hands { pieces_a_day } => LimitJson {
            by: "hands",
            hands_pieces_a_day: Some(pieces_a_day),
            ..none
        },
        Bottleneck::Trays {
            kind,
            days_on_tray,
            trays_a_day,
            pieces_a_day,
            hands_a_day,
            ..
        } => LimitJson {
            by: "trays",
            tray: Some(&plan.space.trays[kind].name),
            hands_pieces_a_day: Some(hands_a_day),
            trays_a_day: Some(trays_a_day),
            tray_pieces_a_day: Some(pieces_a_day),
            days_on_tray: Some(days_on_tray),
            ..none
        },
        Bottleneck::Drying { days } => LimitJson {
            by: "waiting",
            waiting_days: Some(days),
            ..none
        },
    }
}

fn sitting(booked: &Booked) -> SittingJson<'_> {
    let (coat, coats) = match booked.task {
        Task::Step { coat, of, .. } => (Some(coat), Some(of)),
        Task::Look { .. } => (None, None),
    };
    SittingJson {
        what: &booked.what,
        coat,
        coats,
        wave: booked.wave,
        pieces: (booked.pieces.iter())
            .map(|(piece, count)| SomeJson {
                piece,
                count: *count,
            })
            .collect(),
        begins: booked.begins.to_string(),
        ends: booked.ends.to_string(),
        next_from: booked.next_from.to_string(),
        next_by: booked.next_by.map(|at| at.to_string()),
        waits_for: booked.waits_for.map(Stage::name),
        lifted: booked.lifted.map(|at| at.to_string()),
        look_for_bubbles: booked.looks.iter().map(ToString::to_string).collect(),
        trays: booked.trays.iter().sum(),
        mixes: booked.mixes,
        cupfuls: (booked.cupfuls.iter())
            .map(|cupful| CupfulJson::of(cupful.mixes, cupful))
            .collect(),
    }
}

#[derive(Serialize)]
pub(super) struct UndatedJson {
    /// From the first sitting until all is ready, begun on the best day of a week and on the worst.
    shortest_h: f64,
    longest_h: f64,
    hands_on_h: f64,
    /// The same in words.
    takes: String,
    work: String,
    /// At the most.
    waves: usize,
}

/// How long a run without a date takes.
pub(super) fn undated(plan: &Plan) -> Option<UndatedJson> {
    plan.dates.undated().map(|undated| UndatedJson {
        shortest_h: undated.shortest.h(),
        longest_h: undated.longest.h(),
        hands_on_h: undated.hands_on.h(),
        takes: words::lasts(undated),
        work: words::work(undated.hands_on),
        waves: undated.waves,
    })
}

#[derive(Serialize)]
struct KindJson {
    piece: String,
    count: u64,
}

#[derive(Serialize)]
pub(super) struct StillCanJson {
    changes: Vec<String>,
    pieces: u64,
    /// How many of each kind.
    kinds: Vec<KindJson>,
    /// The same in words, where they are fewer than all of several kinds.
    of: Option<String>,
    /// `None`: the run names no date.
    ready: Option<String>,
    /// How often they are ready by the run's date.
    chance_ready: Option<f64>,
    /// The same in words.
    in_time: Option<String>,
}

/// What can still be done where it is too late.
pub(super) fn still_can(plan: &Plan) -> Vec<StillCanJson> {
    let told = |can: &StillCan| StillCanJson {
        changes: (can.changes.iter())
            .map(|change| words::otherwise(change, plan.header.units))
            .collect(),
        pieces: can.pieces,
        kinds: (can.kinds.iter())
            .map(|(piece, count)| KindJson {
                piece: piece.clone(),
                count: *count,
            })
            .collect(),
        of: words::pieces_of(can, plan),
        ready: can.ready.map(|at| at.to_string()),
        chance_ready: can.chance.map(crate::quantity::Share::fraction),
        in_time: can
            .chance
            .map(|chance| format!("in time {} of the time", words::percent(chance))),
    };
    plan.still_can.iter().map(told).collect()
}
