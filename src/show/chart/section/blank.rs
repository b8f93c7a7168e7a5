//! The whole piece, cut through, with its labels.

use crate::quantity::{Length, Show};
use crate::show::draw::font::{self, Weight, width};
use crate::show::draw::palette::{INK, MIST, PAPER, POOL, SHALLOW, SLATE, SPRAY};
use crate::show::draw::place::{Fit, Row, Space, Wanted, spread, wrap};
use crate::show::draw::{Anchor, Canvas, DrawError, Pen, Point, Text, line};

use super::{At, Mark, PAD, Section, WIDTH, peak, wording};

/// The most that the blank and the highest dome take up, `[px]`.
const BLANK_MOST: f64 = 96.0;
const DOME_MOST: f64 = 170.0;
/// From the labels down to the highest dome, `[px]`.
const LEADER: f64 = 34.0;
/// Two lines of label, `[px]`.
const LABEL: f64 = 40.0;
/// From the blank down to the end of its dimension, `[px]`.
const DIMENSION: f64 = 44.0;

/// The whole piece laid out.
pub(super) struct Blank<'a, 'b> {
    section: &'a Section<'b>,
    /// Pixels in a millimetre, across and up alike.
    pub(super) scale: f64,
    /// Where the left edge of the blank's top lies.
    origin: Point,
    /// How much of the blank's thickness is drawn, `[px]`.
    slab: f64,
    /// Whether the blank goes on below.
    broken: bool,
    labels: Vec<Label>,
}

/// Two lines of words, and the place on a surface that they speak of.
struct Label {
    mark: Mark,
    words: [String; 2],
    /// Middle of the words and their upper edge.
    at: Point,
    tip: Point,
}

impl<'a, 'b> Blank<'a, 'b> {
    /// Fits the piece under `top`, `[px]`.
    pub(super) fn lay_out(section: &'a Section<'b>, top: f64) -> Result<Self, DrawError> {
        let surfaces = section.surfaces();
        let highest = surfaces.iter().map(|(_, s)| peak(s)).fold(0.0, f64::max);
        let across = surfaces
            .iter()
            .flat_map(|(_, s)| s.iter())
            .map(|p| p.across.mm());
        let past = section.rim.past().mm();
        let (left, right) = across.fold((-past, section.width.mm() + past), |(l, r), x| {
            (l.min(x), r.max(x))
        });
        let scale = ((WIDTH - 2.0 * PAD) / (right - left)).min(DOME_MOST / highest);
        let thickness = section.drawn_thickness().mm() * scale;
        let origin = Point::new(
            WIDTH / 2.0 - f64::midpoint(left, right) * scale,
            top + LABEL + LEADER + highest * scale,
        );
        let mut blank = Self {
            section,
            scale,
            origin,
            slab: thickness.min(BLANK_MOST),
            broken: thickness > BLANK_MOST,
            labels: Vec::new(),
        };
        blank.labels = blank.lay_labels(top)?;
        Ok(blank)
    }

    /// Lower end of everything, `[px]`.
    pub(super) fn bottom(&self) -> f64 {
        self.origin.y + self.slab + DIMENSION
    }

    /// The right-hand end of the blank's top.
    fn edge(&self) -> Point {
        self.place(At {
            across: self.section.width,
            up: Length::ZERO,
        })
    }

    /// Where the target's surface meets the edge, on the right.
    pub(super) fn hold(&self) -> Point {
        self.place(self.section.hold())
    }

    fn place(&self, at: At) -> Point {
        Point::new(
            self.origin.x + at.across.mm() * self.scale,
            self.origin.y - at.up.mm() * self.scale,
        )
    }

