//! Questions that makers have asked about drying rooms, with the answers they should get.

use crate::common::ask::{agree, ask, number};
use brimful::cure::air::Air;
use brimful::cure::psychro::same_vapour;
use brimful::quantity::{Humidity, Speed, Temperature};
use serde_json::Value;

fn glaze(rest: &[&str]) -> crate::common::ask::Said {
    ask(&[&["dry", "--coating", "water-based dome glaze"], rest].concat())
}

fn epoxy(rest: &[&str]) -> crate::common::ask::Said {
    ask(&[&["dry", "--coating", "two-part dome epoxy"], rest].concat())
}

fn warning<'a>(json: &'a Value, code: &str) -> &'a str {
    let warnings = json["warnings"].as_array().unwrap();
    let found = warnings.iter().find(|warning| warning["code"] == code);
    found.unwrap_or_else(|| panic!("{code} in {json:#}"))["text"]
        .as_str()
        .unwrap()
}

/// Case C06: a water-based coat with a label at 23 °C and 50 %, while water is
/// leaving: at least x1.7, x3.0, x2.1, x3.3 and x5.7.
///
/// The reports are quotients of vapour-pressure deficits, rounded to two
/// figures; two of ours, 2.060 and 3.295, reach "at least" only as they round
/// to the same two figures, so the comparison is made at the reports' own
/// rounding. Above by no more than 5 %, for a figure that is merely large
/// would pass too.
#[test]
fn damp_and_cold_rooms_hold_the_water_back_as_makers_report() {
    let reports = [
        ("20 C", "65 %", 1.7),
        ("20 C", "80 %", 3.0),
        ("15 C", "60 %", 2.1),
        ("15 C", "75 %", 3.3),
        ("10 C", "80 %", 5.7),
    ];
    for (temperature, humidity, at_least) in reports {
        let said = glaze(&[
            "--at",
            temperature,
            humidity,
            "--label",
            "23 C",
            "50 %",
            "--json",
        ]);
        let times = number(&said.json(), "/wet_stage_factor");
        let printed = (times * 10.0).round() / 10.0;
        assert!(printed >= at_least, "{temperature} {humidity}: {times}");
        assert!(times < 1.05 * at_least, "{temperature} {humidity}: {times}");
    }
}

/// Case C07: a room at 8 °C and a coat that needs 10 °C to form a film. No
/// date; and the room that it names is warm enough, a little less is not.
#[test]
fn a_room_too_cold_for_the_film_gets_no_date_but_a_temperature() {
    let said = glaze(&["--at", "8 C", "70 %", "--json"]);
    assert_eq!(said.code, 1);
    let json = said.json();
    assert!(json["factor"].is_null());
    assert_eq!(json["hours"], serde_json::json!({}));
    assert_eq!(json["never"], serde_json::json!(["handle", "recoat"]));
    assert!(warning(&json, "film-forming").contains("warm the room to at least"));
    let warm = number(&json, "/warm_enough_c");
    // a drying film is colder than its room, so 10 °C of air would not do
    assert!(warm > 10.0, "{warm}");
    let room = Air::new(
        Temperature::from_celsius(8.0),
        Humidity::from_percent(70.0),
        Speed::from_m_per_s(0.1),
    )
    .unwrap();
    let heated = |celsius: f64| {
        let air = same_vapour(&room, Temperature::from_celsius(celsius)).unwrap();
        let (at, damp) = (
            format!("{celsius} C"),
            format!("{} %", air.humidity().percent()),
        );
        glaze(&["--at", &at, &damp]).code
    };
    assert_eq!((heated(warm - 0.1), heated(warm + 0.1)), (1, 0));
    let text = glaze(&["--at", "8 C", "70 %"]);
    assert!(
        text.out.contains("No date") && text.err.contains("at least"),
        "{}",
        text.out
    );
}

/// Saturation pressure over water by another formula than the program's,
/// `6.1121 exp((18.678 - T/234.5) T/(257.14 + T))` hPa: Buck 1996, from memory.
fn buck_1996(celsius: f64) -> f64 {
    6.1121 * ((18.678 - celsius / 234.5) * celsius / (257.14 + celsius)).exp()
}

