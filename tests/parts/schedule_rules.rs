//! What never happens, and the cases of the trade.

use std::collections::BTreeSet;

use crate::common::schedule::random::{self, Dice};
use crate::common::schedule::{
    MONDAY, Rules, at, daily, sitting, slow_ready, task, verify, wave, window,
};
use brimful::schedule::{
    Bottleneck, Hours, HoursError, Minute, NoTimetable, Task, Timetable, Wait, bottleneck,
    earliest, latest,
};
use jiff::civil::date;
use proptest::prelude::*;

/// What is done to a timetable that the verifier must see.
type Change<'a> = &'a dyn Fn(&mut Timetable);

/// Waves that share trays, with looks.
fn shared() -> (Task, Rules, Timetable) {
    let mut dice = Dice(11);
    loop {
        let (task, rules) = random::task(&mut dice, &[3, 3, 2]);
        let waves = || task.splits.iter().flat_map(|split| &split.waves);
        let looks = waves().any(|wave| wave.sittings.iter().any(|sitting| sitting.look.is_some()));
        match earliest(&task, at(MONDAY, 0, 0)) {
            Ok(made) if looks && made.busiest(0).is_some() => return (task, rules, made),
            _ => {}
        }
    }
}

#[test]
fn the_verifier_sees_what_is_tampered_with() {
    let (task, rules, made) = shared();
    verify(&task, &rules, &made).unwrap();
    let later = |minute: &mut Minute, by| *minute = minute.plus(by).unwrap();
    let changes: [Change; 8] = [
        &|made| later(&mut made.booked[0].begins, -1),
        &|made| later(&mut made.booked[0].next_from, -1),
        &|made| later(&mut made.ready, 1),
        &|made| later(&mut made.starts, 1),
        &|made| made.hands_on += 1,
        &|made| made.booked.truncate(made.booked.len() - 1),
        &|made| made.booked.swap(0, 1),
        &|made| {
            let with = made.booked.iter_mut().find(|b| b.lifted_at.is_some());
            later(with.unwrap().lifted_at.as_mut().unwrap(), 1);
        },
    ];
    for (place, change) in changes.iter().enumerate() {
        let mut other = made.clone();
        change(&mut other);
        assert!(verify(&task, &rules, &other).is_err(), "change {place}");
    }
    // All moved into the night, and one tray fewer than are in use.
    let mut night = made.clone();
    for booked in &mut night.booked {
        later(&mut booked.begins, 720);
        later(&mut booked.ends, 720);
    }
    assert!(verify(&task, &rules, &night).unwrap_err().contains("hours"));
    let mut fewer = task.clone();
    fewer.shop.trays[0] = made.busiest(0).unwrap().trays - 1;
    assert!(verify(&fewer, &rules, &made).unwrap_err().contains("trays"));
    let mut goods = task.clone();
    let wave = made.booked[0].wave;
    goods.splits[0].waves[wave].sittings[0].not_before = made.booked[0].begins.plus(1);
    let early = verify(&goods, &rules, &made).unwrap_err();
    assert!(early.contains("goods"), "{early}");
    let mut off = rules.clone();
    off.off.insert(made.booked[0].begins.date_time().date());
    assert!(verify(&task, &off, &made).is_err());
}

/// Case C24: three days on the tray and 18 trays are 6 trays a day.
#[test]
fn eighteen_trays_for_three_days_are_six_a_day() {
    // Works at every hour, so that nothing is lifted late; ten minutes' pour within the three days.
    let hours = daily(&[window(0, 1440)]);
    let pour = [sitting(10, None, Some(0))];
    let waves = (0..90).map(|_| wave(20, &[1], &pour)).collect();
    let task = task(hours, &[18], &[3 * 1440 - 10], waves);
    let made = earliest(&task, at(MONDAY, 0, 0)).unwrap();
    let limits = bottleneck(&task, &made).unwrap();
    let Bottleneck::Trays {
        trays,
        days_on_tray,
        trays_a_day,
        pieces_a_day,
        hands_a_day,
        ..
    } = limits.bottleneck
    else {
        panic!("{limits:?}");
    };
    assert_eq!(trays, 18);
    assert!((days_on_tray - 3.0).abs() < 1e-9 && (trays_a_day - 6.0).abs() < 1e-9);
    assert!((pieces_a_day - 120.0).abs() < 1e-9);
    // 1440 minutes at 10 for 20 pieces
    assert!((hands_a_day - 2880.0).abs() < 1e-9);
    assert_eq!(made.busiest(0).unwrap().trays, 18);
}

