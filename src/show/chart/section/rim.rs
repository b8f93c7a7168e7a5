//! What the edge of a blank's top is like, cut through.

use super::{At, Section};
use crate::quantity::{Length, Show};

/// What the edge of a blank's top is like.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Rim {
    /// A sharp edge.
    Sharp,
    /// An edge rounded off to this radius, `[m]`.
    Soft(Length),
    /// A wall of this height around a floor, `[m]`.
    Wall(Length),
}

/// How thick a wall is drawn, for nobody says how thick it is.
const DRAWN: Length = Length::from_mm(1.0);

/// Chords of a rounded edge.
const CHORDS: i32 = 12;

impl Rim {
    /// The rounded edge's radius; 0 where there is none.
    pub(super) fn radius(self) -> Length {
        match self {
            Self::Soft(radius) => radius,
            Self::Sharp | Self::Wall(_) => Length::ZERO,
        }
    }

    /// How far the blank reaches past the top that holds the coating.
    pub(super) fn past(self) -> Length {
        match self {
            Self::Wall(_) => DRAWN,
            Self::Sharp | Self::Soft(_) => Length::ZERO,
        }
    }
}

impl Section<'_> {
    /// The upper side of the blank, from left to right.
    pub(super) fn upper_side(&self) -> Vec<At> {
        let left: Vec<(Length, Length)> = match self.rim {
            Rim::Sharp => vec![(Length::ZERO, Length::ZERO)],
            Rim::Soft(radius) => (0..=CHORDS)
                .map(|n| {
                    let turn = std::f64::consts::FRAC_PI_2 * f64::from(n) / f64::from(CHORDS);
                    (radius * (1.0 - turn.cos()), radius * (turn.sin() - 1.0))
                })
                .collect(),
            Rim::Wall(height) => vec![
                (DRAWN * -1.0, height),
                (Length::ZERO, height),
                (Length::ZERO, Length::ZERO),
            ],
        };
        let right = left.iter().rev().map(|&(x, up)| (self.width - x, up));
        left.iter()
            .copied()
            .chain(right)
            .map(|(across, up)| At { across, up })
            .collect()
    }

    /// A surface with the wall's foot on either side, so that it encloses the coating.
    pub(super) fn enclosed(&self, surface: &[At]) -> Vec<At> {
        let mut points = surface.to_vec();
        if matches!(self.rim, Rim::Wall(_)) {
            points.extend([self.width, Length::ZERO].map(|across| At {
                across,
                up: Length::ZERO,
            }));
        }
        points
    }

    /// The edge in words, to follow the blank's thickness; empty where it is sharp.
    pub(super) fn rim_words(&self) -> String {
        match self.rim {
            Rim::Sharp => String::new(),
            Rim::Soft(radius) => format!(", its edge rounded to {}", radius.show(self.units)),
            Rim::Wall(height) => format!(", with a wall {} high", height.show(self.units)),
        }
    }
}
