//! Ways to show a plan: words, JSON, pictures.

pub mod chart;
pub mod draw;
