//! The picture of a coating's bottles against the number of pieces.

use crate::common::chart::{care, legible};
use crate::common::plan::close;
use brimful::plan::{AmountAt, AmountPlan, BottleStep, EnoughFor, Plan, amounts, plan};
use brimful::quantity::{Share, Units, Volume};
use brimful::run::Run;
use brimful::show::chart::{Bottles, bottles};
use brimful::show::draw::{DrawError, Picture};

const DEMO: &str = include_str!("../../data/demo.toml");

/// The demo in a room so cold that its work can't be laid out, so that the number of sittings does not
/// hang on a calendar, for other counts of its two kinds.
fn unlaid(magnets: u64, fobs: u64) -> (Run, Plan) {
    let text = DEMO
        .replace("temperature = \"16 C\"", "temperature = \"6 C\"")
        .replace("count = 60", &format!("count = {magnets}"))
        .replace("count = 40\n", &format!("count = {fobs}\n"))
        .replace("wholesale = { price = 3.60, count = 10 }", "");
    let run = Run::read(&text, "test.toml").unwrap_or_else(|faults| panic!("{faults}"));
    let plan = plan(&run).unwrap();
    (run, plan)
}

#[test]
fn at_the_planned_count_the_curve_is_the_plan() {
    let run = Run::read(DEMO, "demo.toml").unwrap();
    let plan = plan(&run).unwrap();
    let found = amounts(&run, &plan).unwrap();
    assert_eq!(found.len(), plan.coatings.len());
    for (amount, coating) in found.iter().zip(&plan.coatings) {
        assert_eq!(amount.coating, coating.name);
        let at = amount.curve.iter().find(|at| at.pieces == 100).unwrap();
        assert_eq!(at, &amount.planned);
        close(at.needed.ml(), coating.needed.ml(), 1e-9);
        close(at.needed_sure.ml(), coating.needed_sure.ml(), 1e-9);
        let bought: Vec<(f64, u64)> = amount.steps[amount.bought]
            .buy
            .iter()
            .map(|(holds, count)| (holds.ml(), *count))
            .collect();
        let planned: Vec<(f64, u64)> = match &coating.sizes {
            Some(sizes) => (sizes.sizes.iter())
                .map(|size| (size.holds.ml(), size.buy))
                .collect(),
            None => vec![(
                coating.bottle.unwrap().holds.ml(),
                coating.bottles.as_ref().unwrap().buy,
            )],
        };
        let planned: Vec<_> = planned.into_iter().filter(|(_, n)| *n > 0).collect();
        assert_eq!(bought, planned);
    }
}

/// The other way round: the whole run planned again for another number of pieces.
#[test]
fn elsewhere_the_curve_is_what_another_plan_would_need() {
    let (run, whole) = unlaid(60, 40);
    let found = amounts(&run, &whole).unwrap();
    for amount in &found {
        let near = |wanted: u64| {
            let of = amount
                .curve
                .iter()
                .min_by_key(|at| at.pieces.abs_diff(wanted));
            *of.unwrap()
        };
        for at in [near(10), near(57), near(140)] {
            let scaled = |count: u64| (count * at.pieces).div_ceil(100);
            let (_, other) = unlaid(scaled(60), scaled(40));
            let own = other.coatings.iter().find(|own| own.name == amount.coating);
            let own = own.unwrap();
            close(at.needed.ml(), own.needed.ml(), 1e-9);
            close(at.needed_sure.ml(), own.needed_sure.ml(), 1e-9);
        }
    }
}

#[test]
fn a_step_is_enough_for_as_many_as_it_says_and_not_for_one_more() {
    let (run, whole) = unlaid(60, 40);
    let mut tried = 0;
    for amount in amounts(&run, &whole).unwrap() {
        for step in &amount.steps {
            let EnoughFor::Pieces(most) = step.enough_for else {
                continue;
            };
            for (pieces, enough) in [(most, true), (most + 1, false)] {
                let (_, other) = unlaid((60 * pieces).div_ceil(100), (40 * pieces).div_ceil(100));
                let own = other.coatings.iter().find(|own| own.name == amount.coating);
                let needs = own.unwrap().needed_sure;
                assert_eq!(needs <= step.covers * (1.0 + 1e-9), enough, "{pieces}");
                tried += 1;
            }
        }
        let reach = |step: &BottleStep| match step.enough_for {
            EnoughFor::Pieces(pieces) | EnoughFor::Over(pieces) => pieces,
        };
        assert!(reach(&amount.steps[amount.bought]) >= amount.planned.pieces);
        assert!(
            amount
                .steps
                .is_sorted_by(|a, b| a.covers < b.covers && reach(a) < reach(b))
        );
    }
    assert!(tried >= 6, "{tried}");
}

fn ml(volume: f64) -> Volume {
    Volume::from_ml(volume)
}

