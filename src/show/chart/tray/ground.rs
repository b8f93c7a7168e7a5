//! The tray and the pieces on it.

use crate::geometry::Form;
use crate::quantity::{Length, Show};
use crate::show::draw::font::{self, Weight, width};
use crate::show::draw::palette::{Colour, INK, MIST, PAPER, POOL, SHALLOW, SLATE, TIDE};
use crate::show::draw::place::{Row, Space, Wanted, spread};
use crate::show::draw::{Anchor, Canvas, Dash, DrawError, Pen, Point, Text, line};
use crate::space::Place;

use super::{Full, wording};
use crate::show::chart::frame::{PAD, WIDTH};

/// The most that the tray takes up, `[px]`.
const MOST: (f64, f64) = (780.0, 480.0);
/// From the labels' upper end down to the tray, `[px]`.
const LABELS: f64 = 50.0;
/// The most pieces that are drawn.
const MOST_DRAWN: f64 = 550.0;
/// The most pieces that are drawn with an outline of their own.
const MOST_OUTLINED: f64 = 250.0;
/// The most points that are drawn twice: filled, and as an outline.
const MOST_OUTLINED_POINTS: f64 = 2500.0;
/// Points of all outlines together.
const MOST_POINTS: f64 = 1500.0;

/// A tray laid out.
pub(super) struct Drawn<'a, 'b> {
    full: &'a Full<'b>,
    /// The tray, or the corner of it that is drawn.
    space: Space,
    scale: f64,
    /// Whether its second side lies across.
    turned: bool,
    /// The share of either side that is drawn.
    part: f64,
    labels: Vec<Label>,
}

struct Label {
    words: String,
    middle: f64,
    tip: Point,
}

impl<'a, 'b> Drawn<'a, 'b> {
    /// Fits the tray under `top`, `[px]`.
    pub(super) fn lay_out(full: &'a Full<'b>, top: f64) -> Result<Self, DrawError> {
        let [x, y] = full.ground.size.map(Length::mm);
        let turned = y > x;
        let count = full.places.iter().map(|_| 1.0).sum::<f64>();
        let part = (MOST_DRAWN / count).sqrt().min(1.0);
        let (across, up) = (x.max(y) * part, x.min(y) * part);
        let scale = (MOST.0 / across).min(MOST.1 / up);
        let left = (WIDTH - across * scale) / 2.0;
        let mut drawn = Self {
            full,
            space: Space {
                left,
                top: top + LABELS,
                right: left + across * scale,
                bottom: top + LABELS + up * scale,
            },
            scale,
            turned,
            part,
            labels: Vec::new(),
        };
        drawn.labels = drawn.lay_labels()?;
        Ok(drawn)
    }

    /// Lower end of everything, `[px]`.
    pub(super) fn bottom(&self) -> f64 {
        let notes = if wording::level(self.full).is_some() {
            20.0
        } else {
            0.0
        };
        self.space.bottom + 54.0 + notes
    }

    /// A place on the tray, mm from its corner, y up.
    fn place(&self, [x, y]: [f64; 2]) -> Point {
        if self.turned {
            // a quarter clockwise: the second side lies across
            Point::new(
                self.space.left + y * self.scale,
                self.space.top + x * self.scale,
            )
        } else {
            let up = self.full.ground.size[1].mm() * self.scale;
            let top = self.space.top + up - y * self.scale;
            Point::new(self.space.left + x * self.scale, top)
        }
    }

    /// The drawn outlines of a piece's edge and its holes, about the middle of its box, mm.
    fn shapes(&self) -> Vec<Vec<[f64; 2]>> {
        let outline = self.full.outline;
        let middle = outline.middle();
        let pieces = self.full.places.iter().map(|_| 1.0).sum::<f64>();
        let most = MOST_POINTS / pieces.min(MOST_DRAWN);
        let mut tolerance = 0.05 / self.scale;
        loop {
            let loops = outline.drawn(Length::from_mm(tolerance));
            let points = loops.iter().flatten().map(|_| 1.0).sum::<f64>();
            // Half a pixel can be seen; no coarser, however many there are.
            if points <= most || tolerance * self.scale > 0.4 {
                return loops.iter().map(|l| self.thinned(l, middle)).collect();
            }
            tolerance *= 1.5;
        }
    }

