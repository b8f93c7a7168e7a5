//! Random small tasks.

use std::collections::BTreeSet;

use brimful::schedule::{Minute, Shop, Sitting, Split, Task, Wait, WaitId, Wave};

use super::{MONDAY, Rules, at, window};

/// A stream of numbers from a seed (Vigna 2015, "`SplitMix64`").
pub struct Dice(pub u64);

impl Dice {
    /// From 0 up to, but not, `to`.
    pub fn below(&mut self, to: u32) -> u32 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut word = self.0;
        word = (word ^ (word >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        word = (word ^ (word >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        word ^= word >> 31;
        u32::try_from(word % u64::from(to)).unwrap()
    }

    pub fn one_in(&mut self, of: u32) -> bool {
        self.below(of) == 0
    }
}

/// A task of two groups with so many sittings in each wave; hours, days off, trays and waits vary.
pub fn task(dice: &mut Dice, sittings: &[usize]) -> (Task, Rules) {
    let rules = rules(dice);
    let waits: Vec<Wait> = (0..4).map(|_| wait(dice)).collect();
    let steps: [Vec<Sitting>; 2] = std::array::from_fn(|_| {
        let most = sittings.iter().max().copied().unwrap();
        (0..most).map(|step| sitting(dice, step)).collect()
    });
    let half = sittings.len().div_ceil(2);
    let needs: [u32; 2] = std::array::from_fn(|_| 1 + dice.below(3));
    let waves = sittings.iter().enumerate().map(|(place, &count)| {
        let group = place / half;
        Wave {
            group,
            pieces: 10,
            trays: vec![needs[group]],
            sittings: steps[group][..count].to_vec(),
        }
    });
    let task = Task {
        splits: vec![Split {
            waves: waves.collect(),
        }],
        shop: Shop {
            hours: rules.hours(),
            trays: vec![3 + dice.below(4)],
        },
        waits,
    };
    (task, rules)
}

fn rules(dice: &mut Dice) -> Rules {
    let evening = 1080 + 15 * dice.below(4);
    let week = std::array::from_fn(|day| match day {
        5 | 6 if dice.one_in(2) => vec![window(540, 720), window(840, 1020)],
        0..5 if dice.one_in(5) => Vec::new(),
        _ => vec![window(evening, evening + 120 + 15 * dice.below(5))],
    });
    let mut off = BTreeSet::new();
    for _ in 0..dice.below(4) {
        let days = i64::from(dice.below(40));
        off.insert(MONDAY.checked_add(jiff::Span::new().days(days)).unwrap());
    }
    Rules {
        week,
        off,
        awake: window(420, 1320 + 30 * dice.below(4)),
    }
}

fn wait(dice: &mut Dice) -> Wait {
    let base = 30 + 30 * dice.below(100);
    let night = dice.below(600);
    let uneven = dice.one_in(2);
    // hours from which it is never there, such that every window keeps two others
    let never: &[usize] = if dice.one_in(3) {
        &[3, 4, 9, 14, 21, 22, 23]
    } else {
        &[]
    };
    Wait {
        by_hour: std::array::from_fn(|hour| {
            let more = if uneven && !(8..20).contains(&hour) {
                night
            } else {
                0
            };
            (!never.contains(&hour)).then_some(base + more)
        }),
    }
}

/// When a sitting's goods are there: within two weeks and a half of the Monday.
fn there(dice: &mut Dice) -> Minute {
    let minutes = i64::from(dice.below(25_000));
    at(MONDAY, 0, 0).plus(minutes).unwrap()
}

fn sitting(dice: &mut Dice, step: usize) -> Sitting {
    Sitting {
        step,
        work: 5 + 5 * dice.below(20),
        next: (!dice.one_in(4)).then(|| WaitId(dice.below(4) as usize)),
        lifted: (!dice.one_in(3)).then(|| WaitId(dice.below(4) as usize)),
        through: dice.one_in(3).then(|| WaitId(dice.below(4) as usize)),
        after_through: dice.one_in(3),
        as_it_lies: dice.one_in(3),
        look: dice.one_in(3).then_some(30),
        not_before: dice.one_in(4).then(|| there(dice)),
        coat: None,
    }
}
