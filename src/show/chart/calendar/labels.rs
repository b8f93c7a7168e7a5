//! What is said of a day's sittings at their bars, or over them.

use super::scale::Scale;
use super::sitting::Span;
use super::wording;
use crate::show::draw::font::{self, Weight, width};
use crate::show::draw::palette::{INK, SLATE};
use crate::show::draw::place::{Fit, Row as Line, Wanted, flow, spread, wrap};
use crate::show::draw::{Anchor, Canvas, DrawError, Pen, Point, Text};

/// From one line of a label to the next, `[px]`.
pub(super) const PITCH: f64 = 15.0;
/// From a label to its bar, `[px]`.
const LEADER: f64 = 11.0;
/// No label stands further to the side of its bar than this, `[px]`.
const FAR: f64 = 100.0;
/// A day is told in so many lines at the most.
const MOST_LINES: usize = 10;
/// A label has no more lines than this.
const MOST_HIGH: usize = 7;
/// A label is no wider than this, `[px]`.
const ROOM: f64 = 150.0;

/// Words over the bars of a day.
pub(super) enum Labels {
    /// Each over its bar.
    AtBars(Vec<Label>),
    /// One under the other, each with its time.
    Listed(Vec<Listed>),
}

/// A label over its bar.
pub(super) struct Label {
    /// Where its bar's middle lies, `[px]`.
    at: f64,
    middle: f64,
    lines: Vec<(String, Text)>,
}

/// A sitting told in lines.
pub(super) struct Listed {
    clock: String,
    lines: Vec<String>,
}

impl Labels {
    /// Labels of a day's sittings, moved apart; where one would come to stand far from its bar,
    /// all of them in lines.
    ///
    /// # Errors
    /// [`DrawError::Crowded`] where there are too many lines for that.
    pub(super) fn of(spans: &[Span<'_>], waves: usize, scale: &Scale) -> Result<Self, DrawError> {
        match at_bars(spans, waves, scale) {
            Ok(labels) if labels.iter().all(Label::is_good) => Ok(Self::AtBars(labels)),
            Ok(_) | Err(DrawError::Crowded { .. }) => listed(spans, waves, scale).map(Self::Listed),
            Err(why) => Err(why),
        }
    }

    /// What they take over the bars, `[px]`.
    pub(super) fn height(&self) -> f64 {
        match self {
            Self::AtBars(labels) if labels.is_empty() => 0.0,
            Self::AtBars(labels) => {
                let most = labels.iter().map(|label| block(label.lines.len()));
                most.fold(0.0, f64::max) + LEADER
            }
            Self::Listed(listed) => {
                listed.iter().map(|one| block(one.lines.len())).sum::<f64>() + 5.0
            }
        }
    }

    /// Draws them over the bars, which begin at `top`.
    pub(super) fn draw(
        &self,
        canvas: &Canvas<'_>,
        (left, top): (f64, f64),
    ) -> Result<(), DrawError> {
        match self {
            Self::AtBars(labels) => labels.iter().try_for_each(|label| label.draw(canvas, top)),
            Self::Listed(listed) => {
                let mut y = top - self.height() + PITCH - 3.0;
                for one in listed {
                    let bold = Text::plain(font::SMALL, INK).bold();
                    canvas.text(&one.clock, Point::new(left + 6.0, y), bold)?;
                    for line in &one.lines {
                        let look = Text::plain(font::SMALL, INK);
                        canvas.text(line, Point::new(left + CLOCK, y), look)?;
                        y += PITCH;
                    }
                }
                Ok(())
            }
        }
    }
}

/// Room for the time before a line, `[px]`.
const CLOCK: f64 = 54.0;

impl Label {
    fn is_good(&self) -> bool {
        (self.middle - self.at).abs() <= FAR && self.lines.len() <= MOST_HIGH
    }

    fn draw(&self, canvas: &Canvas<'_>, top: f64) -> Result<(), DrawError> {
        let foot = top - LEADER;
        let ends = [
            Point::new(self.middle, foot + 2.0),
            Point::new(self.at, top + 2.0),
        ];
        canvas.line(&ends, Pen::solid(SLATE, 0.6))?;
        let mut y = foot - block(self.lines.len()) + PITCH - 3.0;
        for (line, look) in &self.lines {
            canvas.text(line, Point::new(self.middle, y), *look)?;
            y += PITCH;
        }
        Ok(())
    }
}

/// Height of so many lines, `[px]`.
fn block(lines: usize) -> f64 {
    (0..lines).map(|_| PITCH).sum()
}

fn at_bars(spans: &[Span<'_>], waves: usize, scale: &Scale) -> Result<Vec<Label>, DrawError> {
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
        let at = f64::midpoint(scale.at(begins), scale.until(ends, begins.date()));
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
        gap: 16.0,
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
            room: ROOM,
            // a name is told whole: which coat it is stands at its end
            lines: usize::MAX,
        },
    )?;
    let mut lines: Vec<(String, Text)> = name.into_iter().map(|line| (line, bold)).collect();
    lines.push((span.load(waves), plain));
    lines.extend(wording::bubbles(span).map(|words| (words, plain)));
    Ok(lines)
}

fn listed(spans: &[Span<'_>], waves: usize, scale: &Scale) -> Result<Vec<Listed>, DrawError> {
    let room = scale.right - scale.left - CLOCK;
    let mut listed = Vec::with_capacity(spans.len());
    let mut count = 0;
    for span in spans {
        let Some(begins) = span.begins() else {
            continue;
        };
        let mut words = format!("{}, {}", span.name(), span.load(waves));
        if let Some(more) = wording::bubbles(span) {
            words = format!("{words}, {more}");
        }
        let lines = flow(&words, font::SMALL, Weight::Regular, room)?;
        count += lines.len();
        listed.push(Listed {
            clock: wording::clock(begins),
            lines,
        });
    }
    if count > MOST_LINES {
        return Err(DrawError::Crowded {
            what: "the sittings of a day",
            need: block(count),
            have: block(MOST_LINES),
        });
    }
    Ok(listed)
}
