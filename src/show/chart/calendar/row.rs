//! One day of a calendar.

use jiff::civil::DateTime;

use super::beside::Beside;
use super::labels::Labels;
use super::scale::{Form, Scale, minutes};
use super::sitting::{self, Span};
use super::waits::{self, Wait};
use super::{CalendarBars, trays, wording};
use crate::plan::{DayPlan, Task};
use crate::show::chart::frame::{PAD, WIDTH};
use crate::show::chart::hatch::{Ruled, Tone, corners};
use crate::show::draw::font;
use crate::show::draw::palette::{BUOY, INK, MIST, PAPER, POOL, SLATE, SPRAY, TIDE};
use crate::show::draw::place::Space;
use crate::show::draw::{Canvas, Dash, DrawError, Pen, Point, Text};

pub(super) const ASLEEP: Tone = Tone {
    ground: PAPER,
    ruled: Ruled::Rising,
    line: MIST,
    apart: 7.0,
};

/// When the work begins, and when all is ready.
pub(super) const BEGUN: Pen = Pen::solid(TIDE, 2.4);
/// By when all must be ready.
pub(super) const DUE: Pen = Pen {
    colour: BUOY,
    width: 2.4,
    dash: Dash::Long,
};

struct Bar {
    from: f64,
    to: f64,
    /// Whether pieces are looked over, and nothing is done to them.
    look: bool,
}

/// Something at one time.
struct Mark {
    at: f64,
    pen: Pen,
    /// Its time lies before the hours that are drawn, or after them.
    beyond: Option<Side>,
}

#[derive(Clone, Copy)]
enum Side {
    Before,
    After,
}

pub(super) struct Row {
    form: Form,
    top: f64,
    height: f64,
    /// The lane of the hours.
    lane: Space,
    left: Vec<String>,
    open: Vec<Space>,
    asleep: Vec<Space>,
    bars: Vec<Bar>,
    rings: Vec<f64>,
    labels: Option<Labels>,
    waits: Vec<Wait>,
    marks: Vec<Mark>,
    trays: Vec<Space>,
    beside: Beside,
}

impl Row {
    pub(super) fn lay_out(
        bars: &CalendarBars<'_>,
        day: &DayPlan,
        scale: &Scale,
        top: f64,
    ) -> Result<Self, DrawError> {
        let spans = sitting::on(bars.calendar, day.date);
        let waves = bars.calendar.waves;
        let (labels, thick, above, lanes) = match scale.form {
            Form::Labelled => {
                let labels = Labels::of(&spans, waves, scale)?;
                let above = 8.0 + labels.height();
                (Some(labels), 20.0, above, waits::height(waves))
            }
            Form::Close => (None, 14.0, 4.0, 0.0),
        };
        let lane = Space {
            left: scale.left,
            top: top + above,
            right: scale.right,
            bottom: top + above + thick,
        };
        let floor = lane.bottom + lanes + trays::height(bars, scale.form);
        let mut left = vec![wording::date(day.date)];
        left.extend(wording::year(bars, day.date));
        if day.off {
            left.push("day off".to_owned());
        }
        left.extend(wording::marks(bars, day.date));
        let beside = Beside::lay_out(bars, day, scale)?;
        let words = 10.0 + left.iter().map(|_| 16.0).sum::<f64>();
        let height = (floor - top + 6.0).max(words).max(beside.height());
        Ok(Self {
            form: scale.form,
            top,
            height,
            lane,
            left,
            open: open(day, scale, lane),
            asleep: match scale.form {
                Form::Labelled => asleep(bars, scale, lane),
                // one column for all the rows
                Form::Close => Vec::new(),
            },
            bars: spans.iter().filter_map(|span| bar(span, scale)).collect(),
            rings: rings(bars, day, scale),
            labels,
            waits: if lanes > 0.0 {
                waits::on(bars, day.date, scale)
            } else {
                Vec::new()
            },
            marks: marks(bars, day, scale),
            trays: trays::on(bars, day, scale, floor),
            beside,
        })
    }

    pub(super) fn bottom(&self) -> f64 {
        self.top + self.height
    }

    /// What lies under the lines of the hours.
    pub(super) fn draw_ground(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let rule = [PAD, WIDTH - PAD].map(|x| Point::new(x, self.top));
        canvas.line(&rule, Pen::solid(MIST, 0.6))?;
        for space in &self.asleep {
            ASLEEP.fill(canvas, *space)?;
        }
        for space in &self.open {
            draw_open(canvas, *space)?;
        }
        trays::draw(canvas, &self.trays)
    }

