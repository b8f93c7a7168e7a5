//! That work waits for the goods that it takes, and no other.

use crate::common::calendar::said::{flat, with};
use crate::common::plan::planned;
use crate::common::promises::RUN;
use brimful::plan::{Otherwise, Plan, Warning};
use brimful::show::text;
use jiff::civil::{DateTime, date};

fn at(day: i8, hour: i8) -> DateTime {
    date(2027, 3, day).at(hour, 0, 0, 0)
}

/// Which goods a plan says can't be there for the start that was asked for.
fn late_goods(plan: &Plan) -> Vec<&str> {
    let mut found = Vec::new();
    for warning in &plan.warnings {
        if let Warning::OrderTooLate { what, asked, .. } = warning {
            assert_eq!(*asked, at(1, 8));
            found.push(what.as_str());
        }
    }
    found
}

/// Ordered on the day of the start, blanks that take six days are there six days later.
#[test]
fn work_begins_once_its_goods_are_there() {
    let pack = "pack = { of = 25, price = 6.40 }";
    let slow = with(RUN, pack, &format!("{pack}\ndelivery = \"6 days\""));
    let plan = planned(&slow);
    let calendar = plan.dates.calendar().expect("dates");
    assert_eq!(calendar.start, at(7, 8));
    assert_eq!(calendar.order_by[0].by, date(2027, 3, 1));
    assert_eq!(late_goods(&plan), ["disc"]);
    assert_eq!(plan.header.start, Some(at(1, 8)));
    let shown = flat(&text::plan(&plan));
    let want = "disc: ordered on Mon 1 Mar 2027, the day of the start, it comes on Sun 7 Mar 2027, and \"dome\" begins on Sun 7 Mar 2027 08:00; for that to begin on Mon 1 Mar 2027 08:00, order it by Tue 23 Feb 2027 or find it nearer";
    assert!(shown.contains(want), "{shown}");
    // what is in stock, or comes in no time, is waited for by nobody
    for file in [with(&slow, "have = 0", "have = 200"), RUN.to_owned()] {
        let plan = planned(&file);
        assert_eq!(plan.dates.calendar().expect("dates").start, at(1, 8));
        assert!(late_goods(&plan).is_empty());
    }
}

/// Goods of a later step put the work off no further than that step needs; and no order of any is due
/// before the day of the start.
#[test]
fn goods_of_a_later_step_are_there_before_it() {
    let pack = "pack = { of = 100, price = 7.50 }";
    for days in [1, 9, 30] {
        let file = with(RUN, pack, &format!("{pack}\ndelivery = \"{days} days\""));
        let plan = planned(&file);
        let calendar = plan.dates.calendar().expect("dates");
        let bag = calendar
            .sittings
            .iter()
            .find(|it| it.what == "bag")
            .unwrap();
        let there = at(1, 8)
            .date()
            .checked_add(jiff::ToSpan::days(days))
            .unwrap();
        assert!(bag.begins.date() >= there, "{days}: {}", bag.begins);
        assert_eq!(calendar.start, at(1, 8), "{days}");
        assert!(
            calendar
                .order_by
                .iter()
                .all(|order| order.by >= date(2027, 3, 1))
        );
    }
}

/// A date that comes before the goods is too late, and one well after them is not.
#[test]
fn a_date_before_the_goods_come_is_too_late() {
    let pack = "pack = { of = 25, price = 6.40 }";
    let slow = with(RUN, pack, &format!("{pack}\ndelivery = \"6 days\""));
    let by = |day: i8| {
        let start = "start = 2027-03-01T08:00:00";
        planned(&with(
            &slow,
            start,
            &format!("{start}\nready_by = 2027-03-{day:02}T20:00:00"),
        ))
    };
    let (early, late) = (by(6), by(20));
    assert!(early.is_too_late() && !early.can_be_done());
    // with the goods at hand there is time for all of it, and that is told
    let mut ways = early.still_can.iter();
    let goods = vec![("disc".to_owned(), at(1, 8))];
    let at_hand = ways.find(|can| {
        can.changes
            == [Otherwise::GoodsAtHand {
                goods: goods.clone(),
            }]
    });
    assert_eq!(
        at_hand.map(|can| can.pieces),
        Some(72),
        "{:?}",
        early.still_can
    );
    assert_eq!(late_goods(&early), ["disc"]);
    assert!(!late.is_too_late() && late.can_be_done());
    let calendar = late.dates.calendar().expect("dates");
    assert_eq!(calendar.start, at(7, 8));
}

