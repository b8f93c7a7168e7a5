//! The right-hand edge, larger: the edge angles as they are.

use crate::quantity::Length;
use crate::show::draw::font::{self, Weight, width};
use crate::show::draw::palette::{INK, PAPER, SLATE};
use crate::show::draw::place::Space;
use crate::show::draw::{Anchor, Canvas, DrawError, Pen, Point, Text, line};

use super::{At, Mark, PAD, Section, WIDTH, blank, peak, wording};

/// The panel's height with its heading, `[px]`.
pub(super) const HEIGHT: f64 = 246.0;
/// The window's size, `[px]`.
const WINDOW: (f64, f64) = (420.0, 220.0);
/// How far right and how far down in the window the edge lies, as shares.
const EDGE: (f64, f64) = (0.84, 0.76);
/// The protractor's radius, `[px]`.
const RADIUS: f64 = 76.0;
/// Magnifications to choose from.
const TIMES: [f64; 9] = [20.0, 15.0, 12.0, 10.0, 8.0, 6.0, 4.0, 3.0, 2.0];

pub(super) struct Edge<'a, 'b> {
    section: &'a Section<'b>,
    window: Space,
    /// The part of the whole piece that the window shows.
    shown: Space,
    times: f64,
    /// Pixels in a millimetre.
    scale: f64,
    angles: Vec<Reading>,
}

/// An edge angle and where its number stands.
struct Reading {
    mark: Mark,
    angle: f64,
    words: String,
    space: Space,
}

impl<'a, 'b> Edge<'a, 'b> {
    pub(super) fn lay_out(
        section: &'a Section<'b>,
        whole: &blank::Blank<'_, '_>,
        top: f64,
    ) -> Result<Self, DrawError> {
        let window = Space {
            left: WIDTH - PAD - WINDOW.0,
            right: WIDTH - PAD,
            top: top + HEIGHT - WINDOW.1,
            bottom: top + HEIGHT,
        };
        // The target's whole height stays in view; a higher surface may leave the window.
        let target = peak(&section.target.surface) * whole.scale;
        let room = WINDOW.1 * EDGE.1 * 0.94;
        let times = TIMES
            .into_iter()
            .find(|times| target * times <= room)
            .unwrap_or(2.0);
        let edge = whole.hold();
        let shown = Space {
            left: edge.x - WINDOW.0 * EDGE.0 / times,
            right: edge.x + WINDOW.0 * (1.0 - EDGE.0) / times,
            top: edge.y - WINDOW.1 * EDGE.1 / times,
            bottom: edge.y + WINDOW.1 * (1.0 - EDGE.1) / times,
        };
        let mut panel = Self {
            section,
            window,
            shown,
            times,
            scale: whole.scale * times,
            angles: Vec::new(),
        };
        panel.angles = panel.read_angles()?;
        Ok(panel)
    }

    fn edge(&self) -> Point {
        Point::new(
            self.window.left + WINDOW.0 * EDGE.0,
            self.window.top + WINDOW.1 * EDGE.1,
        )
    }

    fn place(&self, at: At) -> Point {
        let (edge, hold) = (self.edge(), self.section.hold());
        Point::new(
            edge.x + (at.across - hold.across).mm() * self.scale,
            edge.y - (at.up - hold.up).mm() * self.scale,
        )
    }

    /// A point at an angle inside the coating and a distance from the edge.
    fn out(&self, angle: f64, radius: f64) -> Point {
        let edge = self.edge();
        Point::new(edge.x - radius * angle.cos(), edge.y - radius * angle.sin())
    }

    /// Numbers just outside the protractor; further out, further in or lifted where two would meet.
    fn read_angles(&self) -> Result<Vec<Reading>, DrawError> {
        let mut angles: Vec<Reading> = Vec::new();
        let frame = Space {
            left: self.window.left + 4.0,
            right: self.window.right - 4.0,
            top: self.window.top + 4.0,
            bottom: self.edge().y - 5.0,
        };
        for (mark, level) in self.section.levels() {
            let words = wording::degrees(self.section, level);
            let half = width(&words, font::BODY, Weight::Bold)? / 2.0 + 5.0;
            let angle = level.edge_angle.rad();
            let space = places(half)
                .map(|(radius, lift)| {
                    let middle = self.out(angle, radius);
                    Space {
                        left: middle.x - half,
                        right: middle.x + half,
                        top: middle.y - lift - 10.0,
                        bottom: middle.y - lift + 10.0,
                    }
                })
                .find(|s| frame.holds(*s) && !angles.iter().any(|a| a.space.meets(*s)));
            let space = space.ok_or(DrawError::Crowded {
                what: "the edge angles",
                need: 2.0 * half,
                have: 0.0,
            })?;
            angles.push(Reading {
                mark,
                angle,
                words,
                space,
            });
        }
        Ok(angles)
    }

    pub(super) fn draw(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let head = format!("The edge, {:.0} times larger, and its angles", self.times);
        canvas.text(
            &head,
            Point::new(self.window.left, self.window.top - 12.0),
            Text::plain(font::HEAD, INK).bold(),
        )?;
        self.draw_coating(canvas)?;
        self.draw_slab(canvas)?;
        self.draw_surfaces(canvas)?;
        self.draw_protractor(canvas)?;
        for space in [self.window, self.shown] {
            canvas.line(&frame(space), Pen::solid(SLATE, 0.8))?;
        }
        Ok(())
    }

