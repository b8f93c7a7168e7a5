//! The run: what a maker wants made, checked and in SI units.
//!
//! A run file is TOML with quantities written as people write them.
//! [`Run::read`] reads one whole: what comes out needs no further check, and
//! what is wrong comes out as [`Faults`], every mistake in the file at once.

mod assumption;
mod blank;
mod bottle;
mod coating;
mod fault;
mod fill;
mod header;
mod label;
mod names;
mod outline;
mod piece;
mod read;
mod reader;
mod room;
mod step;

pub use assumption::Assumption;
pub use blank::{Blank, Pack};
pub use bottle::Bottle;
pub use coating::RunCoating;
pub use fault::{Fault, Faults, Known, Problem};
pub use fill::Fill;
pub use header::Header;
pub use piece::Piece;
pub use read::{Beside, drawing_text};
pub use room::{Air, Climate, Record, Room, Told};
pub use step::{Brush, Dome, Step, Work};

/// A checked run. Every index in it points at something that is there.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// What the run is called, when it must be ready, how sure to be.
    pub header: Header,
    /// What is made. At least one.
    pub pieces: Vec<Piece>,
    /// What the pieces are made on.
    pub blanks: Vec<Blank>,
    /// What goes on them.
    pub coatings: Vec<RunCoating>,
    /// What is done.
    pub steps: Vec<Step>,
    /// The air that it dries in.
    pub room: Room,
    /// Every default that was leaned on.
    pub assumed: Vec<Assumption>,
}
