//! Costs, floors and break-even, to the cent, against sums done by hand.

use brimful::cost::{
    BreakEven, Cost, CostError, FixedLine, Labour, Line, PieceLines, Terms, break_even, fixed_cost,
    floor_with_fair, floor_without_fair, up_to_cent,
};
use brimful::quantity::{Money, Ratio, Share, Time};
use proptest::prelude::*;

fn money(amount: f64) -> Money {
    Money::from_amount(amount)
}

/// Whether two sums of money are the same but for binary rounding.
fn same(a: Money, b: f64) -> bool {
    (a.amount() - b).abs() < 1e-9
}

/// Case C28's piece: 0.95 of materials, 0.80 of labour (4 minutes at 12.00), 0.15 of packaging, a tenth lost.
fn c28() -> PieceLines {
    PieceLines {
        started: vec![Line::new("materials", Cost::plain(money(0.95)))],
        labour: Labour {
            time: Time::from_min(4.0),
            hour: money(12.0),
        },
        lost: Share::from_percent(10.0),
        fitted: vec![Line::new("packaging", Cost::plain(money(0.15)))],
    }
}

fn card() -> Terms {
    Terms {
        card: Share::from_percent(1.75),
        ..Terms::NONE
    }
}

/// Case C28. In exact fractions: v = 175/90 + 15/100 = 377/180; kept of 6.00 is 6 x 393/400 = 5.895;
/// 80 / (5.895 - 377/180) = 21.05; (377/180) / (393/400) = 2.1317..., and with
/// 80/40 = 2 more, (737/180) / (393/400) = 4.1673...
#[test]
fn the_worked_case_comes_out_to_the_cent() {
    let v = c28().variable().unwrap();
    assert!(same(v.sunk.used, 1.75) && same(v.each.used, 377.0 / 180.0));
    assert!(same(v.lost_work.used, 175.0 / 90.0 - 1.75));
    assert!(same(v.labour_each, 0.80 / 0.9));
    let v = v.each.used;
    assert_eq!(format!("{:.3}", v.amount()), "2.094");
    assert!(same(card().kept(money(6.0)).unwrap(), 5.895));
    let found = break_even(&card(), v, money(80.0), money(6.0)).unwrap();
    assert!(matches!(found, BreakEven::Pieces { count: 22, .. }));
    let alone = floor_without_fair(&card(), v).unwrap();
    assert_eq!(format!("{:.2}", alone.exact.amount()), "2.13");
    assert!(same(alone.exact, 377.0 / 180.0 * 400.0 / 393.0));
    // 2.13 keeps 2.0927, under 2.0944: a tag needs the cent above
    assert!(same(alone.tag, 2.14));
    let fair = floor_with_fair(&card(), v, money(80.0), 40).unwrap();
    assert!(same(fair.exact, 737.0 / 180.0 * 400.0 / 393.0) && same(fair.tag, 4.17));
}

/// Case C29: a price below the variable cost.
#[test]
fn below_the_variable_cost_no_number_of_pieces_will_do() {
    let v = c28().variable().unwrap().each.used;
    let found = break_even(&card(), v, money(80.0), money(2.0)).unwrap();
    let BreakEven::Never {
        lost_each,
        least_price,
    } = found
    else {
        panic!("{found:?}");
    };
    assert!(same(lost_each, 377.0 / 180.0 - 1.965) && same(least_price, 2.14));
    let at = |price| break_even(&card(), v, money(80.0), money(price)).unwrap();
    assert!(matches!(at(2.14), BreakEven::Pieces { .. }));
    assert!(matches!(at(2.13), BreakEven::Never { .. }));
}

#[test]
fn a_price_that_only_just_pays_for_the_piece_never_pays_for_the_stall() {
    let cash = |v, fixed, price| break_even(&Terms::NONE, money(v), money(fixed), money(price));
    // 0.1 + 0.2 is not 0.3 in binary
    let found = cash(0.1 + 0.2, 80.0, 0.3).unwrap();
    let BreakEven::Never { least_price, .. } = found else {
        panic!("{found:?}");
    };
    assert!(same(least_price, 0.31), "{least_price:?}");
    assert!(matches!(
        cash(0.1 + 0.2, 0.0, 0.3).unwrap(),
        BreakEven::Pieces { count: 0, .. }
    ));
    assert!(matches!(
        cash(0.4, 0.0, 0.3).unwrap(),
        BreakEven::Never { .. }
    ));
}

#[test]
fn whole_quotients_and_whole_cents_are_not_rounded_up() {
    for cents in 1_u32..400 {
        // F = 20 contributions exactly, in decimals
        let v = f64::from(cents) / 100.0;
        let found = break_even(
            &Terms::NONE,
            money(v),
            money(f64::from(cents) * 20.0 / 100.0),
            money(f64::from(2 * cents) / 100.0),
        );
        assert!(
            matches!(found.unwrap(), BreakEven::Pieces { count: 20, .. }),
            "{cents}"
        );
        let sum: f64 = (0..cents).map(|_| 0.01).sum();
        assert!(same(up_to_cent(money(sum)), v), "{cents}: {sum}");
        assert!(same(up_to_cent(money(v + 0.0001)), v + 0.01), "{cents}");
    }
}

