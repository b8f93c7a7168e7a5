//! Whole plans of 100, 1,000 and 10,000 blanks of which no two are alike: how the
//! time grows with their number. Every blank carries a target fill; how fills lie is
//! worked out for the first hundred. And the demo's pictures. Compare runs on one
//! machine, as ratios.

use std::fmt::Write;
use std::hint::black_box;

use brimful::plan::{pictured, plan};
use brimful::run::Run;
use brimful::show::pictures::{all, windows};
use brimful::show::sheet::sheet;
use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};

/// A run of so many pieces, each on a blank of its own; `outline` tells the
/// blank's by how far along the run it is, 0 to 1. All of it is invented.
fn run(count: u32, outline: impl Fn(f64) -> String) -> Run {
    let mut text = String::from(
        r#"
[run]
name = "All sizes"
ready_by = 2027-04-17T08:00:00

[[coating]]
name = "dome glaze"
family = "water-based dome glaze"
label = { at = ["23 C", "50 %"], handle = "24 h", recoat = "24 h" }

[[step]]
name = "dome"
coating = "dome glaze"
fill = "safe"

[room]
temperature = "20 C"
humidity = "50 %"
air = "still"

[[tray]]
size = ["300 mm", "400 mm"]
count = 60

[hours]
weekdays = ["18:30-21:30"]
weekend = ["09:00-12:30", "14:00-17:00"]

[selling]
currency = "EUR"
stall_fee = 45.00
labour = 14.00
"#,
    );
    for number in 0..count {
        let outline = outline(f64::from(number) / f64::from(count));
        write!(
            text,
            r#"
[[piece]]
name = "piece {number}"
count = 1
blank = "blank {number}"
steps = ["dome"]

[[blank]]
name = "blank {number}"
outline = {outline}
porous = false
"#
        )
        .expect("a string takes all");
    }
    Run::read(&text, "sizes.toml").expect("a run")
}

fn plans(c: &mut Criterion) {
    let round = |share: f64| format!(r#"{{ round = "{} mm" }}"#, 15.0 + 45.0 * share);
    let rectangle = |share: f64| {
        let (length, width) = (30.0 + 30.0 * share, 15.0 + 15.0 * share);
        format!(r#"{{ rectangle = ["{length} mm", "{width} mm"], corner = "3 mm" }}"#)
    };
    let shapes: [(&str, &dyn Fn(f64) -> String); 2] =
        [("rounds", &round), ("rectangles", &rectangle)];
    for (name, outline) in shapes {
        let mut group = c.benchmark_group(format!("the plan of so many different {name}"));
        group.sample_size(10);
        for count in [100, 1_000, 10_000] {
            let run = run(count, outline);
            group.throughput(Throughput::Elements(u64::from(count)));
            group.bench_with_input(BenchmarkId::from_parameter(count), &run, |b, run| {
                b.iter(|| plan(black_box(run)).expect("a plan"));
            });
        }
        group.finish();
    }
}

/// The demo's pictures and its run sheet, once it is planned: worked out, drawn and painted.
fn pictures(c: &mut Criterion) {
    let run = Run::read(include_str!("../data/demo.toml"), "demo.toml").expect("a run");
    let plan = plan(&run).expect("a plan");
    let shown = pictured(&run, &plan).expect("pictures");
    let drawn = all(&plan, &shown).expect("pictures");
    let windows = windows(&plan, &shown).expect("pictures");
    let mut group = c.benchmark_group("the demo's pictures");
    group.sample_size(10);
    group.bench_function("worked out", |b| {
        b.iter(|| pictured(black_box(&run), &plan).expect("pictures"));
    });
    group.bench_function("drawn", |b| {
        b.iter(|| all(black_box(&plan), &shown).expect("pictures"));
    });
    group.bench_function("painted on one core", |b| {
        b.iter(|| {
            for named in black_box(&drawn) {
                black_box(named.picture.png(2.0).expect("a PNG"));
            }
        });
    });
    group.bench_function("the run sheet", |b| {
        b.iter(|| sheet(black_box(&plan), &windows).expect("a sheet"));
    });
    group.finish();
}

criterion_group!(benches, plans, pictures);
criterion_main!(benches);
