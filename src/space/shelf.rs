//! Trays on shelves.

use super::blocks;
use super::error::{SpaceError, side};
use super::patterns::whole;
use crate::quantity::{Area, Length};

/// From one level of a rack to the next where it is not said: common practice, no source.
pub const LEVEL_PITCH: Length = Length::from_mm(100.0);

/// A level place for trays, or several of one size above each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shelf {
    /// Its two sides, each above 0 and at most 100 m.
    pub size: [Length; 2],
    /// How many such levels there are, 0 for none.
    pub levels: u32,
}

/// The most levels that are counted.
const MOST_LEVELS: u32 = 10_000;

/// How many levels a rack of this height has, `pitch` from one to the next; [`LEVEL_PITCH`]
/// where it is not said. Fewer than one is none.
///
/// # Errors
/// [`SpaceError::Side`] for a height or a pitch out of range, [`SpaceError::Count`] above
/// 10,000 levels.
pub fn levels_of(height: Length, pitch: Option<Length>) -> Result<u32, SpaceError> {
    let height = side("a rack's height", height)?;
    let pitch = side("the pitch of its levels", pitch.unwrap_or(LEVEL_PITCH))?;
    // 300 mm hold three levels of 100 mm, whatever the rounding
    let levels = height / pitch + 1e-9;
    counted(levels)
}

fn counted(levels: f64) -> Result<u32, SpaceError> {
    if levels > f64::from(MOST_LEVELS) {
        return Err(SpaceError::Count {
            what: "levels",
            read: u64::from(whole(levels.min(f64::from(u32::MAX)))),
            most: u64::from(MOST_LEVELS),
        });
    }
    Ok(whole(levels))
}

impl Shelf {
    /// How many trays of this size lie on all its levels, straight, turned or both, side by side
    /// with nothing between.
    ///
    /// # Errors
    /// [`SpaceError`] for a side out of range, and where a level would hold more than 100,000.
    ///
    /// ```
    /// use brimful::quantity::Length;
    /// use brimful::space::Shelf;
    /// let mm = Length::from_mm;
    /// let rack = Shelf { size: [mm(900.0), mm(400.0)], levels: 4 };
    /// assert_eq!(rack.trays([mm(300.0), mm(400.0)])?, 12);
    /// # Ok::<(), brimful::space::SpaceError>(())
    /// ```
    pub fn trays(&self, tray: [Length; 2]) -> Result<u64, SpaceError> {
        let [length, width] = self.size;
        let free = [
            side("a shelf's length", length)?,
            side("a shelf's width", width)?,
        ];
        let [length, width] = tray;
        let tray = [
            side("a tray's length", length)?,
            side("a tray's width", width)?,
        ];
        let might = free[0] * free[1] / (tray[0] * tray[1]);
        let most = super::layout::MOST_PIECES;
        if might > f64::from(most) {
            return Err(SpaceError::TooMany { might, most });
        }
        counted(f64::from(self.levels))?;
        let found = blocks::best(tray, 0.0, free, 0.0);
        let count: usize = found.rows.iter().map(Vec::len).sum();
        Ok(count as u64 * u64::from(self.levels))
    }
}

/// The area that so many trays take as they lie side by side, however they are parted over
/// shelves.
///
/// # Errors
/// [`SpaceError`] for a side out of range, or above 1,000,000,000 trays.
pub fn shelf_area(trays: u64, tray: [Length; 2]) -> Result<Area, SpaceError> {
    const MOST: u64 = 1_000_000_000;
    let [length, width] = tray;
    let (length, width) = (
        side("a tray's length", length)?,
        side("a tray's width", width)?,
    );
    let count = u32::try_from(trays).ok().filter(|_| trays <= MOST);
    let count = count.ok_or(SpaceError::Count {
        what: "trays",
        read: trays,
        most: MOST,
    })?;
    Ok(Area::from_mm2(length * width * f64::from(count)))
}
