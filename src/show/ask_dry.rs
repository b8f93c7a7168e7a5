//! How long a coat takes in a room, in words.

use super::ask_dry_assumed::assumed;
use super::ask_dry_check::first_principles;
use super::ask_dry_lamp::lamp;
use super::lines::{Lines, care};
use super::warning::warning;
use super::words::{self, span};
use crate::ask::{
    BubblesAnswer, DryAnswer, HelpAnswer, Needed, PartAnswer, PotLife, Ratio, StageAnswer,
};
use crate::cure::{Warning, air::Draught};
use crate::plan::TimeBand;
use crate::quantity::show::significant;
use crate::quantity::{Show, Speed, Temperature, Time, Units};
use crate::stage::Stage;

/// The whole answer, for one screen.
#[must_use]
pub fn dry_text(answer: &DryAnswer, units: Units) -> String {
    let mut lines = Lines::with_headings_of(HEADING);
    lines.plain(&title(answer, units));
    lines.plain(&label(answer, units));
    if !answer.steady && answer.worked_out {
        lines.plain("The room changes: the first line tells its air at the pour, the times count every hour from there on, and each reading holds until the next.");
    }
    if let Some(shut) = &answer.shut_in {
        lines.plain(&format!("It lies {}.", words::shut_in(shut, units)));
    }
    for notice in &answer.notices {
        lines.plain(notice);
    }
    lines.gap();
    if let Some(why) = no_date(answer, units) {
        lines.line("No date", &why);
    }
    for stage in &answer.stages {
        lines.line(
            &words::heading(words::stage(stage.stage)),
            &time(stage, answer),
        );
    }
    lines.line("Tell by", &home_tests(answer));
    lines.line("Why", &why(answer));
    if let Some(ratio) = answer.wet_stage.filter(|it| changes(it.likely)) {
        lines.line(
            "Wet stage",
            &format!(
                "while water is leaving it takes {} the label's time",
                ratio_words(ratio)
            ),
        );
    }
    if let Some(told) = &answer.lamp {
        lines.list(
            "Lamp",
            lamp(told, answer.here.depth, through(answer), units),
        );
    }
    if let Some(pot) = answer.pot_life {
        lines.line("Pot life", &pot_life(pot, units));
    }
    if let Some(on) = answer.on_tray.filter(|on| changes(on.slowest_times)) {
        lines.line(
            "Tray",
            &format!(
                "in {} rows of {}, while wet and in still air, the slowest piece, in the middle, takes {} as long as one at a corner",
                on.rows,
                on.columns,
                times(on.slowest_times)
            ),
        );
    }
    if let Some(bubbles) = answer.bubbles {
        lines.line("Bubbles", &look(&bubbles, units));
    }
    if let Some(days) = answer.days {
        lines.line("Other days", &words::other_days(&days.told));
    }
    lines.line("Dew point", &dew_point(answer, units));
    if let Some(look) = answer.second_look {
        lines.line("Worse room", &words::second_look(&look.told, units));
    }
    if let Some(needed) = &answer.needed {
        lines.list("Needed", rooms(needed, answer, units));
    }
    lines.list("Beware", beware(answer, units));
    let told = best(&answer.help).map(|help| helps(help, answer.whole, units));
    let none = answer.help.is_empty() && answer.factor.is_none_or(|times| times > SLOWEST);
    let none = (none && answer.worked_out).then(|| match answer.lamp {
        Some(_) => words::NO_HELP_BY_LAMP.to_owned(),
        None => words::NO_HELP.to_owned(),
    });
    lines.list("Help", told.chain(none));
    if let Some(check) = first_principles(answer) {
        lines.line("Check", &check);
    }
    let told = answer.assumed.iter().map(|it| assumed(*it, units));
    let told: Vec<String> = told.collect();
    if !told.is_empty() {
        lines.line("Assumed", &told.join("; "));
    }
    care(&mut lines, &answer.cautions);
    lines.into_text()
}

/// How long the whole takes here.
fn through(answer: &DryAnswer) -> Option<Time> {
    let mut stages = answer.stages.iter();
    stages.find(|told| Some(told.stage) == answer.whole)?.here
}

/// Width of the headings.
const HEADING: usize = 16;
/// How many helps are told; the JSON has them all.
const HELPS: usize = 4;

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