/// By hand: P = 12.00 with a fifth of tax inside is 10.00 net; 2 % of 12.00 is 0.24;
/// 0.30 a sale of 1.5 pieces is 0.20 each: 9.56 kept.
#[test]
fn tax_card_and_sale_fee_each_take_their_part() {
    let terms = Terms {
        card: Share::from_percent(2.0),
        tax: Share::from_percent(20.0),
        sale_fee: money(0.30),
        per_sale: Ratio::from_number(1.5),
    };
    assert!(same(terms.kept(money(12.0)).unwrap(), 9.56));
    assert!(same(terms.net(money(12.0)).unwrap(), 10.0));
    assert!(same(terms.price_for(money(9.56)).unwrap(), 12.0));
    let greedy = Terms {
        card: Share::from_percent(90.0),
        ..terms
    };
    assert!(matches!(
        greedy.price_for(money(1.0)),
        Err(CostError::NothingKept { .. })
    ));
}

/// Case C22: 25 magnets a pack, 16 used; the price of 5.00 is invented.
#[test]
fn a_pack_costs_its_share_or_its_whole() {
    let magnets = Cost::in_packs(money(5.0), Ratio::from_number(0.64), 1).unwrap();
    assert!(same(magnets.used, 3.20) && same(magnets.bought, 5.0));
    let each = magnets.over(16).unwrap();
    assert!(same(each.used, 0.20) && same(each.bought, 0.3125));
    assert!(magnets.over(0).is_err());
    let piece = PieceLines {
        fitted: vec![Line::new("magnet", each)],
        ..c28()
    };
    let v = piece.variable().unwrap().each;
    assert!(same(v.used, 175.0 / 90.0 + 0.20) && same(v.bought, 175.0 / 90.0 + 0.3125));
}

#[test]
fn a_fair_bears_its_share_of_the_kit() {
    let lines = [
        FixedLine::paid("stall", money(45.0)).unwrap(),
        FixedLine::kit("tent", money(180.0), 12).unwrap(),
        FixedLine::selling("behind the stall", Time::from_h(6.5), money(10.0)).unwrap(),
    ];
    assert!(same(lines[1].amount, 15.0) && same(fixed_cost(&lines), 125.0));
    assert!(FixedLine::kit("tent", money(180.0), 0).is_err());
    assert!(FixedLine::paid("stall", money(-1.0)).is_err());
}

#[test]
fn nonsense_is_refused_with_what_was_given() {
    let all_lost = PieceLines {
        lost: Share::from_percent(100.0),
        ..c28()
    };
    assert_eq!(
        all_lost.variable().unwrap_err().to_string(),
        "the share lost must be 0 or more and less than 1, not 1"
    );
    let paid_back = PieceLines {
        started: vec![Line::new("gift", Cost::plain(money(-0.1)))],
        ..c28()
    };
    assert!(paid_back.variable().is_err());
    assert!(floor_with_fair(&card(), money(1.0), money(80.0), 0).is_err());
    assert!(break_even(&card(), money(1.0), money(f64::NAN), money(2.0)).is_err());
    let no_sale = Terms {
        per_sale: Ratio::ZERO,
        ..card()
    };
    assert!(no_sale.kept(money(1.0)).is_err());
    let hair = break_even(&Terms::NONE, money(1.0), money(1e6), money(1.000_01));
    assert!(matches!(hair, Err(CostError::TooMany { .. })));
}

proptest! {
    #[test]
    fn the_break_even_is_the_least_that_pays(
        v in 0_u32..500, over in 1_u32..500, fixed in 0_u32..100_000, card in 0.0..0.2_f64, tax in 0.0..0.3_f64,
    ) {
        let terms = Terms { card: Share::from_fraction(card), tax: Share::from_fraction(tax), ..Terms::NONE };
        let (v, fixed) = (money(f64::from(v) / 100.0), money(f64::from(fixed) / 100.0));
        let floor = floor_without_fair(&terms, v).unwrap();
        let price = floor.tag + money(f64::from(over) / 100.0);
        let BreakEven::Pieces { count, .. } = break_even(&terms, v, fixed, price).unwrap() else {
            panic!("above the floor");
        };
        let profit = |n: u64| (terms.kept(price).unwrap() - v) * f64::from(u32::try_from(n).unwrap()) - fixed;
        prop_assert!(profit(count).amount() >= -1e-6);
        prop_assert!(count == 0 || profit(count - 1).amount() < 1e-6);
        // a higher price never raises it
        let BreakEven::Pieces { count: dearer, .. } = break_even(&terms, v, fixed, price + money(0.5)).unwrap() else {
            panic!("above the floor");
        };
        prop_assert!(dearer <= count);
        // at the floor with the fair, so many sold pay for it
        if count > 0 {
            let floor = floor_with_fair(&terms, v, fixed, count).unwrap();
            prop_assert!(floor.exact.amount() <= price.amount() + 1e-9);
            prop_assert!(same(terms.kept(floor.exact).unwrap(), (v + fixed / f64::from(u32::try_from(count).unwrap())).amount()));
        }
    }
}
