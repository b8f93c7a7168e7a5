//! When everything happens.

use std::collections::BTreeMap;

use super::hours::{Hours, Spell};
use super::line::{Line, Put};
use super::minute::Minute;
use super::prepared::{Flat, Prepared};

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
    /// Coats that come later than the one under them takes one ([`OnFace::closes`](super::OnFace)), without
    /// those that work and waits alone take past that, `[1]`.
    pub missed: usize,
    /// Trays in use; see [`Timetable::occupancy`].
    in_use: Vec<(Minute, Vec<u32>)>,
    /// By the place of a sitting in its split, waves one after another: the minute that it is held back to, the
    /// least there is where it is not; empty where none is.
    held: Vec<i64>,
    /// When each wave's trays are taken, in the order in which they are.
    pub stays: Vec<Stay>,
}

/// A wave's trays taken for a time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stay {
    /// Which of the split's waves.
    pub wave: usize,
    /// How many trays of each kind, `[1]`.
    pub trays: Vec<u32>,
    /// When its sitting begins.
    pub from: Minute,
    /// When its pieces are lifted off.
    pub until: Minute,
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

    /// Whether some sitting is held back so that the next coat on its own comes in time.
    #[must_use]
    pub fn holds_back(&self) -> bool {
        self.held.iter().any(|&from| from > i64::MIN)
    }

    pub(super) fn held(&self) -> &[i64] {
        &self.held
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

/// Writes down what comes of the sittings of a split, at least one, that were put in order.
pub(super) fn of(
    task: &Prepared,
    split: usize,
    flat: &Flat,
    puts: &[Put],
    line: &Line,
) -> Timetable {
    let booked: Vec<Booked> = puts.iter().map(|put| booked(task.hours, put)).collect();
    let stays = stays(flat, puts);
    let work = |booked: &Booked| booked.ends.since(booked.begins);
    Timetable {
        split,
        starts: booked[0].begins,
        ready: Minute::reckoned(line.finish),
        missed: line.missed,
        hands_on: u32::try_from(booked.iter().map(work).sum::<i64>()).unwrap_or(u32::MAX),
        in_use: in_use(flat.kinds, &stays),
        held: line.held().to_vec(),
        stays,
        booked,
    }
}

fn booked(hours: &Hours, put: &Put) -> Booked {
    let (begins, ends) = (Minute::reckoned(put.begins), Minute::reckoned(put.ends));
    Booked {
        wave: put.wave,
        sitting: put.sitting,
        spell: hours.spells(begins).next().expect("it lies in a spell"),
        begins,
        ends,
        next_from: Minute::reckoned(put.next_from),
        lifted_at: put.lifted_at.map(Minute::reckoned),
    }
}

/// When each wave's trays are taken, in order of the sittings.
fn stays(flat: &Flat, puts: &[Put]) -> Vec<Stay> {
    let mut last: Vec<Option<usize>> = vec![None; flat.waves()];
    let mut stays: Vec<Stay> = Vec::new();
    for put in puts {
        let Some(until) = put.lifted_at.map(Minute::reckoned) else {
            continue;
        };
        let from = Minute::reckoned(put.begins);
        match last[put.wave] {
            Some(stay) if from < stays[stay].until => stays[stay].until = until,
            _ => {
                last[put.wave] = Some(stays.len());
                stays.push(Stay {
                    wave: put.wave,
                    trays: flat.trays_of(put.wave).to_vec(),
                    from,
                    until,
                });
            }
        }
    }
    stays
}

/// Trays in use over time.
fn in_use(kinds: usize, stays: &[Stay]) -> Vec<(Minute, Vec<u32>)> {
    let mut changes: BTreeMap<Minute, Vec<i64>> = BTreeMap::new();
    for stay in stays {
        for (at, sign) in [(stay.from, 1), (stay.until, -1)] {
            let change = changes.entry(at).or_insert_with(|| vec![0; kinds]);
            for (change, &trays) in change.iter_mut().zip(&stay.trays) {
                *change += sign * i64::from(trays);
            }
        }
    }
    let mut used = vec![0_i64; kinds];
    let steps = changes.into_iter().filter_map(|(at, change)| {
        for (used, change) in used.iter_mut().zip(&change) {
            *used += change;
        }
        let moved = change.iter().any(|&trays| trays != 0);
        moved.then(|| (at, used.clone()))
    });
    let count = |trays: i64| u32::try_from(trays).expect("as many as there are trays");
    steps
        .map(|(at, used)| (at, used.into_iter().map(count).collect()))
        .collect()
}