/// Discs that are sealed first and domed later, with sealer in stock and glaze that takes so many days.
fn sealed_then_domed(start: &str, days: u32, ready_by: &str) -> String {
    let file = RUN.replace(
        "steps = [\"seal\", \"bag\"]",
        "steps = [\"seal\", \"dome\"]",
    );
    let file = file.replace(
        "steps = [\"dome\", \"bag\"]",
        "steps = [\"seal\", \"dome\"]",
    );
    let file = with(&file, "count = 70", "count = 2");
    let file = with(&file, "have = 0\n", "have = 90\n");
    let start = format!("start = {start}\nready_by = {ready_by}");
    let file = with(&file, "start = 2027-03-01T08:00:00", &start);
    let file = with(
        &file,
        "handle = \"2 h\"",
        "handle = \"90 h\", recoat = \"90 h\"",
    );
    let sealer = "family = \"water-based sealer\"\n";
    let stock = "bottle = { holds = \"120 mL\", have = 2, delivery = \"9 days\" }\n";
    let file = with(&file, sealer, &format!("{sealer}{stock}"));
    let glaze = "family = \"water-based dome glaze\"\n";
    let bottle = format!("bottle = {{ holds = \"60 mL\", delivery = \"{days} days\" }}\n");
    with(&file, glaze, &format!("{glaze}{bottle}"))
}

/// When the first sitting of a step begins.
fn begins(plan: &Plan, step: &str) -> DateTime {
    let mut sittings = plan.dates.calendar().expect("dates").sittings.iter();
    sittings.find(|it| it.what == step).expect(step).begins
}

/// A step that takes none of the goods on their way waits for none of them, so a day more of delivery
/// makes a date no less sure that is kept with the step that does.
#[test]
fn only_the_step_that_takes_the_goods_waits_for_them() {
    let mut readies = Vec::new();
    for days in [0, 7, 8, 9] {
        let file = sealed_then_domed("2027-04-03T08:00:00", days, "2027-04-14T20:00:00");
        let file = with(&file, "weekdays = [\"08:00-20:00\"]", "weekdays = []");
        let plan = planned(&file);
        let calendar = plan.dates.calendar().expect("dates");
        assert_eq!(begins(&plan, "seal"), date(2027, 4, 3).at(8, 0, 0, 0));
        // the next weekend after sealing, and no goods before they come
        let dome = if days < 9 { 11 } else { 17 };
        let dome = if days < 8 { 10 } else { dome };
        assert_eq!(begins(&plan, "dome").date(), date(2027, 4, dome), "{days}");
        assert_eq!(plan.is_too_late(), days == 9, "{days}: {calendar:?}");
        let chance = calendar.by.as_ref().and_then(|by| by.chance.as_ref());
        if days < 9 {
            let chance = chance.expect("a chance");
            assert!(chance.ready.fraction() > 0.99, "{days}: {chance:?}");
        }
        let late = plan.warnings.iter().find_map(|warning| match warning {
            Warning::OrderTooLate {
                what, step, begins, ..
            } => Some((what, step, begins)),
            _ => None,
        });
        assert_eq!(late.is_some(), days > 7, "{days}: {late:?}");
        if let Some((what, step, until)) = late {
            assert!(what == "glaze" && step == "dome");
            assert_eq!(*until, begins(&plan, "dome"));
        }
        readies.push(calendar.ready);
    }
    assert!(readies.is_sorted(), "{readies:?}");
}

