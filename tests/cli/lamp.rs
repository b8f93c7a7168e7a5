//! The lamp of `brimful dry`, against `uv.csv`: closed forms computed by scripts of their
//! own, as each row says.

use crate::common::ask::{Said, agree, ask, number};
use crate::common::cure_tables::{Row, table};
use brimful::ask::{DryQuestion, LampQuestion, Shines, dry};
use brimful::coating::{Coating, Key, family};
use brimful::cure::air::{Air, Draught};
use brimful::drying::Room;
use brimful::quantity::{Humidity, Length, RadiantExposure, Temperature};

const RESIN: &str = "lamp-cured dome resin";

fn of(coating: &str, rest: &[&str]) -> Said {
    let asked = ["dry", "--coating", coating, "--at", "23 C", "50 %"];
    ask(&[&asked[..], rest].concat())
}

fn resin(rest: &[&str]) -> Said {
    of(RESIN, rest)
}

fn section(name: &str) -> Vec<Row> {
    let rows = table("uv.csv").into_iter();
    rows.filter(|row| row["section"] == name).collect()
}

/// A resin of the row's figures, asked by the library, for the program has no option for
/// them.
fn question(row: &Row) -> DryQuestion {
    let critical =
        RadiantExposure::from_mj_per_cm2(crate::common::cure_tables::number(row, "Ec_mJ_cm2"));
    let penetration = Length::from_mm(crate::common::cure_tables::number(row, "Dp_mm"));
    let family = family(RESIN).unwrap();
    let own = [
        (Key::CriticalDose, critical.into()),
        (Key::PenetrationDepth, penetration.into()),
    ];
    let (warm, damp) = (
        Temperature::from_celsius(23.0),
        Humidity::from_percent(50.0),
    );
    DryQuestion {
        coating: Coating::with(family, own, family.label.clone()).unwrap(),
        room: Room::Steady(Air::of_room(warm, damp, Draught::Still).unwrap()),
        depth: Some(Length::from_mm(crate::common::cure_tables::number(
            row,
            "thickness_mm",
        ))),
        label_depth: None,
        blank: None,
        tray: None,
        shut_in: None,
        lamp: None,
        within: None,
        notices: Vec::new(),
        poured: None,
        asleep: None,
    }
}

/// The rows of `lamp_passes` whose bottom gets twice the critical dose, as is planned with.
#[test]
fn passes_are_as_tabulated() {
    let rows = section("lamp_passes").into_iter();
    let rows: Vec<Row> = rows
        .filter(|row| row["case"] == "dose factor at bottom 2")
        .collect();
    let mut most = 0;
    for row in &rows {
        let (light, pass) = row["exposure"].split_once(" x ").unwrap();
        let lamp = LampQuestion {
            shines: Shines::Here(light.parse().unwrap()),
            pass: Some(pass.parse().unwrap()),
        };
        let asked = DryQuestion {
            lamp: Some(lamp),
            ..question(row)
        };
        let passes = dry(&asked).unwrap().lamp.unwrap().passes.unwrap();
        assert_eq!(passes, row["value"].parse::<u32>().unwrap(), "{row:?}");
        most = most.max(passes);
    }
    assert_eq!((rows.len(), most), (84, 8));
}

/// The family's own figures, 10 mJ/cm2 and 2 mm, are those of rows of `required_dose`;
/// twice those doses are asked for at the bottom, in passes of 1 mW/cm2 by 10 s.
#[test]
fn the_program_tells_the_passes_of_the_family_s_own_figures() {
    let rows = section("required_dose").into_iter();
    let rows: Vec<Row> = rows
        .filter(|row| row["Dp_mm"] == "2.0" && row["Ec_mJ_cm2"] == "10")
        .collect();
    assert_eq!(rows.len(), 7);
    for row in &rows {
        let depth = format!("{} mm", row["thickness_mm"]);
        let args = ["--depth", &depth, "--light", "1 mW/cm2", "--pass", "10 s"];
        let json = resin(&[&args[..], &["--json"]].concat()).json();
        let dose = 2.0 * crate::common::cure_tables::number(row, "value");
        assert!(agree(number(&json, "/lamp/dose_mj_per_cm2"), dose, 5e-6));
        // 1 mW/cm2 gives as many mJ/cm2 as there are seconds
        assert!(agree(number(&json, "/lamp/under_lamp_s"), dose, 5e-6));
        let passes = number(&json, "/lamp/passes");
        assert!(agree(passes, (dose / 10.0).ceil(), 1e-12), "{row:?}");
    }
}

