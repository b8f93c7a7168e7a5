//! Ways to show a plan: words, JSON, pictures.

mod ask_coatings;
mod ask_dome;
mod ask_dry;
pub mod chart;
pub mod draw;
mod lines;
mod warning;

pub use ask_coatings::{coating_list, coating_text};
pub use ask_dome::{dome_text, verdict as dome_verdict};
pub use ask_dry::{dry_text, no_date};
