//! How long a coat takes in a room, in words.

use super::lines::Lines;
use super::warning::warning;
use crate::ask::{Assumption, DryAnswer, HelpAnswer, PartAnswer, Ratio, StageAnswer};
use crate::coating::Stage;
use crate::cure::Warning;
use crate::cure::air::Draught;
use crate::quantity::show::significant;
use crate::quantity::{Show, Speed, Time, Units};

/// The whole answer, for one screen.
#[must_use]
pub fn dry_text(answer: &DryAnswer, units: Units) -> String {
    let mut lines = Lines::with_headings_of(HEADING);
    lines.plain(&title(answer, units));
    lines.gap();
    if let Some(why) = no_date(answer, units) {
        lines.line("No date", &why);
    }
    for stage in &answer.stages {
        lines.line(name(stage.stage), &time(stage, answer.worked_out));
    }
    lines.line("Why", &why(answer));
    if let Some(ratio) = answer.wet_stage.filter(|it| changes(it.likely)) {
        let times = ratio_words(ratio, answer.very_slow);
        lines.line(
            "Wet stage",
            &format!("while water is leaving it takes {times} as long as on the label"),
        );
    }
    if let Some(pot) = answer.pot_life {
        let times = number(pot.ratio.likely);
        let told = pot
            .label
            .zip(pot.here)
            .map_or_else(String::new, |(label, here)| {
                format!(
                    ": {} here, {} on the label",
                    here.show(units),
                    label.show(units)
                )
            });
        lines.line(
            "Pot life",
            &format!("x{times}{told}; less in a large or deep cup"),
        );
    }
    lines.line("Dew point", &dew_point(answer, units));
    lines.list("Beware", beware(answer, units));
    lines.list("Help", best(&answer.help).map(|help| helps(help, units)));
    if let Some(check) = first_principles(answer) {
        lines.line("Check", &check);
    }
    lines.list(
        "Assumed",
        answer.assumed.iter().map(|it| assumed(*it, units)),
    );
    lines.plain(FIRST);
    lines.into_text()
}

/// Width of the headings.
const HEADING: usize = 16;
/// How many helps are told; the JSON has them all.
const HELPS: usize = 5;
/// What comes before all else.
const FIRST: &str =
    "The product's own label and safety data sheet, and the rules where you live, come first.";

fn title(answer: &DryAnswer, units: Units) -> String {
    let room = answer.here.room;
    let depth = if answer.worked_out {
        format!(", {} wet", answer.here.depth.show(units))
    } else {
        String::new()
    };
    format!(
        "{}{depth}, at {} and {}, {}",
        answer.coating,
        room.temperature.show(units),
        room.humidity.show(units),
        air(room.air_speed, units)
    )
}

/// How the air moves, in the maker's words where the speed is one of theirs.
fn air(speed: Speed, units: Units) -> String {
    let words = [
        (Draught::Sheltered, "a sheltered shelf"),
        (Draught::Still, "a still room"),
        (Draught::OpenWindow, "a draughty room"),
        (Draught::DeskFan, "before a fan"),
    ];
    let shown = speed.show(units);
    words
        .into_iter()
        .find(|(draught, _)| draught.film_speed() == speed)
        .map_or_else(
            || format!("air moving at {shown}"),
            |(_, words)| format!("{words} ({shown})"),
        )
}

/// Why no date can be given, and what would make one possible; `None` where
/// every stage of the label is reached.
#[must_use]
pub fn no_date(answer: &DryAnswer, units: Units) -> Option<String> {
    if answer.factor.is_some() {
        return None;
    }
    let too_cold = answer.warnings.iter().find_map(|told| match told.warning {
        Warning::TooColdToCure { below, move_to, .. } => Some((below, move_to)),
        _ => None,
    });
    if let Some((below, move_to)) = too_cold {
        return Some(format!(
            "too cold for this coating: no time can be promised below {}; move it to {} or warmer",
            below.show(units),
            move_to.show(units)
        ));
    }
    Some(match (answer.warm_enough, answer.dries_below) {
        (Some(air), _) => {
            // rounded up, for "at least" must not be less
            let least = match units {
                Units::Metric => format!("{:.1} °C", (air.celsius() * 10.0).ceil() / 10.0),
                Units::Us => format!("{:.0} °F", air.fahrenheit().ceil()),
            };
            format!("too cold for this coating: the room must be at least {least}")
        }
        (_, Some(below)) => format!(
            "too damp for this coating: the air must be drier than {:.0} %",
            below.percent().floor()
        ),
        _ => "it never gets there in this room".to_owned(),
    })
}

