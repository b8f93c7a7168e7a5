//! How much coating a number of pieces takes, and how far whole bottles go.

mod beside;
mod wording;

use super::axes::{Axes, Axis};
use super::care::Care;
use super::frame::Frame;
use crate::plan::{AmountAt, AmountPlan, BottleStep, EnoughFor};
use crate::quantity::{Units, Volume};
use crate::show::draw::font::{self, Weight, width};
use crate::show::draw::palette::{BUOY, HEATHER, INK, MIST, PAPER, SHALLOW, SLATE, TIDE};
use crate::show::draw::place::Space;
use crate::show::draw::{Anchor, Canvas, Dash, DrawError, Pen, Picture, Point, Text};

/// What a picture of a coating's bottles shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Bottles<'a> {
    /// The amounts, and the bottles.
    pub amount: &'a AmountPlan,
    /// The cautions of the coating.
    pub care: Care,
    /// The units to print.
    pub units: Units,
}

/// Height of the plot with the words around it, `[px]`.
const HEIGHT: f64 = 500.0;
/// Where the plot ends on the right, `[px]`; its labels stand beside it.
const RIGHT: f64 = 640.0;
/// A step higher than this many times the curve's end lies over a break of the scale.
const IN_SIGHT: f64 = 2.5;
/// The share of the plot's height under such a break.
const UNDER_BREAK: f64 = 0.84;
/// From the plot's top to the first line over the break, and from one to the next, `[px]`.
const OVER_BREAK: f64 = 14.0;
/// Half a tooth of the break's line across the plot, `[px]`: how long and how high.
const TOOTH: (f64, f64) = (7.0, 3.0);

/// Draws how much coating a number of good pieces takes: on average, and to be sure of
/// enough, with a line for each whole number of bottles and how far it goes.
///
/// The labels stand to the right of their lines. What reaches far over the curves is drawn over a
/// break of the scale. The picture is 960 px wide.
///
/// # Errors
/// [`DrawError::NotPositive`] for a curve of fewer than two points or an amount that is
/// no number; otherwise what [`Picture::draw`] returns.
///
/// ```
/// use brimful::coating::cautions;
/// use brimful::plan::{AmountAt, AmountPlan, BottleStep, EnoughFor};
/// use brimful::quantity::{Share, Units, Volume};
/// use brimful::show::chart::{Bottles, Care, bottles};
///
/// let ml = Volume::from_ml;
/// let at = |pieces, needed, sure| AmountAt { pieces, needed: ml(needed), needed_sure: ml(sure) };
/// let amount = AmountPlan {
///     coating: "dome glaze".to_owned(),
///     sure: Share::from_percent(95.0),
///     sittings: 2,
///     mixed: false,
///     kinds: 2,
///     planned: at(100, 127.0, 149.0),
///     curve: vec![at(1, 2.0, 2.5), at(100, 127.0, 149.0), at(160, 200.0, 235.0)],
///     in_stock: false,
///     steps: vec![BottleStep {
///         buy: vec![(ml(250.0), 1)],
///         covers: ml(250.0),
///         enough_for: EnoughFor::Pieces(171),
///     }],
///     bought: 0,
/// };
/// let care = Care::of_family("water-based", cautions("water-based").unwrap());
/// let picture = bottles(&Bottles { amount: &amount, care, units: Units::Metric })?;
/// assert!(picture.words.title.ends_with("1 bottle of 250 mL is enough for 100 pieces, and 71 more."));
/// # Ok::<(), brimful::show::draw::DrawError>(())
/// ```
pub fn bottles(bottles: &Bottles<'_>) -> Result<Picture, DrawError> {
    let amount = bottles.amount;
    let most = check(amount)?;
    let frame = Frame::lay_out(
        &wording::title(bottles),
        &wording::under(bottles),
        Some(&bottles.care),
    )?;
    let body = frame.body(HEIGHT);
    let top = scale_top(amount, most);
    let mut x = Axis::linear("good pieces", (0.0, number(most.pieces)), 8.0)?;
    // there is no half a piece
    x.ticks.retain(|tick| tick.at.fract() == 0.0);
    let title = format!("to have in bottles, {}", wording::unit(bottles.units));
    let high = wording::in_unit(bottles.units, top);
    let broken = amount.steps.iter().any(|step| step.covers > top);
    let scale = if broken { high / UNDER_BREAK } else { high };
    let mut y = Axis::linear(title, (0.0, scale), 7.0)?;
    y.ticks.retain(|tick| tick.at <= high);
    let plot = Plot {
        bottles,
        axes: Axes::lay_out(
            x,
            y,
            Space {
                right: RIGHT,
                ..body
            },
        )?,
        most,
        top,
        broken,
    };
    let labels = beside::lay_out(&plot, body)?;
    frame.picture(wording::words(bottles), body.bottom, |canvas| {
        plot.draw(canvas)?;
        beside::draw(canvas, &labels, plot.axes.space().right)
    })
}

