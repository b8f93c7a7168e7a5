//! Lamp-cured resin against `uv.csv`: closed forms computed by scripts of their own, and
//! ranges from memory or a published study, as each row says.

use crate::common::cure_tables::{Row, number, table};
use brimful::coating::{Coating, Key, family};
use brimful::cure::air::{Air, Draught};
use brimful::cure::compare::{Cause, Effect};
use brimful::cure::lamp::{
    Bottom, CRITICAL_DOSE_SPREAD, Lamp, PENETRATION_SPREAD, PRINTING_RESIN, Pass, Shining,
    TACKY_LAYER, WorkingCurve,
};
use brimful::cure::transfer::{Exposure, Footprint};
use brimful::cure::{Situation, Warning, compare};
use brimful::drying::law_of;
use brimful::quantity::{Humidity, Irradiance, Length, RadiantExposure, Temperature, Time};
use brimful::stage::Stage;

fn section(name: &str) -> Vec<Row> {
    let rows = table("uv.csv").into_iter();
    rows.filter(|row| row["section"] == name).collect()
}

fn curve(row: &Row) -> WorkingCurve {
    let critical = RadiantExposure::from_mj_per_cm2(number(row, "Ec_mJ_cm2"));
    WorkingCurve::new(critical, Length::from_mm(number(row, "Dp_mm"))).unwrap()
}

fn bottom(row: &Row, times_critical: f64) -> Bottom {
    Bottom {
        depth: Length::from_mm(number(row, "thickness_mm")),
        times_critical,
    }
}

fn relative(got: f64, want: f64) -> f64 {
    (got / want - 1.0).abs()
}

fn resin() -> Coating {
    Coating::of(family("lamp-cured dome resin").unwrap())
}

#[test]
fn every_row_of_the_table_is_in_a_section_that_is_tested() {
    let sections = [
        "required_dose",
        "cure_depth",
        "lamp_passes",
        "layers",
        "scatter",
        "typical_range",
    ];
    let rows = sections.map(|name| section(name).len());
    assert_eq!(rows, [168, 7, 168, 8, 2, 10]);
    assert_eq!(rows.iter().sum::<usize>(), table("uv.csv").len());
    assert_eq!(table("uv.csv").len(), 363);
}

/// To the six printed digits; "not practical" stands in the rows beyond 12 Dp.
#[test]
fn doses_are_as_tabulated() {
    let mut beyond = 0;
    for row in &section("required_dose") {
        let got = curve(row).dose(bottom(row, 1.0)).unwrap().mj_per_cm2();
        assert!(relative(got, number(row, "value")) < 5e-6, "{row:?}");
        let practical = row["formula"] != "not practical";
        let depth = bottom(row, 1.0).depth;
        assert_eq!(curve(row).reaches(depth), practical, "{row:?}");
        beyond += usize::from(!practical);
        let pass = Pass {
            light: Irradiance::from_mw_per_cm2(1000.0),
            lasts: Time::from_h(1.0),
        };
        assert_eq!(curve(row).passes(bottom(row, 1.0), pass).is_ok(), practical);
    }
    assert_eq!(beyond, 16);
}

#[test]
fn depths_are_as_tabulated() {
    for row in &section("cure_depth") {
        let dose = RadiantExposure::from_mj_per_cm2(number(row, "dose_mJ_cm2"));
        let (got, want) = (curve(row).cured_depth(dose).mm(), number(row, "value"));
        assert!((got - want).abs() <= 5e-6 * want, "{got} {row:?}");
    }
}

/// The table's doses are irradiance by time, and its passes whole numbers.
#[test]
fn passes_are_as_tabulated() {
    let mut most = 0;
    for row in &section("lamp_passes") {
        let (light, lasts) = row["exposure"].split_once(" x ").unwrap();
        let pass = Pass {
            light: light.parse().unwrap(),
            lasts: lasts.parse().unwrap(),
        };
        let dose = (pass.light * pass.lasts).mj_per_cm2();
        assert!(relative(dose, number(row, "dose_mJ_cm2")) < 1e-12);
        let times: f64 = row["case"].rsplit(' ').next().unwrap().parse().unwrap();
        let got = curve(row).passes(bottom(row, times), pass).unwrap();
        assert_eq!(got, row["value"].parse::<u32>().unwrap(), "{row:?}");
        most = most.max(got);
    }
    assert_eq!(most, 8);
}

/// The text beside the rows: the least dose is near one Dp a layer. No other number
/// of layers has less.
#[test]
fn layers_are_as_tabulated_and_the_best_has_the_least_dose() {
    for row in &section("layers") {
        let count = row["case"].split(' ').next().unwrap().parse().unwrap();
        let bottom = bottom(row, 2.0);
        let got = curve(row).in_layers(bottom, count).unwrap().dose;
        assert!(
            relative(got.mj_per_cm2(), number(row, "value")) < 5e-6,
            "{row:?}"
        );
        let best = curve(row).best_layers(bottom).unwrap();
        let each = bottom.depth / f64::from(best.count) / curve(row).penetration();
        assert!((0.7..1.5).contains(&each), "{best:?}");
        for other in 1..40 {
            assert!(curve(row).in_layers(bottom, other).unwrap().dose >= best.dose);
        }
    }
}