fn name(stage: Stage) -> &'static str {
    match stage {
        Stage::TackFree => "Tack-free",
        Stage::Handle => "Dry to handle",
        Stage::Recoat => "Recoat",
        Stage::Through => "Dry through",
    }
}

/// A stage here and on the label.
fn time(stage: &StageAnswer, worked_out: bool) -> String {
    let label = format!("{} on the label ({})", hours(stage.label), stage.source);
    match (stage.ratio, stage.here) {
        (Some(_), Some(_)) if !worked_out => {
            format!("{label}, kept as it is: not worked out for another room")
        }
        (Some(ratio), Some(here)) => {
            let (low, high) = (stage.label * ratio.low, stage.label * ratio.high);
            let (unit, size) = unit(here);
            let most = if ratio.likely > SLOWEST {
                "at least "
            } else {
                ""
            };
            format!(
                "{most}{}, between {} and {} {unit}; {label}",
                hours(here),
                number(low / size),
                number(high / size)
            )
        }
        _ => format!("no date; {label}"),
    }
}

/// A ratio above this is told as "at least": the model means no more by it.
const SLOWEST: f64 = crate::cure::compare::SLOWEST_WORTH_A_FIGURE;

/// A time in the unit that fits it.
fn hours(time: Time) -> String {
    let (unit, size) = unit(time);
    format!("{} {unit}", number(time / size))
}

/// Minutes below an hour, hours below four days: the name, and one of it.
fn unit(time: Time) -> (&'static str, Time) {
    if time < Time::from_h(1.0) {
        ("min", Time::from_min(1.0))
    } else if time < Time::from_h(96.0) {
        ("h", Time::from_h(1.0))
    } else {
        ("days", Time::from_days(1.0))
    }
}

