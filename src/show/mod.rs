//! Ways to show a plan, and answers to short questions: words, JSON, pictures, paper.

mod ask_coatings;
mod ask_dome;
mod ask_dome_lies;
mod ask_dome_more;
mod ask_dry;
mod ask_dry_assumed;
mod ask_dry_check;
mod ask_dry_lamp;
mod ask_mix;
mod ask_price;
mod ask_season;
mod ask_trays;
mod beside;
pub mod chart;
pub mod draw;
pub mod json;
pub mod label;
mod lines;
mod mixing;
pub mod outline;
pub mod pictures;
pub mod sheet;
pub mod text;
mod warning;
pub mod words;
mod work;

pub use ask_coatings::{coating_list, coating_text};
pub use ask_dome::{dome_text, verdict as dome_verdict};
pub use ask_dry::{dry_text, no_date};
pub use ask_mix::{mix_text, too_short as mix_too_short};
pub use ask_price::{no_price, price_text};
pub use ask_season::season_text;
pub use ask_trays::{none_fits, trays_text};
pub use beside::{Beside, OneWay};