/// The rows of `layers`: of those tabulated, four of 0.5 mm for 2 mm at Dp 0.5 mm take the
/// least, and that is one Dp a layer.
#[test]
fn the_best_layers_are_as_tabulated() {
    let rows = section("layers").into_iter();
    let best = rows
        .filter(|row| row["Dp_mm"] == "0.5")
        .min_by(|a, b| {
            let dose = |row: &Row| crate::common::cure_tables::number(row, "value");
            dose(a).total_cmp(&dose(b))
        })
        .unwrap();
    assert_eq!(best["case"], "4 equal layers");
    let layers = dry(&question(&best)).unwrap().lamp.unwrap().layers;
    assert_eq!(layers.count, 4);
    let dose = layers.dose.mj_per_cm2();
    assert!(agree(
        dose,
        crate::common::cure_tables::number(&best, "value"),
        5e-6
    ));
}

/// What one pass cures, put back as a depth, takes one pass, and a little more takes two.
#[test]
fn one_pass_cures_as_deep_as_it_says() {
    let lamp = ["--light", "3 mW/cm2", "--pass", "20 s"];
    let at = |depth: &str| resin(&[&lamp[..], &["--json", "--depth", depth]].concat()).json();
    let deepest = number(&at("2 mm"), "/lamp/one_pass_cures_mm");
    // d = Dp ln(I t/(f Ec)) = 2 mm ln(60/20)
    assert!(agree(deepest, 2.0 * 3_f64.ln(), 1e-12));
    assert!(agree(number(&at("2.19 mm"), "/lamp/passes"), 1.0, 1e-12));
    assert!(agree(number(&at("2.20 mm"), "/lamp/passes"), 2.0, 1e-12));
    let short = resin(&["--light", "1 mW/cm2", "--pass", "20 s"]);
    assert!(short.flowing().contains("too short to cure any layer"));
}

/// Ec and the lamp drop out of the ratio to a label's time, which is `exp((d - d_label)/Dp)`
/// by `I_label/I`: rows of `required_dose` for the depth, and the family's 10 mW/cm2.
#[test]
fn the_ratio_is_that_of_depth_by_that_of_light() {
    let rows = section("required_dose").into_iter();
    let doses: Vec<f64> = rows
        .filter(|row| row["Dp_mm"] == "2.0" && row["Ec_mJ_cm2"] == "10")
        .filter(|row| ["1.0", "3.0"].contains(&row["thickness_mm"].as_str()))
        .map(|row| crate::common::cure_tables::number(&row, "value"))
        .collect();
    let [thin, deep] = doses[..] else {
        panic!("{doses:?}")
    };
    let depths = ["--depth", "3 mm", "--label-depth", "1 mm", "--json"];
    let factor = |light: &[&str]| {
        let json = resin(&[&depths[..], light].concat()).json();
        number(&json, "/factor")
    };
    assert!(agree(factor(&[]), deep / thin, 1e-5));
    let weaker = factor(&["--light", "8 mW/cm2"]);
    assert!(agree(weaker, deep / thin * 10.0 / 8.0, 1e-5), "{weaker}");
    let same = factor(&["--light", "10 mW/cm2"]);
    assert!(agree(same, factor(&[]), 1e-12));
}

