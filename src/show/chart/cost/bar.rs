//! One kind of piece: its cost end to end, its prices over it.

use super::wording;
use super::{CostBar, Priced, ROOM, is_thin, length};
use crate::plan::CostKind;
use crate::quantity::Money;
use crate::show::chart::frame::{PAD, WIDTH};
use crate::show::chart::hatch::{Ruled, Tone, corners};
use crate::show::draw::font::{self, Weight, width};
use crate::show::draw::palette::{
    BUOY, GRAIN, HEATHER, INK, MIST, PAPER, PLANK, POOL, SHALLOW, SLATE, SPRAY, TIDE,
};
use crate::show::draw::place::{Fit, Row, Space, Wanted, spread, wrap};
use crate::show::draw::{Anchor, Canvas, Dash, DrawError, Pen, Point, Text};

/// Height of the bar itself, `[px]`.
const THICK: f64 = 34.0;
/// From one line of a label to the next, `[px]`.
const PITCH: f64 = 17.0;
/// From a label to what it is about, `[px]`.
const LEADER: f64 = 16.0;

/// A line for a part too thin to see stands out of the bar so far, `[px]`.
const OUT: f64 = 5.0;

/// Two lines of words with a thin line to what they are about.
struct Label {
    /// What they are about lies so far right, `[px]`.
    at: f64,
    /// Their middle, `[px]`.
    middle: f64,
    lines: [String; 2],
    look: [Text; 2],
}

/// A line across the bar: the floor or a price.
struct Mark {
    at: f64,
    pen: Pen,
}

/// A part of the bar.
struct Piece {
    space: Space,
    tone: Tone,
    /// Too thin to see, so a line.
    thin: bool,
}

pub(super) struct Bar {
    name: Vec<String>,
    cost: String,
    top: f64,
    pieces: Vec<Piece>,
    /// What the price leaves once all is paid.
    left: Option<Space>,
    marks: Vec<Mark>,
    over: Vec<Label>,
    under: Vec<Label>,
    whole: Space,
}

impl Bar {
    /// Lays a bar out under `top`; its right end stands for the amount `end`.
    pub(super) fn lay_out(
        bar: &CostBar<'_>,
        (top, end): (f64, f64),
        currency: &str,
    ) -> Result<Self, DrawError> {
        let cost = format!("costs {} {currency}", wording::amount(bar.each));
        let cost = one_line(&cost, ROOM * 0.4, Weight::Regular)?;
        let taken = width(&cost, font::BODY, Weight::Regular)?;
        let name = wrap(
            &format!("\u{2068}{}\u{2069}", bar.piece),
            Fit {
                size: font::BODY,
                weight: Weight::Bold,
                room: ROOM - taken - 24.0,
                lines: 2,
            },
        )?;
        let across = |amount: f64| PAD + length(amount, end);
        let names = 19.0 * name.iter().map(|_| 1.0).sum::<f64>();
        let from = top + names + 14.0 + 2.0 * PITCH + LEADER;
        let whole = |left, right| Space {
            left,
            top: from,
            right,
            bottom: from + THICK,
        };
        let mut run = 0.0;
        let mut pieces = Vec::new();
        let mut under = Vec::new();
        let mut add = |words: [String; 2], amount: f64, tone| {
            let space = whole(across(run), across(run + amount));
            run += amount;
            under.push(label(f64::midpoint(space.left, space.right), words));
            pieces.push(Piece {
                space,
                tone,
                thin: is_thin(amount, end),
            });
            run
        };
        let mut spent = 0.0;
        for part in wording::parts(bar) {
            let name = wording::name(part.kind).to_owned();
            spent = add([name, part.words], part.amount, tone(part.kind));
        }
        if let Some(fees) = bar.fees() {
            let words = ["tax, fees".to_owned(), wording::amount(fees)];
            add(words, fees.amount(), FEES);
        }
        let left = bar.main_price().filter(|at| at.leaves > Money::ZERO);
        let left = left.map(|at| {
            whole(
                across((at.price - at.leaves).amount()),
                across(at.price.amount()),
            )
        });
        let mut over = over(bar, &across);
        spread_out(&mut over)?;
        spread_out(&mut under)?;
        Ok(Self {
            name,
            cost,
            top,
            pieces,
            left,
            marks: marks(bar, &across),
            over,
            under,
            whole: whole(PAD, across(spent)),
        })
    }

