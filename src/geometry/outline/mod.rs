//! Outlines: the shape of a blank's flat top.

mod across;
mod error;
mod fillet;
mod form;
mod holes;
mod inner;
mod inset;
mod path;
mod reading;
mod room;
mod simple;
mod svg;
mod teeth;
#[cfg(test)]
mod tests;
mod trace;

use std::sync::{Arc, OnceLock};

pub(super) use across::Cut;
pub use error::OutlineError;
pub use fillet::Corner;
pub use form::Form;
pub use holes::Hole;
pub use svg::DrawingError;

use super::contour::{Contour, Curve, Piece, Point};
use crate::quantity::{Area, Length};
use inset::Lost;
use reading::Points;
use simple::Sides;

/// The shape of a blank's flat top, checked when made, with round holes that stay
/// open. Copies share what they hold.
#[derive(Debug, Clone)]
pub struct Outline(Arc<Shape>);

#[derive(Debug)]
struct Shape {
    form: Form,
    /// The outer edge before its corners were rounded, counter-clockwise.
    sharp: Vec<Curve>,
    edge: Vec<Curve>,
    holes: Vec<Hole>,
    corners: Vec<Corner>,
    /// The low and the high corner of its box, mm.
    frame: [Point; 2],
    /// The edge in straight sides, fine enough to measure by.
    sides: OnceLock<Sides>,
}

impl PartialEq for Outline {
    fn eq(&self, other: &Self) -> bool {
        let (a, b) = (&*self.0, &*other.0);
        a.form == b.form && a.edge == b.edge && a.holes == b.holes
    }
}

const SHARP: Length = Length::from_mm(0.0);

impl Outline {
    /// A disc about the origin.
    ///
    /// # Errors
    /// [`OutlineError::Size`] outside 0.1 mm to 10 m.
    pub fn round(diameter: Length) -> Result<Self, OutlineError> {
        check("the diameter", diameter)?;
        let edge = form::circle([0.0; 2], diameter.mm() / 2.0);
        Self::new(Form::Round { diameter }, edge, SHARP)
    }

    /// A rectangle about the origin, its length along x, with corners rounded to
    /// the radius `corner`, 0 for sharp.
    ///
    /// # Errors
    /// [`OutlineError`] where a side is outside 0.1 mm to 10 m, or the corner
    /// radius is negative or more than half the shorter side.
    pub fn rectangle(length: Length, width: Length, corner: Length) -> Result<Self, OutlineError> {
        check("the length", length)?;
        check("the width", width)?;
        let most = Length::from_mm(length.mm().min(width.mm()) / 2.0);
        check_corner(corner, most)?;
        let sharp = form::polygon(&form::rectangle(length.mm(), width.mm()));
        let form = Form::Rectangle {
            length,
            width,
            corner,
        };
        Self::new(form, sharp, corner)
    }

    /// An ellipse about the origin, its `length` along x.
    ///
    /// # Errors
    /// [`OutlineError::Size`] where an axis is outside 0.1 mm to 10 m.
    pub fn oval(length: Length, width: Length) -> Result<Self, OutlineError> {
        check("the length", length)?;
        check("the width", width)?;
        let edge = form::ellipse([0.0; 2], [length.mm() / 2.0, width.mm() / 2.0]);
        Self::new(Form::Oval { length, width }, edge, SHARP)
    }

    /// A regular polygon about the origin, a flat centred on +x. `across` is its
    /// size across flats, or from a flat to the corner across from it where
    /// `sides` is odd, before its corners are rounded to the radius `corner`.
    ///
    /// # Errors
    /// [`OutlineError`] where the sides are not 3 to 100, the size is outside
    /// 0.1 mm to 10 m, or the corner radius is negative or more than the distance
    /// from the middle to a flat.
    pub fn regular(sides: u32, across: Length, corner: Length) -> Result<Self, OutlineError> {
        if !(3..=100).contains(&sides) {
            return Err(OutlineError::Sides(sides));
        }
        check("the size across", across)?;
        let apothem = form::apothem(sides, across.mm());
        check_corner(corner, Length::from_mm(apothem))?;
        let sharp = form::polygon(&form::regular(sides, apothem));
        let form = Form::Regular {
            sides,
            across,
            corner,
        };
        Self::new(form, sharp, corner)
    }

