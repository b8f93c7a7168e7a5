//! The labels that lie with wet pieces.

use std::collections::BTreeMap;

use super::{Label, Line};
use crate::plan::{
    Booked, Dates, FamilyCautions, Further, LeftAlone, Plan, StepKind, StepPlan, Task,
};
use crate::quantity::{Show, Time};
use crate::run::Air;
use crate::show::text::moment;
use crate::show::{words, work};
use crate::stage::Stage;

/// How to keep a tray: what is kept from it is the wet coat, not who breathes in the room.
const fn keep(air: Air) -> &'static str {
    match air {
        Air::Sheltered | Air::Still => {
            "Keep the tray level, its pieces out of draught and dust; the room is aired for who works in it."
        }
        Air::Draughty | Air::Fan | Air::Moving(_) => {
            "Keep the tray level, its pieces out of dust, in moving air as planned."
        }
    }
}
/// Where the maker writes.
const RULE: &str = "__________";

/// A label for every tray of every wave; without a calendar or trays, one for each kind of piece.
pub(super) fn labels(plan: &Plan) -> Vec<Label> {
    let care = care(&plan.cautions);
    let waves = waves(plan);
    if waves.is_empty() {
        return kinds(plan, &care);
    }
    let several = waves.len() > 1;
    let of_wave = |(wave, sittings): (usize, Vec<&Booked>)| {
        let held = held(&sittings);
        let all: u32 = held.iter().sum();
        let each = on_each(plan, &sittings, &held);
        let kinds = kinds_of(plan, &held);
        let rows = rows(plan, &sittings);
        let labels = (0..all.max(1)).map(move |number| {
            let at = usize::try_from(number).unwrap_or(usize::MAX);
            let own = each.as_ref().and_then(|each| each.get(at));
            let mut title = names(&sittings, own.copied());
            if all > 1 && own.is_none() {
                title = format!("some of {title}");
            }
            if several {
                title = format!("{title}: wave {wave}");
            }
            let kind = kinds.get(at).copied();
            let mut lines = vec![first(plan, (number + 1, all), kind)];
            lines.extend(rows.iter().cloned());
            lines.push(Line::plain(keep(plan.room.air)));
            (title, lines)
        });
        labels.collect::<Vec<_>>()
    };
    waves
        .into_iter()
        .flat_map(of_wave)
        .map(|(title, lines)| Label {
            title,
            lines,
            care: care.clone(),
            copies: 1,
        })
        .collect()
}

/// The sittings that lay a coat, by wave, in the calendar's order. A wave number may be
/// borne by several groups of pieces, which never share a sitting with a coat.
fn waves(plan: &Plan) -> Vec<(usize, Vec<&Booked>)> {
    let Dates::Told(calendar) = &plan.dates else {
        return Vec::new();
    };
    let mut waves: BTreeMap<(usize, Vec<&str>), Vec<&Booked>> = BTreeMap::new();
    for sitting in &calendar.sittings {
        let coats = matches!(sitting.task, Task::Step { .. })
            && step(plan, sitting).is_some_and(|step| step.kind != StepKind::Bare);
        if coats {
            let who = sitting.pieces.iter().map(|(name, _)| name.as_str());
            let key = (sitting.wave, who.collect());
            waves.entry(key).or_default().push(sitting);
        }
    }
    waves
        .into_iter()
        .map(|((wave, _), sittings)| (wave, sittings))
        .collect()
}

fn step<'p>(plan: &'p Plan, sitting: &Booked) -> Option<&'p StepPlan> {
    plan.steps.iter().find(|step| step.name == sitting.what)
}

/// The most trays of each kind that a wave holds.
fn held(sittings: &[&Booked]) -> Vec<u32> {
    let kinds = sittings.iter().map(|s| s.trays.len()).max().unwrap_or(0);
    (0..kinds)
        .map(|kind| {
            let each = sittings.iter().filter_map(|s| s.trays.get(kind));
            each.copied().max().unwrap_or(0)
        })
        .collect()
}

/// How many pieces lie on each tray of a wave, where the plan lays that down.
fn on_each(plan: &Plan, sittings: &[&Booked], held: &[u32]) -> Option<Vec<u64>> {
    let [(name, count)] = sittings.first()?.pieces.as_slice() else {
        return None;
    };
    let piece = plan.pieces.iter().position(|piece| piece.name == *name)?;
    plan.space.on_each(piece, *count, held)
}

/// What each tray of a wave is called; nothing where all of them are of one kind.
fn kinds_of<'p>(plan: &'p Plan, held: &[u32]) -> Vec<&'p str> {
    if plan.space.trays.len() < 2 {
        return Vec::new();
    }
    (plan.space.trays.iter().zip(held))
        .flat_map(|(tray, &held)| (0..held).map(|_| tray.name.as_str()))
        .collect()
}

/// "71 × tide magnet": the whole wave's, or how many lie on one tray.
fn names(sittings: &[&Booked], own: Option<u64>) -> String {
    let first = sittings.first().map(|sitting| &sitting.pieces);
    let names = first
        .into_iter()
        .flatten()
        .map(|(name, count)| format!("{} × {name}", own.unwrap_or(*count)));
    words::list(&names.collect::<Vec<_>>(), usize::MAX)
}

/// "Harbour fair, HF-270407. Tray 1 of 4, baking tray".
fn first(plan: &Plan, (number, all): (u32, u32), kind: Option<&str>) -> Line {
    let tray = if all == 0 {
        format!("Tray {RULE}")
    } else {
        let kind = kind.map_or_else(String::new, |kind| format!(", {kind}"));
        format!("Tray {number} of {all}{kind}")
    };
    Line::plain(format!("{}, {}. {tray}", plan.header.name, plan.batch))
}

