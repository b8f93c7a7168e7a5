//! Situations makers meet, against reports and rules of the trade.

use crate::common::cure::{air, codes, dome, epoxy, glaze, glaze_forming_at, likely};
use brimful::cure::blush::{Blush, Reason, Risk};
use brimful::cure::compare::{Cause, Effect, Outcome, Pace};
use brimful::cure::help::Change;
use brimful::cure::law::Hindrance;
use brimful::cure::psychro::same_vapour;
use brimful::cure::situation::{Heating, Surroundings, Trend};
use brimful::cure::{Case, compare, what_would_help};
use brimful::quantity::{Length, Temperature};
use brimful::stage::Stage;

/// Case C06: a water-based dome with a label at 23 °C and 50 %. Makers' reports,
/// as quotients of vapour-pressure deficits, each to two digits (the deficits
/// of 15 °C and 60 % stand as 2.06, printed 2.1).
///
/// A film kept as warm as its room by a heavy base follows the deficits. A film
/// that cools itself slows less in a cold room, because it had cooled more in the
/// warm one: that figure falls short of every report (x1.63, 2.90, 1.73, 2.81, 4.39).
/// What the piece stands on is not known, so the slower is planned with and the
/// band holds both.
#[test]
fn damp_and_cold_rooms_slow_the_wet_stage_as_makers_report() {
    let reports = [
        (20.0, 65.0, 1.7),
        (20.0, 80.0, 3.0),
        (15.0, 60.0, 2.1),
        (15.0, 75.0, 3.3),
        (10.0, 80.0, 5.7),
    ];
    for (celsius, percent, at_least) in reports {
        let here = dome().in_air(air(celsius, percent));
        let comparison = compare(&glaze(), &dome(), &here).unwrap();
        let stage = comparison.stages[0];
        let Outcome::Times(band) = stage.outcome else {
            panic!("{stage:?}")
        };
        let cooled =
            stage.first_principles_here.unwrap() / stage.first_principles_at_label.unwrap();
        println!(
            "{celsius} {percent}: {:.3}, cooled {cooled:.3}",
            band.likely
        );
        // half a unit of the report's last digit
        assert!(
            band.likely > at_least - 0.05,
            "{celsius} {percent} {band:?}"
        );
        assert!(
            band.likely < 1.05 * at_least,
            "{celsius} {percent} {band:?}"
        );
        assert!(cooled < at_least && cooled > 0.65 * at_least, "{cooled}");
        assert!(band.low < cooled && cooled < band.likely);
    }
}

/// Case C07: a room at 8 °C and a film-forming minimum of 10 °C.
#[test]
fn a_film_too_cold_to_form_gets_no_date_but_a_temperature() {
    let glaze = glaze_forming_at(10.0);
    let here = dome().in_air(air(8.0, 70.0));
    let comparison = compare(&glaze, &dome(), &here).unwrap();
    let Pace::TooCold {
        warm_enough: Some(warm),
    } = comparison.pace
    else {
        panic!("{:?}", comparison.pace)
    };
    assert!(
        comparison
            .stages
            .iter()
            .all(|s| s.outcome.likely().is_none())
    );
    assert!(codes(&comparison).contains(&"film-forming"));
    let heated = here.in_air(same_vapour(&here.air(), warm).unwrap());
    assert!((glaze.wet_film_temperature(&heated).celsius() - 10.0).abs() < 1e-9);
    // the film is colder than the air, so 10 °C of air would not do
    assert!(warm.celsius() > 12.0 && warm.celsius() < 20.0, "{warm:?}");
    let words = comparison.warnings[0].to_string();
    assert!(
        words.contains(&format!(
            "at least {:.1} °C",
            (warm.celsius() * 10.0).ceil() / 10.0
        )),
        "{words}"
    );
}

/// About 5 K below the air for a small blank at 23 °C and 50 % (the reference's text).
#[test]
fn a_wet_film_is_colder_than_its_room() {
    let below = 23.0 - glaze().wet_film_temperature(&dome()).celsius();
    assert!((below - 5.0).abs() < 0.5, "{below}");
}

/// Case C10: double the depth takes 2 to 4 times, never 8.
#[test]
fn double_depth_takes_two_to_four_times() {
    for mm in [0.05, 0.1, 0.5, 1.0, 1.5] {
        let thin = dome().at_depth(Length::from_mm(mm));
        let thick = dome().at_depth(Length::from_mm(2.0 * mm));
        let times = likely(&compare(&glaze(), &thin, &thick).unwrap(), Stage::Through);
        assert!((2.0..4.0).contains(&times), "{mm} mm: {times}");
    }
}

/// Case C11: a film sets 1.3 to 2 times slower at 15 °C than at 25 °C (common
/// practice, no source), and "doubles every 10 °C" (a rule of thumb).
///
/// The model says 9.75987/4.25042 = x2.30 (epoxy.csv, gel), above what practice says;
/// the resin least sensitive to warmth comes to 8.46098/4.40216 = x1.92. The band
/// that is told holds the doubling.
#[test]
fn cold_delays_setting_by_more_than_practice_says() {
    let at = |celsius: f64| dome().in_air(air(celsius, 50.0));
    let comparison = compare(&epoxy(), &at(25.0), &at(15.0)).unwrap();
    let set = comparison
        .stages
        .iter()
        .find(|s| s.stage == Stage::TackFree)
        .unwrap();
    let Outcome::Times(band) = set.outcome else {
        panic!("{set:?}")
    };
    assert!(
        (band.likely / (9.75987 / 4.25042) - 1.0).abs() < 1e-5,
        "{band:?}"
    );
    assert!(band.low < 8.46098 / 4.40216 && band.high > 2.0, "{band:?}");
}

