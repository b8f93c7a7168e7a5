//! Which weeks are fit to coat in, in words.

use super::lines::{Lines, care};
use super::words;
use crate::ask::{SeasonAnswer, WeekAnswer};
use crate::quantity::{Show, Units};

/// Width of the headings.
const HEADING: usize = 16;
/// A week from which so many hours in a hundred are fit is a good one: our own reading.
const GOOD: f64 = 80.0;
/// And one of which fewer are is no week to coat in.
const POOR: f64 = 20.0;

/// The whole answer: a line a week.
#[must_use]
pub fn season_text(answer: &SeasonAnswer, units: Units) -> String {
    let mut lines = Lines::with_headings_of(HEADING);
    lines.plain(&format!(
        "{}: which weeks are fit to coat in. A start is fit if the coat is {} within {} ({} times its label's time) and, while it is wet, no hour brings {}.",
        answer.coating,
        words::stage(answer.stage),
        answer.within.show(units),
        answer.times_the_label,
        spoilers(answer)
    ));
    for notice in &answer.notices {
        lines.plain(notice);
    }
    lines.gap();
    for week in &answer.weeks {
        lines.line(
            &format!("{}", week.week.monday.strftime("%-d %b")),
            &told(week, units),
        );
    }
    lines.gap();
    lines.line("In all", &summary(answer));
    care(&mut lines, &answer.cautions);
    lines.into_text()
}

/// What must not come while it is wet.
fn spoilers(answer: &SeasonAnswer) -> String {
    let told: Vec<&str> = (answer.spoilt_by.iter())
        .map(|what| match *what {
            "blush" => "a high risk of blush",
            "cold film" => "too cold a film",
            other => other,
        })
        .collect();
    told.join(" or ")
}

fn told(week: &WeekAnswer, units: Units) -> String {
    let spoilt = if week.spoilt.percent() >= 1.0 {
        format!(", {:.0} % in time but spoilt", week.spoilt.percent())
    } else {
        String::new()
    };
    let judged = match week.fit.percent() {
        fit if fit >= GOOD => "good",
        fit if fit < POOR => "poor",
        _ => "mixed",
    };
    format!(
        "{judged:5} {:3.0} % of starts fit{spoilt}; {} and {} in the mean",
        week.fit.percent(),
        week.temperature.show(units),
        week.humidity.show(units)
    )
}

fn summary(answer: &SeasonAnswer) -> String {
    let count = |is: &dyn Fn(f64) -> bool| {
        let weeks = answer.weeks.iter();
        weeks.filter(|week| is(week.fit.percent())).count()
    };
    let (good, poor) = (count(&|fit| fit >= GOOD), count(&|fit| fit < POOR));
    format!(
        "{} weeks: {good} good (4 starts in 5 are fit, or more), {poor} poor (fewer than 1 in 5)",
        answer.weeks.len()
    )
}
