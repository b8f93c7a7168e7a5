//! Situations makers meet, against reports and rules of the trade.

mod cure_common;

use brimful::cure::air::{Air, AirError, Draught};
use brimful::cure::blush::{Blush, Reason, Risk};
use brimful::cure::compare::{Cause, Comparison, Effect, Outcome, Pace};
use brimful::cure::help::Change;
use brimful::cure::law::{Basis, Hindrance, Law, Reached};
use brimful::cure::psychro::same_vapour;
use brimful::cure::series::{Promise, Through, through, time_through};
use brimful::cure::situation::{Heating, Situation, Spell, Surroundings, Trend};
use brimful::cure::sorption::FloryHuggins;
use brimful::cure::transfer::{Exposure, ExposureError, Footprint};
use brimful::cure::water_film::{FilmModel, FilmProperties, WaterFilm};
use brimful::cure::{Case, LawError, Warning, compare, law, what_would_help};
use brimful::quantity::{Humidity, Length, Share, Speed, Temperature, Time};
use brimful::stage::Stage;
use cure_common::{GLAZE, epoxy, glaze, glaze_forming_at, tray};

fn air(celsius: f64, percent: f64) -> Air {
    Air::of_room(
        Temperature::from_celsius(celsius),
        Humidity::from_percent(percent),
        Draught::Still,
    )
    .unwrap()
}

fn disc() -> Footprint {
    Footprint::Disc {
        diameter: Length::from_mm(25.0),
    }
}

/// A 2 mm dome on a 25 mm round at its label's conditions.
fn dome() -> Situation {
    let alone = Exposure::alone(disc()).unwrap();
    Situation::new(Air::REFERENCE, alone, Length::from_mm(2.0))
}

fn likely(comparison: &Comparison, stage: Stage) -> f64 {
    let found = comparison.stages.iter().find(|s| s.stage == stage).unwrap();
    found.outcome.likely().unwrap()
}

fn codes(comparison: &Comparison) -> Vec<&'static str> {
    comparison.warnings.iter().map(Warning::code).collect()
}

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

/// A ring of rules: dome about a day, sealer about four hours at 23 °C and
/// 50 % (common practice, no source). The dome agrees, by the choice of the
/// diffusivity. The sealer does not: losing its water takes one to two hours,
/// and the label's four hold coalescence, water in the paper and a margin. So a
/// plan takes the label's time and only the ratio from here.
#[test]
fn rules_of_thumb_hold_for_domes_and_not_for_sealers() {
    let hours = |film: &WaterFilm, situation: &Situation| match film
        .reach(Stage::Through, situation)
        .unwrap()
    {
        Reached::After(lapse) => lapse.h(),
        Reached::Never(why) => panic!("{why:?}"),
    };
    let day = hours(&glaze(), &dome());
    assert!((20.0..28.0).contains(&day), "{day}");
    let sheet = Footprint::Rectangle {
        length: Length::from_mm(210.0),
        width: Length::from_mm(297.0),
    };
    let sealer = dome()
        .exposed(Exposure::alone(sheet).unwrap())
        .at_depth(Length::from_mm(0.1));
    let coat = hours(&glaze(), &sealer);
    assert!(
        coat < 2.0,
        "the four hours of practice are not reproduced: {coat}"
    );
}

#[test]
fn humid_air_is_very_slow_and_then_refused_by_type() {
    let at = |percent| compare(&glaze(), &dome(), &dome().in_air(air(23.0, percent))).unwrap();
    assert_eq!(at(60.0).pace, Pace::Normal);
    assert_eq!(at(82.0).pace, Pace::VerySlow);
    assert!(codes(&at(82.0)).contains(&"very-damp"));
    let wet = at(90.0);
    assert!(matches!(wet.pace, Pace::WillNotDry { above } if (above.percent() - 84.4).abs() < 0.1));
    assert!(codes(&wet).contains(&"will-not-dry"));
    // it still grows a skin: the air takes water from a wet film until it is saturated
    assert!(likely(&wet, Stage::TackFree) > 4.0);
    let parts = &wet.factor.parts;
    assert!(matches!(parts[3].effect, Effect::Times(_)));
    assert!(matches!(
        parts[4].effect,
        Effect::Stops(Hindrance::TooDamp { .. })
    ));
    assert_eq!(parts[5].effect, Effect::AlreadyStopped);
    let saturated = at(100.0);
    assert!(
        saturated
            .stages
            .iter()
            .all(|s| s.outcome.likely().is_none())
    );
}

