//! What a layout in time comes to.

use super::hours::{Hours, Minute};
use super::task::Task;

/// One sitting in its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Booked {
    /// Which wave of the split.
    pub wave: usize,
    /// Which of the wave's sittings.
    pub sitting: usize,
    /// When it begins.
    pub begins: Minute,
    /// When it ends.
    pub ends: Minute,
    /// From when the wave's next sitting may begin, or the wave is ready.
    pub next_from: Minute,
    /// When its trays are free again if the wave goes on no sooner: the first minute of
    /// work at which its pieces may be lifted. `None`: it takes no trays.
    pub lifted: Option<Minute>,
}

/// A run laid out in time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Timetable {
    /// Which of the task's splits.
    pub split: usize,
    /// Its sittings, in order of time.
    pub booked: Vec<Booked>,
    /// When the first begins.
    pub starts: Minute,
    /// When the last wave is ready.
    pub ready: Minute,
}

/// How many trays of each kind are in use from a minute on.
pub type InUse = (Minute, Vec<u32>);

impl Booked {
    /// When to look for bubbles after its first and its last pour.
    #[must_use]
    pub fn looks(&self, task: &Task, split: usize) -> Vec<Minute> {
        let sitting = &task.splits[split].waves[self.wave].sittings[self.sitting];
        match sitting.look {
            Some(look) => vec![self.begins.later(look), self.ends.later(look)],
            None => Vec::new(),
        }
    }
}

impl Timetable {
    /// The spells in which trays are held: wave, from when, until when.
    #[must_use]
    pub fn held(&self, task: &Task) -> Vec<(usize, Minute, Minute)> {
        let waves = task.splits[self.split].waves.len();
        let mut held: Vec<(usize, Minute, Minute)> = Vec::new();
        let mut open: Vec<Option<usize>> = vec![None; waves];
        for booked in &self.booked {
            // what is still held when its wave goes on is held no longer by the sitting before
            if let Some(before) = open[booked.wave] {
                let (_, _, until) = &mut held[before];
                *until = (*until).min(booked.begins);
            }
            open[booked.wave] = None;
            if let Some(lifted) = booked.lifted {
                open[booked.wave] = Some(held.len());
                held.push((booked.wave, booked.begins, lifted));
            }
        }
        held
    }

    /// Trays in use over time, from each minute at which that changes.
    #[must_use]
    pub fn occupancy(&self, task: &Task) -> Vec<InUse> {
        let kinds = task.trays.len();
        let waves = &task.splits[self.split].waves;
        let mut changes: Vec<(Minute, usize, bool)> = Vec::new();
        for (wave, from, until) in self.held(task) {
            if until > from {
                changes.push((from, wave, true));
                changes.push((until, wave, false));
            }
        }
        changes.sort_by_key(|&(at, ..)| at);
        let mut now = vec![0_i64; kinds];
        let mut over_time: Vec<InUse> = Vec::new();
        for (at, wave, taken) in changes {
            for (kind, &trays) in waves[wave].trays.iter().enumerate() {
                now[kind] += if taken {
                    i64::from(trays)
                } else {
                    -i64::from(trays)
                };
            }
            let state: Vec<u32> = now.iter().map(|&n| u32::try_from(n).unwrap_or(0)).collect();
            match over_time.last_mut() {
                Some((last, known)) if *last == at => *known = state,
                _ => over_time.push((at, state)),
            }
        }
        over_time.dedup_by(|later, earlier| later.1 == earlier.1);
        over_time
    }

    /// The first minute at which the most trays are in use. `None` where none ever is.
    #[must_use]
    pub fn busiest(&self, task: &Task) -> Option<InUse> {
        let most = |(_, trays): &InUse| trays.iter().sum::<u32>();
        let occupancy = self.occupancy(task);
        let top = occupancy.iter().map(most).max().filter(|&top| top > 0)?;
        occupancy.into_iter().find(|state| most(state) == top)
    }

    /// Minutes of work in all.
    #[must_use]
    pub fn hands_on(&self) -> u64 {
        let each = self
            .booked
            .iter()
            .map(|booked| booked.ends.0 - booked.begins.0);
        each.map(|minutes| u64::try_from(minutes).unwrap_or(0))
            .sum()
    }
}

/// What limits how many pieces come out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bottleneck {
    /// Wet pieces wait for trays.
    Trays {
        /// Pieces that the hands could do on a working day.
        by_hands: f64,
        /// Pieces that can dry, for every day.
        by_trays: f64,
    },
    /// The trays could dry more than the hands do.
    Hands {
        /// Pieces that the hands do on a working day.
        by_hands: f64,
        /// Pieces that could dry, for every day. `None`: no trays are told of.
        by_trays: Option<f64>,
    },
    /// One wave after another hardly matters: a single piece takes most of the time.
    Waiting {
        /// Days that a piece takes from its first sitting until it is ready.
        days: f64,
    },
}

