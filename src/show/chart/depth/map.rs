//! The map: bands, lines, thin places, and the notes beside it.

use crate::show::draw::font;
use crate::show::draw::palette::{self, HEATHER, INK, SLATE, TIDE};
use crate::show::draw::place::Space;
use crate::show::draw::{Canvas, Dash, DrawError, Pen, Point, Text, figure, line};

use super::notes::{self, Note};
use super::{Depth, wording};
use crate::quantity::Length;
use crate::show::chart::frame::{PAD, WIDTH};
use crate::show::chart::scale::{FromAbove, frame};

/// The most that the map takes up, `[px]`.
const MOST: (f64, f64) = (560.0, 430.0);
/// Room for the notes, and between them and the map, `[px]`.
const NOTES: f64 = 250.0;
const ASIDE: f64 = 60.0;
/// The scale's own height, `[px]`.
const SCALE: f64 = 58.0;

/// A map laid out.
pub(super) struct Map<'a, 'b> {
    depth: &'a Depth<'b>,
    view: FromAbove,
    loops: Vec<Vec<Point>>,
    space: Space,
    notes: Vec<Note>,
}

impl<'a, 'b> Map<'a, 'b> {
    /// Fits the map under `top`, `[px]`, with its notes on its right.
    pub(super) fn lay_out(depth: &'a Depth<'b>, top: f64) -> Result<Self, DrawError> {
        let rings = depth.bands.iter().flat_map(|band| band.rings.iter());
        let points = depth.outline.iter().chain(rings).flatten();
        let size = frame(points);
        let [across, up] = [0, 1].map(|k| size[1][k] - size[0][k]);
        let scale = (MOST.0 / across).min(MOST.1 / up);
        let (wide, high) = (across * scale, up * scale);
        let left = (WIDTH - wide - ASIDE - NOTES) / 2.0;
        // Notes may need more room than a narrow strip is high.
        let at = |top: f64| Space {
            left,
            top,
            right: left + wide,
            bottom: top + high,
        };
        let mut map = Self {
            depth,
            view: FromAbove::fit(size, at(top)),
            loops: Vec::new(),
            space: at(top),
            notes: Vec::new(),
        };
        map.loops = map.shapes(depth.outline);
        let need = notes::height(&map.noted()?);
        let room = high.max(need);
        map.space = at(top + (room - high) / 2.0);
        map.view = FromAbove::fit(size, map.space);
        map.loops = map.shapes(depth.outline);
        map.notes = map.noted()?;
        notes::stack(&mut map.notes, (top, top + room))?;
        map.space.top = top;
        map.space.bottom = top + room;
        Ok(map)
    }

    /// Lower end of everything, `[px]`.
    pub(super) fn bottom(&self) -> f64 {
        self.space.bottom + SCALE
    }

    fn shapes(&self, rings: &[Vec<[Length; 2]>]) -> Vec<Vec<Point>> {
        rings.iter().map(|ring| self.thinned(ring)).collect()
    }

    /// A closed line without the points that it doesn't need, its first not repeated.
    fn thinned(&self, ring: &[[Length; 2]]) -> Vec<Point> {
        let mut points = self.view.line(ring);
        points.extend(points.first().copied());
        let mut points = line::thinned(&points, 0.05);
        points.pop();
        points
    }

    fn noted(&self) -> Result<Vec<Note>, DrawError> {
        let depth = self.depth;
        let deepest = self.view.place(depth.deepest);
        let words = wording::deepest(depth);
        let mut notes = vec![Note::new(&words, (TIDE, true), deepest, NOTES)?];
        let mut up = deepest.y;
        let mut lines: Vec<_> = depth.lines().collect();
        lines.reverse();
        for band in lines {
            up -= 34.0;
            let rings = self.shapes(band.rings);
            let tip = rightmost(&rings, up);
            let half = wording::line(depth, band);
            notes.push(Note::new(&half, (INK, false), tip, NOTES)?);
        }
        if let Some(words) = wording::thin_corner(depth) {
            let tips = depth.thin.iter().map(|corner| {
                let [x, y] = [0, 1].map(|k| corner.tip[k] + corner.reach * corner.inward[k]);
                self.view.place([x, y])
            });
            // The one furthest right and down has nothing before it.
            let tip = tips.max_by(|a, b| (a.x + a.y).total_cmp(&(b.x + b.y)));
            notes.extend(
                tip.map(|tip| Note::new(&words, (INK, false), tip, NOTES))
                    .transpose()?,
            );
        }
        if let Some(words) = wording::thin_edge(depth) {
            let middles = depth.thin_edge.iter().filter_map(|l| l.get(l.len() / 2));
            let places = middles.map(|at| self.view.place(*at));
            let low = self.space.bottom - self.space.height() / 4.0;
            let near = |p: &Point| p.x - (p.y - low).abs();
            let tip = places.max_by(|a, b| near(a).total_cmp(&near(b)));
            let looks = (HEATHER, false);
            notes.extend(
                tip.map(|tip| Note::new(&words, looks, tip, NOTES))
                    .transpose()?,
            );
        }
        Ok(notes)
    }

    pub(super) fn draw(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        self.draw_bands(canvas)?;
        self.draw_thin(canvas)?;
        let wide = if self.depth.wall > Length::ZERO {
            3.0
        } else {
            1.4
        };
        for edge in &self.loops {
            canvas.line(&closed(edge), Pen::solid(INK, wide))?;
        }
        let dotted = Pen {
            colour: HEATHER,
            width: 4.5,
            dash: Dash::Dots,
        };
        for stretch in self.depth.thin_edge {
            canvas.line(&self.view.line(stretch), dotted)?;
        }
        notes::draw(&self.notes, self.space.right + ASIDE, canvas)?;
        self.draw_scale(canvas)
    }

