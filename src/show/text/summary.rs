//! The first screen: what to buy, how full, how long, what to watch for.

use super::buying;
use super::page::Page;
use crate::consumption::Faces;
use crate::plan::{Drying, FillPlan, Fit, Outlook, PiecePlan, Plan, StageTimes, StepPlan};
use crate::quantity::{Angle, Share, Show, Units};
use crate::run::{Air, Told};
use crate::show::warning::warning as in_room;
use crate::show::words;
use crate::stage::Stage;

/// At most this many of a kind on the first screen; the rest are told below.
const MOST: usize = 5;

pub(super) fn write(plan: &Plan, page: &mut Page) {
    title(plan, page);
    page.gap();
    buy(plan, page);
    pour(plan, page);
    shelf(plan, page);
    wait(plan, page);
    for (margin, words) in super::calendar::first_screen(plan) {
        page.entry(margin, &words);
    }
    let mut margin = Margin(Some("Money"));
    for words in super::money::first_screen(plan).into_iter().take(MOST + 1) {
        margin.entry(page, &words);
    }
    let mut margin = Margin(Some("Can"));
    for words in super::calendar::still_can(plan) {
        margin.entry(page, &words);
    }
    watch(plan, page);
    care(plan, page);
}

fn title(plan: &Plan, page: &mut Page) {
    let made: Vec<String> = plan
        .pieces
        .iter()
        .map(|piece| format!("{} × {}", piece.count, piece.name))
        .collect();
    let by = plan
        .header
        .ready_by
        .map(|when| format!(", by {}", when.strftime("%A %-d %B %Y at %H:%M")))
        .unwrap_or_default();
    page.line(&format!(
        "{}: {}{by}",
        plan.header.name,
        words::list(&made, MOST + 1)
    ));
    let units = plan.header.units;
    page.line(&format!(
        "In a room {} with {}. What to buy is {} sure to be enough, each kind by itself{}.",
        words::room(&plan.room.told, units),
        air(plan.room.air, units),
        plan.header.sure.show(units),
        all_kinds(plan)
    ));
    if let Some(shut) = &plan.room.shut_in {
        page.line(&format!("Coats dry {}.", words::shut_in(shut, units)));
    }
    if let Told::Recorded(record) = &plan.room.told {
        for notice in &record.notices {
            page.line(&format!("{}: {notice}", record.file));
        }
    }
}

/// How sure it is that enough of every kind come good, where there are several: each may fall short by itself.
fn all_kinds(plan: &Plan) -> String {
    let chances = plan
        .pieces
        .iter()
        .map(|piece| piece.start_chance.fraction());
    let all = Share::from_fraction(chances.product());
    let as_sure = all.fraction() > plan.header.sure.fraction() - 0.005;
    if plan.pieces.len() < 2 || as_sure {
        return String::new();
    }
    format!(
        "; enough pieces of every kind come good {} of the time",
        words::percent(all)
    )
}

fn air(air: Air, units: Units) -> String {
    match air {
        Air::Sheltered => "sheltered air".to_owned(),
        Air::Still => "still air".to_owned(),
        Air::Draughty => "a draught".to_owned(),
        Air::Fan => "a fan on".to_owned(),
        Air::Moving(speed) => format!("air moving at {}", speed.show(units)),
    }
}