    /// A closed line about a middle, mm, without the points that can't be seen to be missing.
    fn thinned(&self, ring: &[[Length; 2]], middle: [Length; 2]) -> Vec<[f64; 2]> {
        let pixel = |p: &[Length; 2]| {
            let [x, y] = [0, 1].map(|k| (p[k] - middle[k]).mm() * self.scale);
            Point::new(x, y)
        };
        let closed: Vec<Point> = ring.iter().chain(ring.first()).map(pixel).collect();
        let mut points = line::thinned(&closed, 0.12);
        points.pop();
        let back = |p: &Point| [p.x / self.scale, p.y / self.scale];
        points.iter().map(back).collect()
    }

    fn put(&self, shape: &[[f64; 2]], place: &Place) -> Vec<Point> {
        let (sin, cos) = place.turned.rad().sin_cos();
        let [x, y] = place.at.map(Length::mm);
        let at = |p: &[f64; 2]| [x + p[0] * cos - p[1] * sin, y + p[0] * sin + p[1] * cos];
        shape.iter().map(|p| self.place(at(p))).collect()
    }

    /// Labels over the tray, and what they point at.
    fn lay_labels(&self) -> Result<Vec<Label>, DrawError> {
        let full = self.full;
        let strip = full.ground.margin.mm() * self.scale / 2.0;
        let margin = Label {
            words: wording::margin(full),
            middle: 0.0,
            tip: Point::new(self.space.right - strip.max(6.0), self.space.top + strip),
        };
        let mut labels = Vec::new();
        if let Some(tip) = self.gap() {
            labels.push(Label {
                words: wording::gap(full),
                middle: 0.0,
                tip,
            });
        }
        labels.push(margin);
        let mut wanted = Vec::new();
        for label in &labels {
            wanted.push(Wanted {
                middle: label.tip.x,
                width: width(&label.words, font::BODY, Weight::Regular)?,
            });
        }
        let row = Row {
            from: PAD,
            to: WIDTH - PAD,
            gap: 28.0,
        };
        let middles = spread("the labels over the tray", &wanted, row)?;
        for (label, middle) in labels.iter_mut().zip(middles) {
            label.middle = middle;
        }
        Ok(labels)
    }

    /// The middle of the narrowest gap among the uppermost pieces, right of the first.
    fn gap(&self) -> Option<Point> {
        let edge = self.shapes().into_iter().next()?;
        let mut upper: Vec<Vec<Point>> = (self.full.places.iter())
            .map(|place| self.put(&edge, place))
            .filter(|shape| shape.iter().all(|p| self.shows(*p)))
            .collect();
        let top = |shape: &Vec<Point>| shape.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
        upper.sort_by(|a, b| top(a).total_cmp(&top(b)));
        upper.truncate(6);
        let mut best: Option<(f64, Point)> = None;
        for (i, one) in upper.iter().enumerate() {
            for other in &upper[i + 1..] {
                for a in one {
                    for b in other {
                        let far = (a.x - b.x).hypot(a.y - b.y);
                        // the uppermost of those that are as narrow, to half a pixel
                        if best.is_none_or(|(known, _)| far < known - 0.5) {
                            let middle =
                                Point::new(f64::midpoint(a.x, b.x), f64::midpoint(a.y, b.y));
                            best = Some((far, middle));
                        }
                    }
                }
            }
        }
        best.map(|(_, middle)| middle)
    }

    fn shows(&self, p: Point) -> bool {
        let space = self.space;
        p.x >= space.left && p.x <= space.right && p.y >= space.top && p.y <= space.bottom
    }

    pub(super) fn draw(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        self.draw_margin(canvas)?;
        self.draw_pieces(canvas)?;
        self.draw_edge(canvas)?;
        self.draw_labels(canvas)?;
        self.draw_words(canvas)
    }

    /// The free strip along the edge ends at a dotted line.
    fn draw_margin(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let margin = self.full.ground.margin.mm();
        if margin <= 0.0 {
            return Ok(());
        }
        let [x, y] = self.full.ground.size.map(Length::mm);
        let corners = [
            [margin, margin],
            [x - margin, margin],
            [x - margin, y - margin],
            [margin, y - margin],
            [margin, margin],
        ];
        let pen = Pen {
            colour: MIST,
            width: 0.9,
            dash: Dash::Dots,
        };
        let line = corners.map(|p| self.place(p));
        for part in line::inside(&line, self.space) {
            canvas.line(&part, pen)?;
        }
        Ok(())
    }