    fn draw_bands(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let wall = self.depth.wall;
        let how_deep = |than: Length| (than - wall) / (self.depth.peak - wall);
        canvas.fill(&line::stitched(&self.loops), palette::depth(0.0))?;
        for band in &self.depth.bands {
            let shape = line::stitched(&self.shapes(band.rings));
            canvas.fill(&shape, palette::depth(how_deep(band.than)))?;
        }
        for band in self.depth.lines() {
            let half = (band.than / self.depth.peak - 0.5).abs() < 1e-9;
            let pen = Pen::solid(TIDE, if half { 2.0 } else { 0.9 });
            for ring in self.shapes(band.rings) {
                canvas.line(&closed(&ring), pen)?;
            }
        }
        Ok(())
    }

    /// Hatches the corners, each as far as its arc.
    fn draw_thin(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let discs: Vec<(Point, f64)> = (self.depth.thin.iter())
            .map(|corner| {
                let radius = corner.reach.mm() * self.view.scale;
                (self.view.place(corner.tip), radius)
            })
            .collect();
        if discs.is_empty() {
            return Ok(());
        }
        for stroke in line::hatched(&self.loops, 8.0) {
            for part in within(stroke, &discs) {
                canvas.line(&part, Pen::solid(SLATE, 0.8))?;
            }
        }
        for &(tip, radius) in &discs {
            let arc: Vec<Point> = (0..=180)
                .map(|i| {
                    let (sin, cos) = (f64::from(i) * 2.0).to_radians().sin_cos();
                    Point::new(tip.x + radius * cos, tip.y + radius * sin)
                })
                .collect();
            for run in
                arc.chunk_by(|a, b| line::holds(&self.loops, *a) && line::holds(&self.loops, *b))
            {
                if run.len() > 1 {
                    canvas.line(run, Pen::solid(SLATE, 1.0))?;
                }
            }
        }
        Ok(())
    }

    /// A bar of a round length, and what the map is of.
    fn draw_scale(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let units = self.depth.units;
        let one = wording::in_unit(units, Length::from_mm(1.0));
        let per_unit = self.view.scale / one;
        let whole = (self.space.right - self.space.left) / per_unit;
        let length = figure::step(whole / 3.0, 1.0);
        let y = self.space.bottom + 30.0;
        let (left, right) = (PAD, PAD + length * per_unit);
        let bar = [(left, -5.0), (left, 0.0), (right, 0.0), (right, -5.0)];
        let bar = bar.map(|(x, up)| Point::new(x, y + up));
        canvas.line(&bar, Pen::solid(INK, 1.4))?;
        let small = Text::plain(font::SMALL, SLATE);
        let said = format!("{} {}", figure::trimmed(length, 6), wording::unit(units));
        canvas.text(&said, Point::new(right + 10.0, y + 2.0), small)?;
        let what = format!("{}, drawn to scale", self.depth.blank);
        canvas.text(&what, Point::new(PAD, y + 24.0), small)
    }
}

/// Where a level crosses shapes furthest right; else their point furthest right.
fn rightmost(shapes: &[Vec<Point>], level: f64) -> Point {
    let mut best: Option<Point> = None;
    let mut furthest = Point::new(f64::NEG_INFINITY, level);
    for shape in shapes {
        let next = shape.iter().cycle().skip(1);
        for (a, b) in shape.iter().zip(next) {
            if a.x > furthest.x {
                furthest = *a;
            }
            if (a.y > level) != (b.y > level) {
                let x = a.x + (level - a.y) / (b.y - a.y) * (b.x - a.x);
                if best.is_none_or(|p| x > p.x) {
                    best = Some(Point::new(x, level));
                }
            }
        }
    }
    best.unwrap_or(furthest)
}

fn closed(shape: &[Point]) -> Vec<Point> {
    // Past its beginning, for a join there like the others.
    shape.iter().chain(shape.iter().take(2)).copied().collect()
}

/// The parts of a stroke inside any of some discs.
fn within([a, b]: [Point; 2], discs: &[(Point, f64)]) -> Vec<[Point; 2]> {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let square = dx * dx + dy * dy;
    let mut spans: Vec<(f64, f64)> = discs
        .iter()
        .filter_map(|(middle, radius)| {
            let foot = ((middle.x - a.x) * dx + (middle.y - a.y) * dy) / square;
            let off = (middle.x - a.x - foot * dx).hypot(middle.y - a.y - foot * dy);
            if off >= *radius {
                return None;
            }
            let half = ((radius * radius - off * off) / square).sqrt();
            let (from, to) = ((foot - half).max(0.0), (foot + half).min(1.0));
            (from < to).then_some((from, to))
        })
        .collect();
    spans.sort_by(|p, q| p.0.total_cmp(&q.0));
    let mut parts: Vec<(f64, f64)> = Vec::new();
    for (from, to) in spans {
        match parts.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(to),
            _ => parts.push((from, to)),
        }
    }
    let at = |t: f64| Point::new(a.x + t * dx, a.y + t * dy);
    parts
        .into_iter()
        .map(|(from, to)| [at(from), at(to)])
        .collect()
}
