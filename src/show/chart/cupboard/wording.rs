//! What the picture of a box says.

use super::Cupboard;
use crate::plan::{AiringPlan, CupboardPlan, Why};
use crate::quantity::{AirChanges, Humidity, Show};
use crate::show::chart::rooms::wording::{is, time};
use crate::show::draw::Words;
use crate::show::draw::figure::{significant, trimmed};
use crate::show::words::{in_box, wet_pieces};

fn changes(changes: AirChanges) -> String {
    if changes == AirChanges::ZERO {
        return "sealed".to_owned();
    }
    let number = trimmed(changes.per_h(), 2);
    let number = if changes.per_h() < 0.1 {
        significant(changes.per_h(), 2)
    } else {
        number
    };
    let noun = if number == "1" { "change" } else { "changes" };
    format!("{number} air {noun} an hour")
}

pub(super) fn name(airing: &AiringPlan) -> String {
    let often = changes(airing.air_changes);
    match airing.why {
        Why::AsIs => format!("as it is: {often}"),
        Why::UnderTheLimit | Why::LittleLonger => often,
    }
}

pub(super) fn result(cupboard: &Cupboard<'_>, airing: &AiringPlan) -> String {
    let damp = up_to(cupboard, airing.most.1);
    let takes = airing.takes.map_or_else(
        || "it never dries".to_owned(),
        |takes| format!("{} in {}", is(cupboard.plan.stage), time(takes)),
    );
    let edge = if airing.takes.is_some_and(|takes| takes > cupboard.plan.ends) {
        ", past the edge"
    } else {
        ""
    };
    let leaps = airing.leaps_to.map_or_else(String::new, |to| {
        format!(" ({} at first as the room cools)", to.show(cupboard.units))
    });
    format!("{damp}{leaps}, {takes}{edge}")
}

/// How damp it gets; what stays under the limit is not said to come up to it by its rounding.
fn up_to(cupboard: &Cupboard<'_>, most: Humidity) -> String {
    match just_under(cupboard, most) {
        Some(limit) => format!("just under {limit}"),
        None => format!("up to {}", most.show(cupboard.units)),
    }
}

/// The limit, where a humidity is under it and written the same.
fn just_under(cupboard: &Cupboard<'_>, most: Humidity) -> Option<String> {
    let limit = cupboard.plan.limit;
    let written = limit.show(cupboard.units);
    (most < limit && most.show(cupboard.units) == written).then_some(written)
}

/// Where the box is.
pub(super) fn place(cupboard: &Cupboard<'_>) -> String {
    let CupboardPlan {
        tray, enclosure, ..
    } = cupboard.plan;
    in_box(enclosure, tray.as_deref(), cupboard.units)
}

/// The finding: how damp it gets, and what keeps it drier.
pub(super) fn title(cupboard: &Cupboard<'_>) -> String {
    let plan = cupboard.plan;
    let Some(now) = plan.airings.first() else {
        return format!("The air {}", place(cupboard));
    };
    let (when, most) = now.most;
    let damp = most.show(cupboard.units);
    let past_the_limit = |airing: &AiringPlan| airing.leaps_to.filter(|to| *to >= plan.limit);
    if let Some(leaps_to) = past_the_limit(now).filter(|_| most < plan.limit) {
        return format!(
            "The air {} settles at {damp}, and leaps to {} as the room cools",
            place(cupboard),
            leaps_to.show(cupboard.units)
        );
    }
    if let Some(limit) = just_under(cupboard, most) {
        return format!("The air {} stays just under {limit}", place(cupboard));
    }
    if most < plan.limit {
        return format!(
            "The air {} stays under {}: {damp} at most",
            place(cupboard),
            plan.limit.show(cupboard.units)
        );
    }
    let leaps = |airing: &AiringPlan| match past_the_limit(airing) {
        Some(_) => " but for an hour as the room cools",
        None => "",
    };
    let gets = format!(
        "The air {} is at {damp} after {}",
        place(cupboard),
        time(when)
    );
    let keeps = plan
        .airings
        .iter()
        .find(|airing| airing.why == Why::UnderTheLimit);
    match keeps {
        Some(airing) => {
            format!(
                "{gets}; {} keep it under {}{}",
                changes(airing.air_changes),
                plan.limit.show(cupboard.units),
                leaps(airing)
            )
        }
        None => format!(
            "{gets}; no airing that was tried keeps it under {}",
            plan.limit.show(cupboard.units)
        ),
    }
}

/// What is in the box, and the room around it.
pub(super) fn under(cupboard: &Cupboard<'_>) -> String {
    let plan = cupboard.plan;
    let there = |airing: &AiringPlan| airing.takes.is_some_and(|takes| takes <= plan.ends);
    let dot = if plan.airings.iter().any(there) {
        format!(" At a dot it is {}.", is(plan.stage))
    } else {
        String::new()
    };
    format!(
        "{} after \"{}\" in {} of air; the room around is at {} and {}.{dot}",
        wet_pieces(plan.enclosure.pieces()),
        plan.step,
        plan.enclosure.volume().show(cupboard.units),
        between(plan.room.0.map(|end| end.show(cupboard.units))),
        between(plan.room.1.map(|end| end.show(cupboard.units)))
    )
}

/// "50 %", or "50 % to 62 %".
fn between([least, most]: [String; 2]) -> String {
    if least == most {
        least
    } else {
        format!("{least} to {most}")
    }
}

/// Title and description for someone who can't see the picture.
pub(super) fn words(cupboard: &Cupboard<'_>) -> Words {
    let plan = cupboard.plan;
    let mut sentences = vec![
        format!(
            "Relative humidity of the air {} over {}.",
            place(cupboard),
            time(plan.ends)
        ),
        under(cupboard),
    ];
    sentences.extend(plan.airings.iter().map(|airing| {
        let (name, result) = (name(airing), result(cupboard, airing));
        format!("{}: {result}.", crate::show::words::heading(&name))
    }));
    sentences.push(format!(
        "The label's air is at {}; from {} on drying is very slow.",
        plan.label.show(cupboard.units),
        plan.limit.show(cupboard.units)
    ));
    Words {
        title: format!("{}.", title(cupboard)),
        description: sentences.join(" "),
    }
}