/// The last point of the curve, once all is found to be in order.
fn check(amount: &AmountPlan) -> Result<AmountAt, DrawError> {
    let refuse = |what, value| Err(DrawError::NotPositive { what, value });
    let (Some(last), 2..) = (amount.curve.last().copied(), amount.curve.len()) else {
        return refuse("the count of points of a curve over 1", 0.0);
    };
    let points = amount.curve.iter().chain([&amount.planned]);
    for volume in points.flat_map(|at| [at.needed, at.needed_sure]) {
        if !(volume.ml().is_finite() && volume.ml() >= 0.0) {
            return refuse("an amount of coating in mL", volume.ml());
        }
    }
    for step in &amount.steps {
        if !(step.covers.ml().is_finite() && step.covers.ml() > 0.0) {
            return refuse("what bottles cover in mL", step.covers.ml());
        }
    }
    if last.needed_sure.ml() <= 0.0 {
        return refuse(
            "the amount for the most pieces in mL",
            last.needed_sure.ml(),
        );
    }
    Ok(last)
}

/// The top of the picture's scale: over the curve's end and every step that is in sight of it.
fn scale_top(amount: &AmountPlan, most: AmountAt) -> Volume {
    let curve = most.needed_sure.ml().max(most.needed.ml());
    let steps = amount.steps.iter().map(|step| step.covers.ml());
    let top = steps
        .filter(|covers| *covers <= curve * IN_SIGHT)
        .fold(curve, f64::max);
    Volume::from_ml(1.06 * top)
}

/// The plot itself.
struct Plot<'a> {
    bottles: &'a Bottles<'a>,
    axes: Axes,
    /// The curve's end.
    most: AmountAt,
    /// The top of the scale.
    top: Volume,
    /// Whether it breaks there, some step being far higher.
    broken: bool,
}

