//! Several kinds at one stall, and what a fair leaves, against sums done by hand. All prices are invented.

use brimful::cost::{
    Basis, Cost, Fair, Kind, Labour, Line, Offer, PieceLines, Terms, Variable, margin, outcome,
    shared,
};
use brimful::quantity::{Money, Ratio, Share, Time};
use proptest::prelude::*;

fn money(amount: f64) -> Money {
    Money::from_amount(amount)
}

fn same(a: Money, b: f64) -> bool {
    (a.amount() - b).abs() < 1e-9
}

fn kind(made: u64, variable: f64, price: f64) -> Kind {
    Kind {
        made,
        variable: money(variable),
        price: money(price),
        terms: Terms::NONE,
    }
}

/// Sixty that add 4.00 and forty that add 2.00 bring 320; a stall of 80 takes a quarter of them.
#[test]
fn a_mix_pays_for_one_stall() {
    let found = shared(&[kind(60, 2.0, 6.0), kind(40, 3.0, 5.0)], money(80.0)).unwrap();
    assert!((found.sell.unwrap().number() - 0.25).abs() < 1e-12);
    assert_eq!(found.pieces, Some(25));
    let [magnets, fobs] = found.kinds[..] else {
        panic!()
    };
    assert_eq!((magnets.alone, magnets.in_mix), (Some(20), Some(15)));
    assert_eq!((fobs.alone, fobs.in_mix), (Some(40), Some(10)));
    // 240 and 80 of the 320
    assert!(same(magnets.fixed, 60.0) && same(fobs.fixed, 20.0));
    assert!(same(magnets.floor.unwrap(), 3.0) && same(fobs.floor.unwrap(), 3.5));
}

#[test]
fn a_kind_that_loses_bears_nothing_and_drags_the_mix() {
    let found = shared(&[kind(60, 2.0, 6.0), kind(40, 3.0, 2.0)], money(80.0)).unwrap();
    // 240 - 40 = 200
    assert!((found.sell.unwrap().number() - 0.4).abs() < 1e-12);
    let [magnets, fobs] = found.kinds[..] else {
        panic!()
    };
    assert_eq!((fobs.alone, fobs.in_mix), (None, Some(16)));
    assert!(same(magnets.fixed, 80.0) && same(fobs.fixed, 0.0) && same(fobs.contribution, -1.0));
    let never = shared(&[kind(10, 2.0, 6.0), kind(40, 3.0, 2.0)], money(80.0)).unwrap();
    assert_eq!((never.sell, never.pieces), (None, None));
    assert_eq!(never.kinds[0].alone, Some(20));
    let nothing = shared(&[], money(80.0)).unwrap();
    assert_eq!((nothing.sell, nothing.pieces), (None, None));
    assert_eq!(
        shared(&[kind(0, 1.0, 2.0)], money(8.0)).unwrap().kinds[0].floor,
        None
    );
}

/// 0.90 + 0.60 over 0.75 is 2.00, of which labour 0.80; a box for 0.50.
fn variable() -> Variable {
    PieceLines {
        started: vec![Line::new(
            "materials",
            Cost {
                used: money(0.90),
                bought: money(1.20),
            },
        )],
        labour: Labour {
            time: Time::from_min(3.0),
            hour: money(12.0),
        },
        lost: Share::from_percent(25.0),
        fitted: vec![Line::new("box", Cost::plain(money(0.50)))],
    }
    .variable()
    .unwrap()
}

fn offer(sell_through: f64) -> Offer {
    Offer {
        spare: 0,
        good: 60,
        sell_through: Share::from_percent(sell_through),
        seconds: 8,
        second_price: Share::from_percent(50.0),
        variable: variable(),
        price: money(6.0),
        terms: Terms::NONE,
        hands_on: Time::from_min(4.0),
    }
}

fn fair(basis: Basis) -> Fair {
    Fair {
        fixed: money(80.0),
        selling_pay: money(20.0),
        selling: Time::from_h(6.0),
        basis,
    }
}

