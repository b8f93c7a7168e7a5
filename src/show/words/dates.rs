//! Dates that can't be, and what can still be done, in words.

use jiff::civil::{Date, DateTime};

use super::{list, span};
use crate::drying::TimeBand;
use crate::plan::{Dates, NoDates, NotLaid, Otherwise, Plan, StillCan, Undated};
use crate::quantity::{Show, Units};

/// Whether a plan's dates lie in more than one year, so that each has to say which.
pub(in crate::show) fn in_two_years(plan: &Plan) -> bool {
    let header = [plan.header.ready_by, plan.header.start];
    let mut dates: Vec<Date> = header.into_iter().flatten().map(DateTime::date).collect();
    if let Dates::Told(calendar) = &plan.dates {
        dates.extend([calendar.start, calendar.ready].map(DateTime::date));
        dates.extend(calendar.order_by.iter().map(|order| order.by));
        let starts = (calendar.by.iter()).flat_map(|by| [by.sure_start, by.likely_start]);
        dates.extend(starts.flatten().map(DateTime::date));
    }
    let ready = plan.still_can.iter().filter_map(|can| can.ready);
    dates.extend(ready.map(DateTime::date));
    dates
        .windows(2)
        .any(|pair| pair[0].year() != pair[1].year())
}

/// "Thu 8 Apr", "Thu 8 Apr 2027".
pub(in crate::show) fn day(date: Date, years: bool) -> String {
    let how = if years { "%a %-d %b %Y" } else { "%a %-d %b" };
    date.strftime(how).to_string()
}

/// "Thu 8 Apr 18:30", "Thu 8 Apr 2027 18:30".
pub(in crate::show) fn moment(at: DateTime, years: bool) -> String {
    format!("{} {}", day(at.date(), years), at.strftime("%H:%M"))
}

/// How long a run without a date takes, from its first step until all is ready: "3 to 5 days".
#[must_use]
pub fn lasts(undated: &Undated) -> String {
    span(&TimeBand {
        low: undated.shortest,
        likely: undated.shortest,
        high: undated.longest,
    })
}

/// In which hours a coat is not laid: "not laid from 18:00 to 09:00, or it may never be ready".
#[must_use]
pub fn not_laid(barred: &NotLaid) -> String {
    format!("not laid {}, or it may never be ready", hours(barred))
}

/// "from 18:00 to 09:00".
fn hours(barred: &NotLaid) -> String {
    if let [[0, 24]] = barred.spells.as_slice() {
        return "at any hour".to_owned();
    }
    let spells = barred.spells.iter();
    let spells = spells.map(|[from, to]| format!("from {from:02}:00 to {to:02}:00"));
    list(&spells.collect::<Vec<_>>(), usize::MAX)
}

/// Why a run can't be laid out in time.
#[must_use]
pub fn no_dates(why: &NoDates, plan: &Plan) -> String {
    let units = plan.header.units;
    match why {
        NoDates::TooLong {
            what,
            takes,
            longest,
        } => {
            let left = match plan.not_laid_in(what) {
                Some(barred) => format!(
                    "it is not laid {}, so the longest spell of work that is left for it",
                    hours(barred)
                ),
                None => "the longest spell of work".to_owned(),
            };
            format!(
                "no date: even for a single piece {what} takes {}, and {left} is {}",
                takes.show(units),
                longest.show(units)
            )
        }
        NoDates::NoHours => "no date: the maker has no hours of work".to_owned(),
        NoDates::Hours(why) => format!("no date: {why}"),
        NoDates::NoTrays => {
            "no date: there is no tray with a level place that holds every kind of piece".to_owned()
        }
        NoDates::Asleep { what } => format!(
            "no date: nobody is awake to look for bubbles after {what}, whenever it is done in the hours of work"
        ),
        NoDates::NeverDries { what } => format!(
            "no date: laid in any of the hours of work, {what} is never ready to go on with: the air after them does not let it"
        ),
        NoDates::TooMuch => {
            "no date: it would not be ready within two years of its start".to_owned()
        }
    }
}

/// That nothing which was tried has a piece ready in time; nothing where it is not too late, or something has.
#[must_use]
pub fn nothing_can(plan: &Plan) -> Option<&'static str> {
    (plan.is_too_late() && plan.still_can.is_empty()).then_some(if plan.header.ready_by.is_some() {
        "nothing that was tried has a single piece ready in time (a fan, a warmer or a drier room, longer hours, more trays, fewer or thinner coats, fewer pieces); take a later date or a quicker coating"
    } else {
        "nothing that was tried gives it a date (a fan, a warmer or a drier room, longer hours, more trays, fewer or thinner coats, fewer pieces); take other hours, another room or another coating"
    })
}

/// Which pieces a way to still do something makes, where they are fewer than all: "5 × coaster and 14 × tag".
/// `None`: all, or the run has one kind only, or what is done otherwise says so.
#[must_use]
pub fn pieces_of(can: &StillCan, plan: &Plan) -> Option<String> {
    let wanted: u64 = plan.pieces.iter().map(|piece| u64::from(piece.count)).sum();
    let of_one = |change: &Otherwise| {
        matches!(
            change,
            Otherwise::LeaveOut { .. } | Otherwise::FewerOf { .. }
        )
    };
    if plan.pieces.len() < 2 || can.pieces >= wanted || can.changes.iter().any(of_one) {
        return None;
    }
    let each = can.kinds.iter();
    let each: Vec<String> = each
        .map(|(name, count)| format!("{count} × {name}"))
        .collect();
    Some(list(&each, 4))
}

/// What a maker might do otherwise.
#[must_use]
pub fn otherwise(change: &Otherwise, units: Units) -> String {
    match change {
        Otherwise::GoodsAtHand { goods } => {
            let each = goods.iter();
            let each = each.map(|(what, by)| format!("{what} at hand by {}", moment(*by, true)));
            let each: Vec<String> = each.collect();
            format!(
                "have {} (ordered sooner or found nearer)",
                each.join(" and ")
            )
        }
        Otherwise::OneLook => {
            "look the pieces over again at once, so that buyers meet what shows later".to_owned()
        }
        Otherwise::Fan => "run a desk fan over the pieces".to_owned(),
        Otherwise::Warmer { to, at_times: true } => {
            format!("keep the room from ever cooling below {}", to.show(units))
        }
        Otherwise::Warmer { to, .. } => format!(
            "heat the room to {}, with nothing in it that makes its air damper",
            to.show(units)
        ),
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
        Otherwise::LeaveOut { name, .. } => format!("leave out {name} and make all the others"),
        Otherwise::TakenOut => "dry the pieces out of their box, with no lid".to_owned(),
        Otherwise::FewerOf { name, left, .. } => {
            format!("make {left} of {name} and all the others")
        }
        Otherwise::NoDome { name, but, .. } if but.is_empty() => {
            format!("leave out \"{name}\", and have no dome")
        }
        Otherwise::NoDome { name, but, .. } => format!(
            "leave out \"{name}\", and have no dome but on {}",
            list(but, 4)
        ),
    }
}