/// A fan at 1 m/s: dome 0.91 of the time, a 0.10 mm coat on a sheet 0.44 (waterborne.md).
#[test]
fn a_fan_helps_thin_coats_and_hardly_a_dome() {
    let helps = what_would_help(&Case::steady(&glaze(), &dome(), &dome())).unwrap();
    let fan = helps
        .iter()
        .find(|h| matches!(h.change, Change::Move { to } if to > Speed::from_m_per_s(0.9)))
        .unwrap();
    assert!((fan.ratio.likely - 0.91).abs() < 0.005, "{fan:?}");
    assert_eq!(fan.caution.as_ref().unwrap().code(), "fan-does-little");
    let thin = dome().at_depth(Length::from_mm(0.1));
    let helps = what_would_help(&Case::steady(&glaze(), &thin, &thin)).unwrap();
    assert!(matches!(helps[0].change, Change::Move { .. }), "{helps:?}");
    assert_eq!(helps[0].caution, None);
}

#[test]
fn help_is_ranked_and_each_is_what_a_new_run_gives() {
    let crowd = dome().exposed(Exposure::among(disc(), tray(88)).unwrap());
    let here = crowd.in_air(air(12.0, 80.0));
    let helps = what_would_help(&Case::steady(&glaze(), &dome(), &here)).unwrap();
    assert!(helps.len() >= 6, "{helps:?}");
    assert!(helps.is_sorted_by(|a, b| a.ratio.likely <= b.ratio.likely));
    for help in &helps {
        let changed = match help.change {
            Change::Warm { to, .. } => here.in_air(same_vapour(&here.air(), to).unwrap()),
            Change::Dry { to } => here.in_air(here.air().with_humidity(to).unwrap()),
            Change::Move { to } => here.in_air(here.air().with_speed(to).unwrap()),
            Change::TakeOut => here.enclosed(None),
            Change::SpreadOut => here.exposed(here.exposure().without_neighbours()),
            Change::WiderGaps { pieces } => {
                here.exposed(Exposure::among(disc(), tray(pieces)).unwrap())
            }
            Change::Thinner { to: each } | Change::TwoCoats { each } => here.at_depth(each),
            Change::BeginLater { .. } => panic!("the air is the same at every hour"),
        };
        let again = likely(
            &compare(&glaze(), &dome(), &changed).unwrap(),
            Stage::Through,
        );
        let coats = if matches!(help.change, Change::TwoCoats { .. }) {
            2.0
        } else {
            1.0
        };
        assert!((help.ratio.likely - coats * again).abs() < 1e-12);
    }
    // where it would never dry, warming the same air makes it dry
    let sodden = dome().in_air(air(12.0, 95.0));
    let helps = what_would_help(&Case::steady(&glaze(), &dome(), &sodden)).unwrap();
    assert!(
        matches!(helps[0].change, Change::Warm { to, .. } if to > Temperature::from_celsius(22.9))
    );
}

#[test]
fn airing_keeps_the_label_and_says_so() {
    let ink = law("airing", &|_| None).unwrap();
    let cold = dome().in_air(air(5.0, 90.0));
    let comparison = compare(ink.as_ref(), &dome(), &cold).unwrap();
    assert_eq!(comparison.basis, Basis::LabelOnly);
    assert!(
        comparison
            .stages
            .iter()
            .all(|s| s.outcome.likely() == Some(1.0))
    );
    assert!(
        what_would_help(&Case::steady(ink.as_ref(), &dome(), &cold))
            .unwrap()
            .is_empty()
    );
}

