//! Coats in a box that keeps their vapour: what must hold whatever the figures are,
//! and what a maker is told.

use crate::common::cure::{epoxy, glaze, tray};
use brimful::cure::air::{Air, Draught};
use brimful::cure::case::Case;
use brimful::cure::compare::{Cause, Effect, Outcome, Pace, compare};
use brimful::cure::enclosure::Enclosure;
use brimful::cure::help::Change;
use brimful::cure::law::{Advance, Hindrance, Law, Reached, Standing};
use brimful::cure::psychro::{saturation_density, vapour_density};
use brimful::cure::series::{Promise, Through, through, time_through};
use brimful::cure::situation::Spell;
use brimful::cure::starts::from_every_start;
use brimful::cure::transfer::{Exposure, Footprint};
use brimful::cure::{Situation, Warning, what_would_help};
use brimful::quantity::{AirChanges, Humidity, Length, Speed, Temperature, Time, Volume};
use brimful::stage::Stage;
use proptest::prelude::*;
use std::collections::BTreeMap;

/// 2 mm domes on 25 mm rounds, 24 on a tray.
fn domes(air: Air) -> Situation {
    let disc = Footprint::Disc {
        diameter: Length::from_mm(25.0),
    };
    let exposure = Exposure::among(disc, tray(24)).unwrap();
    Situation::new(air, exposure, Length::from_mm(2.0))
}

fn air(celsius: f64, percent: f64) -> Air {
    Air::new(
        Temperature::from_celsius(celsius),
        Humidity::from_percent(percent),
        Speed::from_m_per_s(0.1),
    )
    .unwrap()
}

fn cupboard(litres: f64, changes: f64, pieces: u32) -> Enclosure {
    let changes = AirChanges::from_per_h(changes);
    Enclosure::new(Volume::from_l(litres), changes, pieces).unwrap()
}

fn boxed(litres: f64, changes: f64, pieces: u32) -> Situation {
    domes(Air::REFERENCE).enclosed(Some(cupboard(litres, changes, pieces)))
}

/// Hours until a stage, infinite where it is never reached.
fn hours(stage: Stage, situation: &Situation) -> f64 {
    match glaze().reach(stage, situation).unwrap() {
        Reached::After(time) => time.h(),
        Reached::Never(_) => f64::INFINITY,
    }
}

fn fresh(situation: &Situation) -> Standing {
    Standing::fresh(glaze().start(situation), situation)
}

/// Water in grams that left through the box's openings: `n Vb (c - c_out)` summed by
/// Simpson's rule over what the box carried.
fn carried_off(situation: &Situation, times: &[f64], carried: &[f64]) -> f64 {
    let enclosure = situation.enclosure().unwrap();
    let outside = vapour_density(&situation.air()).kg_per_m3();
    let step = times[1] - times[0];
    let sum: f64 = carried
        .windows(3)
        .step_by(2)
        .map(|c| (c[0] + 4.0 * c[1] + c[2] - 6.0 * outside) * step / 3.0)
        .sum();
    1e3 * enclosure.air_changes().per_s() * enclosure.volume().m3() * sum
}

/// Water that left the films is in the box or was carried off, to a millionth.
#[test]
fn no_water_is_lost_or_made() {
    for (litres, changes, steps, step) in [
        (60.0, 0.5, 8000, 20.0),
        (60.0, 0.0, 400, 600.0),
        (300.0, 2.0, 3000, 20.0),
    ] {
        let situation = boxed(litres, changes, 24);
        let start = fresh(&situation);
        let (mut at, mut times, mut carried) = (start, vec![0.0], vec![start.vapour.kg_per_m3()]);
        for i in 1..=steps {
            let Advance::Left(next) = glaze().advance(&situation, at, 0.03, step).unwrap() else {
                panic!("not as dry as that yet");
            };
            at = next;
            times.push(step * f64::from(i));
            carried.push(at.vapour.kg_per_m3());
        }
        let enclosure = situation.enclosure().unwrap();
        // 998 kg/m3 of water, 1 mm of dry film
        let films = 998.0 * enclosure.wet_area(&situation.exposure()).m2();
        let lost = films * (start.coat - at.coat);
        let in_box = 1e3 * enclosure.volume().m3() * (carried[carried.len() - 1] - carried[0]);
        let off = carried_off(&situation, &times, &carried);
        let missing = (lost - in_box - off).abs() / lost;
        println!(
            "{litres} L {changes}/h: lost {lost:.4} g, in the box {in_box:.4} g, carried off {off:.4} g, missing {missing:.1e}"
        );
        assert!(missing < 1e-6, "{missing:.2e}");
    }
}