/// What happens to a tray, coat by coat.
fn rows(plan: &Plan, sittings: &[&Booked]) -> Vec<Line> {
    sittings
        .iter()
        .flat_map(|sitting| {
            let coat = match sitting.task {
                Task::Step { coat, of, .. } if of > 1 => {
                    let face = work::on_face(&sitting.what, [coat, of], &plan.steps);
                    format!(" {coat} of {of}{face}")
                }
                _ => String::new(),
            };
            let planned = moment(sitting.begins, plan);
            let barred = barred(plan, &sitting.what);
            let mut rows = vec![Line::bold(format!(
                "{}{coat}: from {planned}{barred}; done {RULE}",
                sitting.what
            ))];
            // trays are poured one after another, so each counts from its own pour
            let look = step(plan, sitting).map_or_else(String::new, |step| looked_at(step, plan));
            let wait = step(plan, sitting)
                .and_then(|step| Some(wait_of(&step.left_alone?, sitting)))
                .map_or_else(String::new, |wait| format!(" ({wait} from the coat)"));
            let leave = sitting.leave_until();
            let next = if leave < sitting.next_from {
                let what = words::next(sitting.waits_for);
                format!("; {what} {}", moment(sitting.next_from, plan))
            } else {
                String::new()
            };
            let by = sitting.next_by.map_or_else(String::new, |by| {
                format!("; next coat by {}", moment(by, plan))
            });
            rows.push(Line::plain(format!(
                "{look}hands off at least until {}{wait}{next}{by}",
                moment(leave, plan)
            )));
            rows
        })
        .collect()
}

/// How long hands are off a coat, in words: until it is dry to handle, or takes the next one sooner.
fn wait_of(left: &LeftAlone, sitting: &Booked) -> String {
    let sooner = match left.next_coat {
        Further::After(next) if next.likely < left.hands_off.likely => Some(next),
        _ => None,
    };
    let sooner = sooner.filter(|_| sitting.waits_for == Some(Stage::Recoat));
    words::span(&sooner.unwrap_or(left.hands_off))
}

/// In which hours a step's coat is not laid, after a comma; nothing where it is laid in any.
fn barred(plan: &Plan, step: &str) -> String {
    let barred = plan.not_laid_in(step);
    barred.map_or_else(String::new, |barred| {
        format!(", {}", words::not_laid(barred))
    })
}

/// When a coat is looked at for bubbles, and that a lamp cures it; before the rest of what is done.
fn looked_at(step: &StepPlan, plan: &Plan) -> String {
    let Some(timed) = step.drying.timed() else {
        return String::new();
    };
    let look = timed.bubbles.map_or_else(String::new, |bubbles| {
        let after = bubbles.look.show(plan.header.units);
        format!("look for bubbles {after} after its pour; ")
    });
    if goes_under_lamp(step) {
        format!("{look}then put it under the lamp; ")
    } else {
        look
    }
}

/// Whether a step's coat sets under a lamp alone.
fn goes_under_lamp(step: &StepPlan) -> bool {
    let timed = step.drying.timed();
    timed.is_some_and(|timed| timed.before_the_lamp() > Time::ZERO)
}

/// How long a step's coat is left alone, in words.
fn wait(step: &StepPlan, plan: &Plan) -> String {
    let Some(left) = step.left_alone else {
        return match step.drying.timed() {
            Some(_) => "it is never dry to handle in this room".to_owned(),
            None => "hands off until its own label says".to_owned(),
        };
    };
    let look = looked_at(step, plan);
    // the wait for bubbles is part of a few minutes under a lamp
    let in_all = if goes_under_lamp(step) { " in all" } else { "" };
    let mut told = format!(
        "{look}hands off for {}{in_all}",
        words::span(&left.hands_off)
    );
    let more = [words::next_coat(&left), words::dry_through(&left)];
    for more in more.into_iter().flatten() {
        told = format!("{told}; {more}");
    }
    told
}

/// Labels without a date: one for each kind of piece that is coated.
fn kinds(plan: &Plan, care: &[String]) -> Vec<Label> {
    let coated = |name: &str| {
        plan.steps
            .iter()
            .filter(|step| step.kind != StepKind::Bare && step.pieces.iter().any(|p| p == name))
            .collect::<Vec<_>>()
    };
    let one = |name: &String| {
        let steps = coated(name);
        if steps.is_empty() {
            return None;
        }
        let mut lines = vec![first(plan, (0, 0), None)];
        for step in steps {
            lines.push(Line::plain(format!(
                "{}{}: done {RULE}, {}",
                step.name,
                barred(plan, &step.name),
                wait(step, plan)
            )));
        }
        lines.push(Line::plain(keep(plan.room.air)));
        Some(Label {
            title: name.clone(),
            lines,
            care: care.to_vec(),
            copies: 1,
        })
    };
    plan.pieces
        .iter()
        .filter_map(|piece| one(&piece.name))
        .collect()
}

/// The cautions in a few lines: three moments for each family, and what comes first.
fn care(families: &[FamilyCautions]) -> Vec<String> {
    if families.is_empty() {
        return Vec::new();
    }
    let each = families.iter().map(|family| {
        let [before, during, after] = family.cautions.lines.each_ref().map(|l| l.short.as_str());
        format!("{}: {before}; {during}; {after}.", family.key)
    });
    each.chain([crate::coating::comes_first().to_owned()])
        .collect()
}
