//! How a coat's depth and a worse room move what `brimful dry` tells.

use crate::common::ask::{ask, number};

fn dry(rest: &[&str]) -> crate::common::ask::Said {
    let glaze = ["dry", "--coating", "water-based dome glaze"];
    ask(&[&glaze[..], rest].concat())
}

/// Where the label does not say how thick its coat is, a thinner coat is ready no later
/// than a thicker one, in whatever room: less water leaves by a shorter way.
#[test]
fn a_thin_coat_takes_no_longer_than_a_thick_one() {
    let rooms = [
        ["23 C", "50 %"],
        ["23 C", "75 %"],
        ["16 C", "64 %"],
        ["12 C", "80 %"],
        ["30 C", "30 %"],
    ];
    for [celsius, humidity] in rooms {
        let hours = |depth: &str| {
            let args = ["--at", celsius, humidity, "--depth", depth, "--json"];
            number(&dry(&args).json(), "/hours/handle")
        };
        let depths = ["0.2 mm", "0.5 mm", "1 mm", "1.5 mm", "2 mm", "2.5 mm"];
        let takes = depths.map(hours);
        assert!(takes.is_sorted(), "{celsius} {humidity}: {takes:?}");
        assert!(takes[4] < takes[5], "{celsius} {humidity}: {takes:?}");
    }
    // a thin coat skins over sooner, whatever coat its label is taken for
    let skins = |depth: &str| {
        let args = ["--at", "23 C", "75 %", "--depth", depth, "--json"];
        number(&dry(&args).json(), "/bubbles/not_later_min")
    };
    assert!(skins("0.5 mm") < skins("1 mm") && skins("1 mm") < skins("2 mm"));
    // and its own water is gone sooner: the time goes with its depth at the least
    let gone = |depth: &str, at: &str| {
        let args = ["--at", "23 C", "50 %", "--depth", depth, "--json"];
        number(&dry(&args).json(), &format!("/first_principles/{at}"))
    };
    for at in ["label_h", "here_h"] {
        assert!(2.0 * gone("0.5 mm", at) <= gone("1 mm", at), "{at}");
        assert!(2.0 * gone("1 mm", at) <= gone("2 mm", at), "{at}");
    }
    let damp = dry(&["--at", "23 C", "75 %", "--depth", "0.5 mm"]).out;
    assert!(damp.contains("0.5 mm wet, at 23 °C"), "{damp}");
    let damp = damp.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        damp.contains(
            "the label's times hold for 2 mm of wet coat, and a thinner one takes no longer here"
        ),
        "{damp}"
    );
}

/// What the air's vapour cures is slower in drier air, so there the worse room is a drier one.
#[test]
fn the_worse_room_is_worse() {
    for (family, worse) in [
        ("moisture-curing clear", "15 points drier"),
        ("water-based dome glaze", "15 points damper"),
        ("two-part dome epoxy", "15 points damper"),
    ] {
        let args = ["dry", "--coating", family, "--at", "17 C", "35 %"];
        let said = ask(&args).out;
        assert!(said.contains(worse), "{family}: {said}");
        let told = ask(&[&args[..], &["--json"]].concat()).json();
        // none is never
        let here = told["second_look"]["here_h"].as_f64();
        let here = here.unwrap_or(f64::INFINITY);
        let stage = told["second_look"]["stage"].as_str().unwrap();
        assert!(here > number(&told, &format!("/hours/{stage}")), "{family}");
    }
}

/// A thinner coat is told no later in a box either: what fills it is the coats' own water.
#[test]
fn a_thin_coat_takes_no_longer_than_a_thick_one_in_a_box() {
    for changes in ["0.5", "2"] {
        for [celsius, humidity] in [["23 C", "50 %"], ["18 C", "60 %"]] {
            let hours = |depth: &str| {
                let boxed = [
                    "--shut-in",
                    "60 L",
                    "--air-changes",
                    changes,
                    "--pieces",
                    "24",
                ];
                let args = ["--at", celsius, humidity, "--depth", depth, "--json"];
                number(&dry(&[&args[..], &boxed].concat()).json(), "/hours/handle")
            };
            let depths = ["0.2 mm", "0.5 mm", "1 mm", "1.5 mm", "2 mm", "2.5 mm"];
            let takes = depths.map(hours);
            assert!(
                takes.is_sorted(),
                "{changes} {celsius} {humidity}: {takes:?}"
            );
        }
    }
}

/// Whichever way a label is taken that is sooner in a room, it is taken anew in another room: what
/// would help, what is needed and the worse room agree with that room, asked for by itself.
#[test]
fn another_room_is_told_as_it_is_told_by_itself() {
    let text = |figure: f64, unit: &str| format!("{figure} {unit}");
    let times = |celsius: f64, percent: f64, depth: &str| {
        let at = [text(celsius, "C"), text(percent, "%")];
        let told = dry(&["--at", &at[0], &at[1], "--depth", depth, "--json"]).json();
        told["factor"].as_f64()
    };
    let mut seen = 0;
    for depth in ["0.4 mm", "1 mm"] {
        for (celsius, percent) in [(12.0, 80.0), (16.0, 70.0), (21.0, 55.0)] {
            let at = [text(celsius, "C"), text(percent, "%")];
            let args = [
                "--at", &at[0], &at[1], "--depth", depth, "--within", "30 h", "--json",
            ];
            let told = dry(&args).json();
            let helps = told["help"].as_array().unwrap().iter();
            for help in helps.chain(told["needed"]["rooms"].as_array().unwrap()) {
                let (warm, damp) = match help["change"].as_str().unwrap() {
                    "warm" => (
                        number(help, "/temperature_c"),
                        number(help, "/humidity_percent"),
                    ),
                    "dry" => (celsius, number(help, "/humidity_percent")),
                    _ => continue,
                };
                let (there, got) = (times(warm, damp, depth), number(help, "/ratio/likely"));
                // the same law in the same air; the room is written with all its digits
                let there = there.expect("a time");
                assert!(
                    (got / there - 1.0).abs() < 1e-6,
                    "{depth} {at:?}: {help} {there}"
                );
                seen += 1;
            }
            let worse = times(celsius - 3.0, percent + 15.0, depth);
            let got = told["second_look"]["factor"].as_f64();
            let agree = match (worse, got) {
                (Some(worse), Some(got)) => (got / worse - 1.0).abs() < 1e-6,
                (worse, got) => worse == got,
            };
            assert!(agree, "{depth} {at:?}: {got:?} in {worse:?}");
        }
    }
    assert!(seen > 6, "{seen}");
}
