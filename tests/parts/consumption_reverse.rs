//! What the stock in hand makes, against a count one piece at a time.

use brimful::consumption::{UseError, most_good};
use brimful::quantity::Share;
use proptest::prelude::*;

/// The chance of at least `wanted` good of `started`, by walking the counts one piece at a time.
fn chance(started: u64, wanted: u64, kept: f64) -> f64 {
    let mut counts = vec![1.0];
    for _ in 0..started {
        let mut next = vec![0.0; counts.len() + 1];
        for (good, chance) in counts.iter().enumerate() {
            next[good] += chance * (1.0 - kept);
            next[good + 1] += chance * kept;
        }
        counts = next;
    }
    let from = usize::try_from(wanted).unwrap();
    counts.iter().skip(from).sum()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn it_is_the_most_that_every_stock_does_for(
        stocks in prop::collection::vec((0_u64..120, 1_u64..6), 1..5),
        lost in 0_u32..40,
    ) {
        let lost = Share::from_percent(f64::from(lost));
        let sure = Share::from_percent(95.0);
        let tests: Vec<_> = stocks.iter().map(|&(have, each)| move |n: u64| n * each <= have).collect();
        let tests: Vec<&dyn Fn(u64) -> bool> = tests.iter().map(|test| test as _).collect();
        let told = most_good(&tests, lost, sure).unwrap();

        let started = (0..=1000).take_while(|n| stocks.iter().all(|(have, each)| n * each <= *have)).last().unwrap();
        prop_assert_eq!(told.started, started);
        let short = |&(have, each): &(u64, u64)| (started + 1) * each > have;
        let runs_out: Vec<usize> = (0..stocks.len()).filter(|&i| short(&stocks[i])).collect();
        prop_assert_eq!(told.runs_out, runs_out);
        let kept = 1.0 - lost.fraction();
        let good = (0..=started).rev().find(|&good| chance(started, good, kept) >= 0.95 - 1e-9).unwrap();
        prop_assert_eq!(told.good, good);
    }
}

#[test]
fn nothing_in_stock_makes_nothing_and_runs_out_at_once() {
    let none = |n: u64| n == 0;
    let plenty = |n: u64| n < 500;
    let told = most_good(&[&plenty, &none], Share::ZERO, Share::from_percent(95.0)).unwrap();
    assert_eq!((told.started, told.good), (0, 0));
    assert_eq!(told.runs_out, [1]);
}

/// A tool's own loss may be more than the stock: then it does not do even for none.
#[test]
fn a_stock_that_does_not_wet_the_tool_makes_nothing() {
    let told = most_good(&[&|_| false], Share::ZERO, Share::from_percent(95.0)).unwrap();
    assert_eq!((told.started, told.good), (0, 0));
    assert_eq!(told.runs_out, [0]);
}

#[test]
fn what_never_runs_out_is_an_error_and_no_number() {
    let told = most_good(&[&|_| true], Share::ZERO, Share::from_percent(95.0));
    assert!(matches!(told, Err(UseError::TooMany { .. })), "{told:?}");
}