/// A box without end of fresh air is the open room, with the air moving as the box's.
#[test]
fn endless_ventilation_is_the_open_room() {
    for stage in [Stage::TackFree, Stage::Through] {
        for inside in [Draught::ClosedBox, Draught::Sheltered, Draught::Still] {
            let enclosure = cupboard(60.0, 1e5, 24).with_air_inside(inside).unwrap();
            let open = domes(Air::REFERENCE.with_speed(inside.film_speed()).unwrap());
            let ratio = hours(stage, &domes(Air::REFERENCE).enclosed(Some(enclosure)))
                / hours(stage, &open);
            // 1 + k A/(n Vb) is 1 + 5e-5 at the most
            assert!((ratio - 1.0).abs() < 6e-5, "{stage:?} {inside:?} {ratio}");
        }
    }
}

/// All that a sealed box takes up stays in its air: the films stall where the air over
/// them is in balance, which the run comes to and the hindrance tells.
#[test]
fn a_sealed_box_stalls_where_its_air_is_in_balance() {
    for (litres, pieces) in [
        (5.0, 1),
        (5.0, 12),
        (60.0, 24),
        (1000.0, 24),
        (500.0, 10),
        (600.0, 10),
    ] {
        let situation = boxed(litres, 0.0, pieces);
        let Reached::Never(Hindrance::Stalls { at, share_left }) =
            glaze().reach(Stage::Through, &situation).unwrap()
        else {
            panic!("{litres} L does not stall");
        };
        let Advance::Left(end) = glaze()
            .advance(&situation, fresh(&situation), 0.04, f64::INFINITY)
            .unwrap()
        else {
            panic!("{litres} L dries");
        };
        assert!(
            (end.coat - at).abs() < 2e-6,
            "{litres} L: {} {at}",
            end.coat
        );
        assert!(
            (share_left.fraction() - at).abs() < 1e-12,
            "it starts at X = 1"
        );
        let saturated = saturation_density(situation.air().temperature());
        let activity = if at > 0.0504 {
            1.0
        } else {
            end.vapour / saturated
        };
        assert!(
            (end.vapour / saturated - activity).abs() < 1e-5,
            "{litres} L"
        );
    }
    // one dome of half a gram of water in 300 L: the air takes it all
    assert!(hours(Stage::Through, &boxed(300.0, 0.0, 1)).is_finite());
}

