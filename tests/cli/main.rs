//! The program, as a maker runs it.

#[path = "../common"]
mod common {
    pub mod ask;
    pub mod cup;
    pub mod cure_tables;
    pub mod plan;
    pub mod weather;
}
mod against;
mod blanks;
mod care;
mod depths;
mod dome;
mod dome_piece;
mod dry;
mod lamp;
mod makers_dome;
mod makers_dry;
mod mix;
mod outlines;
mod plan;
mod price;
mod rooms;
mod shell;
mod trays;