/// Shows the margin word on the first line only.
struct Margin(Option<&'static str>);

impl Margin {
    fn entry(&mut self, page: &mut Page, words: &str) {
        page.entry(self.0.take().unwrap_or_default(), words);
    }
}

fn more(left: usize, what: &str, margin: &mut Margin, page: &mut Page) {
    if left > 0 {
        margin.entry(page, &format!("{what}: {left} more, below"));
    }
}

fn buy(plan: &Plan, page: &mut Page) {
    let mut margin = Margin(Some("Buy"));
    for coating in plan.coatings.iter().take(MOST) {
        margin.entry(page, &buying::bottles(coating, plan.header.units).in_full());
    }
    more(
        plan.coatings.len().saturating_sub(MOST),
        "coatings",
        &mut margin,
        page,
    );
    for pen in plan.drawn.iter().take(MOST) {
        margin.entry(page, &buying::pen(pen).in_full());
    }
    more(
        plan.drawn.len().saturating_sub(MOST),
        "pens",
        &mut margin,
        page,
    );
    for blank in plan.blanks.iter().take(MOST) {
        margin.entry(page, &buying::blanks(blank).in_full());
    }
    more(
        plan.blanks.len().saturating_sub(MOST),
        "blanks",
        &mut margin,
        page,
    );
    // the needs stand in the details
    let also: Vec<String> = (plan.supplies.iter())
        .map(|supply| buying::supply(supply, plan.header.units).packs)
        .collect();
    if !also.is_empty() {
        margin.entry(page, &format!("also {}", words::list(&also, 2 * MOST)));
    }
    for advice in &plan.advice {
        let from = if advice.from_the_run { " more" } else { "" };
        let words = format!(
            "advised, not in the run: {}{from} {} for a seal coat first",
            advice.needed_sure.show(plan.header.units),
            advice.coating
        );
        margin.entry(page, &words);
    }
}

fn pour(plan: &Plan, page: &mut Page) {
    let mut margin = Margin(Some("Pour"));
    let units = plan.header.units;
    let domed = || {
        plan.pieces
            .iter()
            .flat_map(|piece| piece.fills.iter().map(move |fill| (piece, fill)))
    };
    for (piece, fill) in domed().take(MOST) {
        margin.entry(
            page,
            &format!("{}: {}", filled(piece, fill), fill_words(fill, units)),
        );
    }
    more(
        domed().count().saturating_sub(MOST),
        "flood coats",
        &mut margin,
        page,
    );
}

/// Which fill it is: the piece, and the step where it has several.
fn filled(piece: &PiecePlan, fill: &FillPlan) -> String {
    match piece.fills.as_slice() {
        [_] => piece.name.clone(),
        _ => format!("{}, {}", piece.name, fill.step_name),
    }
}

fn fill_words(fill: &FillPlan, units: Units) -> String {
    let asked = match fill.fit {
        Fit::OverBrim(_) => " (the target, for what was asked runs over)",
        Fit::UnderPullBack => " (too little: it pulls back)",
        Fit::BelowRim(_) => " (no dome: it stays below the rim)",
        Fit::AlreadyFull => return format!("\"{}\" adds nothing, it is full", fill.step_name),
        Fit::Inside => "",
    };
    let each = match fill.faces {
        Faces::One => "",
        Faces::Both => " on each face",
    };
    let up_to = |whole| Some(fill.pour_up_to(whole)?.show(units));
    let least = match fill.rim {
        Some(rim) => up_to(rim).map(|rim| format!("level with the rim at {rim}, ")),
        None => {
            up_to(fill.window.pull_back.volume).map(|least| format!("pulls back under {least}, "))
        }
    };
    let on = match fill.pour_up_to(fill.dome.volume) {
        Some(poured) if poured < fill.dome.volume => {
            format!(" on {} of dry coat", fill.under.show(units))
        }
        _ => String::new(),
    };
    let most = up_to(fill.window.brim.volume).unwrap_or_else(|| "nothing".to_owned());
    format!(
        "{}{on}{each}{asked}; {}runs over past {most}; ten gain {}",
        fill.poured.show(units),
        least.unwrap_or_default(),
        fill.ten_gain.show(units)
    )
}

/// How level the shelf must be: the piece that fails first decides.
fn shelf(plan: &Plan, page: &mut Page) {
    let mut first: Option<(Angle, String)> = None;
    let mut unknown = 0;
    for piece in &plan.pieces {
        for fill in &piece.fills {
            let Some(lie) = fill.lie else {
                unknown += usize::from(matches!(fill.fit, Fit::Inside | Fit::OverBrim(_)));
                continue;
            };
            let fails = [
                (lie.runs_over, "runs over on its low side"),
                (lie.draws_back, "draws back on its high side"),
            ];
            for (tilt, how) in fails {
                if let Some(tilt) = tilt.filter(|t| first.as_ref().is_none_or(|f| *t < f.0)) {
                    first = Some((tilt, format!("{} {how}", piece.name)));
                }
            }
        }
    }
    let mut margin = Margin(Some("Shelf"));
    if let Some((tilt, fails)) = first {
        let fall = words::fall(tilt, plan.header.units);
        margin.entry(page, &format!("level to {fall}, or {fails}"));
    }
    if unknown > 0 {
        let words = format!("not worked out for {unknown} more; brimful dome tells it of each");
        margin.entry(page, &words);
    }
}

fn wait(plan: &Plan, page: &mut Page) {
    let mut margin = Margin(Some("Wait"));
    let dried = || {
        plan.steps
            .iter()
            .filter(|step| step.drying != Drying::NotNeeded)
    };
    for step in dried().take(MOST + 1) {
        let barred = plan.not_laid_in(&step.name);
        let barred = barred.map_or_else(String::new, |barred| {
            format!("; {}", words::not_laid(barred))
        });
        let takes = step_words(step, plan.header.units);
        margin.entry(page, &format!("{takes}{barred}"));
    }
    more(
        dried().count().saturating_sub(MOST + 1),
        "steps",
        &mut margin,
        page,
    );
}

fn step_words(step: &StepPlan, units: Units) -> String {
    let Some(timed) = step.drying.timed() else {
        return format!("{}: no time can be told, see below", step.name);
    };
    let Some(stage) = ruling(timed) else {
        return format!("{}: its label names no time", step.name);
    };
    let coats = if step.coats > 1 { ", each coat" } else { "" };
    let awaited = (timed.awaited.as_ref()).filter(|awaited| awaited.stage == stage.stage);
    let why = words::reasons(awaited.map_or(&timed.factor, |awaited| &awaited.factor));
    let why = if why.is_empty() {
        String::new()
    } else {
        format!(" ({why})")
    };
    // where that comes later, or has an end
    let next = step.left_alone.as_ref().and_then(words::next_coat);
    let next = next.map_or_else(String::new, |next| format!("; {next}"));
    format!(
        "{}{coats}: {} on the label; here {}{why}{next}{}",
        step.name,
        stage.label.show(units),
        words::here(stage, timed, units),
        best_help(timed, stage, units)
    )
}

/// The stage that a maker waits for: until it can be handled, else the last that is named.
pub(super) fn ruling(timed: &Outlook) -> Option<&StageTimes> {
    timed
        .stages
        .iter()
        .find(|stage| stage.stage == Stage::Handle)
        .or(timed.stages.last())
}

/// The greatest help, where it is worth having.
fn best_help(timed: &Outlook, stage: &StageTimes, units: Units) -> String {
    let now = stage.ratio.likely();
    let awaited = (timed.awaited.as_ref()).filter(|awaited| awaited.stage == stage.stage);
    let best = timed.helps.first().and_then(|help| {
        Some((
            help,
            awaited.map_or(Some(help.ratio), |it| it.with_best_help)?,
        ))
    });
    best.filter(|(_, ratio)| now.is_none_or(|now| ratio.likely < 0.8 * now))
        .map(|(help, ratio)| {
            let band = crate::plan::TimeBand::of(stage.label, ratio);
            format!(
                "; {} {}",
                words::change_in_short(&help.change, units),
                words::span(&band)
            )
        })
        .unwrap_or_default()
}

fn watch(plan: &Plan, page: &mut Page) {
    if plan.warnings.is_empty() {
        return;
    }
    let mut margin = Margin(Some("Watch"));
    let told = told(plan);
    for words in told.iter().take(MOST) {
        margin.entry(page, words);
    }
    more(
        told.len().saturating_sub(MOST),
        "warnings",
        &mut margin,
        page,
    );
}

/// The warnings in words, those that stop the run first; one that several
/// steps share is told once.
pub(super) fn told(plan: &Plan) -> Vec<String> {
    use crate::plan::Warning;
    let mut told: Vec<(bool, Vec<&str>, String)> = Vec::new();
    for warning in &plan.warnings {
        let (step, words) = match warning {
            Warning::Drying { step, warning, .. } => {
                (Some(step.as_str()), in_room(warning, plan.header.units))
            }
            other => (None, words::warning(other, plan.header.units)),
        };
        match told.iter_mut().find(|(_, _, known)| *known == words) {
            Some((_, steps, _)) => steps.extend(step),
            None => told.push((warning.stops(), step.into_iter().collect(), words)),
        }
    }
    told.sort_by_key(|(stops, ..)| !stops);
    told.into_iter()
        .map(|(_, steps, words)| {
            if steps.is_empty() {
                words
            } else {
                format!("{}: {words}", words::list(&steps, MOST + 1))
            }
        })
        .collect()
}

fn care(plan: &Plan, page: &mut Page) {
    let mut margin = Margin(Some("Care"));
    if let Some(first) = plan.cautions.first() {
        margin.entry(page, first.cautions.first);
    }
    for family in &plan.cautions {
        margin.entry(
            page,
            &format!("{}: {}", family.key, family.cautions.lines[0].say),
        );
    }
}
