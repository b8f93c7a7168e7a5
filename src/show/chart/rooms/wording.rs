//! The words of a map of rooms.

use super::Rooms;
use crate::cure::compare::DEW_POINT_MARGIN;
use crate::plan::{Cold, InAir, RoomPoint, When};
use crate::quantity::{Humidity, Show, Time, Units};
use crate::show::draw::Words;
use crate::show::draw::figure::trimmed;
use crate::show::words::{in_box, span};
use crate::stage::Stage;

/// A stage as what a coat is then: "it is dry to handle".
pub(in crate::show::chart) const fn is(stage: Stage) -> &'static str {
    match stage {
        Stage::DustFree => "dust-free",
        Stage::TackFree => "tack-free",
        Stage::Handle => "dry to handle",
        Stage::Recoat | Stage::RecoatUntil => "ready for the next coat",
        Stage::Through => "dry through",
        Stage::Bag => "ready to bag",
        Stage::Hard => "fully hard",
    }
}

/// The finding: how long it takes in the run's room, against the label's time.
pub(super) fn title(rooms: &Rooms<'_>) -> String {
    let map = rooms.map;
    let told = map.label.1;
    let (coating, is) = (&map.coating, is(map.stage));
    let place = place(rooms);
    let Some(takes) = map.takes else {
        let place = place.unwrap_or_else(|| "in this room".to_owned());
        return format!("{coating} is never {is} {place}");
    };
    let place = place.unwrap_or_else(|| "here".to_owned());
    let (here, label) = (time(takes.likely), time(told));
    if here == label {
        format!("{coating} is {is} after {here} {place}, as its label says")
    } else {
        format!("{coating} is {is} after {here} {place}, not its label's {label}")
    }
}

/// What the lines are, and for which coat.
pub(super) fn under(rooms: &Rooms<'_>) -> String {
    let map = rooms.map;
    let depth = map.depth.show(rooms.units);
    let on = map
        .on
        .as_ref()
        .map_or_else(String::new, |on| format!(" on {on}"));
    let shut = place(rooms).map_or_else(String::new, |place| {
        format!(" {place}; the air shown is that of the room around it")
    });
    let usual = map.as_deep.map_or_else(String::new, |usual| {
        let usual = usual.show(rooms.units);
        format!(" Its times are those of the usual coat, {usual} deep, for a thinner one takes no longer.")
    });
    format!("Rooms on one line take equally long, for a coat {depth} deep{on}{shut}.{usual}")
}

/// The box that the coat lies in, if it lies in one.
fn place(rooms: &Rooms<'_>) -> Option<String> {
    let shut = rooms.map.shut_in.as_ref()?;
    Some(in_box(&shut.enclosure, shut.lid_of.as_deref(), rooms.units))
}

/// The words beside the label's air.
pub(super) fn label(rooms: &Rooms<'_>) -> [String; 2] {
    let (at, told) = rooms.map.label;
    let told = time(told);
    let own = match rooms.map.at_label.map(time) {
        Some(own) if own == told => format!("{told}, and the same for this coat"),
        Some(own) => format!("{told} by the label, {own} for this coat"),
        None => format!("{told} by the label, never for this coat"),
    };
    [format!("label's air: {}", air(at, rooms.units)), own]
}

/// The words beside the run's room.
pub(super) fn here(rooms: &Rooms<'_>, room: &RoomPoint) -> [String; 2] {
    let name = match room.when {
        When::Always => "this room",
        When::Day => "this room by day",
        When::Night => "this room by night",
        When::OnAverage => "this room on average",
    };
    let takes = match (room.when, room.takes.map(time)) {
        (When::Always, Some(takes)) => rooms.map.takes.map_or_else(
            || takes.clone(),
            |band| format!("{takes} is likely, {} possible", span(&band)),
        ),
        (When::Always, None) => "no date here".to_owned(),
        (_, Some(takes)) => format!("{takes} if it stayed so"),
        (_, None) => "no date if it stayed so".to_owned(),
    };
    [format!("{name}: {}", air(room.at, rooms.units)), takes]
}

pub(super) fn too_damp(limit: Humidity, units: Units) -> String {
    format!("does not dry here: damper than {}", limit.show(units))
}

/// What the cold does, in short lines.
pub(super) fn too_cold(why: Cold, units: Units) -> Vec<String> {
    match why {
        Cold::NoFilm(minimum) => vec![
            "no film here:".to_owned(),
            "the wet coat is".to_owned(),
            format!("under {} and", minimum.show(units)),
            "dries white or".to_owned(),
            "cracked".to_owned(),
        ],
        Cold::Glassy(below) => vec![
            "does not cure here:".to_owned(),
            format!("below {}", below.show(units)),
            "it turns glassy first".to_owned(),
        ],
    }
}

pub(super) fn dew(units: Units) -> String {
    format!(
        "above the dots: within {} of the dew point",
        DEW_POINT_MARGIN.show(units)
    )
}

/// Air in words.
fn air((temperature, humidity): InAir, units: Units) -> String {
    format!("{}, {}", temperature.show(units), humidity.show(units))
}

/// A time in minutes under an hour, in hours under two days, and in days.
pub(in crate::show::chart) fn time(time: Time) -> String {
    let (value, unit) = if time.min() < 59.5 {
        (time.min(), "min")
    } else if time.h() < 47.5 {
        (time.h(), "h")
    } else {
        (time.days(), "days")
    };
    format!("{} {unit}", trimmed(value, usize::from(value < 9.95)))
}

/// Title and description for someone who can't see the picture.
pub(super) fn words(rooms: &Rooms<'_>) -> Words {
    let (map, units) = (rooms.map, rooms.units);
    let [(cold, dry), (warm, damp)] = map.span;
    let mut sentences = vec![format!(
        "A map of rooms from {} to {} and from {} to {} relative humidity. {}",
        cold.show(units),
        warm.show(units),
        dry.show(units),
        damp.show(units),
        under(rooms)
    )];
    let times: Vec<String> = map.lines.iter().map(|line| time(line.takes)).collect();
    if !times.is_empty() {
        sentences.push(format!("Lines stand for {}.", times.join(", ")));
    }
    let [name, takes] = label(rooms);
    sentences.push(sentence(&name, &takes));
    for room in &map.here {
        let [name, takes] = here(rooms, room);
        sentences.push(sentence(&name, &takes));
    }
    sentences.extend(map.too_damp.map(|limit| stopped(&too_damp(limit, units))));
    sentences.extend(
        map.too_cold
            .as_ref()
            .map(|cold| stopped(&too_cold(cold.why, units).join(" "))),
    );
    if let (Some(first), Some(last)) = (map.dew.first(), map.dew.last()) {
        sentences.push(format!(
            "From {} humidity at {} up to {} at {} a piece is within {} of the dew point.",
            first.1.show(units),
            first.0.show(units),
            last.1.show(units),
            last.0.show(units),
            DEW_POINT_MARGIN.show(units)
        ));
    }
    Words {
        title: format!("{}.", title(rooms)),
        description: sentences.join(" "),
    }
}

fn sentence(name: &str, takes: &str) -> String {
    stopped(&format!("{name}: {takes}"))
}

fn stopped(words: &str) -> String {
    format!("{}.", crate::show::words::heading(words))
}