    pub(super) fn bottom(&self) -> f64 {
        self.whole.bottom + LEADER + 2.0 * PITCH + 4.0
    }

    pub(super) fn draw(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let bold = Text::plain(font::BODY, INK).bold();
        let mut y = self.top + 14.0;
        for line in &self.name {
            canvas.text(line, Point::new(PAD, y), bold)?;
            y += 19.0;
        }
        let right = Text::plain(font::BODY, INK).at(Anchor::Right);
        canvas.text(&self.cost, Point::new(WIDTH - PAD, self.top + 14.0), right)?;
        self.draw_pieces(canvas)?;
        for mark in &self.marks {
            let ends = [self.whole.top - 6.0, self.whole.bottom + 6.0];
            canvas.line(&ends.map(|y| Point::new(mark.at, y)), mark.pen)?;
        }
        for label in &self.over {
            let foot = self.whole.top - LEADER - 4.0;
            let ends = [
                Point::new(label.middle, foot + 4.0),
                Point::new(label.at, self.whole.top - 6.0),
            ];
            canvas.line(&ends, Pen::solid(SLATE, 0.6))?;
            label.write(canvas, foot - PITCH)?;
        }
        for label in &self.under {
            let ends = [
                Point::new(label.at, self.whole.bottom),
                Point::new(label.middle, self.whole.bottom + LEADER - 2.0),
            ];
            canvas.line(&ends, Pen::solid(SLATE, 0.6))?;
            label.write(canvas, self.whole.bottom + LEADER + 11.0)?;
        }
        Ok(())
    }

    fn draw_pieces(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        if let Some(space) = self.left {
            canvas.line(&around(space), Pen::solid(MIST, 0.8))?;
        }
        let (thin, broad): (Vec<&Piece>, Vec<&Piece>) =
            self.pieces.iter().partition(|piece| piece.thin);
        for piece in &broad {
            piece.tone.fill(canvas, piece.space)?;
        }
        for piece in &broad {
            canvas.line(&around(piece.space), Pen::solid(INK, 0.9))?;
        }
        for piece in thin {
            let x = f64::midpoint(piece.space.left, piece.space.right);
            let ends = [piece.space.top - OUT, piece.space.bottom + OUT];
            canvas.line(&ends.map(|y| Point::new(x, y)), Pen::solid(INK, 2.4))?;
        }
        if self.pieces.is_empty() {
            // nothing at all is a line of no breadth, not a missing bar
            let ends = [self.whole.top, self.whole.bottom].map(|y| Point::new(PAD, y));
            canvas.line(&ends, Pen::solid(INK, 1.4))?;
        }
        Ok(())
    }
}

impl Label {
    fn write(&self, canvas: &Canvas<'_>, first: f64) -> Result<(), DrawError> {
        for ((line, look), down) in self.lines.iter().zip(self.look).zip([0.0, PITCH]) {
            canvas.text(line, Point::new(self.middle, first + down), look)?;
        }
        Ok(())
    }

    fn breadth(&self) -> Result<f64, DrawError> {
        let mut most: f64 = 0.0;
        for (line, look) in self.lines.iter().zip(self.look) {
            most = most.max(width(line, look.size, look.weight)?);
        }
        Ok(most)
    }
}

