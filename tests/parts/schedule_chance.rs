//! The chance of being ready: known laws, the same answer from any threads.

use crate::common::schedule::random::{self, Dice};
use crate::common::schedule::{MONDAY, at, daily, sitting, task, wave, window};
use brimful::schedule::{
    Draws, Hours, Loss, Minute, NoChance, OnFace, Orders, Sitting, Spread, Spreads, Task,
    WaitSpread, chance, earliest,
};
use serde::Deserialize;
use std::collections::BTreeSet;

const DRAWS: Draws = Draws {
    seed: 7,
    samples: 20_000,
    threads: 0,
};

fn spreads(waits: usize, spread: Spread) -> Spreads {
    Spreads {
        waits: (0..waits)
            .map(|_| WaitSpread { source: 0, spread })
            .collect(),
        hands: Spread::NONE,
        sitting: Spread::NONE,
        losses: Vec::new(),
    }
}

/// One sitting of an hour and one wait of 10 000 minutes.
fn one_wait() -> Task {
    let hours = daily(&[window(540, 1080)]);
    let only = wave(1, &[], &[sitting(60, Some(0), None)]);
    task(hours, &[], &[10_000], vec![only])
}

/// With one wait the run is ready at 5, 50 and 95 of 100 exactly where the wait is;
/// within 4 standard errors, as 20 000 draws have it.
#[test]
fn one_wait_is_ready_as_often_as_its_spread_says() {
    let task = one_wait();
    let made = earliest(&task, at(MONDAY, 9, 0)).unwrap();
    let (low, likely, high) = (0.5, 1.1, 3.0);
    let spreads = spreads(1, Spread { low, likely, high });
    let laid = made.booked[0].ends;
    for (factor, expected) in [(low, 0.05), (likely, 0.5), (high, 0.95)] {
        let minutes: f64 = 10_000.0 * factor;
        let deadline = laid.plus(format!("{minutes:.0}").parse().unwrap()).unwrap();
        let told = chance(&task, &made, &spreads, deadline, DRAWS).unwrap();
        let error = (expected * (1.0 - expected) / 20_000.0_f64).sqrt();
        assert!(
            (told.ready.share - expected).abs() < 4.0 * error,
            "{expected}: {told:?}"
        );
        assert!((told.ready.error - error).abs() < 0.1 * error);
    }
}

/// A coat is held back for the next one on it, and so it is in every draw: where nothing is spread,
/// each run is ready when its timetable is, and never sooner.
#[test]
fn what_a_timetable_holds_back_is_held_back_in_every_draw() {
    // evenings of two hours from Monday to Friday; some work, then two coats of half an hour, 8 h apart
    // and no more than 23 h
    let week = std::array::from_fn(|day| match day {
        0..5 => vec![window(1080, 1200)],
        _ => Vec::new(),
    });
    let hours = Hours::new(week, &BTreeSet::new(), window(420, 1350)).unwrap();
    let coat = Sitting {
        coat: Some(OnFace {
            second: false,
            closes: Some(23 * 60),
        }),
        ..sitting(30, Some(0), None)
    };
    let only = wave(1, &[], &[sitting(10, None, None), coat, coat]);
    let task = task(hours, &[], &[480], vec![only]);
    let on = |days: i64, hour, minute| at(MONDAY, hour, minute).plus(days * 1440).unwrap();
    let friday = on(4, 18, 0);
    let made = Orders::default().earliest_kept(&task, friday, on(20, 0, 0));
    let made = made.unwrap().expect("next week");
    // by hand: on Friday the next coat would come on Monday, so the first is laid on Monday too, and no
    // sooner than 23 h before Tuesday's beginning
    let begins: Vec<_> = made.booked.iter().map(|booked| booked.begins).collect();
    assert_eq!(begins, [friday, on(7, 19, 0), on(8, 18, 0)]);
    assert!(made.holds_back());
    assert_eq!(made.ready, on(9, 2, 30));
    let told = chance(&task, &made, &spreads(1, Spread::NONE), made.ready, DRAWS).unwrap();
    assert_eq!(told.finish, [Some(made.ready); 3]);
    // as soon as it can be, it is ready a day sooner and the second coat comes too late
    let plain = earliest(&task, friday).unwrap();
    assert_eq!((plain.ready, plain.missed), (on(8, 2, 30), 1));
}

/// One row of `binomial.csv`.
#[derive(Deserialize)]
struct Row {
    wanted: u32,
    lost: f64,
    start: u32,
    chance: f64,
    source: String,
}

