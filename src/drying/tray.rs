//! How unevenly the pieces of a tray dry.

use crate::cure::neighbours::{Neighbours, Place};
use crate::cure::transfer::{Exposure, Footprint};
use crate::quantity::Length;

/// Pieces for which the places on a tray are solved one by one.
const MOST: u32 = 400;

/// The pieces in straight rows on their tray, while they are wet and the air is still.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OnTray {
    /// Rows of them.
    pub rows: u32,
    /// Pieces in a full row.
    pub columns: u32,
    /// How many times as slowly as the quickest piece, at a corner, the slowest dries, `[1]`.
    pub slowest: f64,
}

impl OnTray {
    /// Rounds spread over their tray in as even rows as fit, each place solved with all
    /// the others. `None` for one piece or for more than 400, for other shapes, and where
    /// straight rows do not fit.
    ///
    /// The middle of a tray whose pieces nearly touch comes out too slow: 12 % at 1.25
    /// diameters apart, 5 % at 1.5 (see [`Neighbours`]). A draught evens it out.
    #[must_use]
    pub fn of(lies: &Exposure) -> Option<Self> {
        let (Footprint::Disc { diameter }, Some(tray)) = (lies.footprint(), lies.tray()) else {
            return None;
        };
        let pieces = tray.pieces;
        if !(2..=MOST).contains(&pieces) {
            return None;
        }
        // of all numbers of rows the one that leaves the widest gap
        let pitch = |rows: u32| {
            let columns = pieces.div_ceil(rows);
            let along = tray.length / f64::from(columns);
            let across = tray.width / f64::from(rows);
            let pitch = if along < across { along } else { across };
            (rows, columns, pitch)
        };
        let (rows, columns, apart) = (1..=pieces)
            .map(pitch)
            .max_by(|(_, _, a), (_, _, b)| a.m().total_cmp(&b.m()))?;
        if apart < diameter {
            return None;
        }
        let mut places = Place::in_rows(rows, columns, apart);
        places.truncate(usize::try_from(pieces).ok()?);
        let radius: Length = diameter / 2.0;
        let fluxes = Neighbours::of(radius, &places).ok()?;
        Some(Self {
            rows,
            columns,
            slowest: fluxes.most().flux / fluxes.least().flux,
        })
    }
}
