//! The waits of waves, as lines that are told apart without colour.

use jiff::civil::{Date, DateTime};

use super::CalendarBars;
use super::scale::Scale;
use crate::show::draw::line::dashes;
use crate::show::draw::palette::{HEATHER, INK, SLATE, TIDE};
use crate::show::draw::{Canvas, DrawError, Pen, Point};

/// From one wave's line to the next, `[px]`.
const LANE: f64 = 8.0;
/// With more waves than this their lines are left out.
const MOST_LANES: usize = 4;
/// A dash and its gap, `[px]`: longer ones than usual, for a row has many.
const DASH: (f64, f64) = (15.0, 7.0);

/// Half a zigzag's length and height, `[px]`.
const ZIGZAG: (f64, f64) = (6.0, 1.8);

/// How a wave's line is drawn.
#[derive(Debug, Clone, Copy)]
enum Look {
    Broad,
    Double,
    Dashed,
    Zigzag,
}

const LOOKS: [Look; MOST_LANES] = [Look::Broad, Look::Double, Look::Dashed, Look::Zigzag];

/// A wave that lies and dries.
pub(super) struct Wait {
    from: f64,
    to: f64,
    lane: usize,
    begins_here: bool,
    ends_here: bool,
}

/// The height that the lines of so many waves take, `[px]`.
pub(super) fn height(waves: usize) -> f64 {
    lanes(waves).map(|_| LANE).sum()
}

/// The lanes of so many waves, none where there are too many.
pub(super) fn lanes(waves: usize) -> std::ops::Range<usize> {
    0..if waves <= MOST_LANES { waves } else { 0 }
}

/// The waits on a day.
pub(super) fn on(bars: &CalendarBars<'_>, date: Date, scale: &Scale) -> Vec<Wait> {
    let on = |time: DateTime| time.date() == date;
    (bars.calendar.sittings.iter())
        .filter(|one| one.next_from > one.ends)
        .filter(|one| one.ends.date() <= date && date <= one.next_from.date())
        .map(|one| Wait {
            from: if on(one.ends) {
                scale.at(one.ends)
            } else {
                scale.left
            },
            to: if on(one.next_from) {
                scale.at(one.next_from)
            } else {
                scale.right
            },
            lane: one.wave.saturating_sub(1),
            begins_here: on(one.ends),
            // one that ends in the night ends at no place of the picture
            ends_here: on(one.next_from) && scale.shows(one.next_from),
        })
        .filter(|wait| wait.to > wait.from)
        .collect()
}

impl Wait {
    /// Draws it under a bar that ends at `foot`.
    pub(super) fn draw(&self, canvas: &Canvas<'_>, foot: f64) -> Result<(), DrawError> {
        let lanes: f64 = (0..self.lane).map(|_| LANE).sum();
        let y = foot + lanes + 0.7 * LANE;
        let stem = self.begins_here.then_some(foot - 2.0);
        line(canvas, (self.from, self.to), (y, stem), self.lane)?;
        if self.ends_here {
            let colour = pen(self.lane).colour;
            canvas.dot(Point::new(self.to, y), 2.8, colour)?;
        }
        Ok(())
    }
}

/// The line of a wave, with a stem up to where it begins.
pub(super) fn line(
    canvas: &Canvas<'_>,
    (from, to): (f64, f64),
    (y, stem): (f64, Option<f64>),
    lane: usize,
) -> Result<(), DrawError> {
    let pen = pen(lane);
    if let Some(top) = stem {
        canvas.line(&[top, y].map(|y| Point::new(from, y)), pen)?;
    }
    let straight = [Point::new(from, y), Point::new(to, y)];
    match look(lane) {
        Look::Broad => canvas.line(&straight, pen),
        Look::Double => {
            // there and back where it begins, so closed there; two lines where it goes on
            let [over, below] = [-1.3, 1.3].map(|off| straight.map(|p| Point::new(p.x, p.y + off)));
            if stem.is_some() {
                return canvas.line(&[over[1], over[0], below[0], below[1]], pen);
            }
            canvas.line(&over, pen)?;
            canvas.line(&below, pen)
        }
        Look::Dashed => dashes(&straight, DASH.0, DASH.1)
            .iter()
            .try_for_each(|dash| canvas.line(dash, pen)),
        Look::Zigzag => {
            let mut points = vec![straight[0]];
            let (mut x, mut off) = (from + ZIGZAG.0, ZIGZAG.1);
            while x < to {
                points.push(Point::new(x, y + off));
                (x, off) = (x + ZIGZAG.0, -off);
            }
            points.push(straight[1]);
            canvas.line(&points, pen)
        }
    }
}

fn look(lane: usize) -> Look {
    LOOKS.get(lane).copied().unwrap_or(Look::Broad)
}

fn pen(lane: usize) -> Pen {
    match look(lane) {
        Look::Broad => Pen::solid(TIDE, 2.4),
        Look::Double => Pen::solid(HEATHER, 1.0),
        Look::Dashed => Pen::solid(SLATE, 1.6),
        Look::Zigzag => Pen::solid(INK, 1.0),
    }
}