/// The causes multiply to the whole with the box as the last of them.
#[test]
fn the_box_is_one_of_the_causes() {
    let label =
        domes(Air::REFERENCE).exposed(domes(Air::REFERENCE).exposure().without_neighbours());
    let here = domes(air(18.0, 60.0)).enclosed(Some(cupboard(60.0, 2.0, 24)));
    let told = compare(&glaze(), &label, &here).unwrap();
    let product: f64 = told
        .factor
        .parts
        .iter()
        .map(|part| match part.effect {
            Effect::Times(times) => times,
            other => panic!("{other:?}"),
        })
        .product();
    assert!((product / told.factor.whole.likely().unwrap() - 1.0).abs() < 1e-9);
    let last = told.factor.parts.last().unwrap();
    assert_eq!(last.cause, Cause::Enclosure);
    assert!(
        matches!(last.effect, Effect::Times(times) if times > 1.1),
        "{last:?}"
    );
    let Some(Warning::BoxSlows {
        times,
        humidity,
        least,
        fresh,
    }) = told.warnings.iter().find(|it| it.code() == "box-slows")
    else {
        panic!("{:?}", told.warnings);
    };
    assert!(*times > 1.25 && humidity.percent() > 70.0 && humidity.percent() < 100.0);
    let slows = told.warnings.iter().find(|it| it.code() == "box-slows");
    let words = slows.map(ToString::to_string).unwrap_or_default();
    let at_least = format!("{} air changes an hour or more", least.per_h().ceil());
    assert!(words.contains(&at_least), "{words}");
    let litres_an_hour = fresh.l_per_min() * 60.0;
    assert!((least.per_h() * 60.0 / litres_an_hour - 1.0).abs() < 1e-9);
    // so much air, and it is not worth a warning
    let aired = cupboard(60.0, 2.0, 24).with_air_changes(*least).unwrap();
    let told = compare(&glaze(), &label, &here.enclosed(Some(aired))).unwrap();
    assert!(
        told.warnings.iter().all(|it| it.code() != "box-slows"),
        "{:?}",
        told.warnings
    );
}

#[test]
fn a_sealed_tub_is_told_to_stall() {
    let label = domes(Air::REFERENCE);
    let told = compare(&glaze(), &label, &boxed(5.0, 0.0, 12)).unwrap();
    assert!(matches!(
        told.factor.whole,
        Outcome::Never(Hindrance::Stalls { .. })
    ));
    assert_eq!(told.pace, Pace::NoHeadway);
    let last = told.factor.parts.last().unwrap();
    assert!(
        matches!(last.effect, Effect::Stops(Hindrance::Stalls { .. })),
        "{last:?}"
    );
    let words = told.warnings[0].to_string();
    assert_eq!(
        words,
        "in this sealed box drying stalls with 99 % of the water still in the coat, for its air takes up only 0.05 g: never close a lid over wet water-based work"
    );
}

/// Out of the sealed tub it dries: of all that was tried this helps, and air that moves
/// in the room does not, for the tub keeps it out.
#[test]
fn out_of_its_box_is_what_helps() {
    let (label, here, film) = (domes(Air::REFERENCE), boxed(5.0, 0.0, 12), glaze());
    let helps = what_would_help(&Case::steady(&film, &label, &here)).unwrap();
    let changes: Vec<Change> = helps.iter().map(|help| help.change).collect();
    assert_eq!(changes, [Change::TakeOut]);
    assert!((helps[0].ratio.likely - 1.0).abs() < 1e-12);
}

/// Resin gives off no water: its box makes no difference.
#[test]
fn a_box_means_nothing_to_a_resin() {
    let (open, shut) = (domes(Air::REFERENCE), boxed(5.0, 0.0, 12));
    assert_eq!(
        epoxy().reach(Stage::Through, &open),
        epoxy().reach(Stage::Through, &shut)
    );
    assert!(
        compare(&epoxy(), &open, &shut)
            .unwrap()
            .warnings
            .iter()
            .all(|it| !it.code().starts_with("box"))
    );
}

fn spells(hours: u32, air: impl Fn(u32) -> Air) -> Vec<Spell> {
    (0..hours)
        .map(|hour| Spell {
            air: air(hour),
            lasts: Time::from_h(1.0),
        })
        .collect()
}

/// Steady air cut into hours is steady air: the box keeps its vapour from hour to hour.
#[test]
fn hours_of_the_same_air_add_up_to_steady_air() {
    let situation = boxed(60.0, 0.5, 24);
    let by_hour = through(&glaze(), 0.04, &situation, spells(200, |_| Air::REFERENCE)).unwrap();
    let Through::Reached(time) = by_hour else {
        panic!("{by_hour:?}")
    };
    let steady = hours(Stage::Through, &situation);
    assert!(
        (time.h() / steady - 1.0).abs() < 1e-5,
        "{} {steady}",
        time.h()
    );
    let promise = Promise {
        stage: Stage::Through,
        takes: Time::from_h(24.0),
        at: domes(Air::REFERENCE),
    };
    let labelled = time_through(
        &glaze(),
        &promise,
        &situation,
        spells(200, |_| Air::REFERENCE),
    )
    .unwrap()
    .unwrap();
    let want = 24.0 * steady / hours(Stage::Through, &promise.at);
    assert!(
        (labelled.h() / want - 1.0).abs() < 1e-5,
        "{} {want}",
        labelled.h()
    );
}