impl Plot<'_> {
    fn down(&self, volume: Volume) -> f64 {
        self.axes.down(wording::in_unit(self.bottles.units, volume))
    }

    /// Where the line of a step lies: those far higher than the curves one over the other, over the
    /// break.
    fn level(&self, step: &BottleStep) -> f64 {
        if step.covers <= self.top {
            return self.down(step.covers);
        }
        let higher = self.bottles.amount.steps.iter();
        let higher = higher.filter(|other| other.covers > step.covers);
        self.axes.space().top + OVER_BREAK + higher.map(|_| OVER_BREAK).sum::<f64>()
    }

    fn across(&self, pieces: u64) -> f64 {
        self.axes.across(number(pieces))
    }

    fn points(&self, of: impl Fn(&AmountAt) -> Volume) -> Vec<Point> {
        let curve = &self.bottles.amount.curve;
        curve
            .iter()
            .map(|at| {
                let amount = wording::in_unit(self.bottles.units, of(at));
                self.axes.place(number(at.pieces), amount)
            })
            .collect()
    }

    fn draw(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let sure = self.points(|at| at.needed_sure);
        let mean = self.points(|at| at.needed);
        let band: Vec<Point> = sure.iter().chain(mean.iter().rev()).copied().collect();
        canvas.fill(&band, SHALLOW)?;
        self.axes.draw_grid(canvas)?;
        self.draw_steps(canvas)?;
        let dots = Pen {
            colour: HEATHER,
            width: 2.2,
            dash: Dash::Dots,
        };
        canvas.line(&sure, dots)?;
        canvas.line(&mean, Pen::solid(TIDE, 2.6))?;
        self.draw_planned(canvas)?;
        self.draw_reach(canvas)?;
        self.axes.draw(canvas)?;
        if self.broken {
            self.draw_break(canvas)?;
        }
        Ok(())
    }

    /// Where the scale breaks: a line of teeth across, and a gap in the axis.
    fn draw_break(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let space = self.axes.space();
        let y = self.down(self.top);
        let (mut x, mut off) = (space.left, TOOTH.1);
        let mut teeth = Vec::new();
        while x <= space.right {
            teeth.push(Point::new(x, y + off));
            (x, off) = (x + TOOTH.0, -off);
        }
        canvas.line(&teeth, Pen::solid(MIST, 0.8))?;
        let slanted = |off: f64| {
            [(-6.0, 3.0), (6.0, -3.0)].map(|(x, rise)| Point::new(space.left + x, y + off + rise))
        };
        let ([a, b], [d, c]) = (slanted(-3.0), slanted(3.0));
        canvas.fill(&[a, b, c, d], PAPER)?;
        canvas.line(&[a, b], Pen::solid(INK, 1.0))?;
        canvas.line(&[d, c], Pen::solid(INK, 1.0))
    }

    /// Each step: bold for the pieces that it would be bought for, thin beyond.
    fn draw_steps(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let space = self.axes.space();
        let mut from = space.left;
        for step in &self.bottles.amount.steps {
            let to = self.reach(step.enough_for).unwrap_or(space.right);
            let y = self.level(step);
            let all = [space.left, space.right].map(|x| Point::new(x, y));
            canvas.line(&all, Pen::solid(SLATE, 0.7))?;
            canvas.line(&[from, to].map(|x| Point::new(x, y)), Pen::solid(INK, 2.4))?;
            from = to;
        }
        Ok(())
    }

    /// Where the reach of a step lies; `None`: beyond the picture.
    fn reach(&self, enough_for: EnoughFor) -> Option<f64> {
        match enough_for {
            EnoughFor::Pieces(pieces) if pieces <= self.most.pieces => Some(self.across(pieces)),
            EnoughFor::Pieces(_) | EnoughFor::Over(_) => None,
        }
    }

    fn draw_planned(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let space = self.axes.space();
        let planned = self.bottles.amount.planned;
        let x = self.across(planned.pieces);
        let dashes = Pen {
            colour: BUOY,
            width: 1.6,
            dash: Dash::Long,
        };
        let ends = [space.bottom, space.top - 4.0].map(|y| Point::new(x, y));
        canvas.line(&ends, dashes)?;
        for (volume, colour) in [(planned.needed, TIDE), (planned.needed_sure, HEATHER)] {
            canvas.dot(Point::new(x, self.down(volume)), 4.5, colour)?;
        }
        let words = format!("{} planned", planned.pieces);
        let look = Text::plain(font::BODY, BUOY).bold().at(Anchor::Middle);
        canvas.text(&words, Point::new(x, space.top - 12.0), look)
    }

    /// How many more the planned step is enough for, beside the foot of a line down from it.
    fn draw_reach(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let amount = self.bottles.amount;
        let Some(step) = amount.steps.get(amount.bought) else {
            return Ok(());
        };
        let (EnoughFor::Pieces(pieces), Some(x)) = (step.enough_for, self.reach(step.enough_for))
        else {
            return Ok(());
        };
        let space = self.axes.space();
        let planned = self.across(amount.planned.pieces);
        if pieces <= amount.planned.pieces {
            return Ok(());
        }
        let ends = [self.level(step), space.bottom].map(|y| Point::new(x, y));
        canvas.line(&ends, Pen::solid(INK, 0.9))?;
        canvas.dot(ends[0], 4.5, INK)?;
        let more = format!("{} more", pieces - amount.planned.pieces);
        let bold = Text::plain(font::SMALL, INK).bold();
        let takes = width(&more, font::SMALL, Weight::Bold)?;
        let y = space.bottom - 10.0;
        if x - planned > takes + 14.0 {
            let middle = f64::midpoint(planned, x);
            canvas.text(&more, Point::new(middle, y), bold.at(Anchor::Middle))
        } else if space.right - x > takes + 14.0 {
            canvas.text(&more, Point::new(x + 7.0, y), bold)
        } else {
            canvas.text(&more, Point::new(planned - 7.0, y), bold.at(Anchor::Right))
        }
    }
}

#[expect(
    clippy::cast_precision_loss,
    reason = "counts are at most a thousand million"
)]
const fn number(count: u64) -> f64 {
    count as f64
}
