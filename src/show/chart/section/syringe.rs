//! The fill window as volumes, on the barrel of a syringe.

use crate::show::draw::figure::{step, trimmed};
use crate::show::draw::font::{self, Weight, width};
use crate::show::draw::palette::{INK, MIST, PAPER, SHALLOW, SLATE, SPRAY, TIDE};
use crate::show::draw::place::{Fit, Row, Wanted, spread, wrap};
use crate::show::draw::{Anchor, Canvas, DrawError, Pen, Point, Text, clean};

use super::{Mark, Section, wording};

/// The panel's width, `[px]`.
const PANEL: f64 = 400.0;
/// Room for the tip, and for the plunger's rod, `[px]`.
const TIP: f64 = 34.0;
const ROD: f64 = 44.0;
/// Height of the barrel, `[px]`.
const BARREL: f64 = 60.0;

/// Where the panel begins and how large the picture is when the syringe is drawn alone, with its
/// name above and without the note under it, `[px]`.
pub(super) const PAD: f64 = 8.0;
pub(super) const ABOVE: f64 = -26.0;
pub(super) const SIZE: (u32, u32) = (416, 172);

pub(super) struct Syringe<'a, 'b> {
    section: &'a Section<'b>,
    corner: Point,
    /// The most that the scale shows, in the picture's unit.
    full: f64,
    labels: Vec<(Mark, [String; 2], f64)>,
}

impl<'a, 'b> Syringe<'a, 'b> {
    pub(super) fn lay_out(section: &'a Section<'b>, corner: Point) -> Result<Self, DrawError> {
        let levels = section.levels();
        let most = levels
            .iter()
            .map(|(_, l)| wording::in_unit(section.units, l.volume))
            .fold(0.0, f64::max);
        let mut syringe = Self {
            section,
            corner,
            full: most * 1.12,
            labels: Vec::new(),
        };
        let mut wanted = Vec::new();
        for (mark, level) in levels {
            let words = [
                says(mark).to_owned(),
                wording::volume(section, level.volume),
            ];
            let breadth = width(&words[0], font::BODY, Weight::Regular)?.max(width(
                &words[1],
                font::BODY,
                Weight::Bold,
            )?);
            wanted.push(Wanted {
                middle: syringe.x(wording::in_unit(section.units, level.volume)),
                width: breadth,
            });
            syringe.labels.push((mark, words, 0.0));
        }
        let row = Row {
            from: corner.x,
            to: corner.x + PANEL,
            gap: 14.0,
        };
        for (label, middle) in
            syringe
                .labels
                .iter_mut()
                .zip(spread("the labels over the syringe", &wanted, row)?)
        {
            label.2 = middle;
        }
        Ok(syringe)
    }

    /// Where a volume in the picture's unit lies, `[px]`.
    fn x(&self, volume: f64) -> f64 {
        self.corner.x + TIP + volume / self.full * (PANEL - TIP - ROD)
    }

    fn top(&self) -> f64 {
        self.corner.y + 108.0
    }

    pub(super) fn draw(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let known = self.section.pull_back.is_some() || self.section.brim.is_some();
        let head = if known { "The fill window" } else { "The fill" };
        canvas.text(
            head,
            Point::new(self.corner.x, self.corner.y + 14.0),
            Text::plain(font::HEAD, INK).bold(),
        )?;
        self.draw_scale(canvas)?;
        let note = Point::new(self.corner.x, self.corner.y + 240.0);
        canvas.text(
            &wording::spare(self.section),
            note,
            Text::plain(font::BODY, INK),
        )
    }

    /// The piece's name, and the syringe without more words.
    pub(super) fn draw_alone(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let name = clean(self.section.piece);
        let fit = Fit {
            size: font::HEAD,
            weight: Weight::Bold,
            room: PANEL,
            lines: 1,
        };
        let name = wrap(&name, fit)?.into_iter().next().unwrap_or_default();
        canvas.text(
            &name,
            Point::new(self.corner.x, 16.0),
            Text::plain(font::HEAD, INK).bold(),
        )?;
        self.draw_scale(canvas)
    }

    fn draw_scale(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        self.draw_barrel(canvas)?;
        self.draw_ticks(canvas)?;
        self.draw_labels(canvas)
    }