#[test]
fn laws_are_made_by_name_and_name_what_is_missing() {
    let property = |key: &str| match key {
        "solids" => Some(0.5),
        "water_diffusivity" => Some(2e-11),
        "diffusion_energy" => Some(45e3),
        _ => None,
    };
    let missing = law("water film", &property).unwrap_err();
    assert_eq!(
        missing.to_string(),
        "the law 'water film' needs the property 'film_forming_minimum'"
    );
    let unknown = law("gold leaf", &property).unwrap_err();
    assert_eq!(
        unknown.to_string(),
        "no law of drying or curing is called 'gold leaf'; known are: water film, epoxy, airing, lamp, moisture cure"
    );
    let solid = law("water film", &|key| {
        if key == "solids" {
            Some(1.2)
        } else {
            Some(0.0)
        }
    });
    assert!(matches!(
        solid,
        Err(LawError::OutOfRange { what: "solids", .. })
    ));
    // a bottle with hardly more water than a dry film has nothing to lose
    let model = FilmModel {
        sorption: FloryHuggins { chi: 1.5 },
        target: 0.1,
        ..FilmModel::ACRYLIC
    };
    let with_solids = |percent| {
        let solids = Share::from_percent(percent);
        WaterFilm::with_model(FilmProperties { solids, ..GLAZE }, model)
    };
    assert!(with_solids(90.0).is_ok());
    assert!(matches!(
        with_solids(93.0),
        Err(LawError::OutOfRange { what: "solids", .. })
    ));
}

#[test]
fn nonsense_is_refused() {
    let t = Temperature::from_celsius(20.0);
    let half = Humidity::from_percent(50.0);
    let refused = |t, h, v| Air::new(t, h, Speed::from_m_per_s(v)).unwrap_err();
    assert!(matches!(
        refused(t, Humidity::from_percent(140.0), 0.1),
        AirError::Humidity(_)
    ));
    assert!(matches!(
        refused(t, Humidity::from_percent(f64::NAN), 0.1),
        AirError::Humidity(_)
    ));
    assert!(matches!(
        refused(Temperature::from_celsius(61.0), half, 0.1),
        AirError::Temperature(_)
    ));
    assert!(matches!(refused(t, half, -0.1), AirError::Speed(_)));
    let backwards = Draught::Measured(Speed::from_m_per_s(-1.0));
    assert!(matches!(
        Air::of_room(t, half, backwards),
        Err(AirError::Speed(_))
    ));
    assert!(matches!(
        same_vapour(&air(20.0, 80.0), Temperature::from_celsius(10.0)),
        Err(AirError::Humidity(_))
    ));
    assert!(matches!(
        Exposure::among(disc(), tray(300)),
        Err(ExposureError::Overfull(_))
    ));
    assert_eq!(Exposure::among(disc(), tray(0)), Err(ExposureError::Tray));
    let speck = Footprint::Disc {
        diameter: Length::from_mm(f64::NAN),
    };
    assert_eq!(Exposure::alone(speck), Err(ExposureError::Footprint));
    let deep = dome().at_depth(Length::from_mm(20.0));
    assert!(matches!(
        compare(&glaze(), &dome(), &deep),
        Err(LawError::OutOfRange {
            what: "wet depth",
            ..
        })
    ));
    let damp_label = dome().in_air(air(23.0, 95.0));
    assert!(matches!(
        compare(&glaze(), &damp_label, &dome()),
        Err(LawError::LabelNever(_))
    ));
    let thick = dome().at_depth(Length::from_mm(4.0));
    assert!(codes(&compare(&glaze(), &dome(), &thick).unwrap()).contains(&"unchecked-depth"));
}

/// One long spell, or the same air in pieces of an hour: the same time, for a
/// constant room is a series of one.
#[test]
fn a_room_cut_into_hours_dries_like_the_room_whole() {
    for (percent, mm) in [(50.0, 2.0), (83.0, 1.0), (20.0, 0.2)] {
        let here = dome()
            .in_air(air(18.0, percent))
            .at_depth(Length::from_mm(mm));
        let film = glaze();
        let hour = Spell {
            air: here.air(),
            lasts: Time::from_h(1.0),
        };
        let whole = Spell {
            lasts: Time::from_days(400.0),
            ..hour
        };
        let once = through(&film, 0.04, &here, [whole]).unwrap();
        let pieces = through(&film, 0.04, &here, vec![hour; 400 * 24]).unwrap();
        let (Through::Reached(a), Through::Reached(b)) = (once, pieces) else {
            panic!("{once:?} {pieces:?}")
        };
        assert!((a / b - 1.0).abs() < 1e-6, "{a:?} {b:?}");
    }
}

