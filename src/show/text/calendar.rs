//! When everything happens, in words.

use jiff::civil::DateTime;

use super::page::Page;
use crate::cure::compare::Pace;
use crate::plan::{Booked, By, Calendar, Cupful, Dates, Drying, Plan, Task, Undated, Warning};
use crate::quantity::{Show, Time, Units};
use crate::schedule::Bottleneck;
use crate::show::mixing::weighed;
use crate::show::{words, work};

/// At most so many sittings are told one by one.
pub(super) const MOST: usize = 60;

/// "Thu 8 Apr 18:30", with the year where the plan's dates lie in two.
pub(in crate::show) fn moment(at: DateTime, plan: &Plan) -> String {
    words::moment(at, words::in_two_years(plan))
}

/// The lines of the first screen, each with its margin word.
pub(super) fn first_screen(plan: &Plan) -> Vec<(&'static str, String)> {
    match &plan.dates {
        Dates::Undated(undated) => lasts(undated, plan),
        Dates::Untold { step } => vec![(
            "Start",
            format!("no date: when {step} is ready in this room can't be told, or is never"),
        )],
        Dates::Never(why) => vec![("Start", words::no_dates(why, plan))],
        Dates::Told(calendar) => told(calendar, plan),
    }
}

/// How long a run without a date takes, and its trays.
fn lasts(undated: &Undated, plan: &Plan) -> Vec<(&'static str, String)> {
    let lasts = words::lasts(undated);
    let mut lines = vec![(
        "Takes",
        format!(
            "{lasts} from the first step until all is ready, begun as a day's work begins, by the day of the week, if all takes as long as is likely; {} of work",
            words::work(undated.hands_on)
        ),
    )];
    if let Some(trays) = &undated.busiest {
        lines.push((
            "Trays",
            format!("{} in use at the busiest", trays_words(trays, plan)),
        ));
    }
    lines
}

fn told(calendar: &Calendar, plan: &Plan) -> Vec<(&'static str, String)> {
    let mut lines = Vec::new();
    match &calendar.by {
        None => lines.push((
            "Ready",
            format!(
                "by {}, if begun on {}",
                moment(calendar.ready, plan),
                moment(calendar.start, plan)
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
                moment(*at, plan)
            ),
        ));
    }
    lines.push(("Limit", bottleneck(calendar, plan)));
    lines
}

/// "by Thu 8 Apr 18:30, to be 95 % sure; from then ready 97 times in 100; ...".
fn start(by: &By, calendar: &Calendar, plan: &Plan) -> String {
    let sure = plan.header.sure.show(plan.header.units);
    let begun = moment(calendar.start, plan);
    if by.too_late {
        return format!(
            "too late: begun on {begun}, the last piece is ready {}",
            moment(calendar.ready, plan)
        );
    }
    let likely = by.likely_start.map_or_else(String::new, |likely| {
        format!(
            "; if all goes as is likely, {} would do",
            moment(likely, plan)
        )
    });
    let chance = by.chance.as_ref().map_or_else(
        || {
            "; how sure can't be told, for a wait has no upper end or too much is made to draw"
                .to_owned()
        },
        |chance| {
            let rests = rests_on(plan);
            // where it begins at that very moment, that is told already
            let begun = match by.sure_start {
                Some(latest) if latest == calendar.start => ":".to_owned(),
                _ => format!("; begun on {begun},"),
            };
            format!("{begun} ready {}{rests}", chance_words(chance.ready))
        },
    );
    match by.sure_start {
        Some(latest) => format!(
            "by {}, to be {sure} sure{chance}{likely}",
            moment(latest, plan)
        ),
        None => format!("no start is {sure} sure to be ready{chance}{likely}"),
    }
}

/// What a chance rests on that is worth no more than "very slow".
fn rests_on(plan: &Plan) -> String {
    let slow: Vec<&str> = (plan.steps.iter())
        .filter(|step| {
            let timed = step.drying.timed();
            timed.is_some_and(|timed| timed.pace == Pace::VerySlow)
        })
        .map(|step| step.name.as_str())
        .collect();
    if slow.is_empty() {
        return String::new();
    }
    format!(
        " if no coat of {} takes longer than told",
        words::list(&slow, 4)
    )
}

