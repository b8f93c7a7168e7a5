//! Outlines and the domes that surface tension holds on them.

mod band;
mod blank;
mod contour;
mod density;
mod dome;
mod draft;
mod eased;
mod element;
mod fill;
mod filling;
mod jumps;
mod level;
mod liquid;
mod mend;
mod mesh;
mod near;
mod newton;
mod numbering;
mod outline;
mod plate;
mod probe;
mod rim;
mod round;
mod search;
mod shape;
mod share;
mod sizes;
mod smooth;
mod soft;
mod sparse;
mod spline;
mod stretch;
#[cfg(test)]
mod tests;
mod tilt;
mod window;

pub use blank::{Blank, BlankError};
pub use dome::{Ask, Dome, DomeError, Top};
pub use eased::Eased;
pub use filling::{Filled, Filling};
pub use level::{Fineness, LevelLimits, MOST_TILT, Shelf, Tilt, TiltError, TiltLimit, Tilted};
pub use liquid::{GRAVITY, Liquid};
pub use mend::mending_corner;
pub use outline::{Corner, DrawingError, Form, Hole, Outline, OutlineError};
pub use shape::Shape;
pub use window::{EdgeAngles, FillWindow};