/// Case C08: two-part epoxy at 19 °C and 75 %.
#[test]
fn damp_epoxy_is_warned_of_blush_with_both_humidities_that_sources_name() {
    let said = epoxy(&["--at", "19 C", "75 %", "--json"]);
    assert_eq!(said.code, 0);
    let json = said.json();
    let text = warning(&json, "blush-raised");
    assert!(
        text.contains("70 %") && text.contains("85 %") && text.contains("sources differ"),
        "{text}"
    );
    assert!(text.contains("above the dew point"), "{text}");
    // at the dew point the same vapour saturates; two such formulas differ by 0.1 %
    let dew = number(&json, "/dew_point_c");
    assert!(
        agree(buck_1996(dew) / buck_1996(19.0), 0.75, 0.001),
        "{dew}"
    );
    assert!(agree(
        number(&json, "/dew_point_margin_k"),
        19.0 - dew,
        1e-9
    ));
    let shown = epoxy(&["--at", "19 C", "75 %"]).flowing();
    assert!(
        shown.contains("14.5 °C, which is 4.5 °C below the room"),
        "{shown}"
    );
}

/// Case C11: the pot life halves from 25 to 35 °C (common practice, no source).
/// The model shortens a cupful more, x0.39, for it warms itself too; the least
/// sensitive resin comes to x0.51, so the band that is told holds a halving.
#[test]
fn ten_degrees_more_halve_the_pot_life_or_more() {
    let said = epoxy(&["--label", "25 C", "50 %", "--at", "35 C", "50 %", "--json"]);
    let json = said.json();
    let times = number(&json, "/pot_life/ratio/likely");
    assert!((0.2..0.5).contains(&times), "{times}");
    assert!(number(&json, "/pot_life/ratio/high") >= 0.5);
    assert!(agree(
        number(&json, "/pot_life/here_min"),
        40.0 * times,
        1e-9
    ));
}

/// Case C11: a film sets x1.3 to x2 slower at 15 °C than at 25 °C (common
/// practice, no source). The model disagrees: to the gel it takes 9.75987/4.25042 =
/// x2.30 (epoxy.csv), and to cure through, where the glass slows it, 45.3776/10.5202
/// = x4.3. Only the least sensitive resin sets within what practice says, x1.92.
#[test]
fn a_film_sets_slower_in_the_cold_by_more_than_practice_says() {
    let said = epoxy(&["--label", "25 C", "50 %", "--at", "15 C", "50 %", "--json"]);
    let json = said.json();
    let factor = number(&json, "/factor");
    assert!(agree(factor, 45.3776 / 10.5202, 1e-5), "{factor}");
    let set = number(&json, "/hours/tack_free") / 8.0;
    assert!(agree(set, 9.75987 / 4.25042, 1e-5), "{set}");
    assert!(
        set > 2.0,
        "the disagreement with practice is gone: say so here"
    );
}

/// A dome is dry in about a day and a sealer in four hours at 23 °C and 50 %
/// (common practice, no source): both are labels to plan with, shown beside
/// the time from first principles. That agrees for the dome within its factor
/// of 2. For the sealer it does not: its water is gone much sooner, and the
/// four hours hold what the model leaves out.
#[test]
fn rules_of_thumb_stand_beside_what_first_principles_say() {
    for (coating, rule, agrees) in [
        ("water-based dome glaze", 24.0, true),
        ("water-based sealer", 4.0, false),
    ] {
        let args = ["dry", "--coating", coating, "--at", "23 C", "50 %"];
        let json = ask(&[&args[..], &["--json"]].concat()).json();
        assert!(agree(number(&json, "/hours/handle"), rule, 1e-9));
        assert_eq!(json["stages"][0]["source"], "common practice, no source");
        let first = number(&json, "/first_principles/label_h");
        assert_eq!(
            (0.5..=2.0).contains(&(first / rule)),
            agrees,
            "{coating}: {first} h"
        );
        let text = ask(&args).flowing();
        assert!(text.contains("common practice, no source"), "{text}");
        assert!(
            text.contains("from first principles the water is gone after"),
            "{text}"
        );
        let (stands, words) = if agrees {
            ("agrees", "which agrees with the label's 24 h")
        } else {
            (
                "sooner",
                "long before the label's 4 h: only the water is reckoned",
            )
        };
        assert_eq!(json["first_principles"]["agreement"], stands);
        assert!(text.contains(words), "{text}");
    }
}