impl Timetable {
    /// What limits the run.
    ///
    /// ```text
    /// by hands = pieces * (minutes of work in a week / working days in a week) / minutes of work in all
    /// by trays = pieces / (tray-days held / trays)
    /// ```
    ///
    /// Where a wave takes more than three quarters of the whole time, that is called waiting.
    #[must_use]
    pub fn bottleneck(&self, task: &Task) -> Bottleneck {
        let split = &task.splits[self.split];
        let pieces: f64 = split.waves.iter().map(|wave| f64::from(wave.pieces)).sum();
        let days = task
            .hours
            .days
            .iter()
            .filter(|spells| !spells.is_empty())
            .count();
        let a_day =
            f64::from(task.hours.per_week()) / f64::from(u32::try_from(days.max(1)).unwrap_or(7));
        let by_hands = pieces * a_day / number(self.hands_on().max(1));
        let by_trays = self.by_trays(task, pieces);
        let whole = (self.ready.0 - self.starts.0).max(1);
        let longest = self.longest_wave();
        if longest * 4 > whole * 3 {
            return Bottleneck::Waiting {
                days: days_of(longest),
            };
        }
        match by_trays {
            Some(by_trays) if by_trays * days_in_week() < by_hands * number(days as u64) => {
                Bottleneck::Trays { by_hands, by_trays }
            }
            by_trays => Bottleneck::Hands { by_hands, by_trays },
        }
    }

    /// Pieces that can dry for every day, by the kind of tray that is scarcest.
    fn by_trays(&self, task: &Task, pieces: f64) -> Option<f64> {
        let waves = &task.splits[self.split].waves;
        let mut tray_minutes = vec![0.0; task.trays.len()];
        for (wave, from, until) in self.held(task) {
            let minutes = number(u64::try_from(until.0 - from.0).unwrap_or(0));
            for (kind, &trays) in waves[wave].trays.iter().enumerate() {
                tray_minutes[kind] += f64::from(trays) * minutes;
            }
        }
        let there: f64 = task.trays.iter().map(|&count| f64::from(count)).sum();
        let held: f64 = tray_minutes.iter().sum();
        (held > 0.0).then(|| pieces * there * number(super::hours::DAY.unsigned_abs()) / held)
    }

    /// Minutes of the wave that takes longest from its first sitting until it is ready.
    fn longest_wave(&self) -> i64 {
        let mut begins: std::collections::BTreeMap<usize, Minute> =
            std::collections::BTreeMap::new();
        let mut longest = 0;
        for booked in &self.booked {
            let first = *begins.entry(booked.wave).or_insert(booked.begins);
            longest = longest.max(booked.next_from.0 - first.0);
        }
        longest
    }
}

const fn days_in_week() -> f64 {
    7.0
}

fn days_of(minutes: i64) -> f64 {
    number(u64::try_from(minutes).unwrap_or(0)) / number(super::hours::DAY.unsigned_abs())
}

#[expect(clippy::cast_precision_loss, reason = "minutes and pieces of one run")]
const fn number(count: u64) -> f64 {
    count as f64
}

/// Why there is no timetable.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum NoTimetable {
    /// There is no spell of work in any week.
    #[error("no spell of work is told of")]
    NoHours,
    /// However the run is split, some sitting is longer than any spell of work.
    #[error("a sitting takes {work} min, and the longest spell of work is {longest} min")]
    TooLong {
        /// The caller's number for what is done.
        step: usize,
        /// How long the shortest such sitting is, minutes.
        work: u32,
        /// The longest spell, minutes.
        longest: u32,
    },
    /// However the run is split, some wave takes more trays than there are.
    #[error("{trays} trays are wanted at once, and there are {there}")]
    TooFewTrays {
        /// The fewest wanted at once.
        trays: u32,
        /// How many there are.
        there: u32,
    },
    /// Some sitting fits no spell of work, for nobody would be awake to look.
    #[error("nobody is awake to look at what is poured in the hours of work")]
    Asleep {
        /// The caller's number for what is done.
        step: usize,
    },
    /// Nothing to do.
    #[error("there is nothing to do")]
    Nothing,
    /// Not even begun two years before is it ready in time.
    #[error("not even begun two years before would it be ready in time")]
    TooMuch,
    /// Begun as soon as it can be, it is ready too late.
    #[error("begun as soon as it can be, it is ready too late")]
    TooLate(Box<Timetable>),
}

/// The hours of a task read from outside, for words.
impl Task {
    /// The maker's hours.
    #[must_use]
    pub fn hours(&self) -> &Hours {
        &self.hours
    }
}
