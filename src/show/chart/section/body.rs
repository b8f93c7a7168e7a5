//! What a blank is made of, and how that is drawn where it is cut.

use super::Section;
use crate::quantity::{Length, Show};
use crate::show::draw::palette::{Colour, GRAIN, PLANK, SCORE, SLAB};
use crate::show::draw::place::Space;
use crate::show::draw::{Dash, Pen, Point, line};

/// What a blank is made of, as far as its coating is concerned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Body {
    /// It drinks coating, as bare wood does: drawn with grain.
    Porous,
    /// It drinks none, as metal, glass and glazed stone: drawn with the general hatching
    /// of ISO 128, unbroken lines at 45 degrees.
    Dense,
    /// Nobody says: drawn with broken lines.
    Unsaid,
}

/// How thick a blank is drawn whose thickness is not said.
const DRAWN: Length = Length::from_mm(3.0);
/// From one line of hatching to the next, `[px]`.
const APART: f64 = 9.0;
/// From one line of grain to the next, `[px]`.
const GRAIN_APART: f64 = 8.0;

impl Body {
    pub(super) const fn ground(self) -> Colour {
        match self {
            Self::Porous => PLANK,
            Self::Dense | Self::Unsaid => SLAB,
        }
    }

    /// The lines that fill a cut.
    pub(super) fn strokes(self, cut: Space) -> Vec<Vec<Point>> {
        if cut.width() <= 0.0 || cut.height() <= 0.0 {
            return Vec::new();
        }
        match self {
            Self::Porous => grain(cut),
            Self::Dense | Self::Unsaid => line::hatching(cut, APART)
                .into_iter()
                .map(|stroke| stroke.to_vec())
                .collect(),
        }
    }

    pub(super) const fn pen(self) -> Pen {
        let (colour, dash) = match self {
            Self::Porous => (GRAIN, Dash::Solid),
            Self::Dense => (SCORE, Dash::Solid),
            Self::Unsaid => (SCORE, Dash::Long),
        };
        Pen {
            colour,
            width: 0.8,
            dash,
        }
    }

    /// The material in words, to follow what the blank is.
    const fn words(self) -> &'static str {
        match self {
            Self::Porous => ", porous (grain)",
            Self::Dense => ", not porous (hatched)",
            Self::Unsaid => ", material not said (broken hatching)",
        }
    }
}

/// Long lines that wander a little, as grain does, each a different way.
fn grain(cut: Space) -> Vec<Vec<Point>> {
    let mut lines = Vec::new();
    let mut y = cut.top + GRAIN_APART / 2.0;
    let mut number = 0.0;
    while y < cut.bottom {
        let mut line = Vec::new();
        let mut x = cut.left;
        while x < cut.right + 12.0 {
            let at = x.min(cut.right);
            // Two slow waves whose lengths and shifts go with the line.
            let long = (at / (150.0 + 23.0 * (number % 3.0)) + 1.9 * number).sin();
            let short = (at / (61.0 + 7.0 * (number % 4.0)) + 0.7 * number).sin();
            line.push(Point::new(at, y + 1.6 * long + 0.7 * short));
            x += 12.0;
        }
        lines.extend(line::inside(&line::thinned(&line, 0.1), cut));
        y += GRAIN_APART;
        number += 1.0;
    }
    lines
}

impl Section<'_> {
    /// How thick the blank is drawn.
    pub(super) fn drawn_thickness(&self) -> Length {
        self.thickness.unwrap_or(DRAWN)
    }

    /// The thickness in words, with what the blank is made of.
    pub(super) fn body_words(&self) -> String {
        let thick = self.thickness.map_or_else(
            || format!("thickness not said, drawn as {}", DRAWN.show(self.units)),
            |thick| format!("{} thick", thick.show(self.units)),
        );
        format!("{thick}{}", self.body.words())
    }
}
