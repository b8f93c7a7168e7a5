//! Cord cut from spools, against a search through every way of cutting.

use std::collections::HashSet;
use std::time::Instant;

use brimful::consumption::{Cut, Spools, UseError, spools};
use brimful::quantity::Length;
use proptest::prelude::*;

fn cut(mm: u32, pieces: u64) -> Cut {
    Cut {
        length: Length::from_mm(f64::from(mm)),
        pieces,
    }
}

fn ours(cuts: &[(u32, u64)], spool: u32, have: &[u32]) -> Spools {
    let cuts: Vec<Cut> = cuts.iter().map(|&(mm, pieces)| cut(mm, pieces)).collect();
    let ends: Vec<Length> = have
        .iter()
        .map(|&mm| Length::from_mm(f64::from(mm)))
        .collect();
    spools(&cuts, Length::from_mm(f64::from(spool)), &ends).unwrap()
}

/// The fewest new spools by laying piece after piece on every spool that has room for it.
/// A state is what is left on each spool, sorted; only the new ones are counted.
fn by_hand(cuts: &[(u32, u64)], spool: u32, have: &[u32]) -> u64 {
    type State = (Vec<u32>, u64);
    let mut states: HashSet<State> = HashSet::from([(have.to_vec(), 0)]);
    for &(length, pieces) in cuts {
        for _ in 0..pieces {
            let mut next = HashSet::new();
            for (left, new) in &states {
                for at in 0..left.len() {
                    if left[at] >= length {
                        let mut left = left.clone();
                        left[at] -= length;
                        left.sort_unstable();
                        next.insert((left, *new));
                    }
                }
                let mut left = left.clone();
                left.push(spool - length);
                left.sort_unstable();
                next.insert((left, new + 1));
            }
            states = next;
        }
    }
    states.iter().map(|state| state.1).min().unwrap()
}

/// Whether the ways of cutting told are true: each spool holds its pieces, all pieces are cut,
/// new spools are as many as told, and no end of the stock is used twice.
fn adds_up(told: &Spools, cuts: &[(u32, u64)], spool: u32, have: &[u32]) {
    let mut new = 0;
    let mut got = vec![0; cuts.len()];
    let mut ends: Vec<f64> = have.iter().map(|&mm| f64::from(mm)).collect();
    for way in &told.cuttings {
        let mut taken = 0.0;
        for (kind, &n) in way.pieces.iter().enumerate() {
            #[expect(clippy::cast_precision_loss, reason = "small counts")]
            let count = n as f64;
            taken += count * f64::from(cuts[kind].0);
            got[kind] += n * way.spools;
        }
        assert!(taken <= way.holds.mm() + 1e-6, "{way:?}");
        assert!(
            (way.holds.mm() - taken - way.left.mm()).abs() < 1e-6,
            "{way:?}"
        );
        if way.new {
            assert!((way.holds.mm() - f64::from(spool)).abs() < 1e-9);
            new += way.spools;
        } else {
            for _ in 0..way.spools {
                let at = ends
                    .iter()
                    .position(|end| (end - way.holds.mm()).abs() < 1e-9);
                ends.remove(at.expect("an end of the stock, once"));
            }
        }
    }
    assert_eq!(new, told.new);
    assert_eq!(got, cuts.iter().map(|cut| cut.1).collect::<Vec<_>>());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn no_way_of_cutting_takes_fewer_spools(
        cuts in prop::collection::vec((2_u32..12, 0_u64..4), 1..4),
        spool in 12_u32..25,
        have in prop::collection::vec(1_u32..20, 0..3),
    ) {
        let told = ours(&cuts, spool, &have);
        adds_up(&told, &cuts, spool, &have);
        prop_assert_eq!(told.new, by_hand(&cuts, spool, &have));
        prop_assert_eq!(told.at_least, told.new);
    }

    #[test]
    fn one_length_is_exact_at_any_number(
        length in 20_u32..900,
        pieces in 0_u64..50_000,
        have in prop::collection::vec(1_u32..4000, 0..6),
    ) {
        let spool = 5000;
        let told = ours(&[(length, pieces)], spool, &have);
        let from_ends: u64 = have.iter().map(|&end| u64::from(end / length)).sum();
        let rest = pieces.saturating_sub(from_ends);
        prop_assert_eq!(told.new, rest.div_ceil(u64::from(spool / length)));
        prop_assert_eq!(told.at_least, told.new);
    }
}

/// Longest first: 6 + 6, 5 + 5, 4 + 4 + 4 and so on leaves a piece over, though 6 + 4 twice and
/// 5 + 5 fill three spools of 10.
#[test]
fn the_search_mends_what_the_simple_way_wastes() {
    // by hand: 7 + 3, 6 + 4, 5 + 5 and 3 + 3 + 4 fill four spools of 10
    let cuts = [(7, 1), (6, 1), (5, 2), (4, 2), (3, 3)];
    let told = ours(&cuts, 10, &[]);
    adds_up(&told, &cuts, 10, &[]);
    assert_eq!(told.new, 4);
    assert!((told.taken.mm() - 40.0).abs() < 1e-9);
}

#[test]
fn ten_thousand_pieces_of_a_few_lengths_are_quick() {
    let begun = Instant::now();
    let cuts = [(180, 4000), (450, 3000), (620, 2000), (75, 1000)];
    let told = ours(&cuts, 10_000, &[3500, 400, 9000]);
    adds_up(&told, &cuts, 10_000, &[3500, 400, 9000]);
    // 3385 m: at least 338 spools beside what the ends give
    assert!((told.taken.m() - 3385.0).abs() < 1e-6);
    assert!(
        told.at_least >= 338 && told.new <= told.at_least + 4,
        "{} {}",
        told.new,
        told.at_least
    );
    assert!(begun.elapsed().as_secs() < 10, "{:?}", begun.elapsed());
}

/// A third of a spool of 1 m and a hundred yards in inches: rounding costs no piece.
#[test]
fn pieces_that_divide_a_spool_fill_it() {
    let third = Cut {
        length: Length::from_m(1.0 / 3.0),
        pieces: 3,
    };
    assert_eq!(spools(&[third], Length::from_m(1.0), &[]).unwrap().new, 1);
    let tenths = Cut {
        length: Length::from_mm(0.1 * 3.0),
        pieces: 10,
    };
    assert_eq!(spools(&[tenths], Length::from_mm(3.0), &[]).unwrap().new, 1);
}

#[test]
fn a_piece_longer_than_a_spool_is_refused() {
    let told = spools(&[cut(1001, 1)], Length::from_m(1.0), &[Length::from_m(2.0)]);
    assert!(matches!(told, Err(UseError::OutOfRange { .. })), "{told:?}");
    let told = spools(&[cut(0, 1)], Length::from_m(1.0), &[]);
    assert!(matches!(told, Err(UseError::OutOfRange { .. })), "{told:?}");
    let many = vec![cut(10, 1); 201];
    let told = spools(&many, Length::from_m(1.0), &[]);
    assert!(matches!(told, Err(UseError::TooMany { .. })), "{told:?}");
}
