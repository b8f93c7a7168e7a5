//! Outlines and the domes that surface tension holds on them.

mod band;
mod contour;
mod density;
mod dome;
mod draft;
mod element;
mod fill;
mod liquid;
mod mesh;
mod near;
mod newton;
mod outline;
mod plate;
mod probe;
mod rim;
mod round;
mod sizes;
mod smooth;
mod sparse;
mod spline;
mod stretch;
#[cfg(test)]
mod tests;
mod window;

pub use dome::{Ask, Dome, DomeError, Shape, Top};
pub use liquid::{GRAVITY, Liquid};
pub use outline::{Corner, DrawingError, Form, Hole, Outline, OutlineError};
pub use window::{EdgeAngles, FillWindow};
