//! One order of sittings, told wave by wave.

use std::rc::Rc;

use super::prepared::Flat;

/// A lag after which every wave has had the sitting before.
pub(super) const ALL: u32 = u32::MAX;

/// The numbers that a split's orders depend on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Shape {
    /// By wave, its group and its place within that.
    pub ranks: Vec<(usize, usize)>,
    /// By wave, the place of its first sitting; and at last their number.
    pub first: Vec<usize>,
}

impl Shape {
    pub fn of(flat: &Flat) -> Self {
        Self {
            ranks: flat.ranks.clone(),
            first: flat.first.clone(),
        }
    }

    pub fn waves(&self) -> usize {
        self.ranks.len()
    }

    pub fn sittings(&self, wave: usize) -> usize {
        self.first[wave + 1] - self.first[wave]
    }

    pub fn acts(&self) -> usize {
        self.first[self.waves()]
    }
}

/// How the ranks of waves of several groups are mixed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Mix {
    /// One wave of each group in turn.
    InTurn,
    /// Group after group, between two lags of [`ALL`].
    Blocks,
    /// Group after group to the end.
    Apart,
}

/// The waves as one mix ranks them.
#[derive(Debug)]
pub(super) struct Ranking {
    mix: Mix,
    /// In the order in which they have any one sitting.
    waves: Vec<Ranked>,
}

/// A wave in a ranking.
#[derive(Debug)]
struct Ranked {
    wave: u32,
    group: u32,
    rank: u64,
    sittings: usize,
}

/// How far a sitting is put off.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lag {
    /// How many lags of [`ALL`] there are up to it.
    segment: u32,
    /// How many ranks, by the halves, later than the last of those it comes.
    behind: u64,
}

impl Ranking {
    pub fn of(
        shape: &Shape,
        groups: usize,
        (mix, backward): (Mix, bool),
        last_first: bool,
    ) -> Self {
        let mut waves: Vec<Ranked> = (0_u32..)
            .zip(shape.ranks.iter().enumerate())
            .map(|(number, (wave, &(group, place)))| {
                let group = if backward { groups - 1 - group } else { group };
                // Only differences matter, so that any number above all places will do.
                let place = if last_first {
                    shape.waves() - place
                } else {
                    place
                };
                let rank = match mix {
                    Mix::InTurn => place * groups + group,
                    Mix::Blocks | Mix::Apart => place,
                };
                Ranked {
                    wave: number,
                    group: u32::try_from(group).expect("no more groups than waves"),
                    rank: rank as u64,
                    sittings: shape.sittings(wave),
                }
            })
            .collect();
        waves.sort_unstable_by_key(|ranked| match mix {
            Mix::InTurn => (0, ranked.rank),
            Mix::Blocks | Mix::Apart => (ranked.group, ranked.rank),
        });
        Self { mix, waves }
    }
}

/// One order of a split's sittings, told wave by wave: those that have the same sitting come
/// as they are ranked, so that the next of all is the least of as many heads as sittings.
#[derive(Debug)]
pub(super) struct Order {
    ranking: Rc<Ranking>,
    /// By sitting.
    lags: Rc<[Lag]>,
    /// By sitting, the first wave that is still to have it, up to the first sitting that no wave has had.
    heads: Vec<Head>,
    /// The sitting that comes next.
    next: usize,
}

/// The first wave that is still to have a sitting.
#[derive(Debug)]
struct Head {
    /// Its place in the ranking.
    place: usize,
    /// What orders sort by; greater than all where no wave is left.
    key: Key,
}

/// What an order sorts by: the group where groups stay apart and the segment, or the other
/// way round where groups go in blocks; the rank with its lag; and the wave.
type Key = ((u32, u32), u64, u32);

impl Order {
    pub fn of(ranking: &Rc<Ranking>, lags: &Rc<[Lag]>) -> Self {
        Self {
            ranking: Rc::clone(ranking),
            lags: Rc::clone(lags),
            heads: vec![Head::of(ranking, 0, (0, lags[0]))],
            next: 0,
        }
    }

    /// The wave whose sitting comes next; greater than all once none is left.
    pub fn wave(&self) -> u32 {
        self.heads[self.next].key.2
    }

    /// Goes on to the sitting after that.
    pub fn go_on(&mut self) {
        let (sitting, after) = (self.next, self.next + 1);
        let past = self.heads[sitting].place + 1;
        self.heads[sitting] = self.head(sitting, past);
        if after == self.heads.len() && after < self.lags.len() {
            self.heads.push(self.head(after, 0));
        }
        let heads = self.heads.iter().enumerate();
        let least = heads.min_by_key(|(_, head)| head.key);
        self.next = least.map_or(0, |(sitting, _)| sitting);
    }

    fn head(&self, sitting: usize, from: usize) -> Head {
        Head::of(&self.ranking, from, (sitting, self.lags[sitting]))
    }

    /// All of it, by sorting what it sorts by.
    #[cfg(test)]
    pub fn sorted(&self) -> Vec<u32> {
        let mut keys: Vec<Key> = Vec::new();
        for (place, ranked) in self.ranking.waves.iter().enumerate() {
            keys.extend((0..ranked.sittings).map(|sitting| self.head(sitting, place).key));
        }
        keys.sort_unstable();
        keys.into_iter().map(|key| key.2).collect()
    }
}

impl Head {
    /// The first wave from a place on that has a sitting, with that sitting's lag.
    fn of(ranking: &Ranking, from: usize, (sitting, lag): (usize, Lag)) -> Self {
        let mut waves = ranking.waves.iter().enumerate().skip(from);
        let first = waves.find(|(_, ranked)| sitting < ranked.sittings);
        let Some((place, ranked)) = first else {
            return Self {
                place: ranking.waves.len(),
                key: ((u32::MAX, u32::MAX), u64::MAX, u32::MAX),
            };
        };
        let high = match ranking.mix {
            Mix::InTurn => (lag.segment, 0),
            Mix::Blocks => (lag.segment, ranked.group),
            Mix::Apart => (ranked.group, lag.segment),
        };
        Self {
            place,
            key: (high, ranked.rank * 2 + lag.behind, ranked.wave),
        }
    }
}

/// How far each sitting is put off by lags for all but the first.
pub(super) fn behind(lags: &[u32]) -> Rc<[Lag]> {
    let mut so_far = Lag {
        segment: 0,
        behind: 0,
    };
    let mut all = vec![so_far];
    for &lag in lags {
        so_far = match lag {
            ALL => Lag {
                segment: so_far.segment + 1,
                behind: 0,
            },
            // By the halves, so that a lag of one lets the next sitting come before the next wave.
            lag => Lag {
                behind: so_far.behind + 2 * u64::from(lag) - 1,
                ..so_far
            },
        };
        all.push(so_far);
    }
    all.into()
}