    /// A closed run of points in either direction; the last may repeat the first,
    /// and repeats of the point before are left out.
    ///
    /// Points are read as samples of a smooth curve where they can be: a vertex where
    /// the sides turn by less than 10 degrees is smooth, as long as the curve
    /// through it stays within 5e-4 of the outline's shorter extent of the sides
    /// given. A side that would bulge more, or that is three times longer than both its
    /// neighbours in the curve, is straight; the curve meets it in its own
    /// direction. Two straight sides meet in a corner, however blunt. Every corner
    /// is rounded to the radius `corner`, 0 to leave it.
    ///
    /// Where the points jag to and fro, turning by 2 degrees or more, by less than 1e-4 of
    /// the outline's shorter extent from the lowest to the highest, as those of a scan
    /// or a bitmap do, a smooth curve through the middle of the teeth is read instead. It
    /// leaves no point by more than 1e-4 of that extent and changes the area by less than
    /// 1e-4; where that can't be had, the teeth stay.
    ///
    /// # Errors
    /// [`OutlineError`] where the points are fewer than three or more than 100,000, no
    /// numbers, enclose no area, cross or touch themselves, span less than 0.1 mm or
    /// more than 10 m, or the corner radius does not fit.
    pub fn points(points: &[[Length; 2]], corner: Length) -> Result<Self, OutlineError> {
        let given: Vec<Point> = points.iter().map(|p| p.map(Length::mm)).collect();
        let form = Form::Points {
            count: points.len(),
            corner,
        };
        Self::new(form, Points::checked(&given)?.read(), corner)
    }

    /// The one shape of an SVG drawing, a closed path or a basic shape, scaled so that
    /// its box is `width` wide, its box centred on the origin, up being up.
    ///
    /// Transforms are honoured; the size and the view box of the page play no part,
    /// nor do style sheets. A path of straight lines only is read as
    /// [`points`](Self::points) are; arcs become cubics that leave them by a billionth, and
    /// a joint where the path turns by less than one degree is smooth. Crossings are looked
    /// for on straight sides within 2e-5 of the width. Every corner is rounded to the
    /// radius `corner`, 0 to leave it.
    ///
    /// # Errors
    /// [`OutlineError`] where the text is no SVG, holds no shape or several, an open
    /// path or one of several parts, an element that can't be read (text, pictures,
    /// references), crosses itself, encloses nothing, or a size or the corner radius
    /// does not fit.
    pub fn svg(text: &str, width: Length, corner: Length) -> Result<Self, OutlineError> {
        check("the width", width)?;
        let sharp = svg::read(text, width.mm())?;
        Self::new(Form::Drawing { width, corner }, sharp, corner)
    }

    /// The outline with these round holes in place of those it has.
    ///
    /// # Errors
    /// [`OutlineError`] where a hole is narrower than 0.1 mm, does not lie inside the
    /// edge, or touches another.
    pub fn with_holes(self, holes: &[Hole]) -> Result<Self, OutlineError> {
        if holes.is_empty() && self.0.holes.is_empty() {
            return Ok(self);
        }
        holes::check(holes, self.0.sides())?;
        Ok(Self(Arc::new(Shape {
            holes: holes.to_vec(),
            ..self.0.copy()
        })))
    }

    /// The same outline with its corners rounded to another radius, 0 for as
    /// they were before any rounding.
    ///
    /// # Errors
    /// [`OutlineError::Corner`] where the radius is negative or does not fit,
    /// [`OutlineError::NoCorner`] where there is none, and as
    /// [`with_holes`](Self::with_holes) where a hole no longer fits.
    pub fn with_corner(&self, corner: Length) -> Result<Self, OutlineError> {
        let form = self.0.form.with_corner(corner);
        let rounded = Self::new(form, self.0.sharp.clone(), corner)?;
        rounded.with_holes(&self.0.holes)
    }

    /// The edge moved inward by `by` everywhere; the holes grow. Exact for discs,
    /// rectangles, regular outlines and all lines and arcs of circles; ovals and
    /// smooth curves to less than 1e-4 of the area. A sharp corner that points
    /// inward gets a round end. Stretches of the new edge shorter than 2e-5 of the
    /// outline's shorter extent may be left out, which moves it by no more.
    ///
    /// # Errors
    /// [`OutlineError::InsetBy`] below zero, [`OutlineError::InsetPieces`] where the edge
    /// is made of more than 10,000 lines, arcs and smooth runs, [`OutlineError::Inset`] where nothing is
    /// left, the outline falls apart or a hole reaches the edge or another hole.
    pub fn inset(&self, by: Length) -> Result<Self, OutlineError> {
        if !(by.mm().is_finite() && by.mm() >= 0.0) {
            return Err(OutlineError::InsetBy(by));
        }
        if by.mm() <= 0.0 {
            return Ok(self.clone());
        }
        let count = self.0.edge.len();
        if count > inset::MOST_PIECES {
            return Err(OutlineError::InsetPieces {
                count,
                most: inset::MOST_PIECES,
            });
        }
        let (vanished, apart) = (
            OutlineError::Inset { by, apart: false },
            OutlineError::Inset { by, apart: true },
        );
        let edge = self.edge_inset(by).map_err(|lost| match lost {
            Lost::Vanished => vanished,
            Lost::FallenApart => apart.clone(),
        })?;
        let grown = |hole: &Hole| Hole {
            diameter: hole.diameter + by + by,
            ..*hole
        };
        let holes: Vec<Hole> = self.0.holes.iter().map(grown).collect();
        edge.with_holes(&holes).map_err(|_| apart)
    }