/// Goods that come the day after a start in the evening lose none of that day's work.
#[test]
fn goods_are_there_from_the_beginning_of_their_day() {
    let pack = "pack = { of = 25, price = 6.40 }";
    let file = with(RUN, pack, &format!("{pack}\ndelivery = \"1 days\""));
    let file = with(&file, "2027-03-01T08:00:00", "2027-03-05T18:30:00");
    assert_eq!(
        planned(&file).dates.calendar().expect("dates").start,
        at(6, 8)
    );
}

/// One kind's blanks are waited for by that kind alone.
#[test]
fn a_kind_waits_for_its_own_blanks() {
    let slab = "count = 2\nblank = ";
    let file = with(RUN, &format!("{slab}\"disc\""), &format!("{slab}\"slate\""));
    let blank = "[[blank]]\nname = \"slate\"\noutline = { round = \"20 mm\" }\nporous = false\ndelivery = \"6 days\"\n";
    let plan = planned(&with(&file, "[[blank]]\n", &format!("{blank}[[blank]]\n")));
    assert_eq!(begins(&plan, "seal"), at(1, 8));
    assert_eq!(begins(&plan, "dome"), at(7, 8));
    assert_eq!(late_goods(&plan), ["slate"]);
}

/// Stock that the calendar finds past its date is ordered and waited for.
#[test]
fn stock_past_its_date_by_the_calendar_is_waited_for() {
    let file = with(
        RUN,
        "steps = [\"dome\", \"bag\"]",
        "steps = [\"dome\", \"seal\"]",
    );
    let file = with(&file, "steps = [\"seal\", \"bag\"]", "steps = [\"bag\"]");
    let family = "family = \"water-based sealer\"\n";
    let stock = "bottle = { holds = \"120 mL\", have = 2, best_before = 2027-03-01, delivery = \"4 days\" }\n";
    let plan = planned(&with(&file, family, &format!("{family}{stock}")));
    assert_eq!(begins(&plan, "dome").date(), date(2027, 3, 1));
    assert_eq!(begins(&plan, "seal"), at(5, 8));
    assert_eq!(late_goods(&plan), ["sealer"]);
}

/// What can still be done waits for the goods too, other than with those at hand or without them.
#[test]
fn no_way_promises_a_date_before_its_goods_come() {
    let file = sealed_then_domed("2027-04-05T08:00:00", 5, "2027-04-09T20:00:00");
    let plan = planned(&file);
    assert!(plan.is_too_late());
    let comes = date(2027, 4, 10).at(0, 0, 0, 0);
    assert!(begins(&plan, "dome") >= comes);
    let mut at_hand = 0;
    for can in &plan.still_can {
        let goods = can.changes.iter().find_map(|change| match change {
            Otherwise::GoodsAtHand { goods } => Some(goods),
            _ => None,
        });
        let bare = |change: &Otherwise| matches!(change, Otherwise::NoDome { .. });
        assert!(goods.is_some() || can.changes.iter().any(bare), "{can:?}");
        for (what, by) in goods.into_iter().flatten() {
            assert!(
                what == "glaze" && *by < can.ready.expect("a date"),
                "{can:?}"
            );
            at_hand += 1;
        }
    }
    assert!(at_hand > 0, "{:?}", plan.still_can);
    let shown = flat(&text::plan(&plan));
    assert!(shown.contains("have glaze at hand by "), "{shown}");
    assert!(
        shown.contains("(ordered sooner or found nearer)"),
        "{shown}"
    );
    // a later date, and the ways to it do not begin before the goods are there
    let later = with(&file, "2027-04-09T20", "2027-04-11T06");
    let plan = planned(&later);
    for can in &plan.still_can {
        let other = |change: &Otherwise| {
            matches!(
                change,
                Otherwise::GoodsAtHand { .. } | Otherwise::NoDome { .. }
            )
        };
        let other = can.changes.iter().any(other);
        assert!(other || can.ready.expect("a date") > comes, "{can:?}");
    }
}