fn trays_words(trays: &[u32], plan: &Plan) -> String {
    let used: Vec<String> = (trays.iter().zip(&plan.space.trays))
        .filter(|(used, _)| **used > 0)
        .map(|(used, tray)| format!("{used} of {} × {}", tray.usable, tray.name))
        .collect();
    words::list(&used, 4)
}

/// What keeps the run from being ready sooner, in one sentence.
fn bottleneck(calendar: &Calendar, plan: &Plan) -> String {
    let lasts = |days: f64| Time::from_days(days).show(plan.header.units);
    match calendar.limits.bottleneck {
        Bottleneck::Trays {
            kind,
            trays,
            days_on_tray,
            pieces_a_day,
            hands_a_day,
            ..
        } => format!(
            "the trays: {}, taken for {} each time, let through {}; your hours of work would do {}",
            words::counted_trays(trays, &plan.space.trays[kind].name),
            lasts(days_on_tray),
            words::each_day(pieces_a_day, "day"),
            words::each_day(hands_a_day, "working day")
        ),
        Bottleneck::Hands { pieces_a_day } => format!(
            "your hours of work: they are enough for {}{}",
            words::each_day(pieces_a_day, "working day"),
            allow_more(plan)
        ),
        Bottleneck::Drying { days } => {
            let what = match calendar.waves {
                1 => "the run",
                _ => "one wave alone",
            };
            format!(
                "{}: {what} takes {} in your hours{}",
                waited_for(calendar),
                lasts(days),
                if has_trays(plan) {
                    ", whatever the trays"
                } else {
                    ""
                }
            )
        }
    }
}

/// What a run waits for that neither hands nor trays keep.
fn waited_for(calendar: &Calendar) -> &'static str {
    let again = |booked: &Booked| matches!(booked.task, Task::Look { time: 2 });
    if calendar.sittings.iter().any(again) {
        "drying and second look"
    } else {
        "the drying"
    }
}

/// What else could keep a run that the hours of work keep.
fn allow_more(plan: &Plan) -> &'static str {
    let dries = (plan.steps.iter()).any(|step| step.drying != Drying::NotNeeded);
    match (has_trays(plan), dries) {
        (true, true) => "; trays and drying would allow more",
        (true, false) => "; trays would allow more",
        (false, true) => "; drying would allow more",
        (false, false) => "",
    }
}

fn has_trays(plan: &Plan) -> bool {
    !plan.space.trays.is_empty()
}

/// The sittings, day by day, up to so many lines of them.
pub(super) fn write(plan: &Plan, most: usize, page: &mut Page) {
    let Dates::Told(calendar) = &plan.dates else {
        return;
    };
    page.heading("When");
    let spans = together(&calendar.sittings);
    page.item(&format!(
        "{} of work{} in {}, {}; begun on {}, the last piece is ready {}",
        words::work(calendar.hands_on),
        match plan.money.as_ref().and_then(|money| money.shops) {
            Some(_) => ", on the pieces for shops too,",
            None => "",
        },
        match spans.len() {
            1 => "1 sitting".to_owned(),
            many => format!("{many} sittings"),
        },
        match calendar.waves {
            1 => "all pieces together".to_owned(),
            many => format!("in {many} waves"),
        },
        moment(calendar.start, plan),
        moment(calendar.ready, plan)
    ));
    let mut day = None;
    for span in spans.iter().take(most) {
        let date = span[0].begins.date();
        if day.replace(date) != Some(date) {
            let how = if words::in_two_years(plan) {
                "%A %-d %B %Y"
            } else {
                "%A %-d %B"
            };
            page.item(&date.strftime(how).to_string());
        }
        page.under(&span_words(span, plan));
    }
    let left = spans.len().saturating_sub(most);
    if left > 0 {
        page.item(&format!(
            "and so on for {left} more {}; plan.txt has them all where the plan is saved",
            if left == 1 { "sitting" } else { "sittings" }
        ));
    }
    for order in &calendar.order_by {
        page.item(&format!(
            "order {} by {}: wanted {}",
            order.what,
            words::day(order.by, words::in_two_years(plan)),
            moment(order.wanted, plan)
        ));
    }
}

