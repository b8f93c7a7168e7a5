//! The words of a plan: warnings, reasons, changes, spans of time.

mod brim;
mod cupboard;
mod dates;
mod help;
mod mixing;
mod money;
mod rooms;
mod stock;
mod through;
mod unused;

pub(in crate::show) use brim::past_target;
pub(in crate::show) use dates::{day, in_two_years, moment};
pub use dates::{lasts, no_dates, not_laid, nothing_can, otherwise, pieces_of};
pub use help::{NO_HELP, NO_HELP_BY_LAMP, change, change_in_short, wants_help};
pub use money::{a_sale, gain, pay};
pub(in crate::show) use rooms::in_box;
pub use rooms::{other_days, room, second_look, shut_in, wet_pieces};
pub use stock::{comes_out, pens, pieces};
pub(in crate::show) use through::next;

use crate::coating::{Concern, Law, handling};
use crate::cure::compare::{Cause, Effect, Factor, Pace, Part};
use crate::plan::{Further, LeftAlone, Outlook, StageTimes, TimeBand, Warning};
use crate::quantity::show::significant;
use crate::quantity::{Angle, Length, Share, Show, Temperature, Time, Units};
use crate::stage::Stage;

/// A ratio above this is said to be over it and no more.
const MOST_TOLD: f64 = 4.0;

/// A fill this near to the rim is level with it.
const LEVEL: Length = Length::from_mm(0.01);

/// Time at work: in hours also where it comes to days, for a day of work is as long as one makes it.
#[must_use]
pub fn work(time: Time) -> String {
    let hours = time.h();
    if hours < 48.0 {
        time.show(Units::Metric)
    } else {
        format!("{hours:.0} h")
    }
}

/// A warning in a sentence or two, without a full stop.
#[must_use]
pub fn warning(warning: &Warning, units: Units) -> String {
    match warning {
        Warning::OverBrim { .. } => brim::over_brim(warning, units),
        Warning::PastTarget { .. } => brim::fuller(warning, units),
        Warning::UnderPullBack {
            piece,
            step,
            asked,
            least,
        } => format!(
            "{piece}, {step}: {} is too little and will draw back from the edge; pour {} or more",
            asked.show(units),
            least.show(units)
        ),
        Warning::BelowRim {
            piece,
            step,
            asked,
            rim,
            level,
        } => format!(
            "{piece}, {step}: {}; {} fills it level with the rim",
            below_rim(&asked.show(units), rim.below, rim.sag, units),
            level.show(units)
        ),
        Warning::Hole { blank, trouble } => format!("{blank}: {}", trouble.words(units)),
        Warning::AlreadyFull { piece, step } => format!(
            "{piece}, {step}: the coats before it fill the piece already, so this one adds nothing"
        ),
        Warning::BarePorous {
            pieces,
            before,
            sealer,
        } => format!(
            "{}: a bare porous blank drinks a flood coat and breathes bubbles into it; brush a coat of {sealer} on before \"{}\" and try one piece first",
            list(pieces, 4),
            list(before, 4)
        ),
        Warning::DeepCoat {
            piece,
            step,
            depth,
            prudent,
        } => format!("{piece}, {step}: {}", prudent.words(*depth, units)),
        Warning::Saucer { coating, solids } => format!(
            "{coating}, {} solids: {}",
            solids.show(units),
            handling(Concern::Saucer).clause()
        ),
        Warning::ThinEdge { piece, step, share } => format!(
            "{piece}, {step}: {:.0} % of the edge stands under the pull-back angle: {}",
            share.percent(),
            handling(Concern::ThinEdge).clause()
        ),
        Warning::MayWarp {
            blank,
            thickness,
            pieces,
        } => format!(
            "{blank}, {} ({}): {}",
            thickness.show(units),
            list(pieces, 4),
            handling(Concern::ThinWood).clause()
        ),
        Warning::OrderTooLate { .. } => stock::order_too_late(warning),
        Warning::SoldAtALoss { .. } => sold_at_a_loss(warning, units),
        Warning::Stale { what, stock, past } => stock::stale(what, *stock, *past),
        Warning::StaleLater { what, past, start } => stock::stale_later(what, *past, *start),
        Warning::FitsNoSheet { supply, piece } => {
            format!("{piece}: not one of its shapes fits on a sheet of {supply} inside the margin")
        }
        Warning::FitsNoTray { piece } => format!(
            "{piece}: not one fits on any of the trays with their margin and gap; use a larger tray or smaller ones of these"
        ),
        Warning::NotWorkedOut { step } => format!(
            "{step}: how its solvent leaves is not worked out for another room, so the label's time stands; give it more in the cold"
        ),
        Warning::Magnets { pieces } => format!(
            "{}: {}",
            list(pieces, 4),
            handling(Concern::Magnets).clause()
        ),
        Warning::SidesUnknown { step, pieces } => format!(
            "{step}: the sides of {} are not counted, for the file does not say how thick the blank is",
            list(pieces, 4)
        ),
        Warning::NotUsed { what, name } => unused::not_used(*what, name),
        Warning::Drying { step, warning, .. } => {
            format!("{step}: {}", super::warning::warning(warning, units))
        }
        Warning::AllAtOnce { .. } => mixing::in_cup(warning, units),
        Warning::SmallMix { coating, small } => mixing::too_small(coating, small, units),
        Warning::CupboardFuller { .. } | Warning::CupboardTooSmall { .. } => {
            cupboard::fits(warning, units)
        }
        Warning::BeforeThrough { .. } => through::before_through(warning),
        Warning::LaidForRecoat { otherwise } => through::laid_for_recoat(*otherwise),
        Warning::PastRecoat { .. } => through::past_recoat(warning, units),
        Warning::NoRecoatWindow { .. } => through::no_recoat_window(warning, units),
        Warning::NoTime { step, why } => format!("{step}: no time can be told, because {why}"),
    }
}

