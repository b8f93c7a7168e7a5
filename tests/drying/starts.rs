//! Coats in the air of real weeks, hour by hour, and begun at every hour.
//!
//! timevarying.csv: computed by a script of its own from the same model as
//! waterborne.csv, each hour of three real weather weeks held constant; its own
//! halving of the step moves it by less than 0.02 %.

use crate::common::cure::glaze;
use crate::common::cure_tables::{Row, number, table};
use brimful::cure::air::Air;
use brimful::cure::law::Law;
use brimful::cure::series::{Promise, Through, through, time_through};
use brimful::cure::situation::{Situation, Spell};
use brimful::cure::starts::from_every_start;
use brimful::cure::transfer::{Exposure, Footprint};
use brimful::quantity::{Humidity, Length, Speed, Temperature, Time};
use brimful::stage::Stage;

/// Hour by hour, as the weather files have them.
fn week(name: &str) -> Vec<Spell> {
    let rows = table(name);
    assert_eq!(rows.len(), 168, "{name}");
    let spell = |row: &Row| Spell {
        air: Air::new(
            Temperature::from_celsius(number(row, "temperature_C")),
            Humidity::from_percent(number(row, "relative_humidity_pct")),
            Speed::from_m_per_s(0.1),
        )
        .unwrap(),
        lasts: Time::from_h(1.0),
    };
    rows.iter().map(spell).collect()
}

fn film(mm: f64, across: f64) -> Situation {
    let diameter = Length::from_mm(across);
    let alone = Exposure::alone(Footprint::Disc { diameter }).unwrap();
    Situation::new(Air::REFERENCE, alone, Length::from_mm(mm))
}

const WEEKS: [&str; 3] = [
    "weather_hot_dry_week.csv",
    "weather_cold_damp_week.csv",
    "weather_cool_variable_week.csv",
];

/// 0.02 %: what the reference moves by when it halves its own step.
#[test]
fn a_dome_in_three_real_weeks_takes_the_stored_times() {
    let (mut times, mut contents) = (0, 0);
    for name in WEEKS {
        let hours = week(name);
        for row in table("timevarying.csv") {
            if row["weather_file"] != name || !row["case"].starts_with("dome 2 mm") {
                continue;
            }
            let quantity = row["quantity"].as_str();
            if let Some(at) = quantity.strip_prefix("X at ") {
                let at: usize = at.trim_end_matches(" h").parse().unwrap();
                let passed = through(&glaze(), 0.001, &film(2.0, 25.0), hours[..at].to_vec());
                let Ok(Through::Left(x)) = passed else {
                    panic!("{passed:?}");
                };
                let off = x / number(&row, "value") - 1.0;
                assert!(off.abs() < 2e-4, "{name} {quantity}: {x}, off by {off}");
                contents += 1;
            } else {
                assert_eq!(quantity, "time to X=0.040");
                let passed = through(&glaze(), 0.04, &film(2.0, 25.0), hours.clone()).unwrap();
                match (row["value"].as_str(), passed) {
                    ("inf", Through::Left(_)) => {}
                    (value, Through::Reached(time)) => {
                        let off = time.h() / value.parse::<f64>().unwrap() - 1.0;
                        assert!(off.abs() < 2e-4, "{name}: {time:?}, off by {off}");
                    }
                    told => panic!("{name}: {told:?}"),
                }
                times += 1;
            }
        }
    }
    assert_eq!((times, contents), (3, 14));
}

/// Every start in one pass against an integration of its own from each: thick
/// domes, a thin sealer that is dry within the hour, and everything between.
#[test]
fn a_coat_begun_at_any_hour_takes_what_it_takes_alone() {
    for name in WEEKS {
        let hours = week(name);
        for (mm, across, takes) in [
            (0.1, 200.0, 4.0),
            (0.5, 25.0, 8.0),
            (2.0, 25.0, 24.0),
            (3.0, 40.0, 40.0),
        ] {
            let here = film(mm, across);
            let promise = Promise {
                stage: Stage::Handle,
                takes: Time::from_h(takes),
                at: here,
            };
            let all = from_every_start(&glaze(), &promise, &here, &hours).unwrap();
            assert_eq!(all.len(), 168);
            let mut done = 0;
            for (start, together) in all.iter().enumerate() {
                let alone =
                    time_through(&glaze(), &promise, &here, hours[start..].to_vec()).unwrap();
                match (together, alone) {
                    (Some(together), Some(alone)) => {
                        let off = *together / alone - 1.0;
                        assert!(
                            off.abs() < 1e-6,
                            "{name} {mm} mm from {start}: off by {off}"
                        );
                        done += 1;
                    }
                    (together, alone) => {
                        assert_eq!(*together, alone, "{name} {mm} mm from {start}");
                    }
                }
            }
            assert!(
                done > 0 || mm > 2.0 || name == "weather_cold_damp_week.csv",
                "{name} {mm} mm"
            );
        }
    }
}

/// One air throughout is the constant room, to 1e-9, however finely it is cut.
#[test]
fn a_constant_series_is_the_constant_room() {
    let here = film(2.0, 25.0);
    let air = Air::new(
        Temperature::from_celsius(14.0),
        Humidity::from_percent(65.0),
        Speed::from_m_per_s(0.1),
    )
    .unwrap();
    let law = glaze();
    let brimful::cure::law::Reached::After(once) =
        law.reach(Stage::Handle, &here.in_air(air)).unwrap()
    else {
        panic!("it dries");
    };
    for minutes in [10.0, 60.0, 177.0, 1440.0] {
        let lasts = Time::from_min(minutes);
        let spells = vec![Spell { air, lasts }; 8000];
        let Through::Reached(cut) = through(&law, 0.04, &here, spells).unwrap() else {
            panic!("it dries");
        };
        let off = cut / once - 1.0;
        assert!(off.abs() < 1e-9, "{minutes} min: off by {off}");
    }
}
