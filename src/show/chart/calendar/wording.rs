//! What the picture of a calendar says.

use jiff::civil::{Date, DateTime};

use super::scale::Form;
use super::sitting::{self, Span};
use super::{CalendarBars, waits};
use crate::plan::Calendar;
use crate::quantity::{Show, Time, Units};
use crate::show::draw::Words;
use crate::show::words;

/// "Thu 8 Apr".
pub(super) fn date(date: Date) -> String {
    words::day(date, false)
}

/// Whether all that the picture tells of lies in one year.
fn one_year(bars: &CalendarBars<'_>) -> bool {
    let Calendar {
        start, ready, by, ..
    } = bars.calendar;
    let due = by.as_ref().map_or(*ready, |by| by.deadline);
    start.year() == ready.year() && start.year() == due.year()
}

/// "Thu 8 Apr 18:30", with the year where there are two.
fn moment(at: DateTime, bars: &CalendarBars<'_>) -> String {
    words::moment(at, !one_year(bars))
}

/// The year, where the one that a day lies in is told beside it: on the first day of each, if there
/// are two.
pub(super) fn year(bars: &CalendarBars<'_>, day: Date) -> Option<String> {
    let mut of_its_year = (bars.days.days.iter()).filter(|own| own.date.year() == day.year());
    let first = of_its_year.next().is_some_and(|own| own.date == day);
    (first && !one_year(bars)).then(|| day.year().to_string())
}

pub(super) fn clock(time: DateTime) -> String {
    time.strftime("%H:%M").to_string()
}

fn apart(from: DateTime, to: DateTime) -> String {
    let seconds = to.duration_since(from).as_secs_f64();
    Time::from_s(seconds).show(Units::Metric)
}

/// The finding, in a sentence.
pub(super) fn title(bars: &CalendarBars<'_>) -> String {
    let calendar = bars.calendar;
    let begun = moment(calendar.start, bars);
    match calendar.by.as_ref().map(|by| by.deadline) {
        Some(due) if calendar.ready > due => format!(
            "Begun {begun}, all is ready {} too late",
            apart(due, calendar.ready)
        ),
        Some(due) => format!(
            "Begun {begun}, all is ready {} before it must be",
            apart(calendar.ready, due)
        ),
        None => format!(
            "Begun {begun}, all is ready {}",
            moment(calendar.ready, bars)
        ),
    }
}

fn counted(count: usize, one: &str, many: &str) -> String {
    match count {
        1 => format!("1 {one}"),
        _ => format!("{count} {many}"),
    }
}

/// How much work it is, and what is not drawn.
pub(super) fn under(bars: &CalendarBars<'_>, form: Form) -> String {
    let calendar = bars.calendar;
    let mut said = format!(
        "{} of work in {}, {}.",
        words::work(calendar.hands_on),
        counted(calendar.sittings.len(), "sitting", "sittings"),
        counted(calendar.waves, "wave", "waves"),
    );
    if form == Form::Close {
        said += " What is done on a day stands beside it.";
    }
    if form == Form::Close || waits::lanes(calendar.waves).is_empty() {
        said += " Waits between sittings are not drawn.";
    }
    if bars.days.trays.is_some() {
        said += " The strip at a day's foot is as high as the share of trays in use.";
    }
    if bars.days.only_worked {
        said += " Days without work are left out.";
    }
    if bars.days.left_out > 0 {
        said.push_str(&more_days(bars.days.left_out));
    }
    said
}

/// When to look for bubbles after a sitting's pours.
pub(super) fn bubbles(span: &Span<'_>) -> Option<String> {
    let (first, last) = (span.looks().min()?, span.looks().max()?);
    Some(if first == last {
        format!("bubbles {}", clock(first))
    } else {
        format!("bubbles {}-{}", clock(first), clock(last))
    })
}

fn more_days(days: usize) -> String {
    format!(" {days} more days follow.")
}

/// What is begun, due or ready on a day, with the time.
pub(super) fn marks(bars: &CalendarBars<'_>, date: Date) -> Vec<String> {
    let calendar = bars.calendar;
    let due = calendar.by.as_ref().map(|by| ("due", by.deadline));
    let marks = [
        Some(("start", calendar.start)),
        Some(("ready", calendar.ready)),
        due,
    ];
    marks
        .into_iter()
        .flatten()
        .filter(|(_, at)| at.date() == date)
        .map(|(what, at)| format!("{what} {}", clock(at)))
        .collect()
}

/// The day's work in a line: "dome ×3, seal ×2".
pub(super) fn day(bars: &CalendarBars<'_>, date: Date) -> String {
    let mut sums: Vec<(String, usize)> = Vec::new();
    for span in sitting::on(bars.calendar, date) {
        let name = span.name();
        match sums.iter_mut().find(|(known, _)| *known == name) {
            Some((_, sum)) => *sum += span.count(),
            None => sums.push((name, span.count())),
        }
    }
    let each: Vec<String> = sums
        .into_iter()
        .map(|(name, count)| {
            if count == 1 {
                name
            } else {
                format!("{name} ×{count}")
            }
        })
        .collect();
    each.join(", ")
}

/// Title and description for someone who can't see the picture.
pub(super) fn words(bars: &CalendarBars<'_>) -> Words {
    let calendar = bars.calendar;
    let mut said = vec![format!(
        "{} of work in {}, {}; the last piece is ready {}.",
        words::work(calendar.hands_on),
        counted(calendar.sittings.len(), "sitting", "sittings"),
        counted(calendar.waves, "wave", "waves"),
        moment(calendar.ready, bars)
    )];
    if let Some(by) = &calendar.by {
        said.push(format!("It must be ready {}.", moment(by.deadline, bars)));
    }
    for day in &bars.days.days {
        let spans = sitting::on(calendar, day.date);
        let told: Vec<String> = (spans.iter())
            .filter_map(|span| {
                Some(format!(
                    "{}-{} {}, {}",
                    clock(span.begins()?),
                    clock(span.ends()?),
                    span.name(),
                    span.load(calendar.waves)
                ))
            })
            .collect();
        if !told.is_empty() {
            let trays = bars.days.trays.map_or_else(String::new, |all| {
                format!("; {} of {all} trays in use at the most", day.most_trays)
            });
            said.push(format!("{}: {}{trays}.", date(day.date), told.join("; ")));
        }
    }
    Words {
        title: format!("{}.", title(bars)),
        description: said.join(" "),
    }
}
