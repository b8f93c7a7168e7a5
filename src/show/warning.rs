//! Warnings of drying and curing in the reader's own units.

use crate::cure::Warning;
use crate::cure::blush::{Blush, Reason};
use crate::quantity::show::at_most;
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
        Warning::TooColdToCure { .. } | Warning::HardlyCures { .. } => cold(warning),
        Warning::UncheckedDepth { depth } => format!(
            "a wet film of {} is outside the 0.002 to 0.12 in the drying model was checked at",
            depth.show(Units::Us)
        ),
        Warning::BeyondTheLamp { depth } => format!(
            "{} is deeper than the lamp's light reaches: cure it in thinner layers",
            depth.show(Units::Us)
        ),
        Warning::Blush(blush) => blush_words(blush, warning),
        Warning::PiecesStayCold { pieces, dew_point } => format!(
            "pieces still at {} may catch dew (dew point {}): warm them with the room and before the pour, by a heater that sends its fumes outdoors",
            show(*pieces),
            show(*dew_point)
        ),
        Warning::During { worst, .. } => {
            warning.to_string().replace(&worst.to_string(), &us(worst))
        }
        Warning::CupRunsAway { mass, .. } => {
            warning
                .to_string()
                .replacen(&mass.show(Units::Metric), &mass.show(Units::Us), 1)
        }
        Warning::PotLifeShort {
            at_most: Some(mass),
            ..
        } => {
            let words = warning.to_string();
            let told = words.split_once("; mix ").map_or("", |(told, _)| told);
            let most = at_most(*mass, Units::Us);
            format!("{told}; mix {most} at a time or less")
        }
        Warning::BoxSlows { fresh, .. } => {
            let [metric, us] = [
                format!("{} L of", fresh.l_per_min().ceil()),
                // rounded up to a tenth, for it is the least
                format!(
                    "{:.1} cubic feet of",
                    (fresh.ft3_per_min() * 10.0).ceil() / 10.0
                ),
            ];
            warning.to_string().replacen(&metric, &us, 1)
        }
        Warning::BoxStalls { takes_up, .. } => warning.to_string().replacen(
            &format!("{:.2} g", takes_up.g()),
            &format!("{:.3} oz", takes_up.oz()),
            1,
        ),
        Warning::PotLifeShort { at_most: None, .. }
        | Warning::VeryDamp { .. }
        | Warning::WillNotDry { .. }
        | Warning::NotWithin { .. }
        | Warning::BoxNotCounted
        | Warning::ColdLater { .. }
        | Warning::FanDoesLittle { .. }
        | Warning::TackyLayer
        | Warning::LightMustReach
        | Warning::MayFoam { .. }
        | Warning::NeedsVapour
        | Warning::NoVapour
        | Warning::ClosedIn => warning.to_string(),
    }
}

/// Of air too cold for a resin.
fn cold(warning: &Warning) -> String {
    let show = |temperature: crate::quantity::Temperature| temperature.show(Units::Us);
    match warning {
        Warning::TooColdToCure {
            air,
            below,
            move_to,
        } => format!(
            "at {} the resin turns glassy before it has cured, and below {} no time past the gel can be promised: waiting does not help, move it to {} or warmer",
            show(*air),
            show(*below),
            show(*move_to)
        ),
        Warning::HardlyCures {
            air,
            below,
            move_to,
        } => format!(
            "at {} the resin hardly cures on, and if it stayed below {} it would not get past the gel in any time that can be promised: keep it at {} or warmer through those hours",
            show(*air),
            show(*below),
            show(*move_to)
        ),
        other => other.to_string(),
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Mass, Time};

    /// An avoirdupois ounce is 28.349523125 g: 140 g are 4.94 oz, 36.9 g are 1.30 oz.
    #[test]
    fn a_mix_is_told_in_ounces() {
        let hot = Warning::CupRunsAway {
            mass: Mass::from_g(140.0),
            gels: Time::from_min(11.0),
        };
        let words = warning(&hot, Units::Us);
        assert!(
            words.starts_with("4.9") && words.contains(" oz wt left"),
            "{words}"
        );
        let short = Warning::PotLifeShort {
            working: Time::from_min(12.0),
            wanted: Time::from_min(20.0),
            at_most: Some(Mass::from_g(39.6)),
        };
        let words = warning(&short, Units::Us);
        assert!(words.contains("about 12 min, not the 20 min"), "{words}");
        assert!(
            words.ends_with("; mix 1.3 oz wt at a time or less"),
            "{words}"
        );
    }
}
