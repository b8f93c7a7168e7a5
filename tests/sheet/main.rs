//! The run sheet: its figures, its pages, a browser that prints it.

#[path = "../common"]
mod common {
    pub mod browser;
    pub mod chart;
    pub mod sheet;
}
mod browser;
mod browser_papers;
mod sheet;
mod sheet_long;
mod told;
mod us_units;