#[test]
fn hands_or_drying_limit_where_trays_do_not() {
    let evening = || daily(&[window(1080, 1200)]);
    let steps = [sitting(60, Some(0), None), sitting(30, None, None)];
    let many = (0..20).map(|_| wave(10, &[], &steps)).collect();
    let busy = task(evening(), &[], &[600], many);
    let made = earliest(&busy, at(MONDAY, 0, 0)).unwrap();
    // 120 minutes a day at 9 minutes a piece
    match bottleneck(&busy, &made).unwrap().bottleneck {
        Bottleneck::Hands { pieces_a_day } => assert!((pieces_a_day - 40.0 / 3.0).abs() < 1e-9),
        other => panic!("{other:?}"),
    }
    let slow = task(evening(), &[], &[14_400], vec![wave(10, &[], &steps)]);
    let made = earliest(&slow, at(MONDAY, 0, 0)).unwrap();
    let limits = bottleneck(&slow, &made).unwrap();
    assert!(matches!(limits.bottleneck, Bottleneck::Drying { days } if days > 10.0));
}

/// Case C32: poured at 18:00 and asleep at 22:00, a look half an hour after the last pour falls
/// in waking hours; a look five hours after does not, and the pour moves to where it does.
#[test]
fn looks_fall_in_waking_hours_or_the_pour_moves() {
    let week = std::array::from_fn(|_| vec![window(600, 660), window(1080, 1200)]);
    let hours = Hours::new(week, &BTreeSet::new(), window(420, 1320)).unwrap();
    let mut pour = sitting(30, None, None);
    pour.look = Some(30);
    let soon = task(hours.clone(), &[], &[], vec![wave(1, &[], &[pour])]);
    let made = earliest(&soon, at(MONDAY, 17, 0)).unwrap();
    assert_eq!(made.starts, at(MONDAY, 18, 0));
    pour.look = Some(300);
    let long = task(hours, &[], &[], vec![wave(1, &[], &[pour])]);
    let made = earliest(&long, at(MONDAY, 17, 0)).unwrap();
    assert_eq!(made.starts, at(MONDAY.tomorrow().unwrap(), 10, 0));
}

/// Case C27 by durations: three times the work, and the run that took one evening takes three.
#[test]
fn a_first_run_takes_more_evenings() {
    let evenings = |work| {
        let hours = daily(&[window(1080, 1200)]);
        let waves = (0..3).map(|_| wave(1, &[], &[sitting(work, None, None)]));
        let made = earliest(&task(hours, &[], &[], waves.collect()), at(MONDAY, 0, 0)).unwrap();
        made.spells().len()
    };
    assert_eq!((evenings(40), evenings(120)), (1, 3));
}

#[test]
fn what_cannot_be_says_why() {
    let hours = || daily(&[window(1080, 1200)]);
    let one = |hours, sitting, trays: &[u32], need: &[u32]| {
        task(hours, trays, &[60], vec![wave(1, need, &[sitting])])
    };
    let start = at(MONDAY, 0, 0);
    let long = one(hours(), sitting(121, None, None), &[], &[]);
    assert_eq!(
        earliest(&long, start).unwrap_err().to_string(),
        "step 0 takes 121 min in one sitting, and the longest spell of work for it has 120 min"
    );
    let crowded = one(hours(), sitting(10, None, Some(0)), &[2], &[3]);
    assert_eq!(
        earliest(&crowded, start).unwrap_err().to_string(),
        "a wave takes 3 trays of kind 0, and there are 2"
    );
    let idle = one(daily(&[]), sitting(10, None, None), &[], &[]);
    assert_eq!(earliest(&idle, start), Err(NoTimetable::NoHours));
    let mut asleep = sitting(10, None, None);
    asleep.look = Some(300);
    let asleep = one(hours(), asleep, &[], &[]);
    assert!(matches!(
        earliest(&asleep, start),
        Err(NoTimetable::LooksAsleep { look: 300, .. })
    ));
    let good = one(hours(), sitting(10, Some(0), None), &[], &[]);
    // Ten minutes of work and an hour's wait: 17:50 would be the latest for 19:00, so none is; for 19:30 it is 18:20.
    let sooner = latest(&good, at(MONDAY, 19, 0), Some(start)).unwrap_err();
    let earliest = Some(at(MONDAY, 19, 10));
    assert_eq!(sooner, NoTimetable::TooLate { earliest });
    assert_eq!(
        sooner.to_string(),
        "no start is in time: begun at once, it is ready 2027-03-01T19:10:00"
    );
    let made = latest(&good, at(MONDAY, 19, 30), Some(start)).unwrap();
    assert_eq!(made.starts, at(MONDAY, 18, 20));
}