/// Invented: so many microlitres a piece on average and a fifth more to be sure, with bottles of one size.
fn sample(planned: u32, each: u32, bottle: u32) -> AmountPlan {
    let ul = |volume: u32| ml(f64::from(volume) / 1000.0);
    let at = |pieces: u32| AmountAt {
        pieces: u64::from(pieces),
        needed: ul(each * pieces),
        needed_sure: ul(each * pieces) * 1.2,
    };
    let most = (planned * 8).div_ceil(5).max(planned + 1);
    let first = (12 * each * planned).div_ceil(10 * bottle);
    let step = |count: u32| BottleStep {
        buy: vec![(ul(bottle), u64::from(count))],
        covers: ul(count * bottle),
        enough_for: EnoughFor::Pieces(u64::from(count * bottle / 12 * 10 / each)),
    };
    let steps: Vec<_> = (first.saturating_sub(2).max(1)..=first + 2)
        .map(step)
        .collect();
    AmountPlan {
        coating: "dome glaze".to_owned(),
        sure: Share::from_percent(95.0),
        sittings: 2,
        mixed: false,
        kinds: 2,
        planned: at(planned),
        curve: vec![at(1), at(planned.midpoint(most)), at(most)],
        in_stock: true,
        bought: steps.len() - 3,
        steps,
    }
}

fn drawn(amount: &AmountPlan, units: Units) -> Picture {
    let care = care();
    bottles(&Bottles {
        amount,
        care,
        units,
    })
    .expect("the sample can be drawn")
}

#[test]
fn words_never_overlap_or_leave_the_picture() {
    let names = [
        "dome glaze",
        "a glaze with a name as long as a ferry timetable on a pier, 2",
        "זיגוג כיפה 12",
        "<script>alert('x')</script> & \"tide\" \u{1F30A}\u{0}",
    ];
    for units in [Units::Metric, Units::Us] {
        for name in names {
            let amount = AmountPlan {
                coating: name.to_owned(),
                ..sample(100, 1300, 60_000)
            };
            legible(name, &drawn(&amount, units));
        }
        for (planned, each, bottle) in [
            (1, 20, 60_000),
            (1, 30_000, 25_000),
            (2, 1000, 1000),
            (200, 1300, 60_000),
            (200, 10, 1_000_000),
            (10_000, 2400, 250_000),
        ] {
            let amount = sample(planned, each, bottle);
            legible(&format!("{planned} of {each}"), &drawn(&amount, units));
        }
        let bare = AmountPlan {
            steps: Vec::new(),
            bought: 0,
            in_stock: false,
            ..sample(60, 1000, 60_000)
        };
        legible("no bottle", &drawn(&bare, units));
        let mut sizes = sample(100, 1300, 60_000);
        for (place, step) in sizes.steps.iter_mut().enumerate() {
            step.buy
                .extend([(ml(250.0), 3), (ml(1000.0), 2), (ml(33.0), 17)]);
            step.covers = ml([150.0, 151.0, 152.0, 153.0, 154.0][place]);
        }
        legible("sizes", &drawn(&sizes, units));
    }
    let (run, whole) = unlaid(60, 40);
    for amount in amounts(&run, &whole).unwrap() {
        legible(&amount.coating, &drawn(&amount, Units::Metric));
    }
}

#[test]
fn the_title_says_how_far_the_bottles_go() {
    let title = |amount: &AmountPlan| {
        let title = drawn(amount, Units::Metric).words.title;
        title.replace(['\u{2068}', '\u{2069}'], "")
    };
    // 100 pieces at 1.3 mL and a fifth more are 156 mL; three of 60 mL do 115
    let amount = sample(100, 1300, 60_000);
    assert_eq!(
        title(&amount),
        "dome glaze: the stock and 3 bottles of 60 mL are enough for 100 pieces, and 15 more."
    );
    let mut over = AmountPlan {
        in_stock: false,
        ..sample(1, 1300, 60_000)
    };
    over.steps[over.bought].enough_for = EnoughFor::Over(100);
    assert_eq!(
        title(&over),
        "dome glaze: 1 bottle of 60 mL is enough for 1 piece, and over 99 more."
    );
    let bare = AmountPlan {
        steps: Vec::new(),
        ..amount
    };
    assert_eq!(
        title(&bare),
        "dome glaze: 156 mL for 100 pieces, to be 95 % sure."
    );
}

