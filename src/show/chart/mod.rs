//! Pictures of a plan, each from plain data.
//!
//! A picture has its finding as a title, a line under it, and at its foot the
//! cautions of the coatings that it is about.

#[expect(dead_code, reason = "the first picture with axes is on its way")]
mod axes;
mod care;
mod frame;
mod section;

pub use care::Care;
pub use section::{At, Level, Rim, Section, section, window};
