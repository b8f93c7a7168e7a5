//! Ways to show a plan: words, JSON, pictures.

pub mod chart;
pub mod draw;
pub mod json;
pub mod pictures;
pub mod text;
pub mod words;
