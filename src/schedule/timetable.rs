//! When everything happens.

use super::hours::Spell;
use super::minute::Minute;

/// When everything happens.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Timetable {
    /// Which of the task's splits it follows.
    pub split: usize,
    /// Its sittings, in order of time.
    pub booked: Vec<Booked>,
    /// When the first sitting begins.
    pub starts: Minute,
    /// When the last wave is done with its last wait.
    pub ready: Minute,
    /// All the work, `[min]`.
    pub hands_on: u32,
    /// Trays in use; see [`Timetable::occupancy`].
    pub(super) in_use: Vec<(Minute, Vec<u32>)>,
}

/// One sitting in its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Booked {
    /// Which of the split's waves.
    pub wave: usize,
    /// Which of the wave's sittings.
    pub sitting: usize,
    /// The working window it lies in.
    pub spell: Spell,
    /// Its first minute.
    pub begins: Minute,
    /// The first minute after it.
    pub ends: Minute,
    /// When the wave's next sitting may begin, or the wave is done.
    pub next_from: Minute,
    /// When its pieces are lifted off their trays: the first minute in working hours at which they may be.
    /// None if they lie on none. If a sitting that takes trays again begins sooner, they stay for that one's time.
    pub lifted_at: Option<Minute>,
    /// When to look for bubbles: after the first pour and after the last; none if nothing is to be looked for.
    pub looks: Vec<Minute>,
}

/// The most trays of one kind in use at once.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Busiest {
    /// How many, `[1]`.
    pub trays: u32,
    /// Since when, the first time.
    pub at: Minute,
}

impl Timetable {
    /// Trays in use over time: from each minute on, until the next, how many of each kind.
    /// Begins with the first that are taken and ends with none.
    #[must_use]
    pub fn occupancy(&self) -> &[(Minute, Vec<u32>)] {
        &self.in_use
    }

    /// The most trays in use at once of a kind; none if that kind is never used.
    #[must_use]
    pub fn busiest(&self, kind: usize) -> Option<Busiest> {
        let mut most: Option<Busiest> = None;
        for (at, used) in &self.in_use {
            let trays = used.get(kind).copied().unwrap_or(0);
            if trays > most.map_or(0, |most| most.trays) {
                most = Some(Busiest { trays, at: *at });
            }
        }
        most
    }

    /// The spells of work that hold a sitting, in order.
    #[must_use]
    pub fn spells(&self) -> Vec<Spell> {
        let mut spells: Vec<Spell> = self.booked.iter().map(|booked| booked.spell).collect();
        spells.dedup();
        spells
    }

    /// Sittings that begin in each clock hour, `[1]`.
    #[must_use]
    pub fn by_hour(&self) -> [u32; 24] {
        let mut counts = [0; 24];
        for booked in &self.booked {
            counts[booked.begins.hour()] += 1;
        }
        counts
    }
}
