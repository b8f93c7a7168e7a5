//! Outlines and the domes that surface tension holds on them.

mod contour;
mod density;
mod element;
mod liquid;
mod mesh;
mod newton;
mod plate;
mod rim;
mod round;
mod sparse;

pub use liquid::{GRAVITY, Liquid};
