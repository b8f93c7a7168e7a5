//! What has to be done: waves of pieces, their sittings and what they wait for.

use super::hours::{Hours, Minute};

/// Minutes until something is reached, by the clock hour in which it is begun.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wait {
    by_hour: [u32; 24],
    /// The latest that anything laid in an earlier hour is ready, after the hour's beginning.
    before: [i64; 24],
}

impl Wait {
    /// The same whenever it is begun.
    #[must_use]
    pub fn steady(minutes: u32) -> Self {
        Self::by_hour([minutes; 24])
    }

    /// By the clock hour, from midnight.
    #[must_use]
    pub fn by_hour(by_hour: [u32; 24]) -> Self {
        let before = std::array::from_fn(|hour| {
            // the last minute of the hour k hours before: 60 (k - 1) + 1 minutes ago
            (1..=24)
                .map(|back| {
                    let then: i64 = i64::from(by_hour[(hour + 48 - back) % 24]);
                    then - 60 * (i64::try_from(back).unwrap_or(24) - 1) - 1
                })
                .max()
                .unwrap_or(0)
        });
        Self { by_hour, before }
    }

    /// When it is reached. What is begun later is never reached sooner: a coat that is laid
    /// on before another has had all the air that the other has.
    #[must_use]
    pub fn ready(&self, from: Minute) -> Minute {
        let (hour, begins) = Hours::clock_hour(from);
        let own = from.0 + i64::from(self.by_hour[hour]);
        Minute(own.max(begins + self.before[hour]))
    }

    /// Minutes by the clock hour.
    #[must_use]
    pub fn minutes(&self) -> &[u32; 24] {
        &self.by_hour
    }
}

/// One sitting of a wave: done in one go, within one spell of work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sitting {
    /// The caller's number for what is done.
    pub step: usize,
    /// How long it takes, minutes, with what comes before the first piece and after the last.
    pub work: u32,
    /// Which wait must be over before the wave's next sitting, or before it is ready. `None`: none.
    pub next: Option<usize>,
    /// Which wait must be over before the pieces are lifted off their trays. `None`: it takes no trays.
    pub lifted: Option<usize>,
    /// How many minutes after the first and after the last pour somebody must be awake.
    pub look: Option<u32>,
}

/// Pieces that go through every sitting together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wave {
    /// Which group of alike pieces it is a part of.
    pub group: usize,
    /// How many pieces it has.
    pub pieces: u32,
    /// How many trays of each kind it takes.
    pub trays: Vec<u32>,
    /// What is done to it, in order.
    pub sittings: Vec<Sitting>,
}

/// One way of splitting a run into waves; those of one group stand together, in order.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Split {
    /// The waves.
    pub waves: Vec<Wave>,
}

impl Split {
    /// Sittings in all.
    #[must_use]
    pub fn sittings(&self) -> usize {
        self.waves.iter().map(|wave| wave.sittings.len()).sum()
    }
}

/// A run to be laid out in time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Task {
    /// When the maker works.
    pub hours: Hours,
    /// How many trays of each kind there are.
    pub trays: Vec<u32>,
    /// What sittings wait for.
    pub waits: Vec<Wait>,
    /// Ways of splitting it, of which the best is taken.
    pub splits: Vec<Split>,
}