/// Damp air shut in on the first day slows a nearly sealed box on the second, dry one:
/// a box that is only now filled with dry air gets ahead.
#[test]
fn a_box_remembers_the_air_it_was_shut_with() {
    let day = |hour: u32| {
        if hour < 1 {
            air(23.0, 95.0)
        } else {
            air(23.0, 20.0)
        }
    };
    let situation = boxed(3000.0, 0.01, 24);
    let weather = spells(60, day);
    let promise = Promise {
        stage: Stage::TackFree,
        takes: Time::from_h(4.0),
        at: domes(Air::REFERENCE),
    };
    let taken = from_every_start(&glaze(), &promise, &situation, &weather).unwrap();
    let each = (0..weather.len()).map(|first| {
        time_through(&glaze(), &promise, &situation, weather[first..].to_vec()).unwrap()
    });
    assert_eq!(taken, each.collect::<Vec<_>>());
    let (first, second) = (taken[0].unwrap(), taken[1].unwrap());
    assert!(first.h() > second.h() + 1.0, "{} {}", first.h(), second.h());
}

/// A case in changing air has the box among its causes, and the ups and downs after it.
#[test]
fn a_box_in_changing_air_has_its_part() {
    let weather = spells(300, |hour| {
        air(20.0, if hour % 24 < 12 { 45.0 } else { 65.0 })
    });
    let times = BTreeMap::from([(Stage::Through, Time::from_h(24.0))]);
    let (label, here, film) = (domes(Air::REFERENCE), boxed(60.0, 2.0, 24), glaze());
    let told = Case::through(&film, &label, &here, &weather, times)
        .unwrap()
        .compare()
        .unwrap();
    let product: f64 = told
        .factor
        .parts
        .iter()
        .map(|part| match part.effect {
            Effect::Times(times) => times,
            other => panic!("{other:?}"),
        })
        .product();
    assert!((product / told.factor.whole.likely().unwrap() - 1.0).abs() < 1e-9);
    let causes: Vec<Cause> = told.factor.parts.iter().map(|part| part.cause).collect();
    assert_eq!(causes[causes.len() - 2..], [Cause::Enclosure, Cause::Swing]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// More pieces, a smaller box, less fresh air: each dries no sooner.
    #[test]
    fn a_worse_box_never_dries_sooner(
        litres in 5.0f64..500.0,
        changes in prop_oneof![Just(0.0), 0.05f64..60.0],
        pieces in 1u32..60,
        celsius in 8.0f64..30.0,
        percent in 20.0f64..80.0,
        depth in 0.1f64..2.5,
    ) {
        let here = domes(air(celsius, percent)).at_depth(Length::from_mm(depth));
        let time = |litres, changes, pieces, stage| {
            hours(stage, &here.enclosed(Some(cupboard(litres, changes, pieces))))
        };
        for stage in [Stage::TackFree, Stage::Through] {
            let now = time(litres, changes, pieces, stage);
            // times are within 1e-5
            let slack = 1.0 - 2e-5;
            prop_assert!(time(litres, changes, 2 * pieces, stage) >= now * slack);
            // the same air changes of half the volume are half the fresh air
            prop_assert!(time(litres / 2.0, changes, pieces, stage) >= now * slack);
            prop_assert!(time(litres, changes / 2.0, pieces, stage) >= now * slack);
            let still = Air::REFERENCE.with_speed(Draught::ClosedBox.film_speed()).unwrap().speed();
            let open = hours(stage, &here.in_air(here.air().with_speed(still).unwrap()));
            prop_assert!(now >= open * slack, "{now} {open}");
        }
    }
}
