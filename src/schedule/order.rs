//! Orders in which sittings are laid out.
//!
//! They depend on the numbers of waves and sittings alone, never on hours, waits or
//! trays. For one order every minute is monotone in those (see [`super::engine`]), so
//! the best over a fixed family of orders is, too: more hours, trays or a better room
//! never make a plan worse.

use super::engine::Step;
use super::task::Split;

/// How strongly an order keeps to finishing waves (first) or to doing one kind of sitting
/// for all of them (second), `a` times the wave's rank plus `b` times the sitting's.
const LEANINGS: [(u64, u64); 11] = [
    (1, 0),
    (0, 1),
    (1, 1),
    (2, 1),
    (1, 2),
    (3, 1),
    (1, 3),
    (3, 2),
    (2, 3),
    (4, 1),
    (1, 4),
];

/// How waves are ranked.
#[derive(Clone, Copy)]
enum Rank {
    /// As the split has them.
    AsGiven,
    /// Backwards.
    Backwards,
    /// One of each group in turn.
    InTurn,
}

/// Above so many sittings only the plainest orders are tried.
const MANY: usize = 400;
/// And above so many only two.
const VERY_MANY: usize = 4000;

/// The orders for a split.
pub(super) fn orders(split: &Split) -> Vec<Vec<Step>> {
    let count = split.sittings();
    let (ranks, leanings): (&[Rank], &[(u64, u64)]) = match count {
        _ if count > VERY_MANY => (&[Rank::AsGiven], &LEANINGS[..3]),
        _ if count > MANY => (&[Rank::AsGiven, Rank::InTurn], &LEANINGS[..5]),
        _ => (&[Rank::AsGiven, Rank::InTurn, Rank::Backwards], &LEANINGS),
    };
    let mut orders: Vec<Vec<Step>> = Vec::new();
    for &rank in ranks {
        let ranked = ranked(split, rank);
        for &leaning in leanings {
            let order = order(split, &ranked, leaning);
            if !orders.contains(&order) {
                orders.push(order);
            }
        }
    }
    orders
}

/// Every wave's place in a ranking.
fn ranked(split: &Split, rank: Rank) -> Vec<u64> {
    let waves = split.waves.len();
    let mut by_rank: Vec<usize> = (0..waves).collect();
    match rank {
        Rank::AsGiven => {}
        Rank::Backwards => by_rank.reverse(),
        Rank::InTurn => {
            let mut seen: Vec<(usize, usize)> = Vec::with_capacity(waves);
            let mut of_group = std::collections::BTreeMap::new();
            for wave in &split.waves {
                let turn = of_group.entry(wave.group).or_insert(0);
                seen.push((*turn, wave.group));
                *turn += 1;
            }
            by_rank.sort_by_key(|&wave| seen[wave]);
        }
    }
    let mut ranks = vec![0; waves];
    for (rank, wave) in by_rank.into_iter().enumerate() {
        ranks[wave] = rank as u64;
    }
    ranks
}

fn order(split: &Split, ranks: &[u64], (a, b): (u64, u64)) -> Vec<Step> {
    let mut keyed: Vec<((u64, u64, u64), Step)> = Vec::with_capacity(split.sittings());
    for (number, wave) in (0_u32..).zip(&split.waves) {
        let rank = ranks[number as usize];
        for sitting in 0..u32::try_from(wave.sittings.len()).unwrap_or(u32::MAX) {
            let key = a * rank + b * u64::from(sitting);
            keyed.push(((key, rank, u64::from(sitting)), (number, sitting)));
        }
    }
    keyed.sort_unstable();
    keyed.into_iter().map(|(_, step)| step).collect()
}
