//! Rooms, boxes and the days of a record, in words.

use super::{MOST_TOLD, span, stage, times};
use crate::cure::Enclosure;
use crate::cure::compare::Outcome;
use crate::drying::{Days, SecondLook, TimeBand};
use crate::quantity::show::significant;
use crate::quantity::{Show, Time, Units};
use crate::run::{Climate, Told};
use crate::show::draw::clean;

/// What becomes of a coat in a room that is worse than told.
#[must_use]
pub fn second_look(look: &SecondLook, units: Units) -> String {
    let (points, colder) = (SecondLook::DAMPER.percent(), SecondLook::COLDER.show(units));
    let (damper, reserve) = if look.drier {
        ("drier", "a warm place with damper air")
    } else {
        ("damper", "a warm, dry place")
    };
    let room = format!("{points:.0} points {damper} and {colder} colder");
    match (look.outcome, look.here) {
        (Outcome::Times(band), Some(here)) if band.likely <= MOST_TOLD => {
            format!("{room}: {} after {}", stage(look.stage), span(&here))
        }
        (Outcome::Times(band), _) => format!("{room}: {} the label's time", times(band.likely)),
        (Outcome::Never(_), _) => {
            format!("{room}: it would not get there; have {reserve} in reserve")
        }
    }
}

/// How the days of a record differ.
#[must_use]
pub fn other_days(days: &Days) -> String {
    let (reached, of) = (days.reached, days.of);
    let untold = match days.untold {
        0 => String::new(),
        1 => "; one more is too near the record's end to tell".to_owned(),
        more => format!("; {more} more are too near the record's end to tell"),
    };
    if reached == 0 {
        return format!(
            "{} on none of the {of} days that can be told of{untold}",
            stage(days.stage)
        );
    }
    let within = |time: Option<Time>| match time {
        None => "never".to_owned(),
        Some(time) => format!(
            "within {}",
            span(&TimeBand {
                low: time,
                likely: time,
                high: time,
            })
        ),
    };
    let never = if reached == of {
        format!("on all {of} days that can be told of")
    } else {
        format!("on {reached} of the {of} days that can be told of")
    };
    format!(
        "{} {never}: on one day in ten {}, on half {}, on nine in ten {}; what stands above is of a middle day{untold}",
        stage(days.stage),
        within(days.quick),
        within(days.middle),
        within(days.slow)
    )
}

/// The box that coats dry in, after the room: ", in a cupboard of 60 L with 24 wet pieces".
#[must_use]
pub fn shut_in(shut: &Enclosure, units: Units) -> String {
    let (holds, pieces) = (shut.volume().show(units), wet_pieces(shut.pieces()));
    if shut.is_sealed() {
        format!("in a sealed box of {holds} with {pieces}")
    } else {
        let changes = significant(shut.air_changes().per_h(), 2);
        format!("in a cupboard of {holds} with {pieces}, its air changed {changes} times an hour")
    }
}

/// Where the air of a box is, by the box's name: "in the cupboard of 60 L", "under the lid of the
/// baking tray".
pub(in crate::show) fn in_box(shut: &Enclosure, lid_of: Option<&str>, units: Units) -> String {
    match lid_of {
        Some(tray) => format!("under the lid of the {}", clean(tray)),
        None if shut.is_sealed() => format!("in the sealed box of {}", shut.volume().show(units)),
        None => format!("in the cupboard of {}", shut.volume().show(units)),
    }
}

/// "1 wet piece", "24 wet pieces".
#[must_use]
pub fn wet_pieces(pieces: u32) -> String {
    let noun = if pieces == 1 { "piece" } else { "pieces" };
    format!("{pieces} wet {noun}")
}

/// How warm and how damp a room is, after "a room".
#[must_use]
pub fn room(told: &Told, units: Units) -> String {
    let climate = |climate: &Climate| {
        let (warm, damp) = (
            climate.temperature.show(units),
            climate.humidity.show(units),
        );
        format!("at {warm} and {damp}")
    };
    match told {
        Told::Steady(here) => climate(here),
        Told::DayAndNight { day, night, pour } => format!(
            "{} from 8:00 and {} from 20:00, times as for coats laid at {},",
            climate(day),
            climate(night),
            pour.strftime("%-H:%M")
        ),
        Told::Recorded(record) => format!(
            "as {} has it from {} to {}, times as for coats laid at {},",
            record.file,
            record.begins.strftime("%-d %B"),
            record.ends.strftime("%-d %B"),
            record.pour.strftime("%-H:%M")
        ),
    }
}