/// Moves labels apart, each as near to what it is about as can be.
fn spread_out(labels: &mut [Label]) -> Result<(), DrawError> {
    let mut wanted = Vec::with_capacity(labels.len());
    for label in labels.iter() {
        wanted.push(Wanted {
            middle: label.at,
            width: label.breadth()?,
        });
    }
    let row = Row {
        from: PAD,
        to: WIDTH - PAD,
        gap: 10.0,
    };
    let middles = spread("the parts of a cost", &wanted, row)?;
    for (label, middle) in labels.iter_mut().zip(middles) {
        label.middle = middle;
    }
    Ok(())
}

fn label(at: f64, lines: [String; 2]) -> Label {
    let small = Text::plain(font::SMALL, SLATE).at(Anchor::Middle);
    Label {
        at,
        middle: at,
        lines,
        look: [
            small,
            Text {
                colour: INK,
                ..small
            }
            .bold(),
        ],
    }
}

/// The labels over the bar, from left to right.
fn over(bar: &CostBar<'_>, across: &impl Fn(f64) -> f64) -> Vec<Label> {
    let floor = (
        across(bar.floor.amount()),
        [
            format!("floor {}", wording::amount(bar.floor)),
            "loses under it".to_owned(),
        ],
        BUOY,
    );
    let at = |what, at: Option<Priced>, colour| {
        at.map(|at| (across(at.price.amount()), wording::price(what, at), colour))
    };
    let mut all: Vec<_> = [
        Some(floor),
        at("in a shop", bar.shop, HEATHER),
        at("at the fair", bar.fair, TIDE),
    ]
    .into_iter()
    .flatten()
    .collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    all.into_iter()
        .map(|(at, lines, colour)| {
            let head = Text::plain(font::SMALL, colour).at(Anchor::Middle).bold();
            let foot = Text::plain(font::SMALL, SLATE).at(Anchor::Middle);
            Label {
                at,
                middle: at,
                lines,
                look: [head, foot],
            }
        })
        .collect()
}

fn marks(bar: &CostBar<'_>, across: &impl Fn(f64) -> f64) -> Vec<Mark> {
    let mark = |amount: Money, colour, dash| Mark {
        at: across(amount.amount()),
        pen: Pen {
            colour,
            width: 2.2,
            dash,
        },
    };
    let mut marks = vec![mark(bar.floor, BUOY, Dash::Long)];
    marks.extend(bar.shop.map(|at| mark(at.price, HEATHER, Dash::Dots)));
    marks.extend(bar.fair.map(|at| mark(at.price, TIDE, Dash::Solid)));
    marks
}

const FEES: Tone = Tone {
    ground: PAPER,
    ruled: Ruled::Falling,
    line: SLATE,
    apart: 5.0,
};

const fn tone(kind: Option<CostKind>) -> Tone {
    let (ground, ruled, line, apart) = match kind {
        Some(CostKind::Blank) => (PLANK, Ruled::Rising, GRAIN, 8.0),
        Some(CostKind::Coatings) => (SHALLOW, Ruled::Plain, SHALLOW, 8.0),
        Some(CostKind::Supplies) => (PAPER, Ruled::Upright, MIST, 6.0),
        Some(CostKind::Work) => (POOL, Ruled::Falling, TIDE, 14.0),
        Some(CostKind::Lost) => (PAPER, Ruled::Rising, BUOY, 6.0),
        Some(CostKind::Fitted) => (SPRAY, Ruled::Level, SLATE, 6.0),
        None => (PAPER, Ruled::Plain, PAPER, 8.0),
    };
    Tone {
        ground,
        ruled,
        line,
        apart,
    }
}

fn around(space: Space) -> Vec<Point> {
    let four = corners(space);
    four.into_iter().chain([four[0]]).collect()
}

fn one_line(text: &str, room: f64, weight: Weight) -> Result<String, DrawError> {
    let fit = Fit {
        size: font::BODY,
        weight,
        room,
        lines: 1,
    };
    Ok(wrap(text, fit)?.pop().unwrap_or_default())
}