/// The air that the label's times are for.
fn label(answer: &DryAnswer, units: Units) -> String {
    let room = answer.reference.room;
    format!(
        "The label's times are for {} and {}.",
        room.temperature.show(units),
        room.humidity.show(units)
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
    for told in &answer.warnings {
        match told.warning {
            Warning::BoxStalls { .. } => {
                return Some(
                    "shut in like this it never dries: take the lid off, or the pieces out"
                        .to_owned(),
                );
            }
            Warning::NoVapour if answer.shut_in.is_some() => {
                return Some(
                    "shut in like this it gets no vapour to cure by: take it out of the box"
                        .to_owned(),
                );
            }
            Warning::NotWithin { .. } => {
                return Some("it is not there when the record of the room's air ends".to_owned());
            }
            _ => {}
        }
    }
    let too_cold = answer.warnings.iter().find_map(|told| match told.warning {
        Warning::TooColdToCure { below, move_to, .. } => Some((below, move_to)),
        _ => None,
    });
    if let Some((below, move_to)) = too_cold {
        return Some(format!(
            "too cold for this coating: no time past the gel can be promised below {}; move it to {} or warmer",
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

/// A stage here and on the label.
fn time(stage: &StageAnswer, answer: &DryAnswer) -> String {
    let label = format!("{} on the label ({})", hours(stage.label), stage.source);
    let Some(ratio) = stage.ratio else {
        return format!("no date; {label}");
    };
    if !answer.worked_out {
        return format!("{label}, kept as it is: not worked out for another room");
    }
    let here = TimeBand::of(stage.label, ratio.into());
    let here = if answer.very_slow {
        words::very_slow(&here)
    } else {
        span(&here)
    };
    format!("{here}; {label}")
}

/// A ratio above this is told as "over": the model means no more by it.
const SLOWEST: f64 = crate::cure::compare::SLOWEST_WORTH_A_FIGURE;

/// How long a mix can be worked with.
fn pot_life(pot: PotLife, units: Units) -> String {
    let assumed = if pot.mass_is_assumed {
        ", which is assumed"
    } else {
        ""
    };
    let told = match (pot.label, pot.here) {
        (Some(label), Some(here)) => {
            format!("about {} here, {} on the label", hours(here), hours(label))
        }
        _ => format!("{} the label's", times(pot.ratio.likely)),
    };
    let mass = pot.mass.show(units);
    format!("{told}, for {mass}{assumed}; less for a larger mix")
}

/// A time in the unit that fits it.
pub(super) fn hours(time: Time) -> String {
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

/// A ratio: "2.1 times", "over 4 times"; below one, in two figures.
fn times(ratio: f64) -> String {
    if ratio < 1.0 {
        format!("{} times", significant(ratio, 2))
    } else {
        words::times(ratio)
    }
}

/// A ratio with its band, or that it is over what is worth a figure.
fn ratio_words(ratio: Ratio) -> String {
    let told = times(ratio.likely);
    if ratio.likely > SLOWEST {
        return told;
    }
    format!(
        "{told} ({} to {})",
        significant(ratio.low, 2),
        significant(ratio.high, 2)
    )
}

fn why(answer: &DryAnswer) -> String {
    if !answer.worked_out {
        return "how its solvent leaves is not worked out, so the label's time stands; give it more in the cold"
            .to_owned();
    }
    let damper = answer.here.room.humidity > answer.reference.room.humidity;
    let parts = answer.parts.iter();
    let parts: Vec<String> = parts.filter_map(|it| part(it, damper)).collect();
    if parts.is_empty() {
        return "nothing here that this coating minds differs from its label".to_owned();
    }
    let causes = parts.join(", ");
    let Some(factor) = answer.factor else {
        return causes;
    };
    let slow = if answer.very_slow {
        "; so slow that the figures say no more than that"
    } else {
        ""
    };
    let whole = answer.whole.map_or("it", words::stage);
    format!(
        "{whole} takes {} the label's time: {causes}{slow}",
        times(factor)
    )
}

/// Whether a ratio is worth a word: it shows in two figures.
fn changes(times: f64) -> bool {
    significant(times, 2) != "1.0"
}

/// One cause in words; nothing for one that changes nothing.
fn part(part: &PartAnswer, damper: bool) -> Option<String> {
    let words = |slower: bool| match (part.cause, slower) {
        ("depth", true) => "a thicker coat",
        ("depth", false) => "a thinner coat",
        ("size", true) => "a larger piece",
        ("size", false) => "a smaller piece",
        ("crowding", _) => "crowded trays",
        ("temperature", true) => "colder",
        ("temperature", false) => "warmer",
        // damp air slows a coat that dries and speeds one that it cures
        ("humidity", _) if damper => "damper",
        ("humidity", _) => "drier",
        ("light", true) => "a weaker lamp",
        ("light", false) => "a stronger lamp",
        ("air_speed", true) => "stiller air",
        ("air_speed", false) => "moving air",
        ("box", true) => "a closed box",
        ("box", false) => "a box with moving air",
        ("swing", _) => "ups and downs",
        (_, true) => "denser air",
        (_, false) => "thinner air",
    };
    match part.times {
        Some(times) if !changes(times) => None,
        Some(times) if times > SLOWEST => Some(format!("{} ×{SLOWEST} and more", words(true))),
        Some(times) => Some(format!("{} ×{}", words(times > 1.0), significant(times, 2))),
        None if part.stops => Some(format!("{} stops it", words(true))),
        None => None,
    }
}

fn dew_point(answer: &DryAnswer, units: Units) -> String {
    match (answer.dew_point, answer.dew_point_margin) {
        (Some(dew), Some(margin)) => {
            let at = if answer.steady { "" } else { " at the pour" };
            format!(
                "{}, which is {} below the room{at}",
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

/// The best few changes, of each kind only the best.
fn best(help: &[HelpAnswer]) -> impl Iterator<Item = &HelpAnswer> {
    help.iter()
        .enumerate()
        .filter(|(at, told)| {
            !help[..*at]
                .iter()
                .any(|sooner| sooner.change == told.change)
        })
        .map(|(_, told)| told)
        .take(HELPS)
}

/// When to look for bubbles, by the clock where the pour's time is known, and whether
/// the maker is awake then.
fn look(bubbles: &BubblesAnswer, units: Units) -> String {
    let words = bubbles.check.words(units);
    let at = bubbles
        .look_at
        .map(|at| format!("; by the clock at {}", at.strftime("%-H:%M")))
        .unwrap_or_default();
    let asleep = match (bubbles.awake, bubbles.pour_by) {
        (Some(true), _) | (_, None) => String::new(),
        (Some(false), Some(by)) => format!(
            "; you are asleep by then, so pour by {} at the latest",
            by.strftime("%-H:%M")
        ),
        (None, Some(by)) => format!(
            "; pour by {} to look before you sleep",
            by.strftime("%-H:%M")
        ),
    };
    format!("{words}{at}{asleep}")
}

/// How each of the label's stages is told at home.
fn home_tests(answer: &DryAnswer) -> String {
    let stages = answer.stages.iter();
    let told: Vec<String> = stages
        .map(|told| {
            let (stage, test) = (
                words::stage(told.stage),
                words::home_test(told.stage, answer.law),
            );
            format!("{stage}: {test}")
        })
        .collect();
    told.join("; ")
}

/// The rooms that would have it done in the time asked for.
fn rooms(needed: &Needed, answer: &DryAnswer, units: Units) -> Vec<String> {
    let within = hours(needed.within);
    let stage = words::stage(needed.stage);
    let latest = answer
        .stages
        .iter()
        .find(|told| told.stage == needed.stage)
        .and_then(|told| Some(told.label * told.ratio?.high));
    if needed.rooms.is_empty() {
        return vec![if latest.is_some_and(|latest| latest <= needed.within) {
            format!("{stage} within {within} as things are, with its whole band")
        } else {
            format!(
                "no room up to {}, none as dry as 30 % and no fan alone has it {stage} within {within}: a thinner coat, or more time",
                Temperature::from_celsius(35.0).show(units)
            )
        }];
    }
    let told = needed.rooms.iter();
    told.map(|help| {
        format!(
            "to be {stage} within {within} with its whole band: {}",
            words::change(&help.told, units)
        )
    })
    .collect()
}

/// A change and what it gives.
fn helps(help: &HelpAnswer, whole: Option<Stage>, units: Units) -> String {
    let change = words::change(&help.told, units);
    let there = whole.map_or("there", words::stage);
    let gives = match help.takes {
        Some(takes) if help.ratio.likely <= SLOWEST => {
            format!("{there} after about {}", hours(takes))
        }
        Some(_) => format!("still {} the label's time", times(help.ratio.likely)),
        None => format!("{} the label's time", times(help.ratio.likely)),
    };
    let caution = help.caution.as_ref().map_or_else(String::new, |told| {
        format!("; {}", warning(&told.warning, units))
    });
    format!("{change}: {gives}{caution}")
}