    /// The outline without its holes, moved inward.
    fn edge_inset(&self, by: Length) -> Result<Self, Lost> {
        let less = |size: Length, times: f64| Length::from_mm(size.mm() - times * by.mm());
        let corner = Length::from_mm((self.0.form.corner().mm() - by.mm()).max(0.0));
        let made = match self.0.form {
            Form::Round { diameter } => Self::round(less(diameter, 2.0)),
            Form::Rectangle { length, width, .. } => {
                Self::rectangle(less(length, 2.0), less(width, 2.0), corner)
            }
            Form::Regular { sides, across, .. } => {
                let apothem = form::apothem(sides, across.mm()) - by.mm();
                Self::regular(sides, Length::from_mm(form::across(sides, apothem)), corner)
            }
            form => {
                // Rounded corners that point outward keep their centres.
                let keeps = corner.mm() > 0.0 && inset::points_outward(&self.0.sharp);
                let edge = if keeps { &self.0.sharp } else { &self.0.edge };
                let corner = if keeps { corner } else { SHARP };
                let moved = inset::inset(edge, by.mm())?;
                Self::new(form.moved(&moved, corner), moved, corner)
            }
        };
        made.map_err(|_| Lost::Vanished)
    }

    /// Rounds the corners of a closed edge, counter-clockwise, and checks its size.
    fn new(form: Form, sharp: Vec<Curve>, corner: Length) -> Result<Self, OutlineError> {
        let radius = corner.mm();
        if radius > 0.0 && fillet::corners(&sharp).is_empty() {
            return Err(OutlineError::NoCorner);
        }
        let fitting = (radius >= 0.0).then(|| fillet::rounded(&sharp, radius));
        let edge = fitting.flatten().ok_or_else(|| OutlineError::Corner {
            corner,
            most: Length::from_mm(fillet::largest(&sharp)),
        })?;
        let frame = trace::frame(&edge);
        let [low, high] = frame;
        check("the size", Length::from_mm(high[0] - low[0]))?;
        check("the size", Length::from_mm(high[1] - low[1]))?;
        let corners = fillet::described(&sharp, corner);
        check_spikes(&corners)?;
        Ok(Self(Arc::new(Shape {
            form,
            corners,
            sharp,
            edge,
            holes: Vec::new(),
            frame,
            sides: OnceLock::new(),
        })))
    }

    /// How it was given.
    #[must_use]
    pub fn form(&self) -> &Form {
        &self.0.form
    }

    /// The holes that stay open.
    #[must_use]
    pub fn holes(&self) -> &[Hole] {
        &self.0.holes
    }

    /// The area of the flat top, the holes taken off.
    #[must_use]
    pub fn area(&self) -> Area {
        let edge: f64 = self.0.edge.iter().map(Curve::swept).sum();
        let holes: f64 = self.0.holes.iter().map(Hole::mm2).sum();
        Area::from_mm2(edge / 2.0 - holes)
    }

    /// The length of all edges that hold the coating, those of the holes too.
    #[must_use]
    pub fn perimeter(&self) -> Length {
        let edge: f64 = self.0.edge.iter().map(Curve::length).sum();
        let hole = |hole: &Hole| std::f64::consts::PI * hole.diameter.mm();
        Length::from_mm(edge + self.0.holes.iter().map(hole).sum::<f64>())
    }

    /// The shorter side of its box: the diameter, or a rectangle's shorter side.
    #[must_use]
    pub fn across(&self) -> Length {
        let [x, y] = self.size();
        if y.mm() < x.mm() { y } else { x }
    }

    /// The sides of its box, along x and y.
    #[must_use]
    pub fn size(&self) -> [Length; 2] {
        let [low, high] = self.0.frame;
        [0, 1].map(|k| Length::from_mm(high[k] - low[k]))
    }

    /// The middle of its box.
    #[must_use]
    pub fn middle(&self) -> [Length; 2] {
        let [low, high] = self.0.frame;
        [0, 1].map(|k| Length::from_mm(f64::midpoint(low[k], high[k])))
    }

    /// Its corners, sharp or rounded, whether they point outward or inward. A turn of
    /// less than one degree is no corner.
    #[must_use]
    pub fn corners(&self) -> Vec<Corner> {
        self.0.corners.clone()
    }

