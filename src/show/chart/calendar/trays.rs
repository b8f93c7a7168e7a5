//! Trays in use, as a strip at the foot of a day.

use super::CalendarBars;
use super::scale::{Form, Scale};
use crate::plan::DayPlan;
use crate::show::draw::palette::{SHALLOW, SLATE};
use crate::show::draw::place::Space;
use crate::show::draw::{Canvas, DrawError, Pen, Point};

/// The height of the strip with the gap over it, `[px]`; none where no trays are told of.
pub(super) const fn height(bars: &CalendarBars<'_>, form: Form) -> f64 {
    match (bars.days.trays, form) {
        (None, _) => 0.0,
        (Some(_), Form::Labelled) => 12.0,
        (Some(_), Form::Close) => 7.0,
    }
}

/// The strip, as high as the share of trays in use, up from `floor`.
pub(super) fn on(bars: &CalendarBars<'_>, day: &DayPlan, scale: &Scale, floor: f64) -> Vec<Space> {
    let Some(all) = bars.days.trays.filter(|all| *all > 0) else {
        return Vec::new();
    };
    let most = height(bars, scale.form) - 2.0;
    let sum = |trays: &[u32]| trays.iter().sum::<u32>();
    let changes = &bars.calendar.occupied;
    let midnight = day.date.at(0, 0, 0, 0);
    let first = changes.partition_point(|(at, _)| *at <= midnight);
    let mut in_use = first
        .checked_sub(1)
        .and_then(|before| changes.get(before))
        .map_or(0, |(_, trays)| sum(trays));
    let mut from = scale.left;
    let mut spaces = Vec::new();
    let mut stretch = |from: f64, to: f64, in_use: u32| {
        if in_use > 0 && to > from {
            spaces.push(Space {
                left: from,
                right: to,
                top: floor - most * f64::from(in_use) / f64::from(all),
                bottom: floor,
            });
        }
    };
    for (at, trays) in changes[first..]
        .iter()
        .take_while(|(at, _)| at.date() == day.date)
    {
        let next = sum(trays);
        if next != in_use {
            let x = scale.at(*at);
            stretch(from, x, in_use);
            (from, in_use) = (x, next);
        }
    }
    stretch(from, scale.right, in_use);
    spaces
}

/// Draws the strip, with a line on top: its fill alone is faint in grey.
pub(super) fn draw(canvas: &Canvas<'_>, strip: &[Space]) -> Result<(), DrawError> {
    let (Some(first), Some(last)) = (strip.first(), strip.last()) else {
        return Ok(());
    };
    // one line for all stretches takes less text than one for each
    let mut top = vec![Point::new(first.left, first.bottom)];
    for space in strip {
        if top.last().is_some_and(|end| end.x < space.left) {
            top.extend([top[top.len() - 1].x, space.left].map(|x| Point::new(x, space.bottom)));
        }
        top.extend([space.left, space.right].map(|x| Point::new(x, space.top)));
    }
    top.push(Point::new(last.right, last.bottom));
    canvas.fill(&top, SHALLOW)?;
    canvas.line(&top[1..top.len() - 1], Pen::solid(SLATE, 0.7))
}
