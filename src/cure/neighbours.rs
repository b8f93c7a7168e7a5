//! Wet discs side by side in still air: how much each slows the others, piece by piece.
//!
//! Every wet piece damps the air over its neighbours. With F the flux of a disc
//! against that of one alone, R their radius and r the distance between two centres,
//!
//! ```text
//! F_k + (2/pi) sum over j != k of F_j asin(R/r_kj) = 1
//! ```
//!
//! for equal discs flush with a base that takes no water, in air without wind. Each
//! neighbour acts as if it lay at its centre, which is the only approximation. How far
//! off it is against boundary elements (good to 0.1 %), by the distance between
//! centres in diameters:
//!
//! | what | touching | 1.25 | 1.5 | 2 | 3 |
//! | --- | --- | --- | --- | --- | --- |
//! | two discs | -0.4 % | 0.0 % | 0.05 % | 0.05 % | 0.02 % |
//! | three in a triangle | -1.4 % | -0.5 % | -0.2 % | 0.0 % | 0.02 % |
//! | mean of seven, six around one | -1.3 % | -0.6 % | -0.3 % | -0.1 % | 0.0 % |
//! | **the one in the middle** | **-37 %** | **-12 %** | -5 % | -1 % | -0.2 % |
//!
//! Discs packed as closely as they go all keep a flux above nothing, however many.
//! So the mean may be trusted at any spacing; a piece that is hemmed in dries faster
//! than told where the gaps are narrower than half a diameter. Pieces at the edge dry
//! first: in a square of nine a corner's flux is 2.1 times the middle's at 1.1
//! diameters, 1.7 at 1.5 and 1.25 at 3.
//!
//! A draught carries the vapour off downwind. There is no rule here for each piece in
//! a draught: the mean comes from [`mean_by_resistance`], pieces on the upwind side
//! dry nearly as if alone, and those of the last row take up at 0.25 to 0.85 of that
//! rate (boundary elements in uniform flow, 2x2 to 4x5 pieces 1.1 to 3 diameters apart).

use super::air::Air;
use super::transfer::{Exposure, transfer_coefficient};
use crate::quantity::{Length, Ratio};
use faer::linalg::solvers::Solve;
use faer::{Col, Mat};
use std::f64::consts::FRAC_2_PI;

/// Where the centre of a disc lies on its tray.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Along one side.
    pub x: Length,
    /// Along the other.
    pub y: Length,
}

impl Place {
    /// At so many millimetres.
    #[must_use]
    pub const fn mm(x: f64, y: f64) -> Self {
        Self {
            x: Length::from_mm(x),
            y: Length::from_mm(y),
        }
    }

    /// Centres in straight rows and columns, `pitch` apart, row by row.
    #[must_use]
    pub fn in_rows(rows: u32, columns: u32, pitch: Length) -> Vec<Self> {
        (0..rows)
            .flat_map(|row| {
                (0..columns).map(move |column| Self {
                    x: pitch * f64::from(column),
                    y: pitch * f64::from(row),
                })
            })
            .collect()
    }

    fn away_from(&self, other: &Self) -> Length {
        let (dx, dy) = (self.x - other.x, self.y - other.y);
        Length::from_m(dx.m().hypot(dy.m()))
    }
}

/// Why discs were refused.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum NeighboursError {
    /// None at all, or too many to solve at once.
    #[error("{0} pieces: it takes 1 to 2000 of them")]
    Count(usize),
    /// A radius outside 0.5 mm to 2.5 m, or a place that is no number.
    #[error("a round piece must measure 1 mm to 5 m across and lie at a place that is a number")]
    Size,
    /// Two of them lie on each other.
    #[error("pieces {} and {} overlap: their centres are {:.2} mm apart", .one + 1, .other + 1, .apart.mm())]
    Overlap {
        /// Index of one.
        one: usize,
        /// Index of the other, which is larger.
        other: usize,
        /// Distance between their centres.
        apart: Length,
    },
}

/// One piece and its flux.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceFlux {
    /// Index of the piece, as its place was given.
    pub piece: usize,
    /// Its flux against that of one alone, `[1]`.
    pub flux: f64,
}

/// How much water each of many equal wet discs gives off in still air, against one alone.
#[derive(Debug, Clone, PartialEq)]
pub struct Neighbours {
    fluxes: Vec<f64>,
    closest: Option<Ratio>,
}

/// Most discs solved at once.
const MOST: usize = 2000;
/// Discs that touch may overlap by so much of a diameter, for rounding's sake.
const TOUCHING: f64 = 1e-9;

