//! How long a run takes that names no date.

use crate::quantity::Time;
use crate::schedule::Timetable;

/// How long a run takes from its first sitting until it is ready, and the trays that it takes, whatever
/// day of the week it is begun on, if all takes as long as is likely.
#[derive(Debug, Clone, PartialEq)]
pub struct Undated {
    /// Begun on the best day of the week.
    pub shortest: Time,
    /// Begun on the worst.
    pub longest: Time,
    /// Hands-on time in all, at the most.
    pub hands_on: Time,
    /// Trays of each kind in use at the busiest. `None`: it uses none.
    pub busiest: Option<Vec<u32>>,
}

impl Undated {
    pub(super) fn of(made: &Timetable) -> Self {
        let minutes = made.ready.since(made.starts);
        // the run is at most a hundred years long, which is far below 2^31 minutes
        let lasts = Time::from_min(f64::from(i32::try_from(minutes).unwrap_or(i32::MAX)));
        let all = made.occupancy().iter().map(|(_, trays)| trays);
        Self {
            shortest: lasts,
            longest: lasts,
            hands_on: Time::from_min(f64::from(made.hands_on)),
            busiest: all.max_by_key(|trays| sum(trays)).cloned(),
        }
    }

    /// Begun on either of two days.
    pub(super) fn or(self, other: Self) -> Self {
        let (least, most) = (
            |a: Time, b: Time| if a < b { a } else { b },
            |a: Time, b: Time| if a > b { a } else { b },
        );
        Self {
            shortest: least(self.shortest, other.shortest),
            longest: most(self.longest, other.longest),
            hands_on: most(self.hands_on, other.hands_on),
            busiest: [self.busiest, other.busiest]
                .into_iter()
                .flatten()
                .max_by_key(|trays| sum(trays)),
        }
    }
}

fn sum(trays: &[u32]) -> u32 {
    trays.iter().sum()
}