/// That a piece's price does not cover its cost.
fn sold_at_a_loss(warning: &Warning, units: Units) -> String {
    let Warning::SoldAtALoss {
        piece,
        price,
        shop,
        least,
        never,
    } = warning
    else {
        return String::new();
    };
    format!(
        "{piece}: at {} each one {} loses money{}; it has to cost {} or more",
        price.show(units),
        if *shop { "that a shop takes" } else { "sold" },
        if *never {
            ", so no number of pieces pays for the fair"
        } else {
            ""
        },
        least.show(units)
    )
}

/// That a fill makes no dome inside its wall.
pub(super) fn below_rim(asked: &str, below: Length, sag: Length, units: Units) -> String {
    let lies = if below < LEVEL {
        "lies level with the rim".to_owned()
    } else {
        format!("lies {} below the rim", below.show(units))
    };
    format!(
        "{asked} {lies}: no dome; it wets the wall, so the middle may lie up to {} lower still",
        sag.show(units)
    )
}

/// Why a coat takes longer or shorter than its label says: "cold ×1.8, damp ×2.1".
#[must_use]
pub fn reasons(factor: &Factor) -> String {
    let told: Vec<String> = factor
        .parts
        .iter()
        .filter_map(|part| match part.effect {
            Effect::Times(ratio) if (ratio.ln()).abs() > 0.05 => {
                Some(format!("{} {}", cause(part, ratio > 1.0), by(ratio)))
            }
            Effect::Stops(_) => Some(format!("{} stops it", cause(part, true))),
            _ => None,
        })
        .collect();
    told.join(", ")
}

fn cause(part: &Part, slower: bool) -> &'static str {
    match (part.cause, slower) {
        (Cause::Depth, true) => "a deeper coat",
        (Cause::Depth, false) => "a thinner coat",
        (Cause::Size, true) => "a larger piece",
        (Cause::Size, false) => "a smaller piece",
        (Cause::Crowding, _) => "crowding",
        (Cause::Temperature, true) => "cold",
        (Cause::Temperature, false) => "warmth",
        // damp air slows a coat that dries and speeds one that it cures
        (Cause::Humidity, _) if part.more => "damp",
        (Cause::Humidity, _) => "dryness",
        (Cause::AirSpeed, true) => "sheltered air",
        (Cause::AirSpeed, false) => "moving air",
        (Cause::Pressure, true) => "low ground",
        (Cause::Pressure, false) => "high ground",
        (Cause::Light, true) => "a weaker lamp",
        (Cause::Light, false) => "a stronger lamp",
        (Cause::Enclosure, true) => "a closed box",
        (Cause::Enclosure, false) => "a box with moving air",
        (Cause::Swing, _) => "ups and downs of the room",
    }
}

/// A ratio in brackets: "×2.1", "×4 and more".
fn by(ratio: f64) -> String {
    if ratio > MOST_TOLD {
        format!("×{MOST_TOLD} and more")
    } else {
        format!("×{ratio:.1}")
    }
}

/// A ratio: "2.1 times", "over 4 times".
#[must_use]
pub fn times(ratio: f64) -> String {
    if ratio > MOST_TOLD {
        format!("over {MOST_TOLD} times")
    } else {
        format!("{ratio:.1} times")
    }
}

