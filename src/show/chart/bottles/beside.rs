//! The labels to the right of the plot, each level with its line where there is room.

use super::{Plot, wording};
use crate::quantity::Volume;
use crate::show::chart::frame::{PAD, WIDTH};
use crate::show::draw::font::{self, Weight};
use crate::show::draw::palette::{Colour, HEATHER, INK, SLATE, TIDE};
use crate::show::draw::place::{Fit, Row, Space, Wanted, spread, wrap};
use crate::show::draw::{Canvas, DrawError, Pen, Point, Text};

/// From one line of words to the next, `[px]`.
const PITCH: f64 = 16.0;
/// From the plot to the labels, `[px]`.
const LEADER: f64 = 22.0;

/// A label and what it is about.
pub(super) struct Label {
    /// Where its line ends, `[px]` down.
    at: f64,
    /// Its middle, `[px]` down.
    middle: f64,
    head: Vec<String>,
    number: String,
    colour: Colour,
}

impl Label {
    fn of(
        at: f64,
        (head, number): (&str, String),
        colour: Colour,
        plot: &Plot<'_>,
    ) -> Result<Self, DrawError> {
        Ok(Self {
            at,
            middle: at,
            head: wrap(
                head,
                Fit {
                    size: font::SMALL,
                    weight: Weight::Bold,
                    room: WIDTH - PAD - plot.axes.space().right - LEADER,
                    lines: 2,
                },
            )?,
            number,
            colour,
        })
    }

    fn height(&self) -> f64 {
        PITCH * (1.0 + self.head.iter().map(|_| 1.0).sum::<f64>())
    }
}

/// The labels of the curves and of the steps, from the top down.
pub(super) fn lay_out(plot: &Plot<'_>, body: Space) -> Result<Vec<Label>, DrawError> {
    let amount = plot.bottles.amount;
    let mut labels = Vec::new();
    let mut curve = |volume: Volume, name: &str, colour| {
        let words = wording::curve(plot.bottles, name, (plot.most.pieces, volume));
        let at = plot.down(volume);
        labels.push(Label::of(at, (&words[0], words[1].clone()), colour, plot)?);
        Ok::<_, DrawError>(())
    };
    curve(plot.most.needed, "on average", TIDE)?;
    if plot.most.needed_sure != plot.most.needed {
        curve(plot.most.needed_sure, &wording::sure(plot.bottles), HEATHER)?;
    }
    for step in &amount.steps {
        let words = wording::step(plot.bottles, step, step.covers > plot.top);
        let at = plot.level(step);
        labels.push(Label::of(at, (&words[0], words[1].clone()), INK, plot)?);
    }
    labels.sort_by(|a, b| a.middle.total_cmp(&b.middle));
    let wanted: Vec<Wanted> = labels
        .iter()
        .map(|label| Wanted {
            middle: label.middle,
            width: label.height(),
        })
        .collect();
    let row = Row {
        from: body.top,
        to: body.bottom,
        gap: 7.0,
    };
    let middles = spread("the labels beside the plot", &wanted, row)?;
    for (label, middle) in labels.iter_mut().zip(middles) {
        label.middle = middle;
    }
    Ok(labels)
}

pub(super) fn draw(canvas: &Canvas<'_>, labels: &[Label], from: f64) -> Result<(), DrawError> {
    for label in labels {
        let leader = [
            Point::new(from + 2.0, label.at),
            Point::new(from + LEADER - 5.0, label.middle),
        ];
        canvas.line(&leader, Pen::solid(SLATE, 0.6))?;
        let mut y = label.middle - label.height() / 2.0 + 12.0;
        let bold = Text::plain(font::SMALL, label.colour).bold();
        for line in &label.head {
            canvas.text(line, Point::new(from + LEADER, y), bold)?;
            y += PITCH;
        }
        let number = Text::plain(font::SMALL, SLATE);
        canvas.text(&label.number, Point::new(from + LEADER, y), number)?;
    }
    Ok(())
}
