//! One day of a calendar.

use jiff::civil::DateTime;

use super::sitting::{self, Span};
use super::{CalendarBars, Form, Scale, minutes, wording};
use crate::plan::{DayPlan, Task};
use crate::show::chart::frame::{PAD, WIDTH};
use crate::show::chart::hatch::{Ruled, Tone, corners};
use crate::show::draw::font::{self, Weight, width};
use crate::show::draw::palette::{
    BUOY, HEATHER, INK, MIST, PAPER, POOL, SHALLOW, SLATE, SPRAY, TIDE,
};
use crate::show::draw::place::{Fit, Row as Line, Space, Wanted, spread, wrap};
use crate::show::draw::{Anchor, Canvas, Dash, DrawError, Pen, Point, Text};

/// From one line of a label to the next, `[px]`.
const PITCH: f64 = 15.0;
/// From a label to its bar, `[px]`.
const LEADER: f64 = 11.0;
/// From one wave's line to the next, `[px]`.
const LANE: f64 = 7.0;
/// With more waves than this their lines are left out.
pub(super) const MOST_LANES: usize = 3;

pub(super) const ASLEEP: Tone = Tone {
    ground: PAPER,
    ruled: Ruled::Rising,
    line: MIST,
    apart: 7.0,
};

struct Label {
    /// Where its bar's middle lies, `[px]`.
    at: f64,
    middle: f64,
    lines: Vec<(String, Text)>,
}

struct Bar {
    from: f64,
    to: f64,
    /// Whether pieces are looked over, and nothing is done to them.
    look: bool,
    rings: Vec<f64>,
}

/// A wave that lies and dries.
struct Wait {
    from: f64,
    to: f64,
    lane: usize,
    begins_here: bool,
    ends_here: bool,
}

pub(super) struct Row {
    scale: Scale,
    top: f64,
    height: f64,
    /// The lane of the hours.
    lane: Space,
    left: Vec<String>,
    open: Vec<Space>,
    asleep: Vec<Space>,
    bars: Vec<Bar>,
    labels: Vec<Label>,
    waits: Vec<Wait>,
    marks: Vec<(f64, Pen)>,
    trays: Vec<Space>,
    right: String,
}