/// A temperature that is needed, in whole degrees: rounded up, for less would not do.
fn at_least(temperature: Temperature, units: Units) -> String {
    match units {
        Units::Metric => format!("{:.0} °C", temperature.celsius().ceil()),
        Units::Us => format!("{:.0} °F", temperature.fahrenheit().ceil()),
    }
}

/// How long a stage takes here: "3 to 5 days", or why there is no telling.
#[must_use]
pub fn here(stage: &StageTimes, timed: &Outlook, units: Units) -> String {
    match (timed.pace, stage.here) {
        (Pace::VerySlow, Some(band)) => very_slow(&band),
        // the surface may get there where the depth never does
        (_, Some(band)) => span(&band),
        (Pace::WillNotDry { above }, None) => {
            format!("will not dry properly above about {}", above.show(units))
        }
        (Pace::TooCold { warm_enough }, None) => match warm_enough {
            Some(at) => format!(
                "no date: too cold; heating this room's air to {} would do",
                at_least(at, units)
            ),
            None => "no date: too cold".to_owned(),
        },
        (Pace::Normal | Pace::VerySlow | Pace::NoHeadway, None) => {
            "no date: it does not get there".to_owned()
        }
    }
}

/// From when a coat takes the next and until when, where that is asked for.
#[must_use]
pub fn next_coat(left: &LeftAlone) -> Option<String> {
    let until = left.next_until.map(|until| until.show(Units::Metric));
    match (left.next_coat, until) {
        (Further::No, None) => None,
        (Further::No, Some(until)) => Some(format!("next coat within {until}")),
        (Further::After(band), None) => Some(format!("next coat after {}", span(&band))),
        (Further::After(band), Some(until)) => {
            Some(format!("next coat after {}, within {until}", span(&band)))
        }
        (Further::Never, _) => Some("takes no next coat in this room".to_owned()),
    }
}

/// From when a coat is dry through or ready to bag, as its label tells it, where that is asked for.
#[must_use]
pub fn dry_through(left: &LeftAlone) -> Option<String> {
    match left.through {
        Further::No => None,
        Further::After(band) => Some(format!(
            "{}, for further work, after {}",
            stage(left.through_is),
            span(&band)
        )),
        Further::Never => Some(format!("never {} in this room", stage(left.through_is))),
    }
}

/// A band of time in whole units that fit it.
#[must_use]
pub fn span(band: &TimeBand) -> String {
    let low = band.low;
    // Without an upper end the span is told by its lower one.
    let high = if band.high.s().is_finite() {
        band.high
    } else {
        band.likely
    };
    // a unit must go into the likely time, or the span would begin past it
    let fits = |size: Time, until: Time| high < until || band.likely < size;
    let (size, unit, units) = if fits(Time::from_min(5.0), Time::from_min(12.0)) {
        (Time::from_min(1.0), "min", "min")
    } else if fits(Time::from_h(1.0), Time::from_h(1.5)) {
        (Time::from_min(5.0), "min", "min")
    } else if fits(Time::from_days(1.0), Time::from_h(72.0)) {
        (Time::from_h(1.0), "h", "h")
    } else {
        (Time::from_days(1.0), "day", "days")
    };
    let step = if size == Time::from_min(5.0) {
        5.0
    } else {
        1.0
    };
    // The high end is rounded up, so that nobody is told to touch too soon.
    let to = (high / size - 1e-9).ceil().max(1.0) * step;
    let rounded = (low / size).round().max(1.0) * step;
    // and the low end is never past the likely time
    let under = (band.likely / size + 1e-9).floor().max(1.0) * step;
    let from = if rounded < to || band.high.s().is_infinite() {
        rounded.min(under)
    } else {
        rounded
    };
    if band.high.s().is_infinite() {
        return format!("{from} {units} or longer");
    }
    if to <= from {
        let unit = if to > 1.0 { units } else { unit };
        format!("about {to} {unit}")
    } else {
        format!("{from} to {to} {units}")
    }
}

/// A time so long that it is but the least: "very slow, 30 to 60 days or longer".
///
/// ```
/// # use brimful::{drying::TimeBand, quantity::Time, show::words::very_slow};
/// let [low, likely, high] = [23.0, 30.0, f64::INFINITY].map(Time::from_h);
/// assert_eq!(very_slow(&TimeBand { low, likely, high }), "very slow, 23 h or longer");
/// ```
#[must_use]
pub fn very_slow(band: &TimeBand) -> String {
    let span = span(band);
    if band.high.s().is_infinite() {
        format!("very slow, {span}")
    } else {
        format!("very slow, {span} or longer")
    }
}

