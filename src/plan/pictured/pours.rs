//! One pour through its hours: the air of the room, and how far the coat has come.

use super::follow::Follow;
use super::shut_in::ShutIn;
use crate::coating::Law as LawName;
use crate::cure::bubbles::BubbleCheck;
use crate::cure::law::{Basis, Reached};
use crate::cure::situation::Spell;
use crate::drying::{self, Drier, Outlook, TimeBand, law_of};
use crate::plan::{Dates, Plan, PlanError, StepKind, StepPlan, Task};
use crate::quantity::{Humidity, Share, Temperature, Time};
use crate::run::{Hours, Run, Told};
use crate::stage::Stage;
use jiff::civil::{Date, DateTime, Time as Clock};

/// The first pour of a domed step, from its beginning until its slowest stage.
#[derive(Debug, Clone, PartialEq)]
pub struct PourPlan {
    /// The step.
    pub step: String,
    /// Its coating.
    pub coating: String,
    /// When it is poured, by the clock. `None`: the run has no calendar, and a room
    /// that is the same at any hour.
    pub clock: Option<Clock>,
    /// On which day. `None`: the run has no calendar.
    pub date: Option<Date>,
    /// When the maker sleeps: from and to, after the pour.
    pub asleep: Vec<[Time; 2]>,
    /// The room's air from the pour on: one spell where it stays as it is.
    pub air: Vec<AirSpell>,
    /// The box that the coat lies in, whose air is damper than the room's, if any.
    pub shut_in: Option<ShutIn>,
    /// Whether it is that of a record's middle day.
    pub of_record: bool,
    /// What is told of the coat.
    pub measure: Measure,
    /// How that goes, from the pour on.
    pub progress: Vec<(Time, Share)>,
    /// How far it must come for the slowest stage.
    pub goal: Share,
    /// The stages that the label names and that are reached, quickest first; one at least.
    pub stages: Vec<StageAt>,
    /// When to look for bubbles.
    pub look: Option<BubbleCheck>,
    /// Until when it is told.
    pub ends: Time,
}

/// The room's air for a while.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AirSpell {
    /// From and to, after the pour.
    pub during: [Time; 2],
    /// Its temperature.
    pub temperature: Temperature,
    /// Its relative humidity.
    pub humidity: Humidity,
}

/// What is told of a coat's progress.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// The water still in it, of what it held when poured.
    WaterLeft,
    /// How much of its resin has reacted.
    Reacted,
    /// How deep it is cured, of its whole depth.
    DepthCured,
}

/// A stage, and when it is reached.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StageAt {
    /// The stage.
    pub stage: Stage,
    /// The label's time for it.
    pub label: Time,
    /// How long after the pour.
    pub here: TimeBand,
}

/// Every so much of the whole the coat is looked at.
const LOOKS: u32 = 90;

/// The first pour of every domed step that dries or cures in its room. None where it never
/// gets there, nor for what a lamp cures, which is not left to its room.
///
/// The coat's clock is that of its slowest stage, by the label's time: other stages are
/// marked when the plan has them, which need not be when the curve is where the law puts them.
///
/// # Errors
/// None yet: a coat that can't be followed has no picture.
pub fn pours(run: &Run, plan: &Plan) -> Result<Vec<PourPlan>, PlanError> {
    let domed = (plan.steps.iter()).filter(|step| step.kind == StepKind::Dome);
    Ok(domed.filter_map(|step| pour(run, plan, step)).collect())
}