/// What the family assumes is what the rows say, and its range of Dp is as wide as
/// laboratories differ about one resin. Ec's is not, but drops out of a ratio.
#[test]
fn the_familys_ranges_are_those_of_the_table() {
    let resin = resin();
    let ends = |key: Key| resin.property(key).unwrap().range.unwrap();
    let lengths = |[low, high]: [Length; 2]| [low.mm(), high.mm()];
    let ranges = section("typical_range");
    for row in &ranges {
        let case = row["case"].as_str();
        let [low, high] = if case.contains("clear craft") {
            ends(Key::PenetrationDepth).map(|end| end.length().unwrap().mm())
        } else if case == "Ec" {
            ends(Key::CriticalDose).map(|end| end.radiant_exposure().unwrap().mj_per_cm2())
        } else if case.contains("irradiance") {
            ends(Key::LampIrradiance).map(|end| end.irradiance().unwrap().mw_per_cm2())
        } else if case.contains("tacky") {
            lengths(TACKY_LAYER).map(|mm| mm * 1000.0)
        } else {
            assert!(case.contains("absorber"), "{row:?}");
            lengths(PRINTING_RESIN)
        };
        let got = if row["formula"] == "low" || row["quantity"] == "low" {
            low
        } else {
            high
        };
        assert!(relative(got, number(row, "value")) < 1e-12, "{got} {row:?}");
    }
    for row in &section("scatter") {
        let of_depth = row["quantity"].starts_with("Dp");
        let got = if of_depth {
            PENETRATION_SPREAD
        } else {
            CRITICAL_DOSE_SPREAD
        };
        assert!(relative(got, number(row, "value")) < 1e-12, "{row:?}");
    }
    let [low, high] = ends(Key::PenetrationDepth);
    assert!(high.si / low.si >= PENETRATION_SPREAD);
    assert!(low.si > PRINTING_RESIN[1].m());
}

/// The inverse square of a point (a textbook law), and no change.
#[test]
fn a_lamp_moved_is_told_as_a_bracket() {
    let lamp = Shining {
        distance: Length::from_mm(50.0),
        light: Irradiance::from_mw_per_cm2(8.0),
    };
    let far = lamp.moved_to(Length::from_mm(100.0)).unwrap();
    assert!((far.least.mw_per_cm2() - 2.0).abs() < 1e-12);
    assert!((far.most.mw_per_cm2() - 8.0).abs() < 1e-12);
    let near = lamp.moved_to(Length::from_mm(25.0)).unwrap();
    assert!((near.least.mw_per_cm2() - 8.0).abs() < 1e-12);
    assert!((near.most.mw_per_cm2() - 32.0).abs() < 1e-12);
    assert!(lamp.moved_to(Length::ZERO).is_err());
}

fn at(depth: f64) -> Situation {
    let disc = Footprint::Disc {
        diameter: Length::from_mm(25.0),
    };
    let alone = Exposure::alone(disc).unwrap();
    Situation::new(Air::REFERENCE, alone, Length::from_mm(depth))
}

/// `exp((d - d_label)/Dp) I_label/I`, by hand for Dp 1 mm: 1 mm more and half the
/// light is 2 e times as long, and the air is nothing to it.
#[test]
fn depth_and_light_set_the_time_and_the_air_does_not() {
    let mm = Length::from_mm;
    let curve = WorkingCurve::new(RadiantExposure::from_mj_per_cm2(10.0), mm(1.0)).unwrap();
    let lamp = Lamp::new(curve, [mm(0.5), mm(2.0)], Irradiance::from_mw_per_cm2(10.0)).unwrap();
    let cold = Air::of_room(
        Temperature::from_celsius(5.0),
        Humidity::from_percent(90.0),
        Draught::DeskFan,
    )
    .unwrap();
    let here = at(2.0)
        .in_air(cold)
        .lit_by(Some(Irradiance::from_mw_per_cm2(5.0)));
    let told = compare(&lamp, &at(1.0), &here).unwrap();
    let e = std::f64::consts::E;
    assert_eq!(told.stages.len(), Stage::ALL.len());
    for stage in &told.stages {
        assert!(relative(stage.outcome.likely().unwrap(), 2.0 * e) < 1e-9);
    }
    for part in &told.factor.parts {
        let want = match part.cause {
            Cause::Depth => e,
            Cause::Light => 2.0,
            _ => 1.0,
        };
        let Effect::Times(got) = part.effect else {
            panic!("{part:?}")
        };
        assert!(relative(got, want) < 1e-12, "{part:?}");
    }
    // and the doubt about Dp: e^2 and e^0.5 times, with the label's own tenth
    let brimful::cure::compare::Outcome::Times(band) = told.factor.whole else {
        panic!()
    };
    assert!((band.high / (2.0 * e * e)).ln().abs() < 0.02, "{band:?}");
    let tenth = 1.1_f64.ln();
    let down = 0.5_f64.hypot(tenth);
    assert!(((2.0 * e / band.low).ln() - down).abs() < 1e-6, "{band:?}");
}

#[test]
fn a_tacky_layer_and_what_light_does_not_reach_are_warned_of() {
    let law = law_of(&resin()).unwrap();
    assert_eq!(
        law.warnings(&at(1.0)),
        [Warning::TackyLayer, Warning::LightMustReach]
    );
    // 12 Dp of 2 mm
    let deep = law.warnings(&at(25.0));
    assert_eq!(
        deep[0],
        Warning::BeyondTheLamp {
            depth: Length::from_mm(25.0)
        }
    );
    assert!(
        law.process(&at(1.0).lit_by(Some(Irradiance::ZERO)))
            .is_err()
    );
}
