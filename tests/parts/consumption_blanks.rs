//! Blanks to start and to buy, against an outside library's binomial and the
//! counts that makers work with.

use brimful::consumption::{BlankNeed, UseError, combined_loss, survivors};
use brimful::quantity::Share;
use proptest::prelude::*;
use serde::Deserialize;

/// One row of `binomial.csv`.
#[derive(Deserialize)]
struct StartRow {
    wanted: u64,
    lost: f64,
    sure: f64,
    start: u64,
    chance: f64,
    chance_one_fewer: f64,
    source: String,
}

/// One row of `blanks.csv`.
#[derive(Deserialize)]
struct BuyRow {
    wanted: u64,
    lost: f64,
    bad: f64,
    have: u64,
    pack: u64,
    sure: f64,
    start: u64,
    buy: u64,
    packs: u64,
    chance: f64,
    expected_start: u64,
    expected_buy: u64,
    expected_packs: u64,
    expected_chance: f64,
    source: String,
}

fn rows<T: for<'a> Deserialize<'a>>(text: &str) -> Vec<T> {
    csv::Reader::from_reader(text.as_bytes())
        .deserialize()
        .collect::<Result<_, _>>()
        .unwrap()
}

fn need(wanted: u64, lost: f64, bad: f64, sure: f64) -> BlankNeed {
    BlankNeed {
        wanted,
        lost: Share::from_fraction(lost),
        bad: Share::from_fraction(bad),
        have: 0,
        pack: 1,
        sure: Share::from_fraction(sure),
    }
}

/// Tolerance 1e-9 on a chance: the table prints twelve digits, and the
/// outside library's own tail is good to about 1e-10 at a million pieces.
fn same_chance(ours: Share, theirs: f64) -> bool {
    (ours.fraction() - theirs).abs() < 1e-9
}

#[test]
fn start_counts_agree_with_the_outside_binomial() {
    let rows: Vec<StartRow> = rows(include_str!(
        "../../data/reference/consumption/binomial.csv"
    ));
    assert_eq!(rows.len(), 89);
    for row in rows {
        assert!(row.source.contains("binom"));
        let at = format!(
            "{} wanted, {} lost, {} sure",
            row.wanted, row.lost, row.sure
        );
        let blanks = need(row.wanted, row.lost, 0.0, row.sure).count().unwrap();
        assert_eq!(blanks.start, row.start, "{at}");
        assert_eq!(
            blanks.buy, row.start,
            "none is bad, so buying is starting: {at}"
        );
        assert!(same_chance(blanks.start_chance, row.chance), "{at}");
        assert!(row.chance_one_fewer < row.sure, "{at}");
    }
}

#[test]
fn buy_counts_agree_with_the_outside_convolution() {
    let rows: Vec<BuyRow> = rows(include_str!("../../data/reference/consumption/blanks.csv"));
    assert_eq!(rows.len(), 14);
    for row in rows {
        assert!(row.source.contains("binom"));
        let at = format!("{} wanted, {} lost, {} bad", row.wanted, row.lost, row.bad);
        let need = BlankNeed {
            have: row.have,
            pack: row.pack,
            ..need(row.wanted, row.lost, row.bad, row.sure)
        };
        let blanks = need.count().unwrap();
        assert_eq!(
            (blanks.start, blanks.buy, blanks.packs),
            (row.start, row.buy, row.packs),
            "{at}"
        );
        assert_eq!(blanks.bought, row.packs * row.pack, "{at}");
        assert!(same_chance(blanks.chance, row.chance), "{at}");
        let expected = blanks.expected;
        assert_eq!(
            (expected.start, expected.buy, expected.packs),
            (row.expected_start, row.expected_buy, row.expected_packs),
            "{at}"
        );
        assert!(same_chance(expected.chance, row.expected_chance), "{at}");
    }
}

/// Case C28: start for 60 good, by the averages.
#[test]
fn sixty_good_pieces_need_the_expected_starts_of_the_trade() {
    for (lost, start) in [(0.10, 67), (0.15, 71), (0.30, 86), (0.50, 120)] {
        assert_eq!(
            need(60, lost, 0.0, 0.95).count().unwrap().expected.start,
            start
        );
    }
}

/// Case C21: nine tiles a box, two or three bad, a tenth lost in the work, 60 wanted.
/// By hand: 60 / 0.9 = 66.7; 67 / (7/9) = 86.1 and 67 / (6/9) = 100.5; boxes of 9.
#[test]
fn boxes_of_tiles_count_both_rates() {
    for (bad, buy, boxes) in [(2.0, 87, 10), (3.0, 101, 12)] {
        let need = BlankNeed {
            pack: 9,
            ..need(60, 0.1, bad / 9.0, 0.95)
        };
        let blanks = need.count().unwrap();
        assert_eq!((blanks.expected.buy, blanks.expected.packs), (buy, boxes));
        assert!(
            blanks.packs > boxes,
            "95 % sure takes a box more than the averages"
        );
        assert!(blanks.chance.fraction() >= 0.95 && blanks.expected.chance.fraction() < 0.95);
    }
}