/// Damp hours after dry ones undo some of the drying, down to the balance with the air.
#[test]
fn a_film_takes_water_back_in_damp_air() {
    let film = glaze();
    let spell = |celsius, percent, h| Spell {
        air: air(celsius, percent),
        lasts: Time::from_h(h),
    };
    let left =
        |spells: &[Spell]| match through(&film, 0.001, &dome(), spells.iter().copied()).unwrap() {
            Through::Left(x) => x,
            done @ Through::Reached(_) => panic!("{done:?}"),
        };
    let dried = left(&[spell(23.0, 30.0, 100.0)]);
    let damp = left(&[spell(23.0, 30.0, 100.0), spell(23.0, 80.0, 5.0)]);
    let at_rest = left(&[spell(23.0, 30.0, 100.0), spell(23.0, 80.0, 5000.0)]);
    assert!(dried < damp && damp < at_rest, "{dried} {damp} {at_rest}");
    // in balance with 80 %: 0.0373 (waterborne.csv, sorption)
    assert!((at_rest - 0.037_331).abs() < 1e-5, "{at_rest}");
}

/// In constant air a series is the label's time multiplied by the ratio.
#[test]
fn a_constant_series_is_the_label_times_the_ratio() {
    let takes = Time::from_h(24.0);
    for (law, celsius, percent) in [
        (&glaze() as &dyn Law, 12.0, 70.0),
        (&glaze(), 28.0, 30.0),
        (&epoxy(), 17.0, 60.0),
    ] {
        let here = dome().in_air(air(celsius, percent));
        let promise = Promise {
            stage: Stage::Through,
            takes,
            at: dome(),
        };
        let hours = vec![
            Spell {
                air: here.air(),
                lasts: Time::from_h(1.0)
            };
            200
        ];
        let time = time_through(law, &promise, &here, hours).unwrap().unwrap();
        let ratio = likely(&compare(law, &dome(), &here).unwrap(), Stage::Through);
        assert!(
            (time / takes / ratio - 1.0).abs() < 1e-6,
            "{time:?} {ratio}"
        );
    }
}

/// Case C09: days at 22 °C and 55 %, nights at 9 °C and 90 %. The night counts:
/// a dome loses in it less than half of what a day would take, and epoxy cures more slowly.
#[test]
fn cold_damp_nights_count() {
    let day = Spell {
        air: air(22.0, 55.0),
        lasts: Time::from_h(12.0),
    };
    let night = Spell {
        air: air(9.0, 90.0),
        lasts: Time::from_h(12.0),
    };
    let promise = Promise {
        stage: Stage::Through,
        takes: Time::from_h(24.0),
        at: dome(),
    };
    for (law, lost) in [(&glaze() as &dyn Law, 6.0), (&epoxy(), 1.0)] {
        let after = |spells: Vec<Spell>| time_through(law, &promise, &dome(), spells).unwrap();
        let days = after(vec![day; 20]).unwrap();
        let both = after([day, night].repeat(20)).unwrap();
        assert!(both > days + Time::from_h(lost), "{days:?} {both:?}");
        assert!(after(vec![night; 40]).is_none_or(|nights| nights > days * 2.0));
    }
    let at_night =
        |law: &dyn Law| codes(&compare(law, &dome(), &dome().in_air(night.air)).unwrap()).join(" ");
    assert!(at_night(&epoxy()).contains("blush-high"));
    assert!(at_night(&glaze()).contains("dew-point"));
    let instant = Promise {
        takes: Time::ZERO,
        ..promise
    };
    assert!(time_through(&epoxy(), &instant, &dome(), [day]).is_err());
}
