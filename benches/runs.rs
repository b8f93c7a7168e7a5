//! Whole plans of 100, 1,000 and 10,000 blanks of which no two are alike: how the
//! time grows with their number. Every blank carries a target fill; how fills lie is
//! worked out for the first hundred. Compare runs on one machine, as ratios.

use std::fmt::Write;
use std::hint::black_box;

use brimful::plan::plan;
use brimful::run::Run;
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

criterion_group!(benches, plans);
criterion_main!(benches);
