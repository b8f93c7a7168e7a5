//! Pictures of a plan, each from plain data.
//!
//! A picture has its finding as a title, a line under it, and at its foot the
//! cautions of the coatings that it is about.

#[expect(dead_code, reason = "the first picture with axes is on its way")]
mod axes;
mod care;
mod depth;
mod frame;
mod scale;
mod section;
mod tray;

pub use care::Care;
pub use depth::{Deeper, Depth, Drawn, depth};
pub use section::{At, Body, Level, Rim, Section, section};
pub use tray::{Full, full};
