//! The days of a run, one row each, with the sittings as bars.

mod row;
mod sitting;
mod wording;

use jiff::civil::DateTime;

use super::care::Care;
use super::frame::{Frame, PAD, WIDTH};
use super::hatch::Tone;
use crate::plan::{Calendar, DaysPlan};
use crate::show::draw::font;
use crate::show::draw::palette::{MIST, SLATE};
use crate::show::draw::place::Space;
use crate::show::draw::{Anchor, Canvas, DrawError, Pen, Picture, Point, Text};

/// What a picture of a calendar shows.
#[derive(Debug, Clone, PartialEq)]
pub struct CalendarBars<'a> {
    /// When everything happens.
    pub calendar: &'a Calendar,
    /// The days that have a row, with the maker's hours.
    pub days: &'a DaysPlan,
    /// The cautions of all coatings. `None`: nothing is coated.
    pub care: Option<Care>,
}

/// Draws the days of a run from top to bottom: the maker's hours as boxes, sittings as bars in
/// them, bubble checks as rings, the waits of each wave as thin lines, trays in use as a strip.
///
/// Where there are more than 16 days, or so much on one of them that labels can't be kept apart,
/// a row is lower and tells its sittings on its right instead.
///
/// # Errors
/// [`DrawError::NotPositive`] for no day, or no hours awake; otherwise what [`Picture::draw`]
/// returns.
pub fn calendar(bars: &CalendarBars<'_>) -> Result<Picture, DrawError> {
    let form = if bars.days.days.len() > MOST_LABELLED {
        Form::Close
    } else {
        Form::Labelled
    };
    match draw(bars, form) {
        Err(DrawError::Crowded { .. }) if form == Form::Labelled => draw(bars, Form::Close),
        drawn => drawn,
    }
}

/// With more days than this none has labels at its bars.
const MOST_LABELLED: usize = 16;

/// How much a row shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    /// Each bar with its label.
    Labelled,
    /// Bars alone, with the day's work told beside them.
    Close,
}

/// Which part of a day is drawn, and where.
#[derive(Debug, Clone, Copy)]
struct Scale {
    form: Form,
    /// Minutes after midnight.
    from: f64,
    to: f64,
    /// `[px]`
    left: f64,
    right: f64,
}

impl Scale {
    fn of(bars: &CalendarBars<'_>, form: Form) -> Result<Self, DrawError> {
        let awake = bars.days.awake;
        // an hour of sleep on either side shows that there is some
        let from = f64::from(awake.from.saturating_sub(60) / 60 * 60);
        let to = f64::from((awake.to + 60).div_ceil(60) * 60).min(1440.0);
        if bars.days.days.is_empty() || awake.from >= awake.to {
            return Err(DrawError::NotPositive {
                what: "the count of days with hours awake",
                value: 0.0,
            });
        }
        let beside = match form {
            Form::Labelled => 66.0,
            Form::Close => 270.0,
        };
        Ok(Self {
            form,
            from,
            to,
            left: PAD + 96.0,
            right: WIDTH - PAD - beside,
        })
    }

    /// Where a number of minutes after midnight lies, at the most at the row's ends.
    fn across(&self, minutes: f64) -> f64 {
        let share = (minutes - self.from) / (self.to - self.from);
        self.left + (self.right - self.left) * share.clamp(0.0, 1.0)
    }

    fn at(&self, time: DateTime) -> f64 {
        self.across(minutes(time))
    }
}

/// Minutes after midnight.
fn minutes(time: DateTime) -> f64 {
    f64::from(time.hour()) * 60.0 + f64::from(time.minute())
}

fn draw(bars: &CalendarBars<'_>, form: Form) -> Result<Picture, DrawError> {
    let scale = Scale::of(bars, form)?;
    let frame = Frame::lay_out(
        &wording::title(bars),
        &wording::under(bars, form),
        bars.care.as_ref(),
    )?;
    let head = frame.top() + 26.0;
    let mut top = head + 8.0;
    let mut rows = Vec::with_capacity(bars.days.days.len());
    for day in &bars.days.days {
        let row = row::Row::lay_out(bars, day, &scale, top)?;
        top = row.bottom();
        rows.push(row);
    }
    let column = Space {
        left: scale.left,
        top: head + 8.0,
        right: scale.right,
        bottom: top,
    };
    let tone = Tone {
        apart: 16.0,
        ..row::ASLEEP
    };
    frame.picture(wording::words(bars), top + 4.0, |canvas| {
        if form == Form::Close {
            for space in row::asleep(bars, &scale, column) {
                tone.fill(canvas, space)?;
            }
        }
        rows.iter().try_for_each(|row| row.draw_ground(canvas))?;
        draw_hours(canvas, &scale, (head, top))?;
        rows.iter().try_for_each(|row| row.draw(canvas))?;
        if bars.days.trays.is_some() && form == Form::Labelled {
            let right = Text::plain(font::SMALL, SLATE).at(Anchor::Right);
            canvas.text("trays", Point::new(WIDTH - PAD, head - 2.0), right)?;
        }
        Ok(())
    })
}

/// The hours over the rows, and a thin line down from each.
fn draw_hours(
    canvas: &Canvas<'_>,
    scale: &Scale,
    (head, bottom): (f64, f64),
) -> Result<(), DrawError> {
    let apart = match scale.form {
        Form::Labelled => 120.0,
        Form::Close => 180.0,
    };
    let mut hour = (scale.from / apart).ceil() * apart;
    while hour <= scale.to {
        let x = scale.across(hour);
        let words = format!("{:02.0}:00", hour / 60.0);
        let look = Text::plain(font::SMALL, SLATE).at(Anchor::Middle);
        canvas.text(&words, Point::new(x, head - 2.0), look)?;
        let ends = [head + 4.0, bottom].map(|y| Point::new(x, y));
        canvas.line(&ends, Pen::solid(MIST, 0.4))?;
        hour += apart;
    }
    Ok(())
}