/// Against an outside library's binomial; within 4 standard errors, as 20 000 draws have it.
#[test]
fn enough_pieces_survive_as_often_as_the_binomial_says() {
    let task = one_wait();
    let made = earliest(&task, at(MONDAY, 9, 0)).unwrap();
    let table = include_str!("../../data/reference/consumption/binomial.csv");
    let rows = csv::Reader::from_reader(table.as_bytes()).into_deserialize::<Row>();
    let mut compared = 0;
    for row in rows.map(Result::unwrap).filter(|row| row.wanted == 60) {
        assert!(row.source.contains("binom"));
        let mut spreads = spreads(1, Spread::NONE);
        spreads.losses = vec![Loss {
            started: row.start,
            survives: 1.0 - row.lost,
            wanted: row.wanted,
        }];
        let told = chance(&task, &made, &spreads, made.ready, DRAWS).unwrap();
        let error = (row.chance * (1.0 - row.chance) / 20_000.0_f64).sqrt();
        assert!(
            (told.enough.share - row.chance).abs() <= 4.0 * error,
            "{} of {}: {told:?}",
            row.wanted,
            row.start
        );
        assert!((told.ready.share - 1.0).abs() < f64::EPSILON);
        assert!((told.both.share - told.enough.share).abs() < f64::EPSILON);
        compared += 1;
    }
    assert!(compared > 5, "{compared}");
}

fn wide() -> Spreads {
    let spread = Spread {
        low: 0.6,
        likely: 1.0,
        high: 2.0,
    };
    Spreads {
        hands: spread,
        sitting: spread,
        losses: vec![Loss {
            started: 20,
            survives: 0.9,
            wanted: 17,
        }],
        ..spreads(4, spread)
    }
}

#[test]
fn any_number_of_threads_gives_the_same_answer() {
    let (task, _) = random::task(&mut Dice(5), &[2, 3, 2]);
    let made = earliest(&task, at(MONDAY, 9, 0)).unwrap();
    let told = |threads, seed| {
        let draws = Draws {
            seed,
            samples: 1001,
            threads,
        };
        chance(&task, &made, &wide(), made.ready, draws).unwrap()
    };
    let one = told(1, 3);
    for threads in [0, 2, 3, 7, 5000] {
        assert_eq!(told(threads, 3), one);
    }
    assert_ne!(told(1, 4).finish, one.finish);
}

#[test]
fn without_spread_every_run_goes_as_planned() {
    let mut dice = Dice(6);
    let mut seen = 0;
    for _ in 0..30 {
        let (task, _) = random::task(&mut dice, &[2, 3, 2]);
        let Ok(made) = earliest(&task, at(MONDAY, 9, 0)) else {
            continue;
        };
        let draws = Draws {
            samples: 3,
            ..DRAWS
        };
        let none = spreads(4, Spread::NONE);
        let told = chance(&task, &made, &none, made.ready, draws).unwrap();
        assert_eq!(told.finish, [Some(made.ready); 3]);
        let before = made.ready.plus(-1).unwrap();
        let told = chance(&task, &made, &none, before, draws).unwrap();
        assert!(told.ready.share.abs() < f64::EPSILON);
        seen += 1;
    }
    assert!(seen > 15, "{seen}");
}

/// Case C27: the first run of all takes 2.5 to 4 times the hands-on time of a guess (common practice, no source).
#[test]
fn work_that_outgrows_its_spell_goes_on_in_the_next() {
    let hours = daily(&[window(1080, 1200)]);
    let only = wave(1, &[], &[sitting(60, None, None)]);
    let task = task(hours, &[], &[], vec![only]);
    let made = earliest(&task, at(MONDAY, 9, 0)).unwrap();
    let mut spreads = spreads(0, Spread::NONE);
    spreads.hands = Spread {
        low: 3.0,
        likely: 3.0,
        high: 3.0,
    };
    let told = chance(&task, &made, &spreads, made.ready, DRAWS).unwrap();
    // 180 minutes: two hours on Monday evening, one on Tuesday.
    let tuesday = MONDAY.tomorrow().unwrap();
    assert_eq!(told.finish, [Some(at(tuesday, 19, 0)); 3]);
}

#[test]
fn nonsense_is_refused() {
    let task = one_wait();
    let made = earliest(&task, at(MONDAY, 9, 0)).unwrap();
    let told = |spreads: &Spreads, samples| {
        let deadline: Minute = made.ready;
        chance(&task, &made, spreads, deadline, Draws { samples, ..DRAWS })
    };
    for (low, likely, high) in [
        (0.0, 1.0, 1.0),
        (2.0, 1.0, 3.0),
        (0.5, 1.0, 0.9),
        (0.5, f64::NAN, 0.9),
        (0.5, 1.0, f64::INFINITY),
    ] {
        let bad = spreads(1, Spread { low, likely, high });
        assert!(matches!(told(&bad, 5), Err(NoChance::OutOfRange { .. })));
    }
    let good = spreads(1, Spread::NONE);
    assert!(told(&good, 0).is_err());
    assert!(matches!(
        told(&spreads(2, Spread::NONE), 5),
        Err(NoChance::OtherTask(_))
    ));
    let mut lossy = good;
    lossy.losses.push(Loss {
        started: 5,
        survives: 1.5,
        wanted: 2,
    });
    assert!(told(&lossy, 5).is_err());
}
