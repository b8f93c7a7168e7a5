//! When the maker works, and when they are awake.

use std::collections::BTreeSet;

use jiff::civil::Date;

/// The maker's hours.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hours {
    /// The spells of work on each day of the week, from Monday; in order, apart.
    pub days: [Vec<ClockSpan>; 7],
    /// Days on which nothing is done.
    pub off: BTreeSet<Date>,
    /// When somebody is awake to look at wet pieces.
    pub awake: ClockSpan,
    /// Whether this kind of run is made for the first time, so that it takes longer.
    pub first_run: bool,
}

/// From one clock time to a later one of the same day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ClockSpan {
    /// Minutes after midnight that it begins.
    pub from: u16,
    /// Minutes after midnight that it ends, 1440 at most.
    pub to: u16,
}
