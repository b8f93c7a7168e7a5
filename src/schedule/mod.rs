//! When everything happens, in whole minutes of the maker's own clock.
//!
//! Plain values go in and come out; nothing here knows a run, a coating or a file.

pub mod bottleneck;
pub mod chance;
mod exact;
mod family;
pub mod hours;
mod line;
pub mod minute;
mod prepared;
pub mod refusal;
pub mod search;
mod starts;
pub mod task;
pub mod timetable;
pub mod wait;

pub use bottleneck::{Bottleneck, Limits, bottleneck};
pub use chance::{Chance, Draws, Loss, NoChance, Odds, Spread, Spreads, WaitSpread, chance};
pub use hours::{Hours, HoursError, Spell, Window};
pub use minute::Minute;
pub use refusal::NoTimetable;
pub use search::{earliest, latest};
pub use task::{Shop, Sitting, Split, Task, Wave};
pub use timetable::{Booked, Busiest, Stay, Timetable};
pub use wait::{Wait, WaitId};
