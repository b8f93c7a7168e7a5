//! Charts and labels, drawn.

#[path = "../common"]
mod common {
    pub mod chart;
    pub mod plan;
    pub mod section;
}
mod body;
mod bottles;
mod calendar;
mod calendar_close;
mod chart;
mod cost;
mod cupboard;
mod depth;
mod draw;
mod gaps;
mod label;
mod pours;
mod rooms;
mod section;
mod tray;