#[test]
fn the_planned_run_lies_where_its_numbers_say() {
    let amount = sample(100, 1300, 60_000);
    let picture = drawn(&amount, Units::Metric);
    let svg = roxmltree::Document::parse(&picture.svg).expect("the picture is XML");
    let number = |n: &roxmltree::Node, key: &str| {
        let text = n.attribute(key).unwrap_or_else(|| panic!("no {key}"));
        text.parse::<f64>().expect("a number") / 10.0
    };
    let dot = |colour: &str| {
        let found = svg
            .descendants()
            .find(|n| n.has_tag_name("circle") && n.attribute("fill") == Some(colour));
        let n = found.unwrap_or_else(|| panic!("no dot of {colour}"));
        (number(&n, "cx"), number(&n, "cy"))
    };
    // the axes are the one line of three points
    let axes = svg
        .descendants()
        .filter(|n| n.has_tag_name("polyline") && n.attribute("stroke") == Some("#1C2A36"))
        .find_map(|n| {
            let points = n.attribute("points")?.split_whitespace();
            let points: Vec<(f64, f64)> = points
                .filter_map(|p| p.split_once(','))
                .map(|(x, y)| {
                    (
                        x.parse::<f64>().unwrap() / 10.0,
                        y.parse::<f64>().unwrap() / 10.0,
                    )
                })
                .collect();
            (points.len() == 3).then_some(points)
        })
        .expect("axes");
    let ([(left, top), (_, bottom), (right, _)], most) = (
        [axes[0], axes[1], axes[2]],
        // of five bottles of 60 mL and the curve's 1.2 times 1.3 mL for 160, and 6 % over it
        1.06 * f64::max(300.0, 1.2 * 1.3 * 160.0),
    );
    for (colour, ml) in [("#064F63", 130.0), ("#8A3F9E", 156.0)] {
        let (x, y) = dot(colour);
        assert!(
            (x - (left + (right - left) * 100.0 / 160.0)).abs() < 0.2,
            "{x}"
        );
        assert!(
            (y - (bottom - (bottom - top) * ml / most)).abs() < 0.2,
            "{y}"
        );
    }
}

#[test]
fn what_is_no_curve_is_refused() {
    let refused = |amount: &AmountPlan| {
        let (care, units) = (care(), Units::Metric);
        let drawn = bottles(&Bottles {
            amount,
            care,
            units,
        });
        matches!(drawn, Err(DrawError::NotPositive { .. }))
    };
    let good = sample(100, 1300, 60_000);
    assert!(!refused(&good));
    assert!(refused(&AmountPlan {
        curve: Vec::new(),
        ..good.clone()
    }));
    for bad in [-1.0, f64::NAN, f64::INFINITY] {
        let mut amount = good.clone();
        amount.curve[1].needed_sure = ml(bad);
        assert!(refused(&amount), "{bad}");
        let mut amount = good.clone();
        amount.steps[0].covers = ml(bad);
        assert!(refused(&amount), "{bad}");
    }
}

/// What is in stock may be far more than the curves come to: its line is drawn over a break of the
/// scale, and leads to the words that tell of it.
#[test]
fn a_stock_far_over_the_curves_is_seen() {
    let run = Run::read(DEMO, "demo.toml").unwrap();
    let plan = plan(&run).unwrap();
    let found = amounts(&run, &plan).unwrap();
    let glue = found
        .iter()
        .find(|own| own.coating == "print glue")
        .unwrap();
    let far = glue.steps.iter().filter(|step| {
        let end = glue.curve.last().unwrap().needed_sure.ml();
        step.covers.ml() > 2.5 * end
    });
    assert_eq!((far.count(), glue.steps.len()), (1, 1));
    let picture = drawn(glue, Units::Metric);
    legible("glue", &picture);
    let svg = roxmltree::Document::parse(&picture.svg).expect("the picture is XML");
    let lines = |breadth: &str, colour: &str| -> Vec<Vec<(f64, f64)>> {
        svg.descendants()
            .filter(|n| n.has_tag_name("polyline") && n.attribute("stroke") == Some(colour))
            .filter(|n| n.attribute("stroke-width") == Some(breadth))
            .map(|n| {
                let points = n.attribute("points").unwrap_or_default().split_whitespace();
                let tenth = |text: &str| text.parse::<f64>().unwrap() / 10.0;
                points
                    .filter_map(|p| p.split_once(','))
                    .map(|(x, y)| (tenth(x), tenth(y)))
                    .collect()
            })
            .collect()
    };
    let bold = lines("24", "#1C2A36");
    let [step] = bold.as_slice() else {
        panic!("{bold:?}")
    };
    // over all that the 95 % curve comes to, across the whole plot
    let highest = lines("22", "#8A3F9E")
        .iter()
        .flatten()
        .map(|p| p.1)
        .fold(f64::MAX, f64::min);
    assert!(
        step[0].1 < highest - 20.0 && step[1].0 - step[0].0 > 400.0,
        "{step:?} {highest}"
    );
    let leads = lines("6", "#4A5A68");
    assert!(
        leads
            .iter()
            .any(|lead| (lead[0].1 - step[0].1).abs() < 0.11),
        "{leads:?}"
    );
    let mut told = Vec::new();
    crate::common::chart::texts(crate::common::chart::read(&picture).root(), &mut told);
    assert!(
        told.iter()
            .any(|(words, _)| words == "stock, over the break"),
        "{told:?}"
    );
    // an ordinary one has no break
    let dome = found
        .iter()
        .find(|own| own.coating == "dome glaze")
        .unwrap();
    assert!(!drawn(dome, Units::Metric).svg.contains("over the break"));
}
