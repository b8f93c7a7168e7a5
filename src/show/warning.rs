//! Warnings of drying and curing in the reader's own units.

use crate::cure::Warning;
use crate::cure::blush::{Blush, Reason};
use crate::quantity::{Show, Units};

/// A warning in words. The metric words are the warning's own.
pub(super) fn warning(warning: &Warning, units: Units) -> String {
    match units {
        Units::Metric => warning.to_string(),
        Units::Us => us(warning),
    }
}

/// The same in US units; what has no unit is the warning's own.
fn us(warning: &Warning) -> String {
    let show = |temperature: crate::quantity::Temperature| temperature.show(Units::Us);
    match warning {
        Warning::DewPoint { surface, dew_point } => format!(
            "the piece at {} is less than 5.4 °F above the dew point of {}: dew may settle on it; warm the piece or dry the air",
            show(*surface),
            show(*dew_point)
        ),
        Warning::FilmForming {
            film,
            minimum,
            warm_enough,
        } => {
            let then = warm_enough.map_or_else(
                || "no room temperature up to 140 °F would do".to_owned(),
                // rounded up, for "at least" must not be less
                |air| {
                    format!(
                        "warm the room to at least {:.0} °F",
                        air.fahrenheit().ceil()
                    )
                },
            );
            format!(
                "the wet film cools to {}, below the {} it needs to fuse: it may dry white or cracked, and later warmth does not mend it; {then}",
                show(*film),
                show(*minimum)
            )
        }
        Warning::TooColdToCure {
            air,
            below,
            move_to,
        } => format!(
            "at {} the resin turns glassy before it has cured, and below {} no time can be promised: waiting does not help, move it to {} or warmer",
            show(*air),
            show(*below),
            show(*move_to)
        ),
        Warning::UncheckedDepth { depth } => format!(
            "a wet film of {} is outside the 0.002 to 0.12 in the drying model was checked at",
            depth.show(Units::Us)
        ),
        Warning::Blush(blush) => blush_words(blush, warning),
        Warning::CupRunsAway { mass, .. } => {
            warning
                .to_string()
                .replacen(&format!("{:.0} g", mass.g()), &mass.show(Units::Us), 1)
        }
        Warning::PotLifeShort {
            at_most: Some(mass),
            ..
        } => {
            let words = warning.to_string();
            let told = words.split_once("; mix ").map_or("", |(told, _)| told);
            // rounded down to a tenth, for it is the most
            let ounces = (mass.oz() * 10.0).floor() / 10.0;
            format!("{told}; mix {ounces:.1} oz at a time or less")
        }
        Warning::PotLifeShort { at_most: None, .. }
        | Warning::VeryDamp { .. }
        | Warning::WillNotDry { .. }
        | Warning::FanDoesLittle { .. } => warning.to_string(),
    }
}

/// The blush warning's own words with the two reasons that have degrees said again.
fn blush_words(blush: &Blush, warning: &Warning) -> String {
    let mut words = warning.to_string();
    for reason in blush.reasons() {
        words = match reason {
            Reason::NearDewPoint { margin, limit, .. } => words.replace(
                &format!(
                    "{:.1} K above the dew point, less than {:.0} K",
                    margin.k(),
                    limit.k()
                ),
                &format!(
                    "{} above the dew point, less than {}",
                    margin.show(Units::Us),
                    limit.show(Units::Us)
                ),
            ),
            Reason::Cold { air, limit, .. } => words.replace(
                &format!("{:.1} °C, below {:.1} °C", air.celsius(), limit.celsius()),
                &format!("{}, below {}", air.show(Units::Us), limit.show(Units::Us)),
            ),
            Reason::Damp { .. } | Reason::Fumes | Reason::Cooling => words,
        };
    }
    words
}