    fn draw_barrel(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let (top, foot, middle) = (self.top(), self.top() + BARREL, self.top() + BARREL / 2.0);
        let at = |level: &super::Level| self.x(wording::in_unit(self.section.units, level.volume));
        let (zero, full, target) = (self.x(0.0), self.x(self.full), at(&self.section.target));
        let block = |left: f64, right: f64, up: f64, down: f64| {
            [
                Point::new(left, up),
                Point::new(right, up),
                Point::new(right, down),
                Point::new(left, down),
                Point::new(left, up),
            ]
        };
        let tip = [
            Point::new(zero, middle - 7.0),
            Point::new(zero - TIP, middle - 3.0),
            Point::new(zero - TIP, middle + 3.0),
            Point::new(zero, middle + 7.0),
        ];
        canvas.fill(&block(zero, full, top, foot), PAPER)?;
        if let (Some(least), Some(most)) = (&self.section.pull_back, &self.section.brim) {
            canvas.fill(&block(at(least), at(most), top, foot), SPRAY)?;
        }
        canvas.fill(&block(zero, target, top, foot), SHALLOW)?;
        canvas.fill(&tip, SHALLOW)?;
        let outline = Pen::solid(INK, 1.2);
        canvas.line(&tip, outline)?;
        canvas.line(&block(zero, full, top, foot), outline)?;
        // The plunger: its stopper ends at the target, its rod leaves the barrel.
        canvas.line(
            &block(target, full + 26.0, middle - 4.0, middle + 4.0),
            Pen::solid(SLATE, 0.9),
        )?;
        canvas.fill(&block(target, target + 7.0, top + 1.0, foot - 1.0), SLATE)?;
        canvas.fill(
            &block(full + 26.0, full + 31.0, middle - 22.0, middle + 22.0),
            SLATE,
        )?;
        canvas.fill(&block(full, full + 4.0, top - 8.0, foot + 8.0), INK)
    }

    fn draw_ticks(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let foot = self.top() + BARREL;
        let apart = step(self.full, 6.0);
        let places = (0..9)
            .find(|d| (apart * 10f64.powi(*d)).fract() < 1e-6)
            .unwrap_or(9);
        let mut fifth = 0u32;
        loop {
            let value = apart / 5.0 * f64::from(fifth);
            if value > self.full {
                return Ok(());
            }
            let whole = fifth.is_multiple_of(5);
            let x = self.x(value);
            let long = if whole { 12.0 } else { 6.0 };
            canvas.line(
                &[Point::new(x, foot - long), Point::new(x, foot)],
                Pen::solid(INK, 0.9),
            )?;
            if whole {
                let mut words = trimmed(value, usize::try_from(places).unwrap_or(9));
                if fifth == 0 {
                    words = format!("0 {}", wording::volume_unit(self.section.units));
                }
                canvas.text(
                    &words,
                    Point::new(x, foot + 17.0),
                    Text::plain(font::SMALL, SLATE).at(Anchor::Middle),
                )?;
            }
            fifth += 1;
        }
    }

    fn draw_labels(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let (top, foot) = (self.top(), self.top() + BARREL);
        for ((mark, level), (_, words, middle)) in
            self.section.levels().into_iter().zip(&self.labels)
        {
            let x = self.x(wording::in_unit(self.section.units, level.volume));
            let pen = mark.pen();
            canvas.line(
                &[Point::new(*middle, top - 22.0), Point::new(x, top - 6.0)],
                Pen::solid(MIST, 0.9),
            )?;
            if mark == Mark::Target {
                canvas.line(
                    &[Point::new(x, top - 6.0), Point::new(x, foot)],
                    Pen::solid(TIDE, 2.6),
                )?;
            } else {
                canvas.line(&[Point::new(x, top - 6.0), Point::new(x, foot + 3.0)], pen)?;
            }
            let text = Text::plain(font::BODY, pen.colour).at(Anchor::Middle);
            canvas.text(&words[0], Point::new(*middle, top - 46.0), text)?;
            canvas.text(&words[1], Point::new(*middle, top - 28.0), text.bold())?;
        }
        Ok(())
    }
}

const fn says(mark: Mark) -> &'static str {
    match mark {
        Mark::PullBack => "pulls back under",
        Mark::Brim => "runs over past",
        Mark::Target | Mark::Dry => "target",
    }
}