    /// Closed polylines, the first point not repeated, nowhere further from the edge
    /// than `tolerance`: the outer edge counter-clockwise, then the holes clockwise. A
    /// tolerance below 1e-7 of the outline's size is taken as that.
    #[must_use]
    pub fn drawn(&self, tolerance: Length) -> Vec<Vec<[Length; 2]>> {
        let tolerance = tolerance.mm().max(1e-7 * self.across().mm());
        let loops = std::iter::once(self.0.edge.clone()).chain(self.0.rims());
        loops
            .map(|curves| {
                let points = trace::drawn(&curves, tolerance).into_iter();
                points.map(|p| p.map(Length::from_mm)).collect()
            })
            .collect()
    }

    /// Whether a place lies on the flat top: inside the edge, to a millionth of the
    /// outline's size, and in no hole.
    #[must_use]
    pub fn contains(&self, x: Length, y: Length) -> bool {
        let place = [x.mm(), y.mm()];
        self.0.sides().holds(place) && !self.0.holes.iter().any(|hole| hole.covers(place))
    }

    /// The radius of a plain disc, mm.
    pub(super) fn disc(&self) -> Option<f64> {
        match self.0.form {
            Form::Round { diameter } if self.0.holes.is_empty() => Some(diameter.mm() / 2.0),
            _ => None,
        }
    }

    /// The direction in which it is narrowest.
    pub(super) fn short_way(&self) -> [f64; 2] {
        let [x, y] = self.size();
        if x.mm() < y.mm() {
            [1.0, 0.0]
        } else {
            [0.0, 1.0]
        }
    }

    /// The smallest part that mirrors to the whole top, where the form knows one,
    /// and its boundary; else all of it.
    pub(super) fn contour(&self) -> Contour {
        let hole = match self.0.holes.as_slice() {
            [] => Some(0.0),
            [hole] => hole.central(),
            _ => None,
        };
        hole.and_then(|radius| self.0.form.wedge(radius))
            .unwrap_or_else(|| self.whole_contour())
    }

    /// The upper half of a plain disc, which mirrors in its lower edge.
    pub(super) fn half_disc(&self) -> Option<Contour> {
        let radius = self.disc()?;
        let arc = Curve::circular([0.0; 2], radius, 0.0, std::f64::consts::PI);
        let (left, right) = ([-radius, 0.0], [radius, 0.0]);
        Some(Contour {
            loops: vec![vec![Piece::mirror(left, right), Piece::pinned(arc)]],
            copies: 2.0,
        })
    }

    /// The boundary of the whole top, without mirror lines.
    pub(super) fn whole_contour(&self) -> Contour {
        let loops = std::iter::once(self.0.edge.clone()).chain(self.0.rims());
        Contour {
            loops: loops
                .map(|curves| curves.into_iter().map(Piece::pinned).collect())
                .collect(),
            copies: 1.0,
        }
    }
}

impl Shape {
    /// The same edge without holes.
    fn copy(&self) -> Self {
        Self {
            form: self.form,
            sharp: self.sharp.clone(),
            edge: self.edge.clone(),
            holes: Vec::new(),
            corners: self.corners.clone(),
            frame: self.frame,
            sides: OnceLock::new(),
        }
    }

    fn sides(&self) -> &Sides {
        self.sides.get_or_init(|| {
            let [low, high] = self.frame;
            let across = (high[0] - low[0]).min(high[1] - low[1]);
            Sides::new(&trace::drawn(&self.edge, 1e-6 * across))
        })
    }

    /// The edges of the holes, clockwise.
    fn rims(&self) -> impl Iterator<Item = Vec<Curve>> {
        self.holes.iter().map(Hole::rim)
    }
}

fn check(what: &'static str, size: Length) -> Result<(), OutlineError> {
    // A hair of slack: a box is the difference of coordinates.
    if (0.1 - 1e-9..=10_000.0 + 1e-9).contains(&size.mm()) {
        Ok(())
    } else {
        Err(OutlineError::Size { what, size })
    }
}

/// Refuses sharp corners under one degree.
fn check_spikes(corners: &[Corner]) -> Result<(), OutlineError> {
    let spike = |c: &&Corner| c.radius.mm() == 0.0 && c.inner_angle.deg() < 1.0;
    match corners.iter().find(spike) {
        Some(corner) => Err(OutlineError::Spike {
            angle: corner.inner_angle,
            at: corner.tip,
        }),
        None => Ok(()),
    }
}

fn check_corner(corner: Length, most: Length) -> Result<(), OutlineError> {
    if corner.mm() >= 0.0 && corner.mm() <= most.mm() {
        Ok(())
    } else {
        Err(OutlineError::Corner { corner, most })
    }
}
