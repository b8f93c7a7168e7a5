//! Domes on their blanks, against tables, exact limits and balances.

#[path = "../common"]
mod common {
    pub mod dome;
}
mod big;
mod edge;
mod limits;
mod odd;
mod outline;
mod outline_random;
mod random;
mod rings;
mod shapes;
mod tables;
mod thin;
mod tilt;
mod turned;
