//! Plans a run of small coated pieces: how full, how much, how long, in the
//! room as it is.
//!
//! Data flows one way: run file, checked [`run::Run`] in SI units,
//! [`plan::Plan`], a way to show it.

#![doc(test(attr(deny(warnings))))]

pub mod ask;
pub mod cli;
pub mod coating;
pub mod consumption;
pub mod cost;
pub mod cure;
pub mod drying;
pub mod geometry;
pub mod plan;
pub mod quantity;
pub mod run;
pub mod schedule;
pub mod show;
pub mod space;
pub mod stage;
pub mod weather;