/// Two figures are all that a drying time is worth.
fn number(value: f64) -> String {
    let text = significant(value, 2);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

fn ratio_words(ratio: Ratio, very_slow: bool) -> String {
    let most = if very_slow || ratio.likely > SLOWEST {
        "at least "
    } else {
        ""
    };
    format!(
        "{most}x{} ({} to {})",
        significant(ratio.likely, 2),
        significant(ratio.low, 2),
        significant(ratio.high, 2)
    )
}

fn why(answer: &DryAnswer) -> String {
    if !answer.worked_out {
        return "how its solvent leaves is not worked out, so the label's time stands; give it more in the cold"
            .to_owned();
    }
    let parts: Vec<String> = answer.parts.iter().filter_map(part).collect();
    if parts.is_empty() {
        return "x1: the room is as the label means it".to_owned();
    }
    let causes = parts.join(", ");
    match (answer.factor, answer.band) {
        (Some(factor), Some(_)) => {
            let slow = if answer.very_slow {
                "; very slow, and the figures say no more than that"
            } else {
                ""
            };
            format!("x{} in all: {causes}{slow}", significant(factor, 2))
        }
        _ => causes,
    }
}

/// Whether a ratio is worth a word: it shows at two decimals.
fn changes(times: f64) -> bool {
    (times - 1.0).abs() >= 0.005
}

/// One cause in words; nothing for one that changes nothing.
fn part(part: &PartAnswer) -> Option<String> {
    let words = |slower: bool| match (part.cause, slower) {
        ("depth", true) => "a thicker coat",
        ("depth", false) => "a thinner coat",
        ("size", true) => "a larger piece",
        ("size", false) => "a smaller piece",
        ("crowding", _) => "crowded trays",
        ("temperature", true) => "colder",
        ("temperature", false) => "warmer",
        ("humidity", true) => "damper",
        ("humidity", false) => "drier",
        ("air_speed", true) => "stiller air",
        ("air_speed", false) => "moving air",
        (_, true) => "denser air",
        (_, false) => "thinner air",
    };
    match part.times {
        Some(times) if !changes(times) => None,
        Some(times) => Some(format!("{} x{}", words(times > 1.0), significant(times, 2))),
        None if part.stops => Some(format!("{} stops it", words(true))),
        None => None,
    }
}

fn dew_point(answer: &DryAnswer, units: Units) -> String {
    match (answer.dew_point, answer.dew_point_margin) {
        (Some(dew), Some(margin)) => {
            format!(
                "{}, which is {} below the room",
                dew.show(units),
                margin.show(units)
            )
        }
        _ => "none, for this air holds no water".to_owned(),
    }
}

/// The warnings in words.
fn beware(answer: &DryAnswer, units: Units) -> Vec<String> {
    answer
        .warnings
        .iter()
        .map(|told| warning(&told.warning, units))
        .collect()
}

/// The best few changes, and of several speeds of air only the best.
fn best(help: &[HelpAnswer]) -> impl Iterator<Item = &HelpAnswer> {
    let fan = help.iter().find(|help| help.air_speed.is_some());
    help.iter()
        .filter(move |help| help.air_speed.is_none() || fan == Some(*help))
        .take(HELPS)
}

/// A change and what it gives.
fn helps(help: &HelpAnswer, units: Units) -> String {
    let change = match (help.temperature, help.humidity, help.air_speed, help.each) {
        (Some(temperature), Some(humidity), ..) => format!(
            "warm this room's air to {} (it is then at {})",
            temperature.show(units),
            humidity.show(units)
        ),
        (_, Some(humidity), ..) => format!("dry the air to {}", humidity.show(units)),
        (_, _, Some(speed), _) => format!("move the air over it at {}", speed.show(units)),
        (.., Some(each)) => format!("two coats of {}, one after the other", each.show(units)),
        _ => "spread the pieces out".to_owned(),
    };
    let gives = match help.takes {
        Some(takes) => format!("{} in all", hours(takes)),
        None => format!("x{} the label's time", significant(help.ratio.likely, 2)),
    };
    let caution = help.caution.as_ref().map_or_else(String::new, |told| {
        format!("; {}", warning(&told.warning, units))
    });
    format!("{change}: {gives}{caution}")
}

/// What first principles say, beside the rule of thumb that the label may be.
fn first_principles(answer: &DryAnswer) -> Option<String> {
    let check = answer.first_principles?;
    let here = check
        .here
        .map_or_else(String::new, |here| format!(", {} here", hours(here)));
    Some(format!(
        "from first principles the water is gone after {} at the label's conditions{here}: good to a factor of 2, a check and not a plan",
        hours(check.label)
    ))
}

/// An assumption in words.
fn assumed(assumption: Assumption, units: Units) -> String {
    match assumption {
        Assumption::DomeDepth { depth } => format!(
            "a coat {} deep, as domes often are (typical, from memory)",
            depth.show(units)
        ),
        Assumption::UsualFilm { depth } => {
            format!(
                "a wet film of {}, the family's usual one",
                depth.show(units)
            )
        }
        Assumption::LabelDepth { depth } => {
            format!(
                "the label's times hold for {} of wet coat",
                depth.show(units)
            )
        }
        Assumption::RoundBlank { diameter } => {
            format!("a round blank of {}", diameter.show(units))
        }
        Assumption::Sheet { length, width } => {
            format!("a sheet of {} x {}", length.show(units), width.show(units))
        }
        Assumption::Alone => {
            "one piece lying alone: neighbours on a tray slow each other".to_owned()
        }
        Assumption::LabelStill => "the label means a still room".to_owned(),
    }
}
