//! Dates that can't be, and what can still be done, in words.

use crate::plan::{NoDates, Otherwise};
use crate::quantity::{Show, Units};

/// Why a run can't be laid out in time.
#[must_use]
pub fn no_dates(why: &NoDates, units: Units) -> String {
    match why {
        NoDates::TooLong {
            what,
            takes,
            longest,
        } => format!(
            "no date: even for a single piece {what} takes {}, and the longest spell of work is {}",
            takes.show(units),
            longest.show(units)
        ),
        NoDates::NoHours => "no date: the maker has no hours of work".to_owned(),
        NoDates::Hours(why) => format!("no date: {why}"),
        NoDates::NoTrays => {
            "no date: there is no tray with a level place that holds every kind of piece".to_owned()
        }
        NoDates::Asleep { what } => format!(
            "no date: nobody is awake to look for bubbles after {what}, whenever it is done in the hours of work"
        ),
        NoDates::TooMuch => {
            "no date: not even begun two years before would it be ready in time".to_owned()
        }
    }
}

/// What a maker might do otherwise.
#[must_use]
pub fn otherwise(change: &Otherwise, units: Units) -> String {
    match change {
        Otherwise::OneLook => {
            "look the pieces over again at once, so that buyers meet what shows later".to_owned()
        }
        Otherwise::Fan => "run a desk fan over the pieces".to_owned(),
        Otherwise::Warmer { to, by_night: true } => {
            format!(
                "keep the room from cooling below {} by night",
                to.show(units)
            )
        }
        Otherwise::Warmer { to, .. } => format!("heat the room to {}", to.show(units)),
        Otherwise::Drier { points } => {
            format!("dry the room's air by {points:.0} points of humidity")
        }
        Otherwise::MoreHours { by } => format!("{} more after each spell of work", by.show(units)),
        Otherwise::MoreTrays => "twice the trays, each with a level place".to_owned(),
        Otherwise::OneCoat { name, .. } => format!("one coat only in \"{name}\""),
        Otherwise::Thinner { name, to, .. } => format!(
            "a thinner coat in \"{name}\", {} of the brim limit",
            to.show(units)
        ),
        Otherwise::NoDome { name, .. } => format!("leave out \"{name}\", with no dome"),
    }
}
