//! The days of a run, one row each, with the sittings as bars.

mod beside;
mod key;
mod labels;
mod row;
mod scale;
mod sitting;
mod trays;
mod waits;
mod wording;

use super::care::Care;
use super::frame::{Frame, PAD, WIDTH};
use super::hatch::Tone;
use crate::plan::{Calendar, DaysPlan};
use crate::show::draw::font;
use crate::show::draw::palette::{MIST, SLATE};
use crate::show::draw::place::Space;
use crate::show::draw::{Anchor, Canvas, DrawError, Pen, Picture, Point, Text};
use scale::{Form, Scale};

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
/// them, bubble checks as rings, the waits of each wave as lines, trays in use as a strip; a key
/// names them.
///
/// Where a sitting's label can't stand near it, its day is told in lines that begin with the time.
/// Where there are more than 16 days, or more than ten such lines on one of them, a row is lower
/// and tells its sittings on its right instead; it has no waits then, nor has a run of more than
/// four waves, and the picture says so.
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

fn draw(bars: &CalendarBars<'_>, form: Form) -> Result<Picture, DrawError> {
    let scale = Scale::of(bars, form)?;
    let frame = Frame::lay_out(
        &wording::title(bars),
        &wording::under(bars, form),
        bars.care.as_ref(),
    )?;
    let key = key::Key::lay_out(bars, form, frame.top())?;
    let head = key.bottom() + 30.0;
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
        key.draw(canvas)?;
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