#[test]
fn a_sureness_exactly_on_a_step_takes_that_step() {
    // 1 - 0.5^2 = 0.75, exactly
    let blanks = need(1, 0.5, 0.0, 0.75).count().unwrap();
    assert_eq!(blanks.start, 2);
    // 1 - 0.1^2 = 0.99, inexact in binary
    assert_eq!(need(1, 0.1, 0.0, 0.99).count().unwrap().start, 2);
}

#[test]
fn an_exact_quotient_is_not_rounded_up() {
    // 63 / 0.9 = 70, which floating point may put a hair above
    assert_eq!(need(63, 0.1, 0.0, 0.5).count().unwrap().expected.start, 70);
    // 69 / (1 - 0.31) = 100
    assert_eq!(
        need(69, 0.31, 0.0, 0.5).count().unwrap().expected.start,
        100
    );
}

#[test]
fn nothing_lost_means_nothing_spare() {
    let need = BlankNeed {
        have: 10,
        pack: 25,
        ..need(60, 0.0, 0.0, 0.99)
    };
    let blanks = need.count().unwrap();
    assert_eq!(
        (blanks.start, blanks.buy, blanks.packs, blanks.bought),
        (60, 50, 2, 50)
    );
    assert!((blanks.chance.fraction() - 1.0).abs() < f64::EPSILON);
    let none = BlankNeed { wanted: 0, ..need }.count().unwrap();
    assert_eq!((none.start, none.buy, none.expected.start), (0, 0, 0));
}

#[test]
fn steps_lose_their_share_of_what_reaches_them() {
    let all = combined_loss(&[
        Share::from_percent(3.0),
        Share::from_percent(5.0),
        Share::ZERO,
    ]);
    // 1 - 0.97 x 0.95
    assert!((all.unwrap().fraction() - 0.0785).abs() < 1e-15);
    assert_eq!(combined_loss(&[]), Ok(Share::ZERO));
    assert!(combined_loss(&[Share::from_percent(100.0)]).is_err());
}

#[test]
fn nonsense_is_refused_with_what_was_given() {
    let good = need(60, 0.1, 0.05, 0.95);
    let refused = |need: BlankNeed| matches!(need.count(), Err(UseError::OutOfRange { .. }));
    for share in [1.0, -0.01, f64::NAN, f64::INFINITY] {
        let share = Share::from_fraction(share);
        assert!(refused(BlankNeed {
            lost: share,
            ..good
        }));
        assert!(refused(BlankNeed { bad: share, ..good }));
        assert!(refused(BlankNeed {
            sure: share,
            ..good
        }));
    }
    assert!(refused(BlankNeed {
        sure: Share::ZERO,
        ..good
    }));
    assert!(refused(BlankNeed { pack: 0, ..good }));
    let error = BlankNeed {
        lost: Share::from_percent(150.0),
        ..good
    }
    .count()
    .unwrap_err();
    assert_eq!(
        error.to_string(),
        "the share lost must be 0 or more and less than 1, not 1.5"
    );
    let many = BlankNeed {
        wanted: 1_000_001,
        ..good
    };
    assert!(matches!(
        many.count(),
        Err(UseError::TooMany {
            most: 1_000_000,
            ..
        })
    ));
    let hopeless = BlankNeed {
        lost: Share::from_fraction(1.0 - 1e-9),
        ..good
    };
    assert!(matches!(
        hopeless.count(),
        Err(UseError::TooMany {
            most: 1_000_000_000,
            ..
        })
    ));
    let huge_pack = BlankNeed {
        pack: u64::MAX,
        ..good
    };
    assert!(huge_pack.count().is_err());
}

proptest! {
    #[test]
    fn surer_or_lossier_never_needs_fewer(
        wanted in 0_u64..400, lost in 0.0..0.9_f64, bad in 0.0..0.9_f64, have in 0_u64..200,
        sure in 0.01..0.999_f64, more in 0.0..1.0_f64,
    ) {
        let base = BlankNeed { have, ..need(wanted, lost, bad, sure) };
        let count = base.count().unwrap();
        let between = |value: f64, top: f64| Share::from_fraction(value + (top - value) * more);
        for harder in [
            BlankNeed { sure: between(sure, 0.9999), ..base },
            BlankNeed { lost: between(lost, 0.95), ..base },
            BlankNeed { bad: between(bad, 0.95), ..base },
            BlankNeed { wanted: wanted + 1, ..base },
        ] {
            let harder = harder.count().unwrap();
            prop_assert!(harder.start >= count.start && harder.buy >= count.buy);
        }
    }

    #[test]
    fn the_count_is_the_least_that_reaches_the_sureness(
        wanted in 1_u64..200, lost in 0.0..0.8_f64, bad in 0.0..0.8_f64, sure in 0.01..0.999_f64,
    ) {
        let blanks = need(wanted, lost, bad, sure).count().unwrap();
        prop_assert!(blanks.chance.fraction() >= sure - 1e-9);
        prop_assert!(blanks.buy >= blanks.start);
        // A second route: the promise that so many started pieces allow.
        let sure = Share::from_fraction(sure);
        let lost = Share::from_fraction(lost);
        prop_assert!(survivors(blanks.start, lost, sure).unwrap() >= wanted);
        prop_assert!(survivors(blanks.start - 1, lost, sure).unwrap() < wanted);
    }
}
