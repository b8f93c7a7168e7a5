//! Packs of findings, spares and dates, against counts by hand and by trial.

use brimful::consumption::{PackNeed, UseError, keeps, with_spares};
use brimful::quantity::{Money, Share};
use jiff::civil::date;
use proptest::prelude::*;

fn need(needed: u64, have: u64, pack: u64, price: f64) -> PackNeed {
    PackNeed {
        needed,
        have,
        pack,
        price: Some(Money::from_amount(price)),
    }
}

/// Case C22: 25 magnets a pack, 16 used. At 6.25 a pack each costs 0.25: 16 are 4.00.
#[test]
fn sixteen_of_twenty_five_magnets_leave_nine_over() {
    let packs = need(16, 0, 25, 6.25).count().unwrap();
    assert_eq!(
        (packs.buy, packs.packs, packs.bought, packs.left_over),
        (16, 1, 25, 9)
    );
    assert!((packs.price.unwrap().amount() - 6.25).abs() < 1e-12);
    assert!((packs.used_cost.unwrap().amount() - 4.0).abs() < 1e-12);
    let unpriced = PackNeed {
        price: None,
        ..need(16, 0, 25, 0.0)
    }
    .count()
    .unwrap();
    assert_eq!((unpriced.price, unpriced.used_cost), (None, None));
}

/// What comes from stock costs as well, though no money is paid for it now.
#[test]
fn stock_is_used_first_and_is_not_free() {
    let packs = need(16, 30, 25, 6.25).count().unwrap();
    assert_eq!((packs.buy, packs.packs, packs.left_over), (0, 0, 14));
    assert!(packs.price.unwrap().amount().abs() < 1e-12);
    assert!((packs.used_cost.unwrap().amount() - 4.0).abs() < 1e-12);
}

#[test]
fn spares_round_up_but_not_for_a_rounding() {
    let percent = Share::from_percent;
    assert_eq!(with_spares(60, percent(4.0)).unwrap(), 63); // 62.4
    assert_eq!(with_spares(50, percent(4.0)).unwrap(), 52); // 52 on the nose
    assert_eq!(with_spares(100, percent(10.0)).unwrap(), 110); // 110.00000000000001 in binary
    assert_eq!(with_spares(0, percent(50.0)).unwrap(), 0);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// The fewest packs, found by adding one after the other.
    #[test]
    fn no_fewer_packs_do(needed in 0_u64..500, have in 0_u64..200, pack in 1_u64..60) {
        let told = need(needed, have, pack, 1.0).count().unwrap();
        let fewest = (0..=500).find(|packs| have + packs * pack >= needed).unwrap();
        prop_assert_eq!(told.packs, fewest);
        prop_assert_eq!(told.left_over, have + fewest * pack - needed);
    }

    /// In whole numbers: ceil(n (100 + s) / 100).
    #[test]
    fn spares_are_a_share_of_what_is_taken(taken in 0_u64..100_000, spares in 0_u32..=100) {
        let told = with_spares(taken, Share::from_percent(f64::from(spares))).unwrap();
        prop_assert_eq!(told, (taken * u64::from(100 + spares)).div_ceil(100));
    }
}

/// Best before a day means that it is no longer used on that day.
#[test]
fn stock_is_kept_up_to_the_day_before_its_date() {
    let fair = date(2027, 4, 17);
    assert!(keeps(Some(date(2027, 4, 18)), Some(fair)));
    assert!(!keeps(Some(fair), Some(fair)));
    assert!(!keeps(Some(date(2027, 4, 16)), Some(fair)));
    assert!(keeps(None, Some(fair)) && keeps(Some(fair), None));
}

#[test]
fn what_is_no_pack_is_refused() {
    let empty = need(1, 0, 0, 1.0).count();
    assert!(
        matches!(empty, Err(UseError::OutOfRange { .. })),
        "{empty:?}"
    );
    let paid_to_take = need(1, 0, 1, -1.0).count();
    assert!(
        matches!(paid_to_take, Err(UseError::OutOfRange { .. })),
        "{paid_to_take:?}"
    );
    let less = with_spares(1, Share::from_percent(-1.0));
    assert!(matches!(less, Err(UseError::OutOfRange { .. })), "{less:?}");
    let endless = need(2_000_000_000, 0, 1, 1.0).count();
    assert!(
        matches!(endless, Err(UseError::TooMany { .. })),
        "{endless:?}"
    );
}
