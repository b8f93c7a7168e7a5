//! A record of room air with a coat begun at every hour: a year of it, and how
//! the time grows with its length. The air is the three real weeks of the reference
//! tables, one after another. Compare runs on one machine, as ratios.

use std::hint::black_box;

use brimful::cure::air::Air;
use brimful::cure::series::Promise;
use brimful::cure::situation::{Situation, Spell};
use brimful::cure::starts::from_every_start;
use brimful::cure::transfer::{Exposure, Footprint};
use brimful::drying::law_of;
use brimful::quantity::{Humidity, Length, Speed, Temperature, Time};
use brimful::stage::Stage;
use brimful::{coating::Coating, coating::family};
use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};

const WEEKS: [&str; 3] = [
    "weather_hot_dry_week.csv",
    "weather_cool_variable_week.csv",
    "weather_cold_damp_week.csv",
];
const YEAR: usize = 8760;

/// The hours of the three weeks.
fn hours() -> Vec<Spell> {
    let mut hours = Vec::new();
    for week in WEEKS {
        let path = format!("{}/data/reference/cure/{week}", env!("CARGO_MANIFEST_DIR"));
        for row in csv::Reader::from_path(path).expect(week).deserialize() {
            let row: std::collections::HashMap<String, String> = row.expect("a row");
            let number = |key: &str| row[key].parse().expect("a number");
            let air = Air::new(
                Temperature::from_celsius(number("temperature_C")),
                Humidity::from_percent(number("relative_humidity_pct")),
                Speed::from_m_per_s(0.1),
            );
            hours.push(Spell {
                air: air.expect("air"),
                lasts: Time::from_h(1.0),
            });
        }
    }
    hours
}

fn starts(c: &mut Criterion) {
    let hours = hours();
    for (name, mm, takes) in [
        ("water-based dome glaze", 2.0, 24.0),
        ("water-based sealer", 0.1, 4.0),
        ("two-part dome epoxy", 2.0, 24.0),
    ] {
        let coating = Coating::of(family(name).expect(name));
        let law = law_of(&coating).expect(name);
        let diameter = Length::from_mm(25.0);
        let alone = Exposure::alone(Footprint::Disc { diameter }).expect("a disc");
        let here = Situation::new(Air::REFERENCE, alone, Length::from_mm(mm));
        let promise = Promise {
            stage: Stage::Handle,
            takes: Time::from_h(takes),
            at: here,
        };
        let mut group = c.benchmark_group(format!("every hour of a year as a start: {name}"));
        group.sample_size(10);
        for length in [YEAR / 4, YEAR / 2, YEAR] {
            let record: Vec<Spell> = hours.iter().copied().cycle().take(length).collect();
            group.throughput(Throughput::Elements(length as u64));
            group.bench_with_input(BenchmarkId::from_parameter(length), &record, |b, record| {
                b.iter(|| from_every_start(law.as_ref(), &promise, &here, black_box(record)));
            });
        }
        group.finish();
    }
}

criterion_group!(benches, starts);
criterion_main!(benches);