#[test]
fn a_fair_leaves_what_its_lines_add_up_to() {
    let found = outcome(&[offer(75.0)], &fair(Basis::Used)).unwrap();
    let kind = found.kinds[0];
    assert_eq!((kind.sold, kind.left_over, kind.seconds_sold), (45, 15, 6));
    // 45 x 6.00 + 6 x 3.00
    assert!(same(found.kept, 288.0));
    // 60 x 2.50
    assert!(same(kind.cost, 150.0) && same(found.left_at_cost, 37.5));
    assert!(same(kind.left_at_price, 90.0));
    assert!(same(found.in_hand, 58.0) && same(found.profit, 95.5));
    // 60 x 4 min and 6 h; labour 60 x 0.80 and the 20.00 of selling pay are no cost here
    assert!((found.hours.h() - 10.0).abs() < 1e-12);
    assert!(same(
        found.pay_per_hour.unwrap(),
        (58.0 + 48.0 + 20.0) / 10.0
    ));
    // bought: 0.40 more a good piece
    let bought = outcome(&[offer(75.0)], &fair(Basis::Bought)).unwrap();
    assert!(same(bought.in_hand, 58.0 - 60.0 * 0.40));
    let two = outcome(&[offer(75.0), offer(75.0)], &fair(Basis::Used)).unwrap();
    assert!(same(two.in_hand, 58.0 * 2.0 + 80.0));
    // 12 more were started to be sure of 60: each is 2.50 and 4 min, of which 0.80 are pay
    let more = Offer {
        spare: 12,
        ..offer(75.0)
    };
    let more = outcome(&[more], &fair(Basis::Used)).unwrap();
    assert_eq!((more.kinds[0].sold, more.kinds[0].left_over), (45, 27));
    assert!(same(more.in_hand, 58.0 - 12.0 * 2.50) && same(more.profit, 95.5));
    assert!((more.hours.h() - 10.8).abs() < 1e-12);
    let earned = 28.0 + 72.0 * 0.80 + 20.0;
    assert!(same(more.pay_per_hour.unwrap(), earned / 10.8));
}

#[test]
fn nothing_made_and_no_hours_give_no_pay() {
    let idle = Fair {
        selling: Time::ZERO,
        ..fair(Basis::Used)
    };
    let found = outcome(&[], &idle).unwrap();
    assert!(found.pay_per_hour.is_none() && same(found.in_hand, -80.0));
    let more_pay = Fair {
        selling_pay: money(81.0),
        ..idle
    };
    assert!(outcome(&[], &more_pay).is_err());
    assert!(outcome(&[offer(101.0)], &fair(Basis::Used)).is_err());
}

/// By hand: retail 6.00 with 20 % inside is 5.00 net; 2 % of 6.00 is 0.12: 4.88 kept, 2.38 over 2.50.
#[test]
fn wholesale_and_retail_show_their_multipliers() {
    let retail = Terms {
        card: Share::from_percent(2.0),
        tax: Share::from_percent(20.0),
        ..Terms::NONE
    };
    let shop = margin(&retail, money(2.5), money(6.0)).unwrap();
    assert!(same(shop.kept, 4.88) && same(shop.contribution, 2.38));
    assert!((shop.of_net.unwrap().number() - 0.476).abs() < 1e-12);
    assert!((shop.multiplier.unwrap().number() - 2.4).abs() < 1e-12);
    let trade = margin(&Terms::NONE, money(2.5), money(3.0)).unwrap();
    assert!(same(trade.contribution, 0.5));
    assert!((trade.multiplier.unwrap().number() - 1.2).abs() < 1e-12);
    let free = margin(&Terms::NONE, Money::ZERO, Money::ZERO).unwrap();
    assert_eq!((free.of_net, free.multiplier), (None, None::<Ratio>));
}

proptest! {
    #[test]
    fn the_shares_add_up_and_the_mix_pays(
        kinds in prop::collection::vec((0_u64..200, 0_u32..800, 0_u32..1200), 1..6), fixed in 0_u32..50_000,
    ) {
        let kinds: Vec<Kind> = kinds.iter().map(|&(made, v, price)| kind(made, f64::from(v) / 100.0, f64::from(price) / 100.0)).collect();
        let fixed = f64::from(fixed) / 100.0;
        let found = shared(&kinds, money(fixed)).unwrap();
        let borne: f64 = found.kinds.iter().map(|kind| kind.fixed.amount()).sum();
        if found.kinds.iter().zip(&kinds).any(|(found, kind)| kind.made > 0 && found.contribution.amount() > 1e-9) {
            prop_assert!((borne - fixed).abs() < 1e-6);
        }
        if found.sell.is_some() {
            let earned: f64 = found.kinds.iter().map(|kind| {
                kind.contribution.amount() * f64::from(u32::try_from(kind.in_mix.unwrap()).unwrap())
            }).sum();
            prop_assert!(earned >= fixed - 1e-5, "{earned} of {fixed}");
        }
    }
}
