//! The cheapest bottles of several sizes, against a search through all combinations.

use brimful::consumption::{Bottle, Demand, Losses, Pour, Pours, Size, UseError, cheapest};
use brimful::quantity::{Money, Ratio, Share, Volume};
use proptest::prelude::*;

fn size(ml: f64, price: f64) -> Size {
    Size {
        gives: Volume::from_ml(ml),
        price: Money::from_amount(price),
    }
}

/// Every combination of up to so many bottles of each size: the least price in cents, then the
/// least left over in mL, then the fewest bottles.
fn by_hand(sizes: &[(u64, u64)], lacking: u64) -> (u64, u64, u64) {
    fn go(sizes: &[(u64, u64)], lacking: u64, so_far: (u64, u64, u64), best: &mut (u64, u64, u64)) {
        let (ml, cents, bottles) = so_far;
        let Some(&(holds, price)) = sizes.first() else {
            if ml >= lacking {
                *best = (*best).min((cents, ml - lacking, bottles));
            }
            return;
        };
        for n in 0..=lacking.div_ceil(holds) {
            let next = (ml + n * holds, cents + n * price, bottles + n);
            go(&sizes[1..], lacking, next, best);
        }
    }
    let mut best = (u64::MAX, u64::MAX, u64::MAX);
    go(sizes, lacking, (0, 0, 0), &mut best);
    best
}

#[expect(clippy::cast_precision_loss, reason = "small counts")]
fn ours(sizes: &[(u64, u64)], lacking: u64) -> (u64, u64, u64) {
    let known: Vec<Size> = sizes
        .iter()
        .map(|&(ml, cents)| size(ml as f64, cents as f64 / 100.0))
        .collect();
    let found = cheapest(&known, Volume::from_ml(lacking as f64)).unwrap();
    let told: u64 = (sizes.iter().zip(&found.counts))
        .map(|(s, n)| s.0 * n)
        .sum();
    let price: u64 = (sizes.iter().zip(&found.counts))
        .map(|(s, n)| s.1 * n)
        .sum();
    // what is told beside the counts is theirs
    assert!(told >= lacking, "{sizes:?} {lacking}: {:?}", found.counts);
    assert!((found.left_over.ml() - (told - lacking) as f64).abs() < 1e-6);
    assert!((found.price.amount() * 100.0 - price as f64).abs() < 1e-6);
    (price, told - lacking, found.counts.iter().sum())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn no_combination_is_better(
        sizes in prop::collection::vec((1_u64..60, 0_u64..900), 1..4),
        lacking in 0_u64..160,
    ) {
        prop_assert_eq!(ours(&sizes, lacking), by_hand(&sizes, lacking));
    }

    /// The same where prices go by the millilitre, so that only what is left over decides.
    #[test]
    fn of_equal_prices_the_least_is_left_over(
        holds in prop::collection::vec(1_u64..40, 1..4),
        lacking in 0_u64..120,
    ) {
        let sizes: Vec<(u64, u64)> = holds.iter().map(|&ml| (ml, 12 * ml)).collect();
        prop_assert_eq!(ours(&sizes, lacking), by_hand(&sizes, lacking));
    }

    #[test]
    fn more_never_costs_less(
        sizes in prop::collection::vec((10_u64..300, 100_u64..3000), 1..5),
        lacking in 0_u64..2000,
        more in 0_u64..300,
    ) {
        prop_assert!(ours(&sizes, lacking).0 <= ours(&sizes, lacking + more).0);
    }
}

/// By hand: 70 mL from 50 at 5.00 and 60 at 5.80. A millilitre costs 0.1000 and 0.0967;
/// the better value first gives 60 + 50 for 10.80, two of 50 cost 10.00.
#[test]
fn the_better_value_is_not_always_the_cheaper() {
    let found = cheapest(&[size(50.0, 5.0), size(60.0, 5.8)], Volume::from_ml(70.0)).unwrap();
    assert_eq!(found.counts, [2, 0]);
    assert!((found.price.amount() - 10.0).abs() < 1e-12);
    assert!((found.left_over.ml() - 30.0).abs() < 1e-9);
}

#[test]
fn nothing_lacking_buys_nothing() {
    let found = cheapest(&[size(50.0, 5.0), size(60.0, 5.8)], Volume::ZERO).unwrap();
    assert_eq!(found.counts, [0, 0]);
    assert_eq!(found.price, Money::from_amount(0.0));
}

/// 10 000 L in bottles from 30 mL to 5 L: answered, not searched for long.
#[test]
fn a_great_amount_is_quick() {
    let sizes = [
        size(30.0, 4.1),
        size(60.0, 7.2),
        size(250.0, 21.5),
        size(1000.0, 71.0),
        size(5000.0, 320.0),
    ];
    let found = cheapest(&sizes, Volume::from_ml(1e7 + 31.0)).unwrap();
    // 2000 of the best value and what is cheapest for 31 mL more: one of 60, or a 30 and more
    assert_eq!(found.counts, [0, 1, 0, 0, 2000]);
}

#[test]
fn what_is_no_bottle_is_refused() {
    let one_ml = Volume::from_ml(1.0);
    for bad in [
        cheapest(&[], one_ml),
        cheapest(&[size(0.0, 1.0)], one_ml),
        cheapest(&[size(10.0, -1.0)], one_ml),
        cheapest(&[size(10.0, 1.0)], Volume::from_ml(-1.0)),
    ] {
        assert!(matches!(bad, Err(UseError::OutOfRange { .. })), "{bad:?}");
    }
}

/// 100 mL on the pieces, a heel of a tenth: 111.1 mL in bottles; the stock's 40 mL give 36. So
/// 64 mL lack, and bottles give 45 and 108. By hand: 2 x 6.00 against 1 x 11.00.
#[test]
fn every_bottle_keeps_its_heel_and_the_stock_comes_first() {
    let amount = Demand {
        uses: vec![Pours {
            started: 100,
            pour: Pour {
                each: Volume::from_ml(1.0),
                scatter: Share::ZERO,
                coats: 1,
            },
        }],
        bias: Share::ZERO,
        losses: Losses {
            heel: Share::from_percent(10.0),
            ..Losses::NONE
        },
    }
    .amount()
    .unwrap();
    let bottle = Bottle {
        holds: Volume::from_ml(50.0),
        have: Ratio::from_number(0.9),
    };
    let others = [(Volume::from_ml(120.0), Money::from_amount(11.0))];
    let sure = Share::from_percent(95.0);
    let found = amount
        .cheapest_bottles(&bottle, Money::from_amount(6.0), &others, sure)
        .unwrap();
    assert_eq!(found.bottles.counts, [0, 1]);
    // 50 (0.9 - 0.1) = 40 from stock, 108 bought, 100 used
    assert!((found.bottles.left_over.ml() - 48.0).abs() < 1e-9);
    assert!((found.chance.percent() - 100.0).abs() < 1e-9);
}