/// Sittings of one task that follow one another without a break, told together.
fn together(sittings: &[Booked]) -> Vec<&[Booked]> {
    sittings
        .chunk_by(|one, next| one.task == next.task && one.ends == next.begins)
        .collect()
}

/// "18:30-19:54 lay print: 71 × tide magnet (waves 3 and 4), on 4 × baking tray; ...".
fn span_words(span: &[Booked], plan: &Plan) -> String {
    let (Some(first), Some(last)) = (span.first(), span.last()) else {
        return String::new();
    };
    let hours = format!(
        "{}-{}",
        first.begins.strftime("%H:%M"),
        last.ends.strftime("%H:%M")
    );
    let coat = match first.task {
        Task::Step { coat, of, .. } if of > 1 => {
            let face = work::on_face(&first.what, [coat, of], &plan.steps);
            format!(", coat {coat} of {of}{face}")
        }
        Task::Step { .. } | Task::Look { .. } => String::new(),
    };
    let mut pieces: Vec<(&str, u64)> = Vec::new();
    for (name, count) in span.iter().flat_map(|sitting| &sitting.pieces) {
        match pieces.iter_mut().find(|(known, _)| known == name) {
            Some((_, sum)) => *sum += count,
            None => pieces.push((name, *count)),
        }
    }
    let pieces: Vec<String> = pieces
        .iter()
        .map(|(name, count)| format!("{count} × {name}"))
        .collect();
    let mixes: u64 = span.iter().filter_map(|sitting| sitting.mixes).sum();
    let of = of_what(span, plan.header.units);
    let mixes = match mixes {
        0 => String::new(),
        1 => format!(", in one mix{of}"),
        many => format!(", in {many} mixes{of}"),
    };
    let mut trays = vec![0_u32; plan.space.trays.len()];
    for (sum, used) in span.iter().flat_map(|s| s.trays.iter().enumerate()) {
        trays[sum] += used;
    }
    let trays = if trays.iter().any(|&used| used > 0) {
        format!(", on {}", trays_used(&trays, plan))
    } else {
        String::new()
    };
    let looks: Vec<DateTime> = span.iter().flat_map(|s| s.looks.iter().copied()).collect();
    let looks = match (looks.iter().min(), looks.iter().max()) {
        (Some(first), Some(last)) => format!(
            "; look for bubbles from {} to {}{}",
            first.strftime("%H:%M"),
            last.strftime("%H:%M"),
            after_pour(&span[0].what, plan).map_or_else(String::new, |after| format!(
                ", at each piece {after} after its own pour"
            ))
        ),
        _ => String::new(),
    };
    let lamp = match first.task {
        Task::Step { .. } if goes_under_lamp(&first.what, plan) => "; then put it under the lamp",
        _ => "",
    };
    let next = leave(span, plan);
    format!(
        "{hours} {}{coat}: {}{mixes}{trays}{looks}{lamp}{next}",
        first.what,
        words::list(&pieces, 4)
    )
}

/// What goes into each mix of some sittings and how many pieces it is for: " of A 5.1 g and B 4.6 g for 10 pieces
/// each", or how many of what, those alike together; nothing where nobody can tell.
fn of_what(span: &[Booked], units: Units) -> String {
    let cupfuls = work::cupfuls(span.iter());
    let mut kinds = cupfuls.iter().flat_map(|(_, cupful)| &cupful.pieces);
    let first = kinds.next();
    let named = kinds.any(|(piece, _)| first.is_some_and(|(first, _)| first != piece));
    let told = |many: u64, cupful: &Cupful| {
        let holds = weighed([cupful.holds.a.mass, cupful.holds.b.mass], units);
        let each = if many > 1 { " each" } else { "" };
        format!("{holds} for {}{each}", served(cupful, named))
    };
    match cupfuls.as_slice() {
        [] => String::new(),
        [(1, cupful)] => {
            let holds = [cupful.holds.a.mass, cupful.holds.b.mass];
            format!(" of {}", weighed(holds, units))
        }
        [(many, cupful)] => format!(" of {}", told(*many, cupful)),
        several => {
            let each = several.iter();
            let each = each.map(|(many, cupful)| format!("{many} of {}", told(*many, cupful)));
            format!(" ({})", each.collect::<Vec<_>>().join(", "))
        }
    }
}

