//! What a lamp does to a coat, in words.

use crate::ask::LampAnswer;
use crate::quantity::show::significant;
use crate::quantity::{Length, Show, Time, Units};

/// The light, what it does to a coat so deep, and how far the figures may be trusted.
pub(super) fn lamp(
    answer: &LampAnswer,
    depth: Length,
    through: Option<Time>,
    units: Units,
) -> Vec<String> {
    let mut told = vec![light(answer, units), in_one(answer, depth, through, units)];
    told.extend(one_pass(answer, units));
    told.push(in_layers(answer, units));
    told.push(doubt(answer, units));
    told
}

/// The light at the piece.
fn light(answer: &LampAnswer, units: Units) -> String {
    let least = answer.light.show(units);
    let Some((lamp, to)) = answer.moved else {
        return if answer.light_is_assumed {
            format!(
                "{least} at the piece is assumed (typical, from memory): measure yours, for the watts on a lamp's box tell nothing of it"
            )
        } else {
            format!("{least} at the piece, as told")
        };
    };
    format!(
        "{} measured at {} may be from {least} to {} at {}: the inverse square holds for a small lamp far off, while a wide or mirrored one hardly changes; planned with {least}, the weaker",
        lamp.light.show(units),
        lamp.distance.show(units),
        answer.most.show(units),
        to.show(units)
    )
}

/// The coat cured as it is.
fn in_one(answer: &LampAnswer, depth: Length, through: Option<Time>, units: Units) -> String {
    let deep = depth.show(units);
    let (Some(dose), Some(takes)) = (answer.dose, answer.under_lamp) else {
        return format!("its light does not reach the bottom of {deep}: cure it in layers");
    };
    let passes = match (answer.passes, answer.pass) {
        (Some(passes), Some(pass)) => format!(", so {}", of(passes, pass, units)),
        _ => String::new(),
    };
    let longer = match through {
        Some(through) if through > takes => {
            "; the label's time, made longer by so much weaker light, comes to more, above: go by that, for no label tells how much of its time is margin"
        }
        _ => "",
    };
    format!(
        "by the working curve alone {} on the surface bring twice the dose that just sets it to the bottom of {deep}: {} under this lamp{passes}, as the least{longer}",
        dose.show(units),
        takes.show(units)
    )
}

/// So many passes.
fn of(passes: u32, pass: Time, units: Units) -> String {
    let word = if passes == 1 { "pass" } else { "passes" };
    format!("{passes} {word} of {}", pass.show(units))
}

/// What one pass cures.
fn one_pass(answer: &LampAnswer, units: Units) -> Option<String> {
    let (pass, cures) = (answer.pass?.show(units), answer.one_pass_cures?);
    Some(if cures > Length::ZERO {
        format!(
            "one pass of {pass} cures a layer of up to {} by its light alone; heat, shadows and the data sheet may ask for less",
            cures.show(units)
        )
    } else {
        format!("one pass of {pass} is too short to cure any layer through")
    })
}

/// The layers that take the least light.
fn in_layers(answer: &LampAnswer, units: Units) -> String {
    let layers = answer.layers;
    if layers.count == 1 {
        return "the least light in all is in one layer".to_owned();
    }
    let passes = match (layers.passes_each, answer.pass) {
        (Some(passes), Some(pass)) => format!(", {} each", of(passes, pass, units)),
        _ => String::new(),
    };
    format!(
        "the least light in all is in {} layers of {}, each cured before the next: {} together{passes}",
        layers.count,
        layers.each.show(units),
        layers.dose.show(units)
    )
}

/// How far the figures may be trusted.
fn doubt(answer: &LampAnswer, units: Units) -> String {
    format!(
        "the dose that just sets it ({}, {}) and the depth that takes the light to 1/e ({}, {}) belong to one resin under one kind of lamp, and laboratories found them up to {} and {} times apart for the same resin: cure a test piece first, which decides, and go by the product's own data sheet; never look into the lamp",
        answer.critical_dose.show(units),
        answer.critical_dose_source,
        answer.penetration_depth.show(units),
        answer.penetration_depth_source,
        significant(answer.critical_dose_spread, 2),
        significant(answer.penetration_depth_spread, 1)
    )
}