impl Row {
    pub(super) fn lay_out(
        bars: &CalendarBars<'_>,
        day: &DayPlan,
        scale: &Scale,
        top: f64,
    ) -> Result<Self, DrawError> {
        let spans = sitting::on(bars.calendar, day.date);
        let labels = match scale.form {
            Form::Labelled => labels(&spans, bars.calendar.waves, scale)?,
            Form::Close => Vec::new(),
        };
        let words = labels.iter().map(|label| block(&label.lines));
        let words = words.fold(0.0, f64::max);
        let (thick, above) = match scale.form {
            Form::Labelled if words > 0.0 => (20.0, 8.0 + words + LEADER),
            Form::Labelled => (20.0, 8.0),
            Form::Close => (14.0, 4.0),
        };
        let lane = Space {
            left: scale.left,
            top: top + above,
            right: scale.right,
            bottom: top + above + thick,
        };
        let lanes = match scale.form {
            Form::Labelled if bars.calendar.waves <= MOST_LANES => {
                LANE * number(bars.calendar.waves)
            }
            Form::Labelled | Form::Close => 0.0,
        };
        let strip = match (bars.days.trays, scale.form) {
            (None, _) => 0.0,
            (Some(_), Form::Labelled) => 12.0,
            (Some(_), Form::Close) => 6.0,
        };
        let floor = lane.bottom + lanes + strip;
        let mut left = vec![wording::date(day.date)];
        if day.off {
            left.push("day off".to_owned());
        }
        left.extend(wording::marks(bars, day.date));
        let beside = 6.0 + 16.0 * left.iter().map(|_| 1.0).sum::<f64>();
        let height = (floor - top + 6.0).max(beside + 4.0);
        Ok(Self {
            scale: *scale,
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
            labels,
            waits: if lanes > 0.0 {
                waits(bars, day, scale)
            } else {
                Vec::new()
            },
            marks: marks(bars, day, scale),
            trays: trays(bars, day, scale, (floor, strip - 2.0)),
            right: right(bars, day, scale)?,
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
            canvas.fill(&corners(*space), SPRAY)?;
            canvas.line(&around(*space), Pen::solid(MIST, 0.8))?;
        }
        for space in &self.trays {
            canvas.fill(&corners(*space), SHALLOW)?;
            if self.scale.form == Form::Labelled {
                let top = [space.left, space.right].map(|x| Point::new(x, space.top));
                canvas.line(&top, Pen::solid(SLATE, 0.7))?;
            }
        }
        Ok(())
    }

    pub(super) fn draw(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let mut y = self.top + 17.0;
        let mut look = Text::plain(font::SMALL, INK).bold();
        for line in &self.left {
            canvas.text(line, Point::new(PAD, y), look)?;
            y += 16.0;
            look = Text::plain(font::SMALL, SLATE);
        }
        self.draw_waits(canvas)?;
        for bar in &self.bars {
            self.draw_bar(canvas, bar)?;
        }
        // over every bar, for a look may fall into the sitting after
        for bar in &self.bars {
            self.draw_rings(canvas, bar)?;
        }
        for (x, pen) in &self.marks {
            let ends = [self.lane.top - 4.0, self.lane.bottom + 4.0];
            canvas.line(&ends.map(|y| Point::new(*x, y)), *pen)?;
        }
        for label in &self.labels {
            self.draw_label(canvas, label)?;
        }
        let (x, anchor) = match self.scale.form {
            Form::Labelled => (WIDTH - PAD, Anchor::Right),
            Form::Close => (self.scale.right + 14.0, Anchor::Left),
        };
        let small = Text::plain(font::SMALL, SLATE).at(anchor);
        canvas.text(&self.right, Point::new(x, self.lane.bottom - 3.0), small)
    }

    fn draw_bar(&self, canvas: &Canvas<'_>, bar: &Bar) -> Result<(), DrawError> {
        let space = Space {
            left: bar.from,
            right: bar.to.max(bar.from + 1.5),
            top: self.lane.top + 2.0,
            bottom: self.lane.bottom - 2.0,
        };
        canvas.fill(&corners(space), if bar.look { PAPER } else { POOL })?;
        canvas.line(&around(space), Pen::solid(INK, 0.9))
    }

    fn draw_rings(&self, canvas: &Canvas<'_>, bar: &Bar) -> Result<(), DrawError> {
        let radius = self.lane.height() / 4.0 - 1.0;
        for x in &bar.rings {
            let middle = Point::new(*x, f64::midpoint(self.lane.top, self.lane.bottom));
            canvas.dot(middle, radius + 1.3, INK)?;
            if self.scale.form == Form::Labelled {
                canvas.dot(middle, radius, PAPER)?;
            }
        }
        Ok(())
    }

    fn draw_waits(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        // told apart by height and breadth: dashes would take far more text
        let pens = [(TIDE, 2.2), (HEATHER, 1.0), (SLATE, 1.6)];
        for wait in &self.waits {
            let Some((colour, breadth)) = pens.get(wait.lane).copied() else {
                continue;
            };
            let y = self.lane.bottom + LANE * (number(wait.lane) + 0.7);
            let mut line = vec![Point::new(wait.from, y), Point::new(wait.to, y)];
            if wait.begins_here {
                line.insert(0, Point::new(wait.from, self.lane.bottom - 2.0));
            }
            canvas.line(&line, Pen::solid(colour, breadth))?;
            if wait.ends_here {
                canvas.dot(Point::new(wait.to, y), 2.6, colour)?;
            }
        }
        Ok(())
    }

    fn draw_label(&self, canvas: &Canvas<'_>, label: &Label) -> Result<(), DrawError> {
        let foot = self.lane.top - LEADER;
        let ends = [
            Point::new(label.middle, foot + 2.0),
            Point::new(label.at, self.lane.top + 2.0),
        ];
        canvas.line(&ends, Pen::solid(SLATE, 0.6))?;
        let mut y = foot - block(&label.lines) + PITCH - 3.0;
        for (line, look) in &label.lines {
            canvas.text(line, Point::new(label.middle, y), *look)?;
            y += PITCH;
        }
        Ok(())
    }
}

/// Height of a label's lines, `[px]`.
fn block(lines: &[(String, Text)]) -> f64 {
    PITCH * lines.iter().map(|_| 1.0).sum::<f64>()
}

/// The labels of a day's bars, moved apart.
fn labels(spans: &[Span<'_>], waves: usize, scale: &Scale) -> Result<Vec<Label>, DrawError> {
    let mut labels = Vec::with_capacity(spans.len());
    let mut wanted = Vec::with_capacity(spans.len());
    for span in spans {
        let (Some(begins), Some(ends)) = (span.begins(), span.ends()) else {
            continue;
        };
        let lines = lines(span, waves)?;
        let mut breadth: f64 = 0.0;
        for (line, look) in &lines {
            breadth = breadth.max(width(line, look.size, look.weight)?);
        }
        let at = f64::midpoint(scale.at(begins), scale.at(ends));
        wanted.push(Wanted {
            middle: at,
            width: breadth,
        });
        labels.push(Label {
            at,
            middle: at,
            lines,
        });
    }
    let line = Line {
        from: scale.left,
        to: scale.right,
        gap: 12.0,
    };
    let middles = spread("the sittings of a day", &wanted, line)?;
    for (label, middle) in labels.iter_mut().zip(middles) {
        label.middle = middle;
    }
    Ok(labels)
}

fn lines(span: &Span<'_>, waves: usize) -> Result<Vec<(String, Text)>, DrawError> {
    let bold = Text::plain(font::SMALL, INK).at(Anchor::Middle).bold();
    let plain = Text::plain(font::SMALL, SLATE).at(Anchor::Middle);
    let name = wrap(
        &span.name(),
        Fit {
            size: font::SMALL,
            weight: Weight::Bold,
            room: 150.0,
            lines: 3,
        },
    )?;
    let mut lines: Vec<(String, Text)> = name.into_iter().map(|line| (line, bold)).collect();
    lines.push((span.load(waves), plain));
    if let (Some(first), Some(last)) = (span.looks().min(), span.looks().max()) {
        let words = if first == last {
            format!("bubbles {}", wording::clock(first))
        } else {
            format!("bubbles {}-{}", wording::clock(first), wording::clock(last))
        };
        lines.push((words, plain));
    }
    Ok(lines)
}

fn bar(span: &Span<'_>, scale: &Scale) -> Option<Bar> {
    let (begins, ends) = (span.begins()?, span.ends()?);
    let to = if ends.date() == begins.date() {
        scale.at(ends)
    } else {
        scale.right
    };
    Some(Bar {
        from: scale.at(begins),
        to,
        look: matches!(span.task()?, Task::Look { .. }),
        rings: rings(span, scale),
    })
}

/// Where to look for bubbles; in low rows those that would lie over one another are one.
fn rings(span: &Span<'_>, scale: &Scale) -> Vec<f64> {
    let mut rings: Vec<f64> = span.looks().map(|at| scale.at(at)).collect();
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

fn waits(bars: &CalendarBars<'_>, day: &DayPlan, scale: &Scale) -> Vec<Wait> {
    let on = |time: DateTime| time.date() == day.date;
    (bars.calendar.sittings.iter())
        .filter(|one| one.next_from > one.ends)
        .filter(|one| one.ends.date() <= day.date && day.date <= one.next_from.date())
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
            ends_here: on(one.next_from)
                && (scale.from..=scale.to).contains(&minutes(one.next_from)),
        })
        .filter(|wait| wait.to > wait.from)
        .collect()
}

fn marks(bars: &CalendarBars<'_>, day: &DayPlan, scale: &Scale) -> Vec<(f64, Pen)> {
    let calendar = bars.calendar;
    let solid = Pen::solid(TIDE, 2.4);
    let due = Pen {
        colour: BUOY,
        width: 2.4,
        dash: Dash::Long,
    };
    let by = calendar.by.as_ref().map(|by| (by.deadline, due));
    [
        Some((calendar.start, solid)),
        Some((calendar.ready, solid)),
        by,
    ]
    .into_iter()
    .flatten()
    .filter(|(at, _)| at.date() == day.date)
    .filter(|(at, _)| (scale.from..=scale.to).contains(&minutes(*at)))
    .map(|(at, pen)| (scale.at(at), pen))
    .collect()
}

/// Trays in use, as a strip that is as high as their share of all.
fn trays(
    bars: &CalendarBars<'_>,
    day: &DayPlan,
    scale: &Scale,
    (floor, most): (f64, f64),
) -> Vec<Space> {
    let Some(all) = bars.days.trays.filter(|all| *all > 0) else {
        return Vec::new();
    };
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

/// What stands to the right of the row.
fn right(bars: &CalendarBars<'_>, day: &DayPlan, scale: &Scale) -> Result<String, DrawError> {
    match (scale.form, bars.days.trays) {
        (Form::Labelled, Some(all)) if day.most_trays > 0 => {
            Ok(format!("{} of {all}", day.most_trays))
        }
        (Form::Labelled, _) => Ok(String::new()),
        (Form::Close, _) => {
            let words = wording::day(bars, day.date);
            let fit = Fit {
                size: font::SMALL,
                weight: Weight::Regular,
                room: WIDTH - PAD - scale.right - 14.0,
                lines: 1,
            };
            Ok(wrap(&words, fit)?.pop().unwrap_or_default())
        }
    }
}

fn around(space: Space) -> Vec<Point> {
    let four = corners(space);
    four.into_iter().chain([four[0]]).collect()
}

#[expect(clippy::cast_precision_loss, reason = "waves are few")]
const fn number(count: usize) -> f64 {
    count as f64
}
