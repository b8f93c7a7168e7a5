//! `brimful price`, end to end: figures, keys, words, refusals, exit codes.

use crate::common::ask::{Said, agree, ask, number};

/// Case C28's costs.
const COSTS: [&str; 8] = [
    "--materials",
    "0.95",
    "--labour",
    "0.80",
    "--packaging",
    "0.15",
    "--lost",
    "10 %",
];

fn price(rest: &[&str]) -> Said {
    ask(&[&["price"], &COSTS[..], rest].concat())
}

/// Case C28, its figures from exact fractions: v = 377/180; 6.00 less 1.75 % keeps 5.895.
#[test]
fn the_worked_case_is_answered_to_the_cent() {
    let args = [
        "--fixed", "80", "--price", "6.00", "--card", "1.75 %", "--sold", "40",
    ];
    let said = price(&[&args[..], &["--json"]].concat());
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    let json = said.json();
    for (key, value) in [
        ("/variable_cost", 377.0 / 180.0),
        ("/sunk", 1.75),
        ("/lost_work", 175.0 / 90.0 - 1.75),
        ("/kept", 5.895),
        ("/contribution", 5.895 - 377.0 / 180.0),
        ("/floor", 737.0 / 180.0 * 400.0 / 393.0),
        ("/floor_tag", 4.17),
        ("/floor_without_fair", 377.0 / 180.0 * 400.0 / 393.0),
        ("/floor_without_fair_tag", 2.14),
        ("/multiplier", 6.0 * 180.0 / 377.0),
        ("/at_sold/profit", 40.0 * (5.895 - 377.0 / 180.0) - 80.0),
    ] {
        assert!(agree(number(&json, key), value, 1e-9), "{key}");
    }
    assert_eq!(json["break_even"], 22);
    assert!(json["currency"].is_null() && json["least_price"].is_null());
    let text = price(&args).flowing();
    for words in [
        "A good piece costs 2.094, before any stall",
        "1.75 sunk in each started: 0.95 materials, 0.80 labour",
        "0.194 for 10 % lost in the work",
        "0.15 packaging",
        "2.14 on a tag (2.132 exactly) without the fair",
        "4.17 on a tag (4.167 exactly) with the fair's 80.00",
        "5.895 of 6.00, less",
        "22 pieces sold pay for the fair: 80.00 / 3.801",
        "40 sold leave 72.02",
        "2.86 times the piece's cost",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    for line in price(&args).out.lines() {
        assert!(line.chars().count() <= 100, "{line}");
    }
}

/// Case C29.
#[test]
fn a_price_below_the_cost_exits_with_1_and_says_what_would_do() {
    let args = ["--fixed", "80", "--price", "2.00", "--card", "1.75 %"];
    let said = price(&args);
    assert_eq!(said.code, 1);
    assert!(
        said.err.contains("no number of pieces will do it at 2.00"),
        "{}",
        said.err
    );
    assert!(
        said.err.contains("from 2.14 each adds something"),
        "{}",
        said.err
    );
    assert!(
        said.flowing().contains("Break-even no number of pieces"),
        "{}",
        said.out
    );
    let sold = price(&[&args[..], &["--sold", "40"]].concat());
    assert!(
        sold.err.contains("at 4.17 or more 40 sold pay"),
        "{}",
        sold.err
    );
    let json = price(&[&args[..], &["--json"]].concat());
    assert_eq!(json.code, 1);
    let json = json.json();
    assert!(json["break_even"].is_null());
    assert!(agree(number(&json, "/least_price"), 2.14, 1e-9));
}

/// By hand: 12.00 with a fifth of tax inside is 10.00 net, less 0.24 by card and 0.20 of 0.30 for 1.5 pieces.
#[test]
fn tax_and_fees_and_hours_and_a_shop_are_told() {
    let args = [
        "--fixed",
        "80",
        "--price",
        "12.00",
        "--card",
        "2 %",
        "--tax",
        "20 %",
        "--sale-fee",
        "0.30",
        "--per-sale",
        "1.5",
        "--sold",
        "10",
        "--hours",
        "20 h",
        "--wholesale",
        "3.00",
        "--currency",
        "EUR",
    ];
    let json = price(&[&args[..], &["--json"]].concat()).json();
    assert!(agree(number(&json, "/kept"), 9.56, 1e-9));
    let profit = 10.0 * (9.56 - 377.0 / 180.0) - 80.0;
    assert!(agree(number(&json, "/at_sold/profit"), profit, 1e-9));
    let labour = 10.0 * 0.80 / 0.9;
    assert!(agree(
        number(&json, "/at_sold/pay_per_hour"),
        (profit + labour) / 20.0,
        1e-9
    ));
    assert!(agree(
        number(&json, "/wholesale/contribution"),
        3.0 - 377.0 / 180.0,
        1e-9
    ));
    assert!(agree(
        number(&json, "/wholesale/multiplier"),
        3.0 * 180.0 / 377.0,
        1e-9
    ));
    assert_eq!(json["currency"], "EUR");
    let text = price(&args).flowing();
    assert!(text.contains("all money in EUR"), "{text}");
    assert!(text.contains("10 sold fall 5.34 short"), "{text}");
    assert!(
        text.contains("20 % of tax inside, 2 % by card, 0.20 of the fee of a sale"),
        "{text}"
    );
    assert!(
        text.contains("Wholesale 3.00, 1.43 times the piece's cost: each adds 0.906"),
        "{text}"
    );
}

#[test]
fn floors_need_no_price() {
    let said = price(&["--fixed", "80", "--sold", "40"]);
    assert_eq!(said.code, 0, "{}", said.err);
    let text = said.flowing();
    assert!(
        text.contains("with the fair's 80.00") && !text.contains("Break-even"),
        "{text}"
    );
}

#[test]
fn slips_are_told_with_what_is_wanted() {
    for (args, words) in [
        (&["--lost", "10"][..], "did you mean \"10 %\""),
        (&["--card", "100 %"], "the card fee, as a fraction,"),
        (&["--fixed", "-3"], "below zero"),
        (&["--fixed", "80 EUR"], "takes no unit"),
        (&["--sold", "0"], "the pieces sold must be above 0"),
        (&["--sold", "3.5"], "expected a whole number from 0 to"),
        (&["--hours", "3 h"], "give --price and --sold"),
        (
            &["--tax", "80 %", "--card", "60 %"],
            "leave nothing of any price",
        ),
        (&["--per-sale", "0"], "the pieces a sale must be above 0"),
        (&["--currency", "my money"], "like EUR"),
    ] {
        let costs = ["price", "--materials", "0.95"];
        let said = ask(&[&costs[..], args].concat());
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{args:?}");
        assert!(said.err.contains(words), "{args:?}: {}", said.err);
    }
    // a share is reckoned with as it was given
    let shares = [
        ("11.5 %", "/ (1 - 0.115) carries"),
        ("10 %", "/ (1 - 0.10) carries"),
    ];
    for (lost, words) in shares {
        let said = ask(&["price", "--materials", "0.95", "--lost", lost]).flowing();
        assert!(said.contains(words), "{said}");
    }
    let all_lost = ask(&["price", "--materials", "0.95", "--lost", "100 %"]);
    assert_eq!(all_lost.code, 2);
    assert!(
        all_lost.err.contains("the share lost must be"),
        "{}",
        all_lost.err
    );
    assert_eq!(ask(&["price", "--price", "6.00"]).code, 2);
}

/// By hand: one at 6.00 leaves 5.50 over its 0.50, so it pays for 5.00 with 0.50 to spare, is 4.50 short of
/// 10.00, and two pay for that.
#[test]
fn one_and_many_have_words_of_their_own_and_a_loss_is_said() {
    let asked = |fixed: &str, sold: &str, more: &[&str]| {
        let args = [
            "price",
            "--fixed",
            fixed,
            "--price",
            "6.00",
            "--materials",
            "0.50",
        ];
        ask(&[&args[..], &["--sold", sold], more].concat()).flowing()
    };
    for (fixed, sold, words) in [
        ("5", "1", "1 piece sold pays for the fair"),
        ("5", "1", "1 sold leaves 0.50 over its costs"),
        ("10", "1", "1 sold falls 4.50 short of its costs"),
        ("10", "1", "2 pieces sold pay for the fair"),
        ("10", "2", "2 sold leave 1.00 over their costs"),
        ("20", "2", "2 sold fall 9.00 short of their costs"),
    ] {
        let text = asked(fixed, sold, &[]);
        assert!(text.contains(words), "{words}: {text}");
    }
    // 5.50 less 80.00 over 5 h
    let hours = asked("80", "1", &["--hours", "5 h"]);
    assert!(
        hours.contains("a loss of 14.90 an hour over all 5 h"),
        "{hours}"
    );
    // a fee of 7.00 a sale leaves nothing of 6.00
    let fee = asked("80", "1", &["--sale-fee", "7"]);
    assert!(fee.contains("a loss of 1.00 of 6.00"), "{fee}");
    for text in [hours, fee] {
        assert!(!text.contains(" -"), "{text}");
    }
}
