//! Coatings: families and their properties, each with its source.
//!
//! The families live in `data/coatings.toml` and the cautions in
//! `data/cautions.toml`; both are part of the program. A [`Coating`] is a
//! family with what the maker's own bottle says laid over it.

mod cautions;
mod data;
mod family;
mod key;
mod label;
mod made;
mod property;
mod prudent;
mod two_parts;
mod unfit;

pub use cautions::{
    BuyerCaution, Caution, Cautions, Concern, GeneralCaution, Handling, Holds, Severity, When,
    cautions, comes_first, for_buyers, handling,
};
pub use family::{Applied, Family, Law, families, family};
pub use key::Key;
pub use label::{Label, StageTime};
pub use made::{Coating, Liquid};
pub use property::{Property, Source};
pub use prudent::{PrudentCoat, edge_may_draw_back, may_saucer};
pub use two_parts::TwoParts;
pub use unfit::Unfit;
