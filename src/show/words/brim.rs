//! Words for fills past the target and past the brim.

use crate::consumption::CoatsNeeded;
use crate::plan::{Fuller, Warning};
use crate::quantity::{Show, Units};

/// That a dry height is asked for in fewer coats than keep to the target.
pub(in crate::show) fn past_target(fuller: Fuller, units: Units) -> String {
    let in_coats = match fuller.listed {
        1 => "in one coat, as the file lists the step once,".to_owned(),
        listed => format!("in {listed} coats, as the file lists the step {listed} times,"),
    };
    let [stands, target, brim] =
        [fuller.stands, fuller.target, fuller.brim].map(|angle| angle.show(units));
    let near = if fuller.stands - fuller.target > fuller.brim - fuller.stands {
        format!("near the brim ({brim})")
    } else {
        format!("past the target (it runs over past {brim})")
    };
    format!(
        "the dry height asked for, {in_coats} stands at {stands}, {near}; to keep to the target ({target}) list the step {} times",
        fuller.coats
    )
}

/// The same for a step of a piece.
pub(super) fn fuller(warning: &Warning, units: Units) -> String {
    let Warning::PastTarget {
        piece,
        step,
        fuller,
    } = warning
    else {
        return String::new();
    };
    format!("{piece}, {step}: {}", past_target(*fuller, units))
}

/// That more is asked than the edge holds, and what would make it possible.
pub(super) fn over_brim(warning: &Warning, units: Units) -> String {
    let Warning::OverBrim {
        piece,
        step,
        asked,
        most,
        room,
        most_peak,
        target,
        coats,
        ..
    } = warning
    else {
        return String::new();
    };
    let what = match (asked.dry_height, asked.volume, asked.peak, asked.dome) {
        (Some(dry), ..) => format!("{} once dry, in one coat,", dry.show(units)),
        (_, Some(volume), ..) => volume.show(units),
        (_, _, Some(peak), _) => format!("a dome {} high", peak.show(units)),
        (.., Some(dome)) => dome.volume.show(units),
        _ => "what is asked".to_owned(),
    };
    let instead = match coats {
        Some(CoatsNeeded::Coats(coats)) => format!(
            "{coats} coats of up to {} would do: list the step {coats} times",
            target.show(units)
        ),
        Some(CoatsNeeded::PastTarget(coats)) => format!(
            "{coats} coats would do, each filled past the target of {} towards the brim: list the step {coats} times",
            target.show(units)
        ),
        Some(CoatsNeeded::BeyondBrim) => {
            "no number of coats would do on this edge: ask for less, or raise it with a wall"
                .to_owned()
        }
        None if room.m3() <= 0.0 => "the coats before it leave no room for another".to_owned(),
        None => format!(
            "ask for {} or less (the target is {} in all), pour it in more than one coat, or raise its edge with a wall",
            room.show(units),
            target.show(units)
        ),
    };
    format!(
        "{piece}, {step}: {what} is more than the edge holds, which runs over past {} ({} high); {instead}. The rest of this plan takes {}",
        most.show(units),
        most_peak.show(units),
        target.show(units)
    )
}