    fn lay_labels(&self, top: f64) -> Result<Vec<Label>, DrawError> {
        let surfaces = self.section.surfaces();
        let mut labels = Vec::with_capacity(surfaces.len());
        let mut wanted = Vec::with_capacity(surfaces.len());
        let mut share = 0.5 / surfaces.iter().map(|_| 1.0).sum::<f64>();
        let step = share * 2.0;
        for (mark, points) in surfaces {
            let words = wording::label(self.section, mark, points);
            let breadth = width(&words[0], font::BODY, Weight::Bold)?.max(width(
                &words[1],
                font::BODY,
                Weight::Regular,
            )?);
            let tip = self.on(points, self.section.beside_gaps(self.section.width * share));
            wanted.push(Wanted {
                middle: tip.x,
                width: breadth,
            });
            labels.push(Label {
                mark,
                words,
                at: Point::new(tip.x, top),
                tip,
            });
            share += step;
        }
        let row = Row {
            from: PAD,
            to: WIDTH - PAD,
            gap: 28.0,
        };
        for (label, middle) in
            labels
                .iter_mut()
                .zip(spread("the labels over the dome", &wanted, row)?)
        {
            label.at.x = middle;
        }
        Ok(labels)
    }

    /// The highest place of a surface at a distance across.
    fn on(&self, points: &[At], across: Length) -> Point {
        let x = across.mm();
        let up = points.windows(2).filter_map(|pair| {
            let (a, b) = (pair[0].across.mm(), pair[1].across.mm());
            let t = (x - a) / (b - a);
            (0.0..=1.0)
                .contains(&t)
                .then(|| pair[0].up + (pair[1].up - pair[0].up) * t)
        });
        let up = up.fold(Length::ZERO, |most, up| if up > most { up } else { most });
        self.place(At { across, up })
    }

    pub(super) fn draw(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        for (mark, points) in self.filled() {
            let shape = self.curve(&self.section.enclosed(points));
            canvas.fill(&shape, tint(mark))?;
        }
        self.draw_slab(canvas)?;
        self.draw_gaps(canvas)?;
        for (mark, points) in self.section.surfaces() {
            for run in self.section.runs(points) {
                canvas.line(&self.curve(run), mark.pen())?;
            }
        }
        self.draw_labels(canvas)?;
        self.draw_dimension(canvas)
    }

    /// Surfaces whose coating is filled in, the highest first.
    fn filled(&self) -> Vec<(Mark, &[At])> {
        fills(self.section)
    }

    fn curve(&self, points: &[At]) -> Vec<Point> {
        line::thinned(
            &points.iter().map(|p| self.place(*p)).collect::<Vec<_>>(),
            0.04,
        )
    }

    fn draw_slab(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let upper = self.section.upper_side();
        let mut shape: Vec<Point> = upper.iter().map(|at| self.place(*at)).collect();
        let (corner, next, edge) = (shape[0], shape[1], shape[shape.len() - 1]);
        let space = Space {
            left: corner.x,
            top: self.origin.y,
            right: edge.x,
            bottom: self.origin.y + self.slab,
        };
        let foot = if self.broken {
            wave(space)
        } else {
            vec![
                Point::new(space.right, space.bottom),
                Point::new(space.left, space.bottom),
            ]
        };
        let mut sides = vec![foot[foot.len() - 1]];
        sides.extend(&shape);
        sides.push(foot[0]);
        shape.extend(&foot);
        canvas.fill(&shape, self.section.body.ground())?;
        let soft = self.section.rim.radius().mm() * self.scale;
        let cut = Space {
            left: space.left + soft,
            right: space.right - soft,
            bottom: space.bottom - if self.broken { 3.0 } else { 0.0 },
            ..space
        };
        for stroke in self.section.body.strokes(cut) {
            canvas.line(&stroke, self.section.body.pen())?;
        }
        let outline = Pen::solid(INK, 1.2);
        if self.broken {
            canvas.line(&foot, Pen::solid(INK, 0.7))?;
            canvas.line(&sides, outline)
        } else {
            // past its beginning, for a join there like the others
            shape.extend([corner, next]);
            canvas.line(&shape, outline)
        }
    }

