//! The words of a picture of one pour.

use super::{Pour, degrees};
use crate::cure::bubbles::BubbleCheck;
use crate::plan::{AirSpell, Measure, PourPlan, StageAt};
use crate::quantity::{Show, Time, Units};
use crate::show::chart::rooms::wording::{is, time};
use crate::show::draw::Words;
use crate::show::draw::figure::trimmed;
use crate::show::words::{self, in_box, list, span, stage, wet_pieces};
use jiff::SignedDuration;
use jiff::civil::{Date, DateTime};

/// A strip's words and its values.
pub(super) type Strip = (String, fn(Units, &AirSpell) -> f64);

/// The strips of the air.
pub(super) fn airs(units: Units) -> [Strip; 2] {
    let unit = match units {
        Units::Metric => "°C",
        Units::Us => "°F",
    };
    [
        (
            format!("temperature of the room, {unit}"),
            |units, spell| degrees(units, spell.temperature),
        ),
        ("relative humidity of its air, %".to_owned(), |_, spell| {
            spell.humidity.percent()
        }),
    ]
}

pub(super) const fn measure(measure: Measure) -> &'static str {
    match measure {
        Measure::WaterLeft => "water left in the coat, % of what it held",
        Measure::Reacted => "resin that has reacted, %",
        Measure::DepthCured => "depth that is cured, % of the coat",
    }
}

/// A time after the pour by the clock: "Sun 11:40", "11:40 on day 3", "30 h".
pub(super) fn at(plan: &PourPlan, after: Time) -> String {
    let Some(clock) = plan.clock else {
        return time(after);
    };
    let date = plan.date.unwrap_or(NO_DAY);
    // told to ten minutes, later rather than sooner, past a few hours
    let grain = if after.h() < 6.0 { 1.0 } else { 10.0 };
    let minutes = f64::from(clock.hour()) * 60.0 + f64::from(clock.minute()) + after.min();
    let minutes = (minutes / grain - 1e-6).ceil() * grain;
    let Some(moment) = moment(date, minutes) else {
        return time(after);
    };
    if plan.date.is_some() {
        // past a week a weekday alone would mean another day
        if plan.ends.days() < 6.0 {
            moment.strftime("%a %H:%M").to_string()
        } else {
            words::moment(moment, two_years(date, plan))
        }
    } else {
        let days = (moment.date() - NO_DAY).get_days();
        match days {
            0 => moment.strftime("%H:%M").to_string(),
            1 => format!("{} the day after", moment.strftime("%H:%M")),
            days => format!("{} on day {}", moment.strftime("%H:%M"), days + 1),
        }
    }
}

/// Whether a picture that begins on a day goes on into the next year.
fn two_years(begins: Date, plan: &PourPlan) -> bool {
    let minutes = plan.clock.map_or(0.0, |clock| {
        f64::from(clock.hour()) * 60.0 + f64::from(clock.minute())
    });
    moment(begins, minutes + plan.ends.min()).is_some_and(|ends| ends.year() != begins.year())
}

/// Any day, where no calendar tells one.
const NO_DAY: Date = Date::constant(2001, 1, 1);

/// So many minutes after a day's midnight.
fn moment(date: Date, minutes: f64) -> Option<DateTime> {
    let passed = SignedDuration::try_from_secs_f64(minutes * 60.0).ok()?;
    let midnight = date.to_datetime(jiff::civil::Time::midnight());
    midnight.checked_add(passed).ok()
}

/// The marks of the time axis so many hours apart, and what they are.
pub(super) fn clock(plan: &PourPlan, step: f64) -> (Vec<(f64, String)>, &'static str) {
    let ends = plan.ends.h();
    let begins = plan
        .clock
        .map(|clock| f64::from(clock.hour()) + f64::from(clock.minute()) / 60.0);
    let mut ticks = Vec::new();
    let first = begins.map_or(0.0, |begins| (begins / step).ceil() * step - begins);
    let mut at = first;
    while at <= ends + 1e-9 {
        let words = match begins {
            None => trimmed(at, 2),
            Some(begins) => by_clock(plan, begins + at),
        };
        ticks.push((at, words));
        at += step;
    }
    let title = match (plan.clock, plan.date) {
        (None, _) => "hours after the pour",
        (Some(_), Some(_)) => "clock time; a date stands at its midnight",
        (Some(_), None) => "clock time",
    };
    (ticks, title)
}

/// A mark so many hours after the midnight before the pour.
fn by_clock(plan: &PourPlan, hours: f64) -> String {
    let Some(moment) = moment(plan.date.unwrap_or(NO_DAY), (hours * 60.0).round()) else {
        return String::new();
    };
    let midnight = moment.hour() == 0 && moment.minute() == 0;
    match (midnight, plan.date) {
        (true, Some(date)) => words::day(moment.date(), two_years(date, plan)),
        _ => moment.strftime("%H:%M").to_string(),
    }
}

