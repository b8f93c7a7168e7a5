//! Where wet pieces lie.

pub mod layout;
pub mod shelf;
