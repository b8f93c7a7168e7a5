//! Outlines and the domes that surface tension holds on them.

mod band;
mod contour;
mod density;
mod dome;
mod draft;
mod element;
mod liquid;
mod mesh;
mod newton;
mod outline;
mod plate;
mod probe;
mod rim;
mod round;
mod sparse;
mod spline;
#[cfg(test)]
mod tests;
mod window;

pub use dome::{Ask, Dome, DomeError, Shape, Top};
pub use liquid::{GRAVITY, Liquid};
pub use outline::{Corner, DrawingError, Form, Hole, Outline, OutlineError};
pub use window::{EdgeAngles, FillWindow};