#[test]
fn hours_that_make_no_sense_are_refused() {
    let refused = |windows: &[_], awake| {
        let week = std::array::from_fn(|_| windows.to_vec());
        Hours::new(week, &BTreeSet::new(), awake).unwrap_err()
    };
    let awake = window(420, 1350);
    assert!(matches!(
        refused(&[window(600, 600)], awake),
        HoursError::Window(_)
    ));
    assert!(matches!(
        refused(&[window(600, 1441)], awake),
        HoursError::Window(_)
    ));
    let overlap = [window(600, 700), window(650, 800)];
    assert!(matches!(refused(&overlap, awake), HoursError::Overlap(..)));
    assert!(matches!(
        refused(&[], window(420, 420)),
        HoursError::Awake(_)
    ));
}

#[test]
fn minutes_are_dates_and_back() {
    let noon = date(2027, 4, 8).at(12, 34, 0, 0);
    assert_eq!(Minute::of(noon).date_time(), noon);
    let before = date(1969, 12, 31).at(23, 59, 0, 0);
    assert_eq!(Minute::of(before).date_time(), before);
    assert_eq!(
        Minute::of(noon).since(Minute::of(date(2027, 4, 7).at(12, 34, 0, 0))),
        1440
    );
    assert_eq!(Minute::of(noon).plus(i64::MAX), None);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn what_is_laid_later_is_never_there_sooner(
        mut by_hour in proptest::array::uniform24(proptest::option::weighted(0.7, 0_u32..4000)),
        from in 0_i64..2880,
    ) {
        by_hour[7] = by_hour[7].or(Some(60));
        let wait = Wait { by_hour };
        let from = at(MONDAY, 0, 0).plus(from).unwrap();
        let ready = wait.ready(from).unwrap();
        prop_assert_eq!(ready, slow_ready(&wait, from));
        prop_assert!(wait.ready(from.plus(1).unwrap()).unwrap() >= ready);
    }

    /// Small runs of which every order is tried, and larger ones of the family.
    #[test]
    fn more_means_are_never_worse(
        seed in any::<u64>(), shape in proptest::collection::vec(1_usize..4, 2..8), what in 0..8,
    ) {
        let mut dice = Dice(seed);
        let (task, rules) = random::task(&mut dice, &shape);
        let mut more = task.clone();
        let mut kinder = rules.clone();
        match what {
            0 => more.shop.trays[0] += 1,
            1 => kinder.week[dice.below(7) as usize].push(window(300, 500)),
            2 => kinder.off.clear(),
            3 => more.waits[dice.below(4) as usize].by_hour.iter_mut().flatten().for_each(|w| *w /= 2),
            4 => {
                let waves = &mut more.splits[0].waves;
                let place = dice.below(u32::try_from(waves.len()).unwrap()) as usize;
                waves[place].sittings[0].work /= 2;
            }
            5 => drop(more.splits[0].waves.pop()),
            6 => {
                let days = i64::from(dice.below(9));
                let sittings = more.splits[0].waves.iter_mut().flat_map(|wave| &mut wave.sittings);
                for from in sittings.filter_map(|sitting| sitting.not_before.as_mut()) {
                    *from = from.plus(-days * 1440).unwrap();
                }
            }
            _ => kinder.awake = window(360, 1440),
        }
        more.shop.hours = kinder.hours();
        let start = at(MONDAY, 0, 0);
        let deadline = start.plus(45 * 1440).unwrap();
        match (earliest(&task, start), earliest(&more, start)) {
            (Ok(made), Ok(better)) => {
                verify(&task, &rules, &made).map_err(TestCaseError::fail)?;
                verify(&more, &kinder, &better).map_err(TestCaseError::fail)?;
                prop_assert!(better.ready <= made.ready, "{} then {}", better.ready.date_time(), made.ready.date_time());
            }
            (Ok(_), Err(refusal)) => return Err(TestCaseError::fail(refusal.to_string())),
            (Err(_), _) => {}
        }
        match (latest(&task, deadline, None), latest(&more, deadline, None)) {
            (Ok(made), Ok(better)) => {
                prop_assert!(made.ready <= deadline && better.ready <= deadline);
                prop_assert!(better.starts >= made.starts);
            }
            (Ok(_), Err(refusal)) => return Err(TestCaseError::fail(refusal.to_string())),
            (Err(_), _) => {}
        }
    }
}