fn pour(run: &Run, plan: &Plan, step: &StepPlan) -> Option<PourPlan> {
    let timed = step.drying.timed()?;
    let coating = step.coating.as_ref()?;
    let coating = &run
        .coatings
        .iter()
        .find(|own| own.name == *coating)?
        .coating;
    let measure = match coating.law() {
        LawName::WaterFilm => Measure::WaterLeft,
        LawName::Epoxy => Measure::Reacted,
        LawName::MoistureCure => Measure::DepthCured,
        LawName::Airing | LawName::Lamp => return None,
    };
    if timed.basis != Basis::Physics {
        return None;
    }
    let begins = first_pour(run, plan, step);
    let clock = begins.map(DateTime::time).or(match &run.room.told {
        Told::Steady(_) => None,
        Told::DayAndNight { pour, .. } => Some(*pour),
        Told::Recorded(record) => Some(record.pour),
    });
    // in air that changes the coat goes through the hours of this very pour
    let moved = clock.and_then(|clock| run.room.poured_at(clock));
    let room = moved.as_ref().unwrap_or(&run.room.over_time);
    let drier = Drier::new(coating, room).ok()?;
    let coat = drying::Coat {
        depth: timed.here.wet_depth(),
        label_depth: Some(timed.label.wet_depth()),
        lies: timed.here.exposure(),
        shut_in: timed.here.enclosure(),
        light: None,
    };
    let anew = match moved {
        Some(_) => Some(drier.glance(&coat).ok()?),
        None => None,
    };
    let told = anew.as_ref().unwrap_or(timed);
    let stages = stages(told);
    let slowest = *stages.last()?;
    let ends = end(&stages);
    let law = law_of(coating).ok()?;
    let steady = Spell {
        air: told.here.air(),
        lasts: ends,
    };
    let spells = drier
        .spells(&coat)
        .ok()?
        .map_or_else(|| vec![steady], <[Spell]>::to_vec);
    let unit = match (
        spells.as_slice(),
        law.reach(slowest.stage, &told.here).ok()?,
    ) {
        ([_], Reached::After(lapse)) => slowest.here.likely / lapse,
        _ => match law.reach(slowest.stage, &told.label).ok()? {
            Reached::After(lapse) => slowest.label / lapse,
            Reached::Never(_) => return None,
        },
    };
    let asked: Vec<Time> = (0..=LOOKS)
        .map(|look| ends * (f64::from(look) / f64::from(LOOKS)))
        .collect();
    let follow = Follow {
        law: law.as_ref(),
        here: told.here,
        unit,
        asked: &asked,
    };
    let whole = law.goal(slowest.stage, &told.here);
    let start = law.start(&told.here);
    let share = |coat: f64| {
        Share::from_fraction(match measure {
            Measure::WaterLeft => coat / start,
            Measure::Reacted => coat,
            // the front's square: the depth goes with its root, and no further than the coat
            Measure::DepthCured => (coat / whole).min(1.0).sqrt(),
        })
    };
    let progress = follow.through(spells.iter().copied()).ok()?;
    Some(PourPlan {
        step: step.name.clone(),
        coating: step.coating.clone()?,
        clock,
        date: begins.map(DateTime::date),
        asleep: clock.map_or_else(Vec::new, |clock| asleep(&run.hours, clock, ends)),
        air: airs(&spells, ends),
        shut_in: coat.shut_in.map(|shut| ShutIn::of(run, shut)),
        of_record: matches!(run.room.told, Told::Recorded(_)),
        measure,
        progress: progress
            .iter()
            .map(|at| (at.time, share(at.standing.coat)))
            .collect(),
        goal: share(whole),
        look: told.bubbles,
        stages,
        ends,
    })
}

/// When the first coat of a step is begun, where there is a calendar.
fn first_pour(run: &Run, plan: &Plan, step: &StepPlan) -> Option<DateTime> {
    let Dates::Told(calendar) = &plan.dates else {
        return None;
    };
    let index = run.steps.iter().position(|own| own.name == step.name)?;
    let pours = calendar.sittings.iter().filter(
        |sitting| matches!(sitting.task, Task::Step { step, coat: 1, .. } if step == index),
    );
    pours.map(|sitting| sitting.first_pour).min()
}

