//! Pictures of a plan, each from plain data.
//!
//! A picture has its finding as a title, a line under it, and at its foot the
//! cautions of the coatings that it is about.

mod axes;
mod board;
mod care;
mod cupboard;
mod frame;
mod panel;
mod pour;
mod rooms;
mod section;

pub use care::Care;
pub use cupboard::{Cupboard, cupboard};
pub use pour::{Pour, pour};
pub use rooms::{Rooms, rooms};
pub use section::{At, Level, Rim, Section, section};
