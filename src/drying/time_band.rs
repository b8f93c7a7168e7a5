//! A time with its band.

use crate::cure::law::Band;
use crate::quantity::Time;

/// A time with the band it lies in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TimeBand {
    /// Low end.
    pub low: Time,
    /// The time to plan with.
    pub likely: Time,
    /// High end.
    pub high: Time,
}

impl TimeBand {
    /// No time at all.
    pub const NONE: Self = Self {
        low: Time::ZERO,
        likely: Time::ZERO,
        high: Time::ZERO,
    };

    /// The same begun so much later.
    #[must_use]
    pub fn after(self, before: Time) -> Self {
        Self {
            low: self.low + before,
            likely: self.likely + before,
            high: self.high + before,
        }
    }

    /// A label's time, so many times over.
    #[must_use]
    pub fn of(label: Time, ratio: Band) -> Self {
        Self {
            low: label * ratio.low,
            likely: label * ratio.likely,
            high: label * ratio.high,
        }
    }
}
