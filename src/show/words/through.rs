//! What is done before a coat is dry through, in words.

use super::dates::moment;
use super::{list, span, stage};
use crate::drying::TimeBand;
use crate::plan::{Unkept, Warning};
use crate::quantity::{Show, Units};
use crate::stage::Stage;

/// What begins when a coat has been left for longer than until it is dry to handle.
pub(in crate::show) fn next(waits_for: Option<Stage>) -> &'static str {
    match waits_for {
        Some(Stage::Through) => "dry through",
        Some(Stage::Bag) => "ready to bag",
        Some(Stage::Recoat) => "next coat from",
        Some(_) | None => "goes on from",
    }
}

/// That a coat takes the next no longer before it takes one at all.
pub(super) fn no_recoat_window(warning: &Warning, units: Units) -> String {
    let Warning::NoRecoatWindow { step, until, from } = warning else {
        return String::new();
    };
    format!(
        "{step}: here it takes the next coat after {}, and by its label only within {}, so there is no time for one: let it get hard, then sand it dull and clean it first, or lay it in a room nearer to its label's",
        from.show(units),
        until.show(units)
    )
}

/// That a coat comes later than the one under it takes one.
pub(super) fn past_recoat(warning: &Warning, units: Units) -> String {
    let Warning::PastRecoat {
        step,
        until,
        gap,
        by_waits,
    } = warning
    else {
        return String::new();
    };
    let (why, or) = if *by_waits {
        // laid at once it would come too late as well
        (
            "; what is waited for in between takes that long by itself",
            "",
        )
    } else {
        ("", ", or leave time to lay the two closer together")
    };
    format!(
        "{step}: the next coat comes {} after it, and its label takes one within {} here{why}: let it get hard, then sand it dull and clean it first{or}",
        gap.show(units),
        until.show(units)
    )
}

/// That coats come close enough together, and what that costs in time.
pub(super) fn laid_for_recoat(otherwise: Unkept) -> String {
    let costs = match otherwise {
        Unkept::From { begins, ready } => {
            let years = begins.year() != ready.year();
            format!(
                "; were that left out of account, the run could begin on {} and be ready by {}",
                moment(begins, years),
                moment(ready, years)
            )
        }
        Unkept::AsLateAs(at) => format!(
            "; were that left out of account, the run could begin as late as {}",
            moment(at, false)
        ),
        Unkept::Sooner => ": some are laid later for that than they could be".to_owned(),
    };
    format!(
        "laid out so that coats come while the ones under them still take them by their labels{costs}"
    )
}

/// That steps, or being ready, go by an early stage of a coat.
pub(super) fn before_through(warning: &Warning) -> String {
    let Warning::BeforeThrough {
        step,
        what,
        waits,
        through,
        ..
    } = warning
    else {
        return String::new();
    };
    let after = |(of, band): (Stage, TimeBand)| format!("{} ({} here)", stage(of), span(&band));
    let names: Vec<String> = what.iter().map(|name| format!("\"{name}\"")).collect();
    let waiting = if names.len() == 1 { "waits" } else { "wait" };
    match through {
        Some(through) => format!(
            "{step}: {} {waiting} only until it is {}, before it is {}: until then it may dent or stick",
            list(&names, 6),
            after(*waits),
            after(*through)
        ),
        // it stands in most plans of water-based coats, so it must be short
        None => format!(
            "{step}: no label time for dry through: all after it goes by {}",
            after(*waits)
        ),
    }
}
