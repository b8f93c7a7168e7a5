//! A checked reader for TOML tables that gathers every mistake.
//!
//! A getter that meets a mistake writes it in the [`Book`] and returns `None`,
//! so that reading goes on and one pass tells all.

mod book;
mod clock;
mod item;
mod limit;
mod near;
mod section;

pub(super) use book::{Book, Spot};
pub(super) use clock::{ClockTime, Day, FromTo, When};
pub(super) use item::{
    AirWords, Contents, FileName, Item, LengthUnit, Mistake, Name, Number, Point, Safe,
    SpreadingRate, Whole,
};
pub(super) use limit::Limit;
pub(super) use near::nearest;
pub(super) use section::{Fallback, Section};