    /// Takes the blank away where the cut meets none.
    fn draw_gaps(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        // The blank's lines, and the wave where it goes on below.
        let (line, wave) = (1.0, if self.broken { 5.0 } else { 1.0 });
        for gap in &self.section.gaps {
            let [left, right] = gap.map(|across| {
                let up = Length::ZERO;
                self.place(At { across, up }).x
            });
            let (top, bottom) = (self.origin.y - line, self.origin.y + self.slab + wave);
            let corners = [(left, top), (right, top), (right, bottom), (left, bottom)];
            canvas.fill(&corners.map(|(x, y)| Point::new(x, y)), PAPER)?;
            for x in [left, right] {
                let side = [self.origin.y, self.origin.y + self.slab].map(|y| Point::new(x, y));
                canvas.line(&side, Pen::solid(INK, 1.2))?;
            }
        }
        Ok(())
    }

    fn draw_labels(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        for label in &self.labels {
            let pen = label.mark.pen();
            let start = Point::new(label.at.x, label.at.y + LABEL + 2.0);
            canvas.line(&[start, label.tip], Pen::solid(MIST, 0.9))?;
            canvas.dot(label.tip, 3.4, pen.colour)?;
            let text = Text::plain(font::BODY, pen.colour).at(Anchor::Middle);
            canvas.text(
                &label.words[0],
                Point::new(label.at.x, label.at.y + 14.0),
                text.bold(),
            )?;
            let numbers = Text::plain(font::BODY, INK).at(Anchor::Middle);
            canvas.text(
                &label.words[1],
                Point::new(label.at.x, label.at.y + 33.0),
                numbers,
            )?;
        }
        Ok(())
    }

    /// The blank's width between arrows, and its thickness in words.
    fn draw_dimension(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let (left, right) = (self.origin.x, self.edge().x);
        let foot = self.origin.y + self.slab;
        let y = foot + 15.0;
        let pen = Pen::solid(SLATE, 0.9);
        canvas.line(&[Point::new(left, y), Point::new(right, y)], pen)?;
        for (x, inward) in [(left, 1.0), (right, -1.0)] {
            canvas.line(&[Point::new(x, foot + 5.0), Point::new(x, y + 5.0)], pen)?;
            let back = x + inward * 9.0;
            canvas.fill(
                &[
                    Point::new(x, y),
                    Point::new(back, y - 2.6),
                    Point::new(back, y + 2.6),
                ],
                SLATE,
            )?;
        }
        let cut = if self.broken { ", cut short here" } else { "" };
        let words = format!(
            "{} across, {}{}{cut}; drawn to scale",
            self.section.width.show(self.section.units),
            self.section.body_words(),
            self.section.rim_words()
        );
        let fit = Fit {
            size: font::SMALL,
            weight: Weight::Regular,
            room: WIDTH - 2.0 * PAD,
            lines: 2,
        };
        let text = Text::plain(font::SMALL, SLATE).at(Anchor::Middle);
        let mut foot = y + 20.0;
        for said in wrap(&words, fit)? {
            canvas.text(&said, Point::new(f64::midpoint(left, right), foot), text)?;
            foot += 16.0;
        }
        Ok(())
    }
}

/// The colour of the coating under a surface.
pub(super) const fn tint(mark: Mark) -> crate::show::draw::palette::Colour {
    match mark {
        Mark::Dry => POOL,
        Mark::Target => SHALLOW,
        Mark::PullBack | Mark::Brim => SPRAY,
    }
}

/// Surfaces to fill under, in the order to fill them: what could be added, what is there, what
/// stays.
pub(super) fn fills<'s>(section: &'s Section<'_>) -> Vec<(Mark, &'s [At])> {
    let order = [Mark::Brim, Mark::Target, Mark::Dry];
    let surfaces = section.surfaces();
    order
        .iter()
        .filter_map(|mark| surfaces.iter().find(|(m, _)| m == mark).copied())
        .collect()
}

/// A wavy foot, right to left: the blank goes on.
fn wave(space: Space) -> Vec<Point> {
    let mut out = Vec::new();
    let mut x = space.right;
    while x > space.left {
        let phase = (x - space.left) / 64.0 * std::f64::consts::TAU;
        out.push(Point::new(x, space.bottom - 1.5 + 1.5 * phase.sin()));
        x -= 4.0;
    }
    out.push(Point::new(space.left, space.bottom - 1.5));
    out
}