/// The law against the tables of kinetics (epoxy.csv): set B to the printed digits
/// wherever a time is promised, and the band holds sets A and C.
#[test]
fn epoxy_takes_as_many_times_as_the_kinetics_say() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/data/reference/cure/epoxy.csv");
    let mut checked = 0;
    for row in csv::Reader::from_path(path).unwrap().records() {
        let row = row.unwrap();
        let stages: &[Stage] = match &row[4] {
            "ratio to 23 C: gel alpha=0.577" => &[Stage::TackFree, Stage::Recoat],
            "ratio to 23 C: handle alpha=0.70" => &[Stage::Handle],
            "ratio to 23 C: hard alpha=0.85" => {
                &[Stage::RecoatUntil, Stage::Through, Stage::Bag, Stage::Hard]
            }
            _ => continue,
        };
        let want: f64 = row[5].parse().unwrap();
        let here = dome().in_air(air(row[2].parse().unwrap(), 50.0));
        let comparison = compare(&epoxy(), &dome(), &here).unwrap();
        for &stage in stages {
            let found = comparison.stages.iter().find(|s| s.stage == stage).unwrap();
            let gel = stage == Stage::TackFree || stage == Stage::Recoat;
            let cold = here.air().temperature() < Temperature::from_celsius(15.0);
            assert_eq!(found.outcome.likely().is_some(), gel || !cold, "{row:?}");
            match found.outcome {
                Outcome::Times(band) if row[1].starts_with("B_fit_scaled") => {
                    assert!((band.likely / want - 1.0).abs() < 1e-5, "{row:?} {band:?}");
                }
                Outcome::Times(band) => {
                    assert!(band.low <= want && want <= band.high, "{row:?} {band:?}");
                }
                Outcome::Never(_) => {}
            }
        }
        checked += 1;
    }
    // three sets, three goals, twelve rooms
    assert_eq!(checked, 108);
}

/// Below 15 °C the kinetics with vitrification take 3.5 times (15 °C) to 78
/// times (5 °C) as long to harden: no time is promised, but the gel still comes.
#[test]
fn cold_epoxy_gets_no_promise() {
    let cold = dome().in_air(air(12.0, 50.0));
    let comparison = compare(&epoxy(), &dome(), &cold).unwrap();
    assert!(likely(&comparison, Stage::TackFree) > 2.0);
    assert!(matches!(
        comparison.factor.whole,
        Outcome::Never(Hindrance::TooColdToCure { .. })
    ));
    let stops: Vec<_> = comparison
        .factor
        .parts
        .iter()
        .filter(|p| matches!(p.effect, Effect::Stops(_)))
        .map(|p| p.cause)
        .collect();
    assert_eq!(stops, [Cause::Temperature]);
    assert!(codes(&comparison).contains(&"too-cold-to-cure"));
    assert!(
        comparison.warnings[0]
            .to_string()
            .contains("20.0 °C or warmer")
    );
    let helps = what_would_help(&Case::steady(&epoxy(), &dome(), &cold)).unwrap();
    assert!(matches!(helps[0].change, Change::Warm { to, .. } if to.celsius() > 20.0));
}

/// Case C08: epoxy at 19 °C and 75 %.
#[test]
fn damp_epoxy_is_warned_of_blush() {
    let here = dome().in_air(air(19.0, 75.0));
    let comparison = compare(&epoxy(), &dome(), &here).unwrap();
    assert!(
        codes(&comparison).contains(&"blush-raised"),
        "{:?}",
        comparison.warnings
    );
    let words = comparison.warnings[0].to_string();
    assert!(words.contains("between 70 % and 85 %"), "{words}");
    assert!(words.contains("above the dew point"), "{words}");
}

#[test]
fn blush_is_high_raised_or_low_for_its_reasons() {
    let judge = |celsius, percent| Blush::judge(&dome().in_air(air(celsius, percent))).risk();
    assert_eq!(judge(23.0, 50.0), Risk::Low);
    assert_eq!(judge(23.0, 70.0), Risk::Raised);
    assert_eq!(judge(17.9, 50.0), Risk::Raised);
    assert_eq!(judge(11.9, 50.0), Risk::High);
    assert_eq!(judge(23.0, 85.0), Risk::High);
    let stone = Surroundings {
        surface: Some(Temperature::from_celsius(14.0)),
        heating: Heating::BurnsIntoRoom,
        trend: Trend::Falling,
    };
    // dew point at 23 °C and 50 % is 12.0 °C: a stone at 14 °C is 2 K above it
    let cold_stone = Blush::judge(&dome().with_surroundings(stone));
    assert_eq!(cold_stone.risk(), Risk::High);
    assert!(matches!(
        cold_stone.reasons(),
        [Reason::NearDewPoint { .. }, Reason::Fumes, Reason::Cooling]
    ));
    let warned = compare(&glaze(), &dome(), &dome().with_surroundings(stone)).unwrap();
    assert_eq!(codes(&warned), ["dew-point"]);
}
