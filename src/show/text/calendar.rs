//! When everything happens, in words.

use jiff::civil::DateTime;

use super::page::Page;
use crate::plan::{Booked, By, Calendar, Dates, Plan, Task};
use crate::quantity::Show;
use crate::schedule::Bottleneck;
use crate::show::words;

/// At most so many sittings are told one by one.
const MOST: usize = 60;

/// "Thu 8 Apr 18:30".
pub(super) fn moment(at: DateTime) -> String {
    at.strftime("%a %-d %b %H:%M").to_string()
}

/// The lines of the first screen, each with its margin word.
pub(super) fn first_screen(plan: &Plan) -> Vec<(&'static str, String)> {
    match &plan.dates {
        Dates::NotAsked => Vec::new(),
        Dates::Untold { step } => vec![(
            "Start",
            format!("no date: how long {step} takes can't be told"),
        )],
        Dates::Never(why) => vec![("Start", words::no_dates(why, plan.header.units))],
        Dates::Told(calendar) => told(calendar, plan),
    }
}

fn told(calendar: &Calendar, plan: &Plan) -> Vec<(&'static str, String)> {
    let mut lines = Vec::new();
    match &calendar.by {
        None => lines.push((
            "Ready",
            format!(
                "by {}, if begun on {}",
                moment(calendar.ready),
                moment(calendar.start)
            ),
        )),
        Some(by) => lines.push(("Start", start(by, calendar, plan))),
    }
    if let Some((at, trays)) = &calendar.busiest {
        lines.push((
            "Trays",
            format!(
                "{} in use at the busiest, {}",
                trays_words(trays, plan),
                moment(*at)
            ),
        ));
    }
    lines.push(("Limit", bottleneck(&calendar.bottleneck)));
    lines
}

/// "by Thu 8 Apr 18:30, to be 95 % sure; from then ready 97 times in 100; ...".
fn start(by: &By, calendar: &Calendar, plan: &Plan) -> String {
    let sure = plan.header.sure.show(plan.header.units);
    let begun = moment(calendar.start);
    if by.too_late {
        return format!(
            "too late: begun on {begun}, the last piece is ready {}",
            moment(calendar.ready)
        );
    }
    let likely = by.likely_start.map_or_else(String::new, |likely| {
        format!(
            "; if all goes as is likely, {} would do",
            moment(likely)
        )
    });
    let chance = by.chance.as_ref().map_or_else(
        || "; how sure can't be told, for a wait has no upper end".to_owned(),
        |chance| format!("; begun on {begun}, ready {}", words::chance(chance.ready)),
    );
    match by.sure_start {
        Some(latest) if latest == calendar.start => {
            format!("by {begun}, to be {sure} sure{chance}{likely}")
                .replace(&format!("; begun on {begun}, ready"), ": ready")
        }
        Some(latest) => format!("by {}, to be {sure} sure{chance}{likely}", moment(latest)),
        None => format!("no start is {sure} sure to be ready{chance}{likely}"),
    }
}

fn trays_words(trays: &[u32], plan: &Plan) -> String {
    let used: Vec<String> = (trays.iter().zip(&plan.space.trays))
        .filter(|(used, _)| **used > 0)
        .map(|(used, tray)| format!("{used} of {} × {}", tray.usable, tray.name))
        .collect();
    words::list(&used, 4)
}

/// What limits a day's pieces, in one sentence.
pub(super) fn bottleneck(bottleneck: &Bottleneck) -> String {
    let count = |pieces: f64| crate::quantity::show::significant(pieces, 2);
    match bottleneck {
        Bottleneck::Trays { by_hands, by_trays } => format!(
            "the trays: hands could do {} pieces on a working day, but only {} a day dry",
            count(*by_hands),
            count(*by_trays)
        ),
        Bottleneck::Hands { by_hands, by_trays } => match by_trays {
            Some(trays) => format!(
                "the hands: they do {} pieces on a working day; {} a day could dry",
                count(*by_hands),
                count(*trays)
            ),
            None => format!("the hands: they do {} pieces on a working day", count(*by_hands)),
        },
        Bottleneck::Waiting { days } => format!(
            "the waiting: a piece takes {} days from first to last, however few there are",
            count(*days)
        ),
    }
}

/// The sittings, day by day.
pub(super) fn write(plan: &Plan, page: &mut Page) {
    let Dates::Told(calendar) = &plan.dates else {
        return;
    };
    page.heading("When");
    page.item(&format!(
        "{} of work in {} sittings, {}; begun on {}, the last piece is ready {}",
        calendar.hands_on.show(plan.header.units),
        calendar.sittings.len(),
        match calendar.waves {
            1 => "all pieces together".to_owned(),
            many => format!("in {many} waves"),
        },
        moment(calendar.start),
        moment(calendar.ready)
    ));
    let mut day = None;
    for sitting in calendar.sittings.iter().take(MOST) {
        if day.replace(sitting.begins.date()) != Some(sitting.begins.date()) {
            page.item(&sitting.begins.strftime("%A %-d %B").to_string());
        }
        page.under(&sitting_words(sitting, plan));
    }
    if calendar.sittings.len() > MOST {
        page.item(&format!("and {} sittings more", calendar.sittings.len() - MOST));
    }
    for order in &calendar.order_by {
        page.item(&format!(
            "order {} by {}: wanted {}",
            order.what,
            order.by.strftime("%a %-d %b"),
            moment(order.wanted)
        ));
    }
}

fn sitting_words(sitting: &Booked, plan: &Plan) -> String {
    let hours = format!(
        "{}-{}",
        sitting.begins.strftime("%H:%M"),
        sitting.ends.strftime("%H:%M")
    );
    let coat = match sitting.task {
        Task::Step { coat, of, .. } if of > 1 => format!(", coat {coat} of {of}"),
        Task::Step { .. } => String::new(),
        Task::Look { .. } => String::new(),
    };
    let pieces: Vec<String> = sitting
        .pieces
        .iter()
        .map(|(name, count)| format!("{count} × {name}"))
        .collect();
    let mixes = match sitting.mixes {
        None | Some(0) => String::new(),
        Some(1) => ", in one mix".to_owned(),
        Some(many) => format!(", in {many} mixes"),
    };
    let trays = if sitting.trays.iter().any(|&used| used > 0) {
        format!(", on {}", trays_used(sitting, plan))
    } else {
        String::new()
    };
    let looks: Vec<String> = sitting
        .looks
        .iter()
        .map(|look| look.strftime("%H:%M").to_string())
        .collect();
    let looks = if looks.is_empty() {
        String::new()
    } else {
        format!("; look for bubbles at {}", words::list(&looks, 3))
    };
    let next = if sitting.next_from > sitting.ends {
        format!("; then leave it until {}", moment(sitting.next_from))
    } else {
        String::new()
    };
    format!(
        "{hours} {}{coat}: {}{mixes}{trays}{looks}{next}",
        sitting.what,
        words::list(&pieces, 4)
    )
}

fn trays_used(sitting: &Booked, plan: &Plan) -> String {
    let used: Vec<String> = (sitting.trays.iter().zip(&plan.space.trays))
        .filter(|(used, _)| **used > 0)
        .map(|(used, tray)| format!("{used} × {}", tray.name))
        .collect();
    words::list(&used, 4)
}
