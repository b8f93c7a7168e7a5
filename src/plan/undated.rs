//! How a run goes that names no date.

use std::collections::BTreeMap;

use super::calendar::{Booked, ByPiece, by_piece, sat};
use super::cupboard::Fullest;
use super::planner::Bench;
use super::recoat::{self, Late};
use super::uses::Sat;
use crate::quantity::Time;
use crate::schedule::Timetable;

/// How long a run takes from its first sitting until it is ready, and what it takes, whatever
/// day of the week it is begun on, if all takes as long as is likely.
#[derive(Debug, Clone, PartialEq)]
pub struct Undated {
    /// Begun on the best day of the week.
    pub shortest: Time,
    /// Begun on the worst.
    pub longest: Time,
    /// Hands-on time in all, at the most.
    pub hands_on: Time,
    /// Waves that the run is split into, at the most.
    pub waves: usize,
    /// Trays of each kind in use at the busiest. `None`: it uses none.
    pub busiest: Option<Vec<u32>>,
    /// How often each step's tool is cleaned, or its cup mixed, at the most.
    pub(super) sat: Sat,
    /// How often each step sits with each kind of piece, at the most.
    pub(super) by_piece: ByPiece,
    /// What is in the cupboard at once, at the most.
    pub(super) fullest: Fullest,
    /// Coats that come later than the one before takes one.
    pub(super) late: Late,
}

impl Undated {
    /// Begun on one day.
    pub(super) fn of(bench: &Bench, made: &Timetable, sittings: &[Booked]) -> Self {
        let minutes = made.ready.since(made.starts);
        // the run is at most a hundred years long, which is far below 2^31 minutes
        let lasts = Time::from_min(f64::from(i32::try_from(minutes).unwrap_or(i32::MAX)));
        let trays = || made.occupancy().iter().map(|(_, trays)| trays);
        Self {
            shortest: lasts,
            longest: lasts,
            hands_on: Time::from_min(f64::from(made.hands_on)),
            waves: sittings.iter().map(|one| one.wave).max().unwrap_or(0),
            busiest: trays().max_by_key(|trays| sum(trays)).cloned(),
            sat: sat(sittings),
            by_piece: by_piece(sittings),
            fullest: Fullest::of(bench, sittings, trays().map(Vec::as_slice)),
            late: recoat::late(bench.steps, sittings),
        }
    }

    /// Begun on either of two days.
    pub(super) fn or(self, other: Self) -> Self {
        let (least, most) = (
            |a: Time, b: Time| if a < b { a } else { b },
            |a: Time, b: Time| if a > b { a } else { b },
        );
        let sat = most_of(self.sat, other.sat);
        let by_piece = most_of(self.by_piece, other.by_piece);
        Self {
            shortest: least(self.shortest, other.shortest),
            longest: most(self.longest, other.longest),
            hands_on: most(self.hands_on, other.hands_on),
            waves: self.waves.max(other.waves),
            busiest: [self.busiest, other.busiest]
                .into_iter()
                .flatten()
                .max_by_key(|trays| sum(trays)),
            sat,
            by_piece,
            fullest: self.fullest.or(other.fullest),
            late: recoat::or(self.late, other.late),
        }
    }
}

/// The most of each, of two days.
fn most_of<K: Ord, N: Ord + Default>(
    mut one: BTreeMap<K, N>,
    other: BTreeMap<K, N>,
) -> BTreeMap<K, N> {
    for (what, times) in other {
        let known = one.entry(what).or_default();
        if times > *known {
            *known = times;
        }
    }
    one
}

fn sum(trays: &[u32]) -> u32 {
    trays.iter().sum()
}
