//! The orders in which sittings are tried.
//!
//! Which orders there are depends on the numbers of waves, groups and sittings
//! alone, never on hours, waits, trays or work. The least of their finishes
//! then moves later only if each of them does, so that more trays or hours
//! never make a run later: a rule that looks at the data, such as doing the
//! longest wait first, has no such promise. Leaving out the last wave of a group
//! leaves each order as it was, so that fewer waves are never later either.
//!
//! An order sorts sittings by a key made of the wave's rank and a lag for each
//! sitting: lags of one let a wave go ahead of the next wave, large ones
//! let every wave have its first sitting before any has its second.

use super::prepared::Flat;

/// A lag after which every wave has had the sitting before.
const ALL: u32 = u32::MAX;

/// Sittings up to which every mix of lags is tried.
const FEW: usize = 24;

/// Sittings above which the short family is tried.
const MANY: usize = 100;

/// Mixes of lags that are at most tried.
const MIXES: usize = 128;

/// The numbers that a split's orders depend on.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) struct Shape {
    /// By wave, its group and its place within that.
    ranks: Vec<(usize, usize)>,
    /// By wave, the place of its first sitting; and at last their number.
    first: Vec<usize>,
}

impl Shape {
    pub fn of(flat: &Flat) -> Self {
        Self {
            ranks: flat.ranks.clone(),
            first: flat.first.clone(),
        }
    }

    fn waves(&self) -> usize {
        self.ranks.len()
    }

    fn sittings(&self, wave: usize) -> usize {
        self.first[wave + 1] - self.first[wave]
    }

    fn acts(&self) -> usize {
        self.first[self.waves()]
    }
}

/// How the ranks of waves of several groups are mixed.
#[derive(Clone, Copy, PartialEq)]
enum Mix {
    /// One wave of each group in turn.
    InTurn,
    /// Group after group, between two lags of [`ALL`].
    Blocks,
    /// Group after group to the end.
    Apart,
}

/// The orders of a split: each names its waves, as often as each has sittings.
pub(super) fn of(shape: &Shape) -> Vec<Vec<u32>> {
    let groups = shape.ranks.iter().map(|rank| rank.0).max().unwrap_or(0) + 1;
    let most = (0..shape.waves()).map(|wave| shape.sittings(wave)).max();
    let lags = lags(shape, groups, most.unwrap_or(1) - 1);
    let mixes: &[(Mix, bool)] = if groups == 1 {
        &[(Mix::InTurn, false)]
    } else {
        &[
            (Mix::InTurn, false),
            (Mix::InTurn, true),
            (Mix::Blocks, false),
            (Mix::Blocks, true),
            (Mix::Apart, false),
            (Mix::Apart, true),
        ]
    };
    let mut all = if u64::holds(shape, groups) {
        orders::<u64>(shape, groups, mixes, &lags)
    } else {
        orders::<u128>(shape, groups, mixes, &lags)
    };
    all.sort_unstable();
    all.dedup();
    all
}

/// The orders of every lag and mix.
fn orders<K: Key>(
    shape: &Shape,
    groups: usize,
    mixes: &[(Mix, bool)],
    lags: &[Vec<u32>],
) -> Vec<Vec<u32>> {
    let mut all = Vec::new();
    let mut keyed = Vec::<K>::with_capacity(shape.acts());
    for lag in lags {
        for &mix in mixes {
            all.push(order(shape, groups, mix, lag, false, &mut keyed));
            if shape.acts() <= FEW {
                all.push(order(shape, groups, mix, lag, true, &mut keyed));
            }
        }
    }
    all
}

/// The lags to try, one for each sitting but the first.
fn lags(shape: &Shape, groups: usize, len: usize) -> Vec<Vec<u32>> {
    let acts = shape.acts();
    let steps = u32::try_from(shape.waves()).unwrap_or(ALL);
    let known = [
        2, 3, 4, 5, 6, 7, 8, 10, 12, 16, 24, 32, 48, 64, 96, 128, 192, 256, 512, 1024, 4096,
    ];
    let finite = known
        .into_iter()
        .filter(|&lag| lag < steps.saturating_mul(u32::try_from(groups).unwrap_or(1)));
    let mut lags = Vec::new();
    if acts > MANY {
        // Coarse: doubling lags only.
        let doubling = finite.filter(|lag| lag.is_power_of_two());
        let uniform = [1, ALL].into_iter().chain(doubling);
        lags.extend(uniform.map(|lag| vec![lag; len]));
        return lags;
    }
    let each: Vec<u32> = [1, ALL].into_iter().chain(finite).collect();
    let power = u32::try_from(len).unwrap_or(u32::MAX);
    if acts <= FEW && each.len().saturating_pow(power) <= MIXES {
        return every(&each, len);
    }
    lags.extend(each.iter().map(|&lag| vec![lag; len]));
    for odd in 0..len {
        for (usual, other) in [(1, ALL), (ALL, 1)] {
            let mut mixed = vec![usual; len];
            mixed[odd] = other;
            lags.push(mixed);
        }
    }
    lags
}

