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
mod hours;
mod inspection;
mod label;
mod names;
mod outline;
mod paper;
mod piece;
mod read;
mod reader;
mod room;
mod selling;
mod step;
mod supplier;
mod supply;
mod tray;
mod uses;

pub use assumption::Assumption;
pub use blank::Blank;
pub use bottle::{Bottle, Size};
pub use coating::RunCoating;
pub use fault::{Fault, Faults, Known, Problem};
pub use fill::Fill;
pub use header::Header;
pub use hours::{ClockSpan, Hours};
pub use inspection::Inspection;
pub use paper::{LabelSheet, Paper};
pub use piece::Piece;
pub use read::{Beside, drawing_text};
pub use room::{Air, Climate, Record, Room, Told};
pub use selling::{Kit, Selling, Wholesale};
pub use step::{Brush, Dome, Needs, Step, Work};
pub use supplier::Pack;
pub use supply::{Stuff, Supply};
pub use tray::{Lid, Shelf, Tray};
pub use uses::{Takes, Use};

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
    /// What they take beside blanks and coatings.
    pub supplies: Vec<Supply>,
    /// How finished pieces are looked over. `None`: the run does not say.
    pub inspection: Option<Inspection>,
    /// The air that it dries in.
    pub room: Room,
    /// What wet pieces lie on. None: they lie apart, and space is not planned.
    pub trays: Vec<Tray>,
    /// What trays stand on. None: there is a level place for every tray.
    pub shelves: Vec<Shelf>,
    /// When the maker works.
    pub hours: Hours,
    /// What is printed on.
    pub paper: Paper,
    /// What the fair costs. `None`: the run does not say, and no money is worked out.
    pub selling: Option<Selling>,
    /// Every default that was leaned on.
    pub assumed: Vec<Assumption>,
}
