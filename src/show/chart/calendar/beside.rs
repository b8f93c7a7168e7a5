//! What stands to the right of a day.

use super::CalendarBars;
use super::labels::PITCH;
use super::scale::{Form, Scale};
use super::wording;
use crate::plan::DayPlan;
use crate::show::chart::frame::{PAD, WIDTH};
use crate::show::draw::font::{self, Weight};
use crate::show::draw::palette::SLATE;
use crate::show::draw::place::flow;
use crate::show::draw::{Anchor, Canvas, DrawError, Point, Text};

/// From the row's end to the words, `[px]`.
const GAP: f64 = 14.0;

/// Trays in use by their number, or the day's work in as many lines as it takes.
pub(super) struct Beside {
    lines: Vec<String>,
    form: Form,
    /// The row's end, `[px]`.
    from: f64,
}

impl Beside {
    pub(super) fn lay_out(
        bars: &CalendarBars<'_>,
        day: &DayPlan,
        scale: &Scale,
    ) -> Result<Self, DrawError> {
        let lines = match (scale.form, bars.days.trays) {
            (Form::Labelled, Some(all)) if day.most_trays > 0 => {
                vec![format!("{} of {all}", day.most_trays)]
            }
            (Form::Labelled, _) => Vec::new(),
            (Form::Close, _) => {
                let room = WIDTH - PAD - scale.right - GAP;
                let words = wording::day(bars, day.date);
                flow(&words, font::SMALL, Weight::Regular, room)?
            }
        };
        Ok(Self {
            lines,
            form: scale.form,
            from: scale.right,
        })
    }

    /// What it takes from the top of the row, `[px]`.
    pub(super) fn height(&self) -> f64 {
        match self.form {
            Form::Labelled => 0.0,
            Form::Close => 8.0 + self.lines.iter().map(|_| PITCH).sum::<f64>(),
        }
    }

    /// Draws it: a number at the bars, which end at `foot`; words from the row's `top` down.
    pub(super) fn draw(
        &self,
        canvas: &Canvas<'_>,
        (top, foot): (f64, f64),
    ) -> Result<(), DrawError> {
        let (x, mut y, anchor) = match self.form {
            Form::Labelled => (WIDTH - PAD, foot - 3.0, Anchor::Right),
            Form::Close => (self.from + GAP, top + 17.0, Anchor::Left),
        };
        let small = Text::plain(font::SMALL, SLATE).at(anchor);
        for line in &self.lines {
            canvas.text(line, Point::new(x, y), small)?;
            y += PITCH;
        }
        Ok(())
    }
}
