//! How much to mix and how long it lasts, in words.

use super::lines::{Lines, care};
use super::mixing::{at_least, at_most, from_to, lasting, measured, out_by, weighed};
use super::warning::warning;
use crate::ask::{CupAnswer, Lasts, MixAnswer, MixAssumption, MostAnswer, TimesAnswer};
use crate::cure::Warning;
use crate::cure::pot::{WARM, WORKABLE};
use crate::quantity::{Show, Time, Units};

/// Width of the headings.
const HEADING: usize = 11;

/// The whole answer, for one screen.
#[must_use]
pub fn mix_text(answer: &MixAnswer, units: Units) -> String {
    let mut lines = Lines::with_headings_of(HEADING);
    let room = answer.room.show(units);
    lines.plain(&format!(
        "{}, {} mixed at once, at {room}",
        answer.coating,
        answer.mass.show(units)
    ));
    lines.gap();
    let parts = &answer.parts;
    lines.line("By weight", &weighed([parts.a_mass, parts.b_mass], units));
    let volumes = measured([parts.a_volume, parts.b_volume], units);
    lines.line(
        "By volume",
        &format!("{volumes}; one measure or the other, not both"),
    );
    lines.line("Scale", &scale(answer, units));
    lines.line("Gels", &gels(answer, units));
    lines.line("Work", &work(answer, units));
    if let Some(why) = too_short(answer, units) {
        lines.line("Too long", &why);
    }
    lines.line("Heat", &heat(&answer.cup, units));
    lines.line("At most", &most(answer, units));
    lines.line("Flat tray", &tray(answer, units));
    let beware = answer.warnings.iter();
    lines.list(
        "Beware",
        beware.map(|told| beware_of(&told.warning, answer, units)),
    );
    let assumed: Vec<String> = answer.assumed.iter().map(|it| said(*it, units)).collect();
    lines.line("Assumed", &assumed.join("; "));
    care(&mut lines, &answer.cautions);
    lines.into_text()
}

fn beware_of(told: &Warning, answer: &MixAnswer, units: Units) -> String {
    // the cold is no matter of what the label means
    let of_cup = !matches!(told, Warning::TooColdToCure { .. });
    let worst = if of_cup && answer.label.mass_is_assumed {
        "at the worst: "
    } else {
        ""
    };
    format!("{worst}{}", warning(told, units))
}

/// Why the mix can't be worked with for as long as was asked, and what would do;
/// `None` where it can, if only by the plain reading of its label, or nothing was asked.
#[must_use]
pub fn too_short(answer: &MixAnswer, units: Units) -> Option<String> {
    if !answer.wanted_is_asked || answer.lasts != Lasts::No {
        return None;
    }
    let worth = answer.least.last().map(|least| least.mix);
    let would = match answer.most.plain.mass() {
        Some(mass) if worth.is_none_or(|worth| mass >= worth) => {
            format!("mix {} at a time at the very most", at_most(mass, units))
        }
        _ => {
            "smaller mixes do not mend it: work in a cooler room or plan shorter spells".to_owned()
        }
    };
    Some(format!(
        "this mix can't be stirred for {} and worked with for {}: {would}",
        answer.stirring.show(units),
        answer.wanted.show(units)
    ))
}

fn scale(answer: &MixAnswer, units: Units) -> String {
    let step = answer.scale.show(units);
    let least: Vec<String> = answer
        .least
        .iter()
        .map(|least| {
            format!(
                "{} on one that reads {}",
                at_least(least.mix, units),
                least.scale.show(units)
            )
        })
        .collect();
    let small = if answer.smaller_part_out > answer.worth_weighing {
        "too small to weigh: "
    } else {
        ""
    };
    format!(
        "{small}on a scale that reads {step} the smaller part may be up to {} out; the smallest mix worth weighing (to {}) is {}",
        out_by(answer.smaller_part_out),
        answer.worth_weighing.show(units),
        least.join(" and ")
    )
}

/// A time by both readings: the worst, and the plain one where it differs.
fn both(times: TimesAnswer) -> String {
    match (times.worst, times.plain) {
        (Some(worst), Some(plain)) => from_to(&lasting(worst), &lasting(plain)),
        (Some(time), None) | (None, Some(time)) => lasting(time),
        (None, None) => "never".to_owned(),
    }
}