/// Every row of `len` lags.
fn every(each: &[u32], len: usize) -> Vec<Vec<u32>> {
    let mut rows = vec![Vec::new()];
    for _ in 0..len {
        rows = rows
            .into_iter()
            .flat_map(|row| {
                each.iter().map(move |&lag| {
                    let mut longer = row.clone();
                    longer.push(lag);
                    longer
                })
            })
            .collect();
    }
    rows
}

/// What an order sorts by, from the highest bits: the group where groups stay apart, the
/// segment, the group within it where they go in blocks (no mix has both), the rank with its
/// lags; and the wave. In one number, and in a narrow one where that holds it, for most of the
/// time of a search goes into sorting.
trait Key: Copy + Ord {
    /// Bits of a group's number, of a segment's, of a rank with its lags, and of a wave's number.
    const GROUP: u32;
    const SEGMENT: u32;
    const RANK: u32;
    const WAVE: u32;

    fn of(high: u64, rank: u64, wave: usize) -> Self;
    fn wave(self) -> u32;

    /// Whether the keys of a split fit. A rank is under waves times groups, and lags add
    /// less than their number times 2^13 to twice that.
    fn holds(shape: &Shape, groups: usize) -> bool {
        let most = (0..shape.waves()).map(|wave| shape.sittings(wave)).max();
        let fits = |number: usize, bits: u32| number < 1 << bits;
        let ranks = 2 * (shape.waves().max(MANY) + 1) * groups;
        fits(groups, Self::GROUP)
            && fits(most.unwrap_or(0), Self::SEGMENT)
            && fits(shape.waves(), Self::WAVE)
            && fits(ranks + (most.unwrap_or(0) << 13), Self::RANK)
    }
}

impl Key for u64 {
    const GROUP: u32 = 8;
    const SEGMENT: u32 = 6;
    const RANK: u32 = 28;
    const WAVE: u32 = 16;

    fn of(high: u64, rank: u64, wave: usize) -> Self {
        (((high << Self::RANK) | rank) << Self::WAVE) | wave as Self
    }

    fn wave(self) -> u32 {
        (self & 0xffff) as u32
    }
}

impl Key for u128 {
    const GROUP: u32 = 24;
    const SEGMENT: u32 = 16;
    const RANK: u32 = 56;
    const WAVE: u32 = 32;

    fn of(high: u64, rank: u64, wave: usize) -> Self {
        (((Self::from(high) << Self::RANK) | Self::from(rank)) << Self::WAVE) | wave as Self
    }

    fn wave(self) -> u32 {
        u32::try_from(self & Self::from(u32::MAX)).expect("it was put there as one")
    }
}

/// One order of a split's sittings.
fn order<K: Key>(
    shape: &Shape,
    groups: usize,
    (mix, backward): (Mix, bool),
    lags: &[u32],
    last_first: bool,
    keyed: &mut Vec<K>,
) -> Vec<u32> {
    keyed.clear();
    for (wave, &(group, place)) in shape.ranks.iter().enumerate() {
        let group = if backward { groups - 1 - group } else { group };
        // Only differences matter, so that any number above all places will do.
        let place = if last_first { MANY - place } else { place };
        let rank = match mix {
            Mix::InTurn => place * groups + group,
            Mix::Blocks | Mix::Apart => place,
        };
        // By the halves, so that a lag of one lets the next sitting come before the next wave.
        let mut key = 2 * rank as u64;
        let mut segment = 0;
        for sitting in 0..shape.sittings(wave) {
            match sitting.checked_sub(1).map(|before| lags[before]) {
                None => {}
                Some(ALL) => {
                    segment += 1;
                    key = 2 * rank as u64;
                }
                Some(lag) => key += 2 * u64::from(lag) - 1,
            }
            let high = match mix {
                Mix::InTurn => segment,
                Mix::Blocks => (segment << K::GROUP) | group as u64,
                Mix::Apart => ((group as u64) << K::SEGMENT) | segment,
            };
            keyed.push(K::of(high, key, wave));
        }
    }
    keyed.sort_unstable();
    keyed.iter().map(|key| key.wave()).collect()
}
