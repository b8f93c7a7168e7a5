//! Pictures of a plan.

mod section;

pub use section::{At, Level, Rim, Section, section};