/// The stage that all wait for; of several together the first that a maker speaks of.
fn slowest(plan: &PourPlan) -> Option<&StageAt> {
    let last = plan.stages.last()?;
    plan.stages.iter().find(|stage| stage.here == last.here)
}

/// The finding: when it is poured and when it is there.
pub(super) fn title(pour: &Pour<'_>) -> String {
    let plan = pour.plan;
    let step = &plan.step;
    let Some(slowest) = slowest(plan) else {
        return format!("{step}: never there in this room");
    };
    let is = is(slowest.stage);
    if plan.clock.is_some() {
        let (poured, there) = (at(plan, Time::ZERO), at(plan, slowest.here.likely));
        format!("{step}: first poured {poured}, {is} about {there}")
    } else {
        let after = time(slowest.here.likely);
        format!("{step}: {is} about {after} after the pour")
    }
}

/// How sure that is, what the label says, and the room where it stays as it is.
pub(super) fn under(pour: &Pour<'_>) -> String {
    let plan = pour.plan;
    let mut sentences: Vec<String> = slowest(plan)
        .map(|slowest| {
            format!(
                "That is {} after its own pour; the label says {}.",
                span(&slowest.here),
                time(slowest.label)
            )
        })
        .into_iter()
        .collect();
    match plan.air.as_slice() {
        [only] => sentences.push(format!(
            "The room stays at {} and {}.",
            only.temperature.show(pour.units),
            only.humidity.show(pour.units)
        )),
        _ if plan.of_record => {
            sentences.push("The air is that of the record's middle day.".to_owned());
        }
        _ => {}
    }
    if let Some(shut) = &plan.shut_in {
        let (enclosure, lid_of) = (&shut.enclosure, shut.lid_of.as_deref());
        sentences.push(format!(
            "The coat lies {} with {}; {}.",
            in_box(enclosure, lid_of, pour.units),
            wet_pieces(enclosure.pieces()),
            match plan.measure {
                Measure::WaterLeft =>
                    "the air in there gets damper than the room's, and the times count it in",
                Measure::Reacted | Measure::DepthCured =>
                    "the air shown is the room's, and the times are for that",
            }
        ));
    }
    sentences.join(" ")
}

/// The words at the line that the coat must come to.
pub(super) fn goal(pour: &Pour<'_>) -> String {
    let plan = pour.plan;
    let is = slowest(plan).map_or("there", |slowest| is(slowest.stage));
    format!("{is} at {} %", trimmed(plan.goal.percent(), 1))
}

pub(super) fn bubbles(plan: &PourPlan, look: &BubbleCheck) -> String {
    let latest = look
        .limit_worth_telling()
        .map_or_else(String::new, |latest| {
            format!(", not later than {}", at(plan, latest))
        });
    format!("look for bubbles at {}{latest}", at(plan, look.look))
}

/// Stages that are reached together.
pub(super) fn stages(plan: &PourPlan, group: &[&StageAt]) -> String {
    let names: Vec<&str> = group.iter().map(|own| stage(own.stage)).collect();
    let here = group[0].here;
    format!(
        "{}: {}, {} after the pour",
        list(&names, names.len()),
        at(plan, here.likely),
        span(&here)
    )
}

/// Title and description for someone who can't see the picture.
pub(super) fn words(pour: &Pour<'_>) -> Words {
    let plan = pour.plan;
    let mut sentences = vec![format!(
        "{} of {}, followed for {}.",
        crate::show::words::heading(measure(plan.measure)),
        plan.coating,
        time(plan.ends)
    )];
    sentences.push(under(pour));
    if plan.air.len() > 1 {
        let of = |value: fn(Units, &AirSpell) -> f64| {
            let all = plan.air.iter().map(|spell| value(pour.units, spell));
            all.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, m), v| {
                (l.min(v), m.max(v))
            })
        };
        for (title, value) in airs(pour.units) {
            let (least, most) = of(value);
            sentences.push(format!(
                "{}: from {} to {}.",
                crate::show::words::heading(&title),
                trimmed(least, 1),
                trimmed(most, 1)
            ));
        }
    }
    sentences.push(format!("It is {}.", goal(pour)));
    if let Some(look) = &plan.look {
        let words = bubbles(plan, look);
        sentences.push(format!("{}.", crate::show::words::heading(&words)));
    }
    for stage in &plan.stages {
        let words = stages(plan, &[stage]);
        sentences.push(format!("{}.", crate::show::words::heading(&words)));
    }
    if !plan.asleep.is_empty() {
        let nights: Vec<String> = plan
            .asleep
            .iter()
            .take(3)
            .map(|night| format!("{} to {}", at(plan, night[0]), at(plan, night[1])))
            .collect();
        let more = if plan.asleep.len() > 3 {
            " and so on"
        } else {
            ""
        };
        sentences.push(format!("Asleep from {}{more}.", nights.join(", ")));
    }
    Words {
        title: format!("{}.", title(pour)),
        description: sentences.join(" "),
    }
}
