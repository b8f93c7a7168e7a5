//! Moisture-curing coatings against `moisturecure.csv`, computed by a script of its
//! own; the energies in it are assumed.

use crate::common::cure_tables::{number, table};
use brimful::coating::{Coating, Key, family};
use brimful::cure::air::{Air, Draught};
use brimful::cure::compare::Pace;
use brimful::cure::law::{Hindrance, Reached};
use brimful::cure::moisture::{FOAMS_FROM, Faces, MoistureCure, SKIN, pace};
use brimful::cure::psychro::vapour_pressure;
use brimful::cure::transfer::{Exposure, Footprint};
use brimful::cure::{Case, Law, Situation, Warning, compare, what_would_help};
use brimful::drying::law_of;
use brimful::quantity::{Humidity, Length, MolarEnergy, Temperature};
use brimful::stage::Stage;

fn relative(got: f64, want: f64) -> f64 {
    (got / want - 1.0).abs()
}

fn air(celsius: f64, percent: f64) -> Air {
    Air::of_room(
        Temperature::from_celsius(celsius),
        Humidity::from_percent(percent),
        Draught::Still,
    )
    .unwrap()
}

fn energy(kj: f64) -> MolarEnergy {
    MolarEnergy::from_kj_per_mol(kj)
}

fn clear(kj: f64) -> MoistureCure {
    MoistureCure::new(energy(kj), [energy(0.0), energy(40.0)]).unwrap()
}

fn coat(depth: f64) -> Situation {
    let disc = Footprint::Disc {
        diameter: Length::from_mm(25.0),
    };
    Situation::new(
        Air::REFERENCE,
        Exposure::alone(disc).unwrap(),
        Length::from_mm(depth),
    )
}

/// To the five printed digits: pressures, the front's pace, and up to 80 % the law's
/// own ratio; above that the law claims no more than at 80 %.
#[test]
fn every_air_is_as_tabulated() {
    let rows = table("moisturecure.csv");
    assert_eq!(rows.len(), 264);
    let (mut worst, mut held_back) = (0.0_f64, 0);
    for row in &rows {
        let (celsius, percent) = (number(row, "temperature_C"), number(row, "rh_pct"));
        let (here, kj) = (air(celsius, percent), number(row, "E_perm_kJ_mol"));
        let want = number(row, "time_ratio_vs_23C_50pct");
        let pressure = vapour_pressure(&here).pa();
        worst = worst.max(relative(pressure, number(row, "vapour_pressure_Pa")));
        worst = worst.max(relative(1.0 / pace(&here, energy(kj)), want));
        let law = clear(kj);
        let Reached::After(time) = law.reach(Stage::Through, &coat(2.0).in_air(here)).unwrap()
        else {
            panic!("{row:?}");
        };
        let Reached::After(label) = law.reach(Stage::Through, &coat(2.0)).unwrap() else {
            panic!();
        };
        let want = if percent > FOAMS_FROM.percent() {
            held_back += 1;
            want * percent / FOAMS_FROM.percent()
        } else {
            want
        };
        worst = worst.max(relative(time / label, want));
    }
    assert!(worst < 5e-5, "{worst:e}");
    assert_eq!(
        held_back,
        rows.iter()
            .filter(|row| number(row, "rh_pct") > 80.0)
            .count()
    );
    assert!(held_back > 0);
}

/// Depth squared (Comyn): twice as deep takes four times as long, but for the skin.
#[test]
fn depth_counts_squared_and_the_skin_is_the_same() {
    let told = compare(&clear(20.0), &coat(1.0), &coat(2.0)).unwrap();
    for stage in &told.stages {
        let want = if stage.stage.is_of_surface() {
            1.0
        } else {
            4.0
        };
        assert!(
            relative(stage.outcome.likely().unwrap(), want) < 1e-12,
            "{stage:?}"
        );
    }
    let thin = Length::from_mm(0.05);
    assert_eq!(MoistureCure::depth(Stage::TackFree, thin), thin);
    assert_eq!(
        MoistureCure::depth(Stage::TackFree, Length::from_mm(1.0)),
        SKIN
    );
}

/// The table's 12 °C and 30 %: 4.6 times, for cold and dry both slow it.
#[test]
fn cold_and_dry_air_slow_it_and_damp_air_does_not() {
    let law = clear(20.0);
    let told = compare(&law, &coat(1.0), &coat(1.0).in_air(air(12.0, 30.0))).unwrap();
    assert!((told.factor.whole.likely().unwrap() - 4.6).abs() < 0.05);
    assert_eq!(told.pace, Pace::VerySlow);
    let damp = coat(1.0).in_air(air(23.0, 70.0));
    let told = compare(&law, &coat(1.0), &damp).unwrap();
    assert!((told.factor.whole.likely().unwrap() - 0.71).abs() < 0.005);
    // nor is it ever advice to dry the air or to move it
    let dry = coat(1.0).in_air(air(12.0, 60.0));
    let label = coat(1.0);
    for help in what_would_help(&Case::steady(&law, &label, &dry)).unwrap() {
        use brimful::cure::help::Change;
        assert!(
            !matches!(help.change, Change::Dry { .. } | Change::Move { .. }),
            "{help:?}"
        );
    }
}

/// `E_P` from 0 to 40 kJ/mol is the law's doubt: the table's two ends at 5 °C and 50 %.
#[test]
fn the_energys_range_is_in_the_band() {
    use brimful::cure::compare::Outcome;
    let here = coat(1.0).in_air(air(5.0, 50.0));
    let told = compare(&clear(20.0), &coat(1.0), &here).unwrap();
    let Outcome::Times(band) = told.factor.whole else {
        panic!()
    };
    let rows = table("moisturecure.csv");
    let at = |kj: &str| {
        let row = rows.iter().find(|row| {
            row["temperature_C"] == "5" && row["rh_pct"] == "50" && row["E_perm_kJ_mol"] == kj
        });
        number(row.unwrap(), "time_ratio_vs_23C_50pct")
    };
    assert!(band.low < at("0.0") && at("40.0") < band.high, "{band:?}");
    let clear = Coating::of(family("moisture-curing clear").unwrap());
    let range = clear
        .property(Key::PermeationEnergy)
        .unwrap()
        .range
        .unwrap();
    let [least, most] = range.map(|end| end.molar_energy().unwrap());
    assert_eq!((least, most), (energy(0.0), energy(40.0)));
}

#[test]
fn without_vapour_it_never_cures_and_damp_air_makes_it_foam() {
    let law = clear(20.0);
    let dry = coat(1.0).in_air(air(23.0, 0.0));
    let told = law.reach(Stage::Through, &dry).unwrap();
    assert_eq!(told, Reached::Never(Hindrance::NoVapour));
    let told = compare(&law, &coat(1.0), &dry).unwrap();
    assert_eq!(told.pace, Pace::NoHeadway);
    assert!(told.warnings.contains(&Warning::NoVapour));
    let shut = law.between(Faces::ClosedIn);
    let told = shut.reach(Stage::Through, &coat(1.0)).unwrap();
    assert_eq!(told, Reached::Never(Hindrance::ClosedIn));
    let law = law_of(&Coating::of(family("moisture-curing clear").unwrap())).unwrap();
    let foams = |percent| {
        let warnings = law.warnings(&coat(1.0).in_air(air(23.0, percent)));
        warnings
            .iter()
            .any(|it| matches!(it, Warning::MayFoam { .. }))
    };
    assert!(foams(80.0) && foams(95.0) && !foams(79.0));
    assert!(law.warnings(&coat(1.0)).contains(&Warning::NeedsVapour));
}
