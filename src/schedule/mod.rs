//! When everything happens, in whole minutes of the maker's own clock.
//!
//! Plain values go in and come out; nothing here knows a run, a coating or a file.
//!
//! - [`hours`], [`wait`], [`task`]: what there is to do, and what with.
//! - [`search`]: the earliest end from a start, the latest start for a deadline.
//! - [`timetable`]: when everything happens, and which trays are taken.
//! - [`bottleneck`](mod@bottleneck): what the run waits for most.
//! - [`chance`](mod@chance): how often it is ready in time, and with enough pieces.
//!
//! Orders of sittings are tried from a family that depends on numbers alone, and each order is put
//! so that nothing moves earlier when waits grow, goods come later or means shrink. So more trays or hours never make a run later.

pub mod bottleneck;
pub mod chance;
mod deadlines;
mod exact;
mod family;
pub mod hours;
mod line;
pub mod minute;
mod order;
mod prepared;
pub mod refusal;
pub mod search;
mod starts;
pub mod task;
pub mod timetable;
pub mod wait;
mod walk;

pub use bottleneck::{Bottleneck, Limits, bottleneck};
pub use chance::{Chance, Draws, Loss, NoChance, Odds, Spread, Spreads, WaitSpread, chance};
pub use hours::{Hours, HoursError, Spell, Window};
pub use minute::Minute;
pub use refusal::NoTimetable;
pub use search::{Orders, again, earliest, latest};
pub use task::{OnFace, Shop, Sitting, Split, Task, Wave};
pub use timetable::{Booked, Busiest, Stay, Timetable};
pub use wait::{Wait, WaitId};