/// The stages that are reached, quickest first.
fn stages(told: &Outlook) -> Vec<StageAt> {
    let mut stages: Vec<StageAt> = told
        .stages
        .iter()
        .filter(|times| times.stage != Stage::RecoatUntil)
        .filter_map(|times| {
            Some(StageAt {
                stage: times.stage,
                label: times.label,
                here: times.here?,
            })
        })
        .collect();
    stages.sort_by(|a, b| a.here.likely.s().total_cmp(&b.here.likely.s()));
    stages
}

/// Bands that go on for longer than so many times the slowest stage are not shown to their end.
const LONGEST: f64 = 1.6;
/// And something is shown past the slowest stage.
const PAST: f64 = 1.08;

/// Until when a pour is shown: the last band's end, if that is not far off. A band that
/// goes on past it is told in full, and drawn as going on.
fn end(stages: &[StageAt]) -> Time {
    let slowest = stages
        .iter()
        .map(|stage| stage.here.likely.s())
        .fold(0.0, f64::max);
    let highest = stages
        .iter()
        .map(|stage| stage.here.high.s())
        .fold(0.0, f64::max);
    Time::from_s((highest * 1.02).clamp(slowest * PAST, slowest * LONGEST))
}

/// The air until a time; spells alike are one.
fn airs(spells: &[Spell], ends: Time) -> Vec<AirSpell> {
    let mut airs: Vec<AirSpell> = Vec::new();
    let mut from = Time::ZERO;
    for spell in spells {
        if from >= ends {
            break;
        }
        let to = from + spell.lasts;
        let to = if to > ends { ends } else { to };
        let (temperature, humidity) = (spell.air.temperature(), spell.air.humidity());
        match airs.last_mut() {
            Some(last) if (last.temperature, last.humidity) == (temperature, humidity) => {
                last.during[1] = to;
            }
            _ => airs.push(AirSpell {
                during: [from, to],
                temperature,
                humidity,
            }),
        }
        from = to;
    }
    airs
}

/// When the maker sleeps, as times after a pour at a clock time, until an end.
fn asleep(hours: &Hours, clock: Clock, ends: Time) -> Vec<[Time; 2]> {
    let minute = f64::from(clock.hour()) * 60.0 + f64::from(clock.minute());
    let day = 24.0 * 60.0;
    let (from, to) = (f64::from(hours.awake.to), f64::from(hours.awake.from) + day);
    if to - from <= 0.0 {
        return Vec::new();
    }
    let mut nights = Vec::new();
    let mut shift = -minute - day;
    while from + shift < ends.min() {
        let [begins, stops] = [from + shift, to + shift];
        if stops > 0.0 {
            nights.push([begins.max(0.0), stops.min(ends.min())].map(Time::from_min));
        }
        shift += day;
    }
    nights
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::run::ClockSpan;
    use std::collections::BTreeSet;

    fn sleeps(awake: (u16, u16), clock: (i8, i8), hours: f64) -> Vec<[f64; 2]> {
        let own = Hours {
            days: std::array::from_fn(|_| Vec::new()),
            off: BTreeSet::new(),
            awake: ClockSpan {
                from: awake.0,
                to: awake.1,
            },
            first_run: false,
        };
        let clock = Clock::constant(clock.0, clock.1, 0, 0);
        let nights = asleep(&own, clock, Time::from_h(hours));
        nights.iter().map(|night| night.map(Time::h)).collect()
    }

    /// Awake from 7:00 to 22:30: poured at 18:30 the first night begins 4 h on and lasts 8.5 h.
    #[test]
    fn nights_lie_between_the_hours_awake() {
        assert_eq!(
            sleeps((420, 1350), (18, 30), 40.0),
            [[4.0, 12.5], [28.0, 36.5]]
        );
        // poured in the night, and ended in one
        assert_eq!(
            sleeps((420, 1350), (1, 0), 22.0),
            [[0.0, 6.0], [21.5, 22.0]]
        );
        assert!(sleeps((0, 1440), (12, 0), 100.0).is_empty());
    }
}