/// The inverse square of a point and no change at all are the ends; the weaker is planned
/// with, farther off or nearer.
#[test]
fn a_lamp_that_is_moved_is_told_by_its_bracket() {
    let moved = |to: &str| {
        let args = [
            "--light",
            "8 mW/cm2",
            "--light-at",
            "50 mm",
            "--held-at",
            to,
        ];
        let json = resin(&[&args[..], &["--json"]].concat()).json();
        (
            number(&json, "/lamp/light_mw_per_cm2"),
            number(&json, "/lamp/most_light_mw_per_cm2"),
            number(&json, "/hours/through"),
        )
    };
    let (least, most, takes) = moved("80 mm");
    assert!(agree(least, 8.0 * 25.0 / 64.0, 1e-12) && agree(most, 8.0, 1e-12));
    // 6 min on the label under 10 mW/cm2
    assert!(agree(takes, 0.1 * 10.0 / least, 1e-9), "{takes}");
    let (least, most, takes) = moved("25 mm");
    assert!(agree(least, 8.0, 1e-12) && agree(most, 32.0, 1e-12));
    assert!(agree(takes, 0.1 * 10.0 / 8.0, 1e-9), "{takes}");
    let args = [
        "--light",
        "8 mW/cm2",
        "--light-at",
        "50 mm",
        "--held-at",
        "80 mm",
    ];
    let text = resin(&args).flowing();
    let words = "8 mW/cm² measured at 50 mm may be from 3.1 mW/cm² to 8 mW/cm² at 80 mm";
    assert!(text.contains(words), "{text}");
    assert!(text.contains("planned with 3.1 mW/cm², the weaker"));
}

#[test]
fn the_figures_are_told_for_what_they_are() {
    let text = resin(&["--pass", "60 s"]).flowing();
    // `scatter` of uv.csv: Dp 7 and Ec 70 times, from a study of 24 laboratories
    let scatter: Vec<String> = section("scatter")
        .into_iter()
        .map(|row| row["value"].clone())
        .collect();
    let spread = format!("up to {} and {} times apart", scatter[1], scatter[0]);
    for words in [
        spread.as_str(),
        "10 mW/cm² at the piece is assumed",
        "typical, from memory",
        "a test piece first, which decides",
        "data sheet",
        "never look into the lamp",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
}

#[test]
fn what_can_not_be_is_refused() {
    let epoxy = "two-part dome epoxy";
    for options in [&["--light", "8 mW/cm2"][..], &["--pass", "60 s"]] {
        let said = of(epoxy, options);
        assert_eq!(said.code, 2);
        assert!(said.err.contains("no lamp cures two-part dome epoxy"));
    }
    assert!(of(epoxy, &["--json"]).json()["lamp"].is_null());
    let light = ["--light", "8 mW/cm2"];
    for (options, words) in [
        (&["--light-at", "50 mm"][..], "--light"),
        (&["--light", "8 mW/cm2", "--held-at", "50 mm"], "--light-at"),
        (&["--light", "8 W"], "--light"),
        (&["--light", "0 mW/cm2"], "irradiance"),
        (&["--light", "11 W/cm2"], "irradiance"),
        (&["--pass", "0 s"], "0.1 s to a day"),
        (&["--pass", "2 d"], "0.1 s to a day"),
    ] {
        let said = resin(options);
        assert_eq!(said.code, 2, "{options:?}");
        assert!(said.err.contains(words), "{options:?}: {}", said.err);
    }
    for [from, to] in [["4 mm", "80 mm"], ["50 mm", "3 m"]] {
        let moved = ["--light-at", from, "--held-at", to];
        let said = resin(&[&light[..], &moved].concat());
        assert_eq!(said.code, 2);
        assert!(said.err.contains("5 mm to 2 m"), "{}", said.err);
    }
}

/// A resin loses next to no weight, so its weight tells nothing.
#[test]
fn a_resin_s_dry_through_is_told_by_a_fingernail() {
    let args = [
        "dry",
        "--coating",
        "two-part dome epoxy",
        "--at",
        "20 C",
        "50 %",
    ];
    let said = ask(&args).flowing();
    assert!(!said.contains("losing weight"), "{said}");
    let nail = "dry through: a fingernail pressed on where it is deepest leaves no mark";
    assert!(said.contains(nail), "{said}");
}
