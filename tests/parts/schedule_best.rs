//! The scheduler against every order, tried one by one.

use crate::common::schedule::random::{self, Dice};
use crate::common::schedule::slow::Slow;
use crate::common::schedule::{MONDAY, Rules, at, sitting, task, verify, wave, window};
use brimful::schedule::{
    Draws, Minute, NoTimetable, Split, Spread, Spreads, WaitSpread, Wave, chance, earliest, latest,
};

/// How the engine fared against every order.
#[derive(Debug, Default)]
struct Fared {
    runs: u32,
    /// As late a start as any.
    best: u32,
    /// No spell with a later start but its own.
    within_a_spell: u32,
}

/// Compares latest starts on random runs with waves of so many sittings.
fn fare(seed: u64, runs: u32, shapes: &[&[usize]]) -> Fared {
    let mut dice = Dice(seed);
    let mut fared = Fared::default();
    while fared.runs < runs {
        let shape = shapes[fared.runs as usize % shapes.len()];
        let (task, rules) = random::task(&mut dice, shape);
        let deadline = at(MONDAY, 12, 0).plus(40 * 1440).unwrap();
        let made = match latest(&task, deadline, None) {
            Ok(made) => made,
            Err(NoTimetable::LooksAsleep { .. } | NoTimetable::TooLong { .. }) => continue,
            Err(other) => panic!("{other}"),
        };
        verify(&task, &rules, &made).unwrap();
        assert!(made.ready <= deadline);
        fared.runs += 1;
        let base = at(MONDAY, 0, 0).plus(-80 * 1440).unwrap();
        let slow = Slow::of(&task, &rules, base, 140);
        let later = |start: Minute| slow.earliest(start, deadline).is_some();
        if !later(made.starts.plus(1).unwrap()) {
            fared.best += 1;
            fared.within_a_spell += 1;
            continue;
        }
        // The next spell after the one it begins in.
        let hours = &task.shop.hours;
        let next = hours.spells(made.starts).nth(1).unwrap();
        if !later(next.to) {
            fared.within_a_spell += 1;
        }
    }
    fared
}

#[test]
fn no_order_of_a_few_sittings_starts_later() {
    let shapes: [&[usize]; 5] = [&[3, 3, 2], &[2, 3], &[3, 2, 1], &[1, 1, 3], &[2, 2, 2]];
    let fared = fare(1, 200, &shapes);
    println!("{fared:?}");
    assert_eq!(fared.best, fared.runs, "{fared:?}");
}

/// Above 2520 orders the engine tries a family only; 9 and 10 sittings in 4 or 5
/// waves have 7560 and more.
#[test]
fn the_family_of_orders_starts_within_a_spell_of_the_best() {
    let shapes: [&[usize]; 3] = [&[3, 3, 2, 2], &[2, 2, 3, 3], &[2, 2, 2, 2, 2]];
    let alike = fare(2, 40, &shapes);
    println!("alike within a group: {alike:?}");
    let shapes: [&[usize]; 3] = [&[2, 2, 2, 3], &[2, 2, 2, 2, 1], &[3, 2, 3, 2]];
    let mixed = fare(3, 40, &shapes);
    println!("of several lengths within a group: {mixed:?}");
    // Not a law: what a family that may not look at the data can be expected to reach.
    for fared in [alike, mixed] {
        assert!(fared.within_a_spell * 100 >= fared.runs * 90, "{fared:?}");
    }
}

#[test]
fn no_order_of_a_few_sittings_ends_sooner() {
    let mut dice = Dice(3);
    let mut compared = 0;
    for _ in 0..60 {
        let (task, rules) = random::task(&mut dice, &[2, 2, 2]);
        let start = at(MONDAY, 0, 0)
            .plus(i64::from(dice.below(7 * 1440)))
            .unwrap();
        let Ok(made) = earliest(&task, start) else {
            continue;
        };
        verify(&task, &rules, &made).unwrap();
        let slow = Slow::of(&task, &rules, at(MONDAY, 0, 0), 200);
        let far = start.plus(150 * 1440).unwrap();
        assert_eq!(slow.earliest(start, far), Some(made.ready));
        compared += 1;
    }
    assert!(compared > 40, "{compared}");
}

/// A run of two groups, about as large as a maker's: so many waves of each, six sittings with a day's waits.
fn like_a_fair(waves: usize, sittings: usize) -> Vec<Wave> {
    let steps: Vec<_> = (0..sittings)
        .map(|place| sitting(20, Some(place % 3), (place % 2 == 0).then_some(place % 3)))
        .collect();
    let group = |group| Wave {
        group,
        ..wave(10, &[1], &steps)
    };
    (0..waves).map(|place| group(place % 2)).collect()
}

/// Their times are printed, not held: they are those of a build with few optimisations.
#[test]
fn large_runs_are_timed_by_the_rules() {
    let rules = Rules {
        week: std::array::from_fn(|_| vec![window(1080, 1260)]),
        off: std::collections::BTreeSet::new(),
        awake: window(420, 1350),
    };
    for (waves, sittings, splits) in [(12, 6, 8), (10_000, 3, 1)] {
        let mut task = task(
            rules.hours(),
            &[8],
            &[1440, 2000, 300],
            like_a_fair(waves, sittings),
        );
        let fewer = (1..splits).map(|less| Split {
            waves: like_a_fair(waves - less, sittings),
        });
        task.splits.extend(fewer);
        let begun = std::time::Instant::now();
        let start = at(MONDAY, 0, 0);
        let made = earliest(&task, start).unwrap();
        println!("{waves} waves forward: {:?}", begun.elapsed());
        if waves < 100 {
            // The verifier goes minute by minute.
            verify(&task, &rules, &made).unwrap();
        }
        let begun = std::time::Instant::now();
        let late = latest(&task, made.ready, Some(start)).unwrap();
        println!("{waves} waves back: {:?}", begun.elapsed());
        assert!(late.starts >= made.starts && late.ready <= made.ready);
        let spread = Spread {
            low: 0.7,
            likely: 1.0,
            high: 1.5,
        };
        let wait = WaitSpread { source: 0, spread };
        let spreads = Spreads {
            waits: vec![wait; 3],
            hands: spread,
            sitting: spread,
            losses: Vec::new(),
        };
        let draws = Draws {
            seed: 1,
            samples: 1000 * 12 / u32::try_from(waves).unwrap().max(12) + 9,
            threads: 0,
        };
        let begun = std::time::Instant::now();
        let told = chance(&task, &late, &spreads, made.ready, draws).unwrap();
        println!("{} runs drawn: {:?}", told.samples, begun.elapsed());
        assert!(told.finish[0] <= told.finish[2]);
    }
}