/// A chance as makers say it: "1 time in 3", "9 times in 10".
#[must_use]
pub fn chance(chance: Share) -> String {
    let p = chance.fraction();
    if p < 0.01 {
        "hardly ever".to_owned()
    } else if p > 0.985 {
        "almost always".to_owned()
    } else if p < 0.45 {
        format!("1 time in {:.0}", 1.0 / p)
    } else {
        format!("{:.0} times in 10", (p * 10.0).clamp(5.0, 9.0))
    }
}

/// A chance in per cent, never told as nothing or as certain.
#[must_use]
pub fn percent(chance: Share) -> String {
    let percent = chance.percent();
    if percent < 1.0 {
        "under 1 %".to_owned()
    } else if percent > 99.0 {
        "over 99 %".to_owned()
    } else {
        format!("{percent:.0} %")
    }
}

/// Names with commas and an "and", the rest of a long list counted.
#[must_use]
pub fn list<T: AsRef<str>>(names: &[T], most: usize) -> String {
    let shown: Vec<&str> = names.iter().take(most).map(AsRef::as_ref).collect();
    match (names.len().saturating_sub(most), shown.as_slice()) {
        (0, [first @ .., last]) if !first.is_empty() => format!("{} and {last}", first.join(", ")),
        (0, all) => all.join(", "),
        (more, all) => format!("{} and {more} more", all.join(", ")),
    }
}

/// How many pieces each day, or each working day: "17 pieces a day", or where that is no number to
/// think in "a piece in 3.2 days".
pub(super) fn each_day(pieces: f64, day: &str) -> String {
    let told = |number: f64| significant(number, 2).trim_end_matches(".0").to_owned();
    if told(pieces) == "1" || told(1.0 / pieces) == "1" {
        format!("a piece a {day}")
    } else if pieces > 1.0 {
        format!("{} pieces a {day}", told(pieces))
    } else {
        format!("a piece in {} {day}s", told(1.0 / pieces))
    }
}

/// "the only baking tray", "6 × baking tray".
pub(super) fn counted_trays(count: u32, name: &str) -> String {
    match count {
        1 => format!("the only {name}"),
        many => format!("{many} × {name}"),
    }
}

/// A tilt as the fall over a length of shelf that a maker can measure.
pub(super) fn fall(tilt: Angle, units: Units) -> String {
    let slope = tilt.rad().tan();
    match units {
        Units::Metric => format!("{} mm in a metre", significant(1000.0 * slope, 2)),
        Units::Us => format!("{} in per foot", significant(12.0 * slope, 2)),
    }
}

/// What a stage is called, as in "dry to handle after 24 h".
#[must_use]
pub const fn stage(stage: Stage) -> &'static str {
    match stage {
        Stage::DustFree => "dust-free",
        Stage::TackFree => "tack-free",
        Stage::Handle => "dry to handle",
        Stage::Recoat => "next coat",
        Stage::RecoatUntil => "next coat until",
        Stage::Through => "dry through",
        Stage::Bag => "ready to bag",
        Stage::Hard => "full hardness",
    }
}

/// How a stage is told at home, without an instrument.
///
/// Set-to-touch and the thumb tests follow ASTM D1640; the rest is common
/// practice, no source.
#[must_use]
pub const fn home_test(stage: Stage, law: Law) -> &'static str {
    match stage {
        Stage::DustFree => "a wisp of cotton wool laid on it blows off again",
        Stage::TackFree => "a clean fingertip laid on lightly leaves no mark and does not cling",
        Stage::Handle => "a thumb pressed on does not mark it",
        Stage::Recoat => "it is no longer sticky, or as the label says",
        Stage::RecoatUntil => "later than this, sand it dull first",
        Stage::Through => match law {
            Law::WaterFilm | Law::Airing => {
                "a thumb pressed on and turned leaves no mark; weighed twice, half a day apart, it has stopped losing weight"
            }
            // these lose next to no weight
            Law::Epoxy | Law::Lamp | Law::MoistureCure => {
                "a fingernail pressed on where it is deepest leaves no mark"
            }
        },
        Stage::Bag => "two pieces pressed face to face overnight come apart without a mark",
        Stage::Hard => "a fingernail leaves no dent",
    }
}

/// The same with a capital, as a heading.
#[must_use]
pub fn heading(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