impl Neighbours {
    /// Discs of this `radius`, 0.5 mm to 2.5 m, with their centres at these places.
    ///
    /// ```
    /// use brimful::cure::neighbours::{Neighbours, Place};
    /// use brimful::quantity::Length;
    ///
    /// // two rounds of 25 mm that touch: each dries at three quarters of its rate alone
    /// let pair = [Place::mm(0.0, 0.0), Place::mm(25.0, 0.0)];
    /// let dries = Neighbours::of(Length::from_mm(12.5), &pair)?;
    /// assert!((dries.mean() - 0.75).abs() < 1e-12);
    /// # Ok::<(), brimful::cure::neighbours::NeighboursError>(())
    /// ```
    ///
    /// # Errors
    /// [`NeighboursError`] for no pieces or more than 2000, sizes and places that make
    /// no sense, and pieces that overlap.
    pub fn of(radius: Length, places: &[Place]) -> Result<Self, NeighboursError> {
        let count = places.len();
        if !(1..=MOST).contains(&count) {
            return Err(NeighboursError::Count(count));
        }
        let known = |place: &Place| place.x.m().is_finite() && place.y.m().is_finite();
        if !(0.5e-3..=2.5).contains(&radius.m()) || !places.iter().all(known) {
            return Err(NeighboursError::Size);
        }
        let closest = closest(radius, places)?;
        let fluxes = fluxes(radius, places);
        Ok(Self { fluxes, closest })
    }

    /// Flux of each against one alone, `[1]`, in the order of their places.
    #[must_use]
    pub fn fluxes(&self) -> &[f64] {
        &self.fluxes
    }

    /// Mean over all of them, `[1]`.
    #[must_use]
    pub fn mean(&self) -> f64 {
        let count = self.fluxes.iter().map(|_| 1.0).sum::<f64>();
        self.fluxes.iter().sum::<f64>() / count
    }

    /// The one that dries slowest; the first of equals.
    #[must_use]
    pub fn least(&self) -> PieceFlux {
        self.extreme(|flux, best| flux < best)
    }

    /// The one that dries fastest; the first of equals.
    #[must_use]
    pub fn most(&self) -> PieceFlux {
        self.extreme(|flux, best| flux > best)
    }

    /// Distance between the two centres that lie closest, in diameters; nothing for one
    /// piece alone. The errors in the module's table go by it.
    #[must_use]
    pub fn closest(&self) -> Option<Ratio> {
        self.closest
    }

    fn extreme(&self, better: impl Fn(f64, f64) -> bool) -> PieceFlux {
        let first = PieceFlux {
            piece: 0,
            flux: self.fluxes[0],
        };
        self.fluxes
            .iter()
            .enumerate()
            .fold(first, |best, (piece, &flux)| {
                if better(flux, best.flux) {
                    PieceFlux { piece, flux }
                } else {
                    best
                }
            })
    }
}

/// The least distance between centres in diameters.
fn closest(radius: Length, places: &[Place]) -> Result<Option<Ratio>, NeighboursError> {
    let mut least: Option<f64> = None;
    for (other, place) in places.iter().enumerate() {
        for (one, before) in places[..other].iter().enumerate() {
            let apart = before.away_from(place);
            let diameters = apart / (radius * 2.0);
            if diameters < 1.0 - TOUCHING {
                return Err(NeighboursError::Overlap { one, other, apart });
            }
            least = Some(least.map_or(diameters, |least| least.min(diameters)));
        }
    }
    Ok(least.map(Ratio::from_number))
}

/// Solves the system of the module's head.
fn fluxes(radius: Length, places: &[Place]) -> Vec<f64> {
    faer::set_global_parallelism(faer::Par::Seq);
    let count = places.len();
    let system = Mat::from_fn(count, count, |k, j| {
        if k == j {
            return 1.0;
        }
        // (2/pi) asin(R/r_kj); R/r may pass a half by rounding, never one
        FRAC_2_PI * (radius / places[k].away_from(&places[j])).asin()
    });
    let alone = Col::from_fn(count, |_| 1.0);
    let solved = system.partial_piv_lu().solve(&alone);
    solved.iter().copied().collect()
}

/// Mean flux of the pieces on a tray against one alone, `[1]`, in air that moves as it
/// does: the rule that [`transfer_coefficient`] goes by.
///
/// Within -18 and +5 % of boundary elements in uniform flow (36 cases, 21 of them within
/// 8 %), and within 8 % of [`Neighbours::mean`] without wind.
#[must_use]
pub fn mean_by_resistance(exposure: &Exposure, air: &Air) -> f64 {
    transfer_coefficient(exposure, air) / transfer_coefficient(&exposure.without_neighbours(), air)
}
