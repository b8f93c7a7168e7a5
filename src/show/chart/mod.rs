//! Pictures of a plan, each from plain data.
//!
//! A picture has its finding as a title, a line under it, and at its foot the
//! cautions of the coatings that it is about.

mod axes;
mod board;
mod bottles;
mod calendar;
mod care;
mod cost;
mod cupboard;
mod depth;
mod frame;
mod hatch;
mod panel;
mod pour;
mod rooms;
mod scale;
mod section;
mod tray;

pub use bottles::{Bottles, bottles};
pub use calendar::{CalendarBars, calendar};
pub use care::Care;
pub use cost::{CostBar, CostBars, MOST_BARS, Priced, cost};
pub use cupboard::{Cupboard, cupboard};
pub use depth::{Deeper, Depth, Drawn, depth};
pub use pour::{Pour, pour};
pub use rooms::{Rooms, rooms};
pub use section::{At, Body, Level, Rim, Section, section, window};
pub use tray::{Full, full};
