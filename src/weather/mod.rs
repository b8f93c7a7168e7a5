//! Air over time, read from what a logger or a weather file wrote down.
//!
//! Text goes in, a [`Record`] comes out: readings of temperature and relative
//! humidity in local clock time, strictly rising, with [`Notice`]s of all that was
//! odd on the way. [`logger`] reads the tables that data loggers export, [`epw`] a
//! typical year in the open EPW format. Nothing here opens a file.
//!
//! A record becomes [`Spell`](crate::cure::situation::Spell)s of constant air with
//! [`Record::spells`], which tells why it stops. [`indoors`] warms outdoor air as a
//! house does, and [`day_and_night`] needs no file at all.
//!
//! ```
//! use brimful::cure::air::Draught;
//! use brimful::weather::{Hold, Place, logger};
//!
//! let text = "Time,Temperature (C),Humidity (%)\n\
//!             2026-11-25 18:00,12.5,81\n\
//!             2026-11-25 18:30,12.1,83\n";
//! let record = logger::read(text.as_bytes(), "loft.csv")?;
//! let place = Place::new(Draught::Still);
//! let mut spells = record.spells(record.span().0, place, Hold::Step)?;
//! let hours: f64 = spells.by_ref().map(|spell| spell.lasts.h()).sum();
//! assert!((hours - 1.0).abs() < 1e-12);
//! assert!(spells.end().is_some());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod cycle;
pub mod epw;
mod heading;
mod indoors;
pub mod logger;
mod notice;
mod number;
mod order;
mod reading;
mod record;
mod spells;
mod stamp;
mod tally;
mod text;
mod unread;

pub use cycle::{DayAndNight, SameTime, day_and_night};
pub use indoors::{Indoors, IndoorsError, indoors};
pub use notice::{DateOrder, Notice};
pub use reading::Reading;
pub use record::{NoRecord, Record};
pub use spells::{End, Hold, Place, Spells, Uncovered};
pub use unread::{Fault, Problem, Unread};