    pub(super) fn draw(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let mut y = self.top + 17.0;
        let mut look = Text::plain(font::SMALL, INK).bold();
        for line in &self.left {
            canvas.text(line, Point::new(PAD, y), look)?;
            y += 16.0;
            look = Text::plain(font::SMALL, SLATE);
        }
        for wait in &self.waits {
            wait.draw(canvas, self.lane.bottom)?;
        }
        for bar in &self.bars {
            let space = Space {
                left: bar.from,
                right: bar.to.max(bar.from + 1.5),
                top: self.lane.top + 2.0,
                bottom: self.lane.bottom - 2.0,
            };
            draw_bar(canvas, space, bar.look)?;
        }
        // over every bar, for a look may fall into the sitting after
        for x in &self.rings {
            let middle = Point::new(*x, f64::midpoint(self.lane.top, self.lane.bottom));
            draw_ring(canvas, middle, self.form)?;
        }
        for mark in &self.marks {
            self.draw_mark(canvas, mark)?;
        }
        if let Some(labels) = &self.labels {
            labels.draw(canvas, (self.lane.left, self.lane.top))?;
        }
        self.beside.draw(canvas, (self.top, self.lane.bottom))
    }

    /// A line across the lane; an arrow head past its end for what lies beyond the hours drawn.
    fn draw_mark(&self, canvas: &Canvas<'_>, mark: &Mark) -> Result<(), DrawError> {
        let (top, bottom) = (self.lane.top - 4.0, self.lane.bottom + 4.0);
        let on = match mark.beyond {
            None => {
                let ends = [top, bottom].map(|y| Point::new(mark.at, y));
                return canvas.line(&ends, mark.pen);
            }
            Some(Side::Before) => -7.0,
            Some(Side::After) => 7.0,
        };
        let middle = f64::midpoint(top, bottom);
        let head = [(0.0, -6.0), (on, 0.0), (0.0, 6.0)];
        let head = head.map(|(x, y)| Point::new(mark.at + x, middle + y));
        canvas.fill(&head, mark.pen.colour)
    }
}

/// Hours of work.
pub(super) fn draw_open(canvas: &Canvas<'_>, space: Space) -> Result<(), DrawError> {
    canvas.fill(&corners(space), SPRAY)?;
    canvas.line(&around(space), Pen::solid(MIST, 0.8))
}

/// A sitting.
pub(super) fn draw_bar(canvas: &Canvas<'_>, space: Space, look: bool) -> Result<(), DrawError> {
    canvas.fill(&corners(space), if look { PAPER } else { POOL })?;
    canvas.line(&around(space), Pen::solid(INK, 0.9))
}

/// A look for bubbles.
pub(super) fn draw_ring(canvas: &Canvas<'_>, at: Point, form: Form) -> Result<(), DrawError> {
    let radius = match form {
        Form::Labelled => 4.0,
        Form::Close => 2.5,
    };
    canvas.dot(at, radius + 1.3, INK)?;
    match form {
        Form::Labelled => canvas.dot(at, radius, PAPER),
        Form::Close => Ok(()),
    }
}

fn bar(span: &Span<'_>, scale: &Scale) -> Option<Bar> {
    let (begins, ends) = (span.begins()?, span.ends()?);
    Some(Bar {
        from: scale.at(begins),
        to: scale.until(ends, begins.date()),
        look: matches!(span.task()?, Task::Look { .. }),
    })
}

/// Where to look for bubbles; in low rows those that would lie over one another are one.
fn rings(bars: &CalendarBars<'_>, day: &DayPlan, scale: &Scale) -> Vec<f64> {
    let looks = bars.calendar.sittings.iter().flat_map(|one| &one.looks);
    let mut rings: Vec<f64> = looks
        .filter(|at| at.date() == day.date)
        .map(|at| scale.at(*at))
        .collect();
    if scale.form == Form::Close {
        rings.sort_by(f64::total_cmp);
        rings.dedup_by(|next, kept| *next - *kept < 6.0);
    }
    rings
}

fn open(day: &DayPlan, scale: &Scale, lane: Space) -> Vec<Space> {
    let clock = |minutes: u16| scale.across(f64::from(minutes));
    (day.open.iter())
        .map(|spell| Space {
            left: clock(spell.from),
            right: clock(spell.to),
            ..lane
        })
        .collect()
}

pub(super) fn asleep(bars: &CalendarBars<'_>, scale: &Scale, lane: Space) -> Vec<Space> {
    let awake = bars.days.awake;
    let before = Space {
        right: scale.across(f64::from(awake.from)),
        ..lane
    };
    let after = Space {
        left: scale.across(f64::from(awake.to)),
        ..lane
    };
    let mut spaces = vec![before, after];
    spaces.retain(|space| space.width() > 1.0);
    spaces
}

fn marks(bars: &CalendarBars<'_>, day: &DayPlan, scale: &Scale) -> Vec<Mark> {
    let calendar = bars.calendar;
    let by = calendar.by.as_ref().map(|by| (by.deadline, DUE));
    let beyond = |at: DateTime| match scale.shows(at) {
        true => None,
        false if minutes(at) < scale.from => Some(Side::Before),
        false => Some(Side::After),
    };
    [
        Some((calendar.start, BEGUN)),
        Some((calendar.ready, BEGUN)),
        by,
    ]
    .into_iter()
    .flatten()
    .filter(|(at, _)| at.date() == day.date)
    .map(|(at, pen)| Mark {
        at: scale.at(at),
        pen,
        beyond: beyond(at),
    })
    .collect()
}

fn around(space: Space) -> Vec<Point> {
    let four = corners(space);
    four.into_iter().chain([four[0]]).collect()
}