fn gels(answer: &MixAnswer, units: Units) -> String {
    let label = &answer.label;
    let told = format!(
        "{} on the label, for {} at {}",
        lasting(label.lasts),
        label.mass.show(units),
        label.at.show(units)
    );
    let here = both(answer.cup.gels);
    if label.mass_is_assumed {
        let time = |time: Option<Time>| time.map_or_else(|| "never".to_owned(), lasting);
        format!(
            "after {here} in this cup: {} if the label means a thin coat, {} if it means {} in a cup; {told}, which is assumed",
            time(answer.cup.gels.worst),
            time(answer.cup.gels.plain),
            label.mass.show(units)
        )
    } else {
        format!("after about {here} in this cup; {told}")
    }
}

fn work(answer: &MixAnswer, units: Units) -> String {
    let share = WORKABLE;
    let [limit, plain] = [answer.cup.work.worst, answer.cup.work.plain]
        .map(|time| time.map_or_else(|| "any time".to_owned(), lasting));
    let meant = if limit == plain {
        String::new()
    } else {
        let mass = answer.label.mass.show(units);
        format!("; {plain} if the label means {mass} in a cup")
    };
    let wanted = format!(
        "{} of stirring and the {} wanted",
        answer.stirring.show(units),
        answer.wanted.show(units)
    );
    let enough = match (answer.wanted_is_asked, answer.lasts) {
        (false, _) | (true, Lasts::No) => String::new(),
        (true, Lasts::Yes) => format!("; that covers the {wanted}"),
        (true, Lasts::AsLabelled) => format!(
            "; the {wanted} only if the label means its mass in a cup: ask its maker, or try a small mix first"
        ),
    };
    format!(
        "no longer than {limit}: {} of the gel, or until it is {} above the room if that is sooner{meant}{enough}",
        share.show(units),
        WARM.show(units)
    )
}

/// Never how hot: one temperature for a whole cup is too simple for that.
fn heat(cup: &CupAnswer, units: Units) -> String {
    let above = WARM.show(units);
    if !cup.heats_itself {
        return "so little in this room should lose its heat as fast as it makes it; a fresh or faster resin may do otherwise, so watch it"
            .to_owned();
    }
    let may = if cup.heats_itself_as_labelled {
        "it heats itself"
    } else {
        "it may heat itself"
    };
    let warm = both(cup.warm);
    format!("left in its cup {may}: {above} above the room after {warm}, and then it goes fast")
}

fn most(answer: &MixAnswer, units: Units) -> String {
    let worth = answer.least.last().map(|least| least.mix);
    let one = |most: MostAnswer| match most {
        MostAnswer::ByTime { mass } if worth.is_some_and(|worth| mass < worth) => {
            "no mix worth weighing".to_owned()
        }
        MostAnswer::ByTime { mass } => at_most(mass, units),
        MostAnswer::ByLabel { mass } => format!(
            "{}, which is the label's own mass and the most that it speaks of",
            at_most(mass, units)
        ),
        MostAnswer::Nothing => "no mix at all".to_owned(),
    };
    let (worst, plain) = (one(answer.most.worst), one(answer.most.plain));
    let [stirring, time] = [answer.stirring, answer.wanted].map(|time| time.show(units));
    let told = if worst == plain {
        worst
    } else {
        format!("{worst} at the worst, else {plain}")
    };
    format!("to stir it for {stirring} and work with it for {time}: {told}")
}

fn tray(answer: &MixAnswer, units: Units) -> String {
    let tray = &answer.tray;
    let heats = if tray.mix.heats_itself {
        "; even so it may heat itself, so spread it thinner or mix less"
    } else {
        ""
    };
    format!(
        "spread {} deep over {} it gels after {}, to be worked with for {}{heats}",
        tray.depth.show(units),
        tray.area.show(units),
        both(tray.mix.gels),
        both(tray.mix.work)
    )
}

/// An assumption in words.
fn said(assumption: MixAssumption, units: Units) -> String {
    match assumption {
        MixAssumption::LabelMass { mass } => format!(
            "the label's pot life is for {} in a cup, or at the worst for a thin coat; --pot-life-mass says which",
            mass.show(units)
        ),
        MixAssumption::Room { room } => {
            format!("a room at {}, as the label means it", room.show(units))
        }
        MixAssumption::Stirring { stirring } => format!(
            "{} of stirring (common practice, no source)",
            stirring.show(units)
        ),
        MixAssumption::Working { wanted } => format!("{} of work", wanted.show(units)),
        MixAssumption::Beaker => {
            "a cup filled as high as it is wide, and parts as warm as the room".to_owned()
        }
        MixAssumption::Density { density } => format!(
            "a usual resin's heat (typical, from memory) and its mix's density of {}",
            density.show(units)
        ),
    }
}
