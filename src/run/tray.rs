//! The trays that wet pieces lie on, and the shelves that the trays stand on.

use crate::quantity::{AirChanges, Length};

/// One kind of tray.
#[derive(Debug, Clone, PartialEq)]
pub struct Tray {
    /// What the maker calls it.
    pub name: String,
    /// Its two sides.
    pub size: [Length; 2],
    /// How many there are, at least one.
    pub count: u32,
    /// What stays free along its edges.
    pub margin: Length,
    /// What stays free between two pieces.
    pub gap: Length,
    /// What stays free between two magnets, or they jump together; at least the gap.
    pub magnet_gap: Length,
    /// What covers it while a coat dries. `None`: nothing.
    pub lid: Option<Lid>,
}

/// A lid over a tray.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lid {
    /// Height of the air under it.
    pub height: Length,
    /// How often the room's air replaces that.
    pub air_changes: AirChanges,
    /// How many lids there are. `None`: one for each tray.
    pub count: Option<u32>,
}

/// One kind of shelf: level places for trays, one above the other.
#[derive(Debug, Clone, PartialEq)]
pub struct Shelf {
    /// What the maker calls it.
    pub name: String,
    /// Its length and depth.
    pub size: [Length; 2],
    /// Levels one above the other, at least one.
    pub levels: u32,
    /// How many such shelves there are, at least one.
    pub count: u32,
}
