//! Where wet pieces lie: on trays, on sheets, and trays on shelves.
//!
//! - [`layout`]: how many pieces of one outline lie on one tray or sheet, and where.
//! - [`shared`]: several kinds that share trays or sheets.
//! - [`shelf`]: how many trays a shelf holds.
//!
//! Plain typed values go in and come out; nothing here knows a run or a file. In the
//! code all lengths are millimetres, x along a ground's first side, y along its second.

mod blocks;
mod disc;
mod envelope;
mod error;
mod families;
pub mod layout;
mod outset;
mod patterns;
pub mod shared;
pub mod shelf;
mod turned;

pub use error::SpaceError;
pub use layout::{Ground, How, Layout, MAGNET_GAP, MOST_PIECES, Place, Rows, lay, least_ground};
pub use shared::{Kind, Run, Shared, share, with_bleed};
pub use shelf::{LEVEL_PITCH, Shelf, levels_of, shelf_area};