    fn draw_pieces(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let shapes = self.shapes();
        let pieces = self.full.places.iter().map(|_| 1.0).sum::<f64>();
        let points = shapes.iter().flatten().map(|_| 1.0).sum::<f64>();
        let round = match *self.full.outline.form() {
            Form::Round { diameter } => Some(diameter.mm() / 2.0 * self.scale),
            _ => None,
        };
        // Outlines are left out where all of them would be longer than a page can carry.
        let many =
            pieces > MOST_OUTLINED || (round.is_none() && pieces * points > MOST_OUTLINED_POINTS);
        for place in self.full.places {
            let edges: Vec<Vec<Point>> = shapes.iter().map(|s| self.put(s, place)).collect();
            let Some((edge, holes)) = edges.split_first() else {
                continue;
            };
            let whole = edge.iter().all(|p| self.shows(*p));
            if let Some(radius) = round.filter(|_| whole) {
                let middle = self.place(place.at.map(Length::mm));
                if many {
                    canvas.dot(middle, radius, POOL)?;
                } else {
                    canvas.dot(middle, radius, INK)?;
                    canvas.dot(middle, (radius - 1.0).max(radius / 2.0), SHALLOW)?;
                }
            } else {
                let colour = if many { POOL } else { SHALLOW };
                self.draw_shape(canvas, edge, (colour, many))?;
            }
            for hole in holes {
                self.draw_shape(canvas, hole, (PAPER, many))?;
            }
        }
        Ok(())
    }

    /// What of a closed shape is in the picture, outlined unless it is one of many.
    fn draw_shape(
        &self,
        canvas: &Canvas<'_>,
        shape: &[Point],
        (colour, many): (Colour, bool),
    ) -> Result<(), DrawError> {
        let seen = line::shape_inside(shape, self.space);
        canvas.fill(&seen, colour)?;
        if many || seen.is_empty() {
            return Ok(());
        }
        // past its beginning, for a join there like the others
        let outline: Vec<Point> = seen.iter().chain(seen.iter().take(2)).copied().collect();
        canvas.line(&outline, Pen::solid(INK, 1.0))
    }

    /// The tray's edge; open where only a corner is drawn.
    fn draw_edge(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let [x, y] = self.full.ground.size.map(Length::mm);
        let corners = [[0.0, 0.0], [x, 0.0], [x, y], [0.0, y], [0.0, 0.0], [x, 0.0]];
        let line = corners.map(|p| self.place(p));
        if self.part < 1.0 {
            let slack = Space {
                left: self.space.left - 0.5,
                top: self.space.top - 0.5,
                ..self.space
            };
            for part in line::inside(&line, slack) {
                canvas.line(&part, Pen::solid(INK, 2.0))?;
            }
            return Ok(());
        }
        canvas.line(&line, Pen::solid(INK, 2.0))
    }

    fn draw_labels(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        for label in &self.labels {
            let foot = Point::new(label.middle, self.space.top - 26.0);
            let start = Point::new(label.middle, foot.y + 6.0);
            canvas.line(&[start, label.tip], Pen::solid(SLATE, 0.8))?;
            canvas.dot(label.tip, 2.6, TIDE)?;
            let text = Text::plain(font::BODY, INK).at(Anchor::Middle);
            canvas.text(&label.words, foot, text)?;
        }
        Ok(())
    }

    /// The tray's sides, how the pieces lie, and how level it must be.
    fn draw_words(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let [x, y] = self.full.ground.size;
        let (across, up) = if self.turned { (y, x) } else { (x, y) };
        let Space {
            left,
            top,
            right,
            bottom,
        } = self.space;
        let small = Text::plain(font::SMALL, SLATE);
        let (middle, units) = (f64::midpoint(left, right), self.full.units);
        if self.part >= 1.0 {
            let under = Point::new(middle, bottom + 20.0);
            canvas.text(&across.show(units), under, small.at(Anchor::Middle))?;
            let beside = Point::new(right + 10.0, f64::midpoint(top, bottom) + 4.5);
            canvas.text(&up.show(units), beside, small)?;
        }
        let drawn = if self.part < 1.0 {
            format!(
                "A corner of the tray, {}, drawn to scale",
                wording::size(self.full)
            )
        } else {
            "Drawn to scale".to_owned()
        };
        let note = format!(
            "{drawn}; blank: {}; laid {}.",
            self.full.blank,
            wording::how(self.full.how)
        );
        canvas.text(&note, Point::new(PAD, bottom + 46.0), small)?;
        if let Some(level) = wording::level(self.full) {
            canvas.text(&level, Point::new(PAD, bottom + 66.0), small)?;
        }
        Ok(())
    }
}