/// The pieces that a mix is for: "10 pieces", "4 × tide magnet and 6 × mooring fob".
fn served(cupful: &Cupful, named: bool) -> String {
    match cupful.pieces.as_slice() {
        [(_, 1)] if !named => "1 piece".to_owned(),
        [(_, count)] if !named => format!("{count} pieces"),
        pieces => {
            let each = pieces
                .iter()
                .map(|(piece, count)| format!("{count} × {piece}"));
            words::list(&each.collect::<Vec<_>>(), usize::MAX)
        }
    }
}

/// Until when to leave what was done; of several waves the first and the last, for each goes on by itself.
fn leave(span: &[Booked], plan: &Plan) -> String {
    let ends = span.iter().map(|sitting| sitting.ends).max();
    let untils = || span.iter().map(Booked::leave_until);
    let (Some(ends), Some(first), Some(last)) = (ends, untils().min(), untils().max()) else {
        return String::new();
    };
    if last <= ends {
        return String::new();
    }
    let goes_on = work::goes_on(span).map(|(what, at)| format!("; {what} {}", moment(at, plan)));
    let by = work::next_by(span).map(|by| format!("; next coat by {}", moment(by, plan)));
    let next = goes_on.unwrap_or_default() + &by.unwrap_or_default();
    let (first, last) = (moment(first, plan), moment(last, plan));
    if first == last {
        format!("; then leave it at least until {last}{next}")
    } else {
        format!(
            "; then leave the first wave at least until {first} and the last until {last}{next}"
        )
    }
}

/// How long after its own pour each piece is looked at.
fn after_pour(what: &str, plan: &Plan) -> Option<String> {
    let step = plan.steps.iter().find(|step| step.name == what)?;
    Some(step.drying.timed()?.bubbles?.look.show(plan.header.units))
}

/// Whether a step's coat sets under a lamp alone.
fn goes_under_lamp(step: &str, plan: &Plan) -> bool {
    let of = plan.steps.iter().find(|of| of.name == step);
    let timed = of.and_then(|of| of.drying.timed());
    timed.is_some_and(|timed| timed.before_the_lamp() > Time::ZERO)
}

fn trays_used(trays: &[u32], plan: &Plan) -> String {
    let used: Vec<String> = (trays.iter().zip(&plan.space.trays))
        .filter(|(used, _)| **used > 0)
        .map(|(used, tray)| format!("{used} × {}", tray.name))
        .collect();
    words::list(&used, 4)
}

/// What can still be done, as a ranked list.
pub(super) fn still_can(plan: &Plan) -> Vec<String> {
    let wanted: u64 = plan.pieces.iter().map(|piece| u64::from(piece.count)).sum();
    let nothing = words::nothing_can(plan).map(str::to_owned);
    // a coat that won't dry here, a fill that runs over or a tray too small may be among what they mend
    let too_large = |warning: &Warning| matches!(warning, Warning::FitsNoSheet { .. });
    let stopped = !plan.still_can.is_empty() && plan.warnings.iter().any(too_large);
    let stopped = stopped
        .then(|| "these mend the date alone: what fits on no sheet still does not".to_owned());
    (nothing.into_iter().chain(stopped))
        .chain(plan.still_can.iter().map(|can| {
            let pieces = match can.pieces {
                1 if wanted == 1 => "the one piece".to_owned(),
                all if all == wanted => format!("all {wanted} pieces"),
                some => format!("{some} of {wanted} pieces"),
            };
            let changes: Vec<String> = (can.changes.iter())
                .map(|change| words::otherwise(change, plan.header.units))
                .collect();
            let how = match changes.as_slice() {
                [] => "fewer pieces, all else as it is".to_owned(),
                changes => words::list(changes, changes.len()),
            };
            let by = can.ready.map_or_else(String::new, |ready| {
                let often = can.chance.map_or_else(String::new, |chance| {
                    format!(" (in time {})", chance_words(chance))
                });
                format!(", likely by {}{often}", moment(ready, plan))
            });
            let of = words::pieces_of(can, plan).map_or_else(String::new, |of| format!(" ({of})"));
            format!("{pieces}{of}{by}: {how}")
        }))
        .collect()
}

/// "ready 97 % of the time".
fn chance_words(chance: crate::quantity::Share) -> String {
    format!("{} of the time", words::percent(chance))
}