    fn curve(&self, points: &[At]) -> Vec<Point> {
        line::thinned(
            &points.iter().map(|p| self.place(*p)).collect::<Vec<_>>(),
            0.04,
        )
    }

    fn draw_coating(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        for (mark, points) in blank::fills(self.section) {
            canvas.fill(
                &line::shape_inside(&self.curve(&self.section.enclosed(points)), self.window),
                blank::tint(mark),
            )?;
        }
        Ok(())
    }

    fn draw_surfaces(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        for (mark, points) in self.section.surfaces() {
            for run in self.section.runs(points) {
                // From the edge inwards, so that every dash starts at the edge.
                let mut curve = self.curve(run);
                curve.reverse();
                for part in line::inside(&curve, self.window) {
                    canvas.line(&part, mark.pen())?;
                }
            }
        }
        Ok(())
    }

    fn draw_slab(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let upper = self.section.upper_side();
        let mut shape: Vec<Point> = upper.iter().map(|at| self.place(*at)).collect();
        let (left, right) = (shape[0], shape[shape.len() - 1]);
        let foot = At {
            across: Length::ZERO,
            up: self.section.drawn_thickness() * -1.0,
        };
        let bottom = self.place(foot).y;
        shape.extend([
            Point::new(right.x, bottom),
            Point::new(left.x, bottom),
            left,
        ]);
        canvas.fill(
            &line::shape_inside(&shape, self.window),
            self.section.body.ground(),
        )?;
        let soft = self.section.rim.radius().mm() * self.scale;
        let flat = self.place(At {
            up: Length::ZERO,
            ..foot
        });
        let cut = Space {
            left: left.x.max(self.window.left),
            right: right.x.min(self.window.right) - soft,
            top: flat.y.min(self.window.bottom),
            bottom: bottom.min(self.window.bottom),
        };
        for stroke in self.section.body.strokes(cut) {
            canvas.line(&stroke, self.section.body.pen())?;
        }
        for part in line::inside(&shape, self.window) {
            canvas.line(&part, Pen::solid(INK, 1.2))?;
        }
        self.draw_gaps(canvas, flat.y, bottom)
    }

    /// Takes the blank away, between its upper and its lower side, where the cut
    /// meets none.
    fn draw_gaps(&self, canvas: &Canvas<'_>, top: f64, bottom: f64) -> Result<(), DrawError> {
        for gap in &self.section.gaps {
            let [left, right] = gap.map(|across| {
                let up = Length::ZERO;
                self.place(At { across, up }).x
            });
            let corners = [
                (left, top - 1.0),
                (right, top - 1.0),
                (right, bottom + 1.0),
                (left, bottom + 1.0),
            ];
            let shape = corners.map(|(x, y)| Point::new(x, y));
            canvas.fill(&line::shape_inside(&shape, self.window), PAPER)?;
            for x in [left, right] {
                let side = [top, bottom].map(|y| Point::new(x, y));
                for part in line::inside(&side, self.window) {
                    canvas.line(&part, Pen::solid(INK, 1.2))?;
                }
            }
        }
        Ok(())
    }

    fn draw_protractor(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let widest = self.angles.iter().map(|a| a.angle).fold(0.0, f64::max);
        let arc: Vec<Point> = (0..=60)
            .map(|i| self.out(widest * f64::from(i) / 60.0, RADIUS))
            .collect();
        canvas.line(&arc, Pen::solid(INK, 0.8))?;
        for reading in &self.angles {
            let pen = Pen::solid(reading.mark.pen().colour, 1.0);
            let middle = f64::midpoint(reading.space.left, reading.space.right);
            let tag = Point::new(
                middle,
                f64::midpoint(reading.space.top, reading.space.bottom),
            );
            canvas.line(
                &[self.edge(), self.out(reading.angle, RADIUS + 8.0), tag],
                pen,
            )?;
        }
        for reading in &self.angles {
            let colour = reading.mark.pen().colour;
            canvas.fill(&frame(reading.space), PAPER)?;
            canvas.line(&frame(reading.space), Pen::solid(colour, 1.0))?;
            let middle = f64::midpoint(reading.space.left, reading.space.right);
            let foot = Point::new(middle, reading.space.bottom - 5.0);
            let text = Text::plain(font::BODY, colour).bold().at(Anchor::Middle);
            canvas.text(&reading.words, foot, text)?;
        }
        Ok(())
    }
}

/// Distances from the edge and lifts above the ray to try for a number `half` as wide, the best
/// first, `[px]`.
fn places(half: f64) -> impl Iterator<Item = (f64, f64)> {
    let beside = [0.0, 1.0, 2.0, 3.0].map(|n| RADIUS + 12.0 + half + n * (2.0 * half + 6.0));
    let inside = [RADIUS - 8.0 - half, RADIUS - 44.0];
    (0..6).flat_map(move |n| {
        let lift = 24.0 * f64::from(n);
        beside
            .into_iter()
            .chain(inside)
            .map(move |radius| (radius, lift))
    })
}

fn frame(space: Space) -> [Point; 5] {
    let (upper, lower) = (
        Point::new(space.left, space.top),
        Point::new(space.right, space.bottom),
    );
    [
        upper,
        Point::new(lower.x, upper.y),
        lower,
        Point::new(upper.x, lower.y),
        upper,
    ]
}
