//! `brimful dry` and `brimful coatings`, end to end: keys, exit codes, messages.

use crate::common::ask::{agree, ask, number};
use serde_json::Value;

const GLAZE: [&str; 3] = ["dry", "--coating", "water-based dome glaze"];

fn dry(rest: &[&str]) -> crate::common::ask::Said {
    ask(&[&GLAZE[..], rest].concat())
}

fn codes(json: &Value) -> Vec<&str> {
    let warnings = json["warnings"].as_array().unwrap();
    assert!(
        warnings
            .iter()
            .all(|it| !it["text"].as_str().unwrap().is_empty())
    );
    warnings
        .iter()
        .map(|it| it["code"].as_str().unwrap())
        .collect()
}

#[test]
fn the_json_has_the_keys_that_others_rely_on() {
    let said = dry(&["--at", "15 C", "70 %", "--json"]);
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    let json = said.json();
    // psychro.csv: 9.579 by PsychroLib, 9.580 by CoolProp; the Magnus form is good to 0.02 K
    let dew = number(&json, "/dew_point_c");
    assert!((dew - 9.58).abs() < 0.02, "{dew}");
    let factor = number(&json, "/factor");
    assert!(agree(number(&json, "/hours/handle"), 24.0 * factor, 1e-9));
    assert!(agree(number(&json, "/hours/recoat"), 24.0 * factor, 1e-9));
    assert!(
        json["hours"].get("tack_free").is_none(),
        "the label has no such time"
    );
    assert_eq!(codes(&json), Vec::<&str>::new());
    let parts = json["parts"].as_array().unwrap();
    let product: f64 = parts
        .iter()
        .map(|part| part["times"].as_f64().unwrap())
        .product();
    assert!(agree(product, factor, 1e-9), "{product} {factor}");
    assert!(number(&json, "/band/low") < factor && factor < number(&json, "/band/high"));
    for path in [
        "/reference/room/temperature_c",
        "/reference/depth_mm",
        "/wet_stage/likely",
        "/wet_stage_factor",
    ] {
        assert!(number(&json, path) > 0.0, "{path}");
    }
}

#[test]
fn the_label_s_own_room_takes_the_label_s_own_time() {
    let said = dry(&["--at", "23 C", "50 %", "--json"]);
    assert!(agree(number(&said.json(), "/factor"), 1.0, 1e-12));
    assert!(agree(number(&said.json(), "/hours/handle"), 24.0, 1e-12));
}

#[test]
fn the_maker_s_own_label_replaces_the_family_s() {
    let args = [
        "--at",
        "18 C",
        "60 %",
        "--label",
        "18 C",
        "60 %",
        "--tack-free",
        "3 h",
        "--through",
        "2 d",
    ];
    let json = dry(&[&args[..], &["--json"]].concat()).json();
    let hours: Vec<_> = json["hours"].as_object().unwrap().keys().collect();
    assert_eq!(hours, ["tack_free", "through"]);
    assert!(agree(number(&json, "/hours/tack_free"), 3.0, 1e-12));
    assert!(agree(number(&json, "/hours/through"), 48.0, 1e-12));
    let text = dry(&args).flowing();
    assert!(text.contains("3 h on the label (as given)"), "{text}");
    let air = "The label's times are for 18 °C and 60 %.";
    assert!(text.contains(air), "{text}");
}

/// Case C10: double the depth takes 2 to 4 times, never 8, and two coats are
/// set against one.
#[test]
fn a_coat_twice_as_deep_takes_two_to_four_times_and_two_coats_are_offered() {
    let hours = |depth: &str| {
        let said = dry(&["--at", "20 C", "50 %", "--depth", depth, "--json"]);
        number(&said.json(), "/hours/handle")
    };
    let times = hours("4 mm") / hours("2 mm");
    assert!((2.0..=4.0).contains(&times), "{times}");
    let text = dry(&["--at", "20 C", "50 %", "--depth", "4 mm"]).flowing();
    assert!(
        text.contains("two coats of 2 mm, one after the other"),
        "{text}"
    );
}

#[test]
fn moving_air_is_a_word_or_a_speed() {
    let speed = |air: &str| {
        let said = dry(&["--at", "20 C", "50 %", "--air", air, "--json"]);
        number(&said.json(), "/here/room/air_speed_m_per_s")
    };
    // typical, from memory
    for (word, metres) in [
        ("sheltered", 0.05),
        ("still", 0.1),
        ("draughty", 0.3),
        ("fan", 1.0),
    ] {
        assert!(agree(speed(word), metres, 1e-12), "{word}");
    }
    // a room's own convection of 0.05 m/s joins a measured speed
    assert!(agree(speed("0.3 m/s"), 0.3_f64.hypot(0.05), 1e-12));
    let wrong = dry(&["--at", "20 C", "50 %", "--air", "windy"]);
    assert_eq!(wrong.code, 2);
    assert!(
        wrong
            .err
            .contains("\"still\", \"sheltered\", \"draughty\", \"fan\""),
        "{}",
        wrong.err
    );
}

#[test]
fn air_too_damp_to_dry_in_gives_no_date_and_exit_code_1() {
    let said = dry(&["--at", "20 C", "88 %", "--json"]);
    assert_eq!(said.code, 1);
    assert!(
        said.err.contains("the air must be drier than"),
        "{}",
        said.err
    );
    let json = said.json();
    assert!(json["factor"].is_null() && json["hours"].get("handle").is_none());
    assert_eq!(json["never"], serde_json::json!(["handle", "recoat"]));
    assert!(codes(&json).contains(&"will-not-dry"));
    // about 85 % is where coating practice says that it will not dry
    assert!((number(&json, "/dries_below_percent") - 85.0).abs() < 1.0);
    assert!(!json["help"].as_array().unwrap().is_empty());
}

#[test]
fn help_is_ranked_and_a_warmer_room_carries_the_same_water() {
    let json = dry(&["--at", "14 C", "75 %", "--json"]).json();
    let help = json["help"].as_array().unwrap();
    let ratios: Vec<f64> = help.iter().map(|it| number(it, "/ratio/likely")).collect();
    assert!(ratios.len() >= 4 && ratios.is_sorted(), "{ratios:?}");
    let factor = number(&json, "/factor");
    assert!(ratios.iter().all(|&ratio| ratio < factor));
    // saturated air holds 12.1 g/m3 at 14 C and 15.4 at 18 C (textbook tables,
    // from memory): 75 % of the one is 59 % of the other, and 58 % as it expands
    let warm = help
        .iter()
        .find(|it| it["change"] == "warm" && it["temperature_c"] == 18.0)
        .unwrap();
    assert!(
        (number(warm, "/humidity_percent") - 59.0).abs() < 1.0,
        "{warm}"
    );
}

/// More than four times the label's time is not worth a figure in advice, and
/// from 80 % humidity drying is very slow (common practice, no source).
#[test]
fn very_slow_is_told_without_figures_that_mean_nothing() {
    let thick = [
        "--at",
        "16 C",
        "65 %",
        "--depth",
        "3 mm",
        "--label-depth",
        "1 mm",
    ];
    let text = dry(&thick).flowing();
    // the wait has the band that it has everywhere else
    assert!(text.contains("very slow, "), "{text}");
    assert!(
        text.contains(" days or longer; 24 h on the label"),
        "{text}"
    );
    assert!(text.contains("a thicker coat ×4 and more"), "{text}");
    let json = dry(&[&thick[..], &["--json"]].concat()).json();
    assert!(number(&json, "/factor") > 4.0 && json["very_slow"] == true);
    for (humidity, slow) in [("79 %", false), ("80 %", true)] {
        let text = dry(&["--at", "20 C", humidity]).flowing();
        assert_eq!(text.contains("very slow"), slow, "{humidity}: {text}");
    }
}

/// Every answer ends with what to take care of, and the product's own papers
/// and local rules stand before it.
#[test]
fn every_answer_ends_with_its_family_s_cautions() {
    let epoxy = ["--coating", "two-part dome epoxy"];
    let glaze = ["--coating", "water-based dome glaze"];
    let ink = ["--coating", "permanent ink"];
    let dry = ["dry", "--at", "20 C", "60 %"];
    let cold = ["dry", "--at", "8 C", "70 %"];
    let dome = ["dome", "--round", "25 mm"];
    let too_much = ["dome", "--round", "25 mm", "--volume", "2 mL"];
    let asked: [(&[&str], [&str; 2], &str); 6] = [
        (&dry, epoxy, "skin that reacts once may react for life"),
        (&dry, ink, "No flame, heater or spark"),
        (&cold, glaze, "sensitise"),
        (&dome, glaze, "sensitise"),
        (&dome, epoxy, "a cupful heats itself"),
        (&too_much, epoxy, "a cupful heats itself"),
    ];
    for (question, coating, caution) in asked {
        let question = [question, &coating[..]].concat();
        let text = ask(&question).flowing();
        let (_, care) = text.split_once(" Care ").unwrap();
        assert!(
            care.starts_with("The product's own label and safety data sheet"),
            "{care}"
        );
        assert!(
            care.contains("the rules where you live, come first"),
            "{care}"
        );
        assert!(care.contains(caution), "{care}");
        assert!(!text.replace("safety", "").contains("safe"), "{text}");
        let json = ask(&[&question[..], &["--json"]].concat()).json();
        let cautions = json["cautions"].as_array().unwrap();
        let about: Vec<_> = cautions
            .iter()
            .map(|it| it["about"].as_str().unwrap())
            .collect();
        assert_eq!(about[..4], ["first", "before", "while", "after"]);
        assert!(
            about.contains(&"every"),
            "food, children and dust: {about:?}"
        );
    }
}

#[test]
fn ink_keeps_its_label_s_time_and_says_so() {
    let said = ask(&["dry", "--coating", "permanent ink", "--at", "12 C", "70 %"]);
    assert_eq!(said.code, 0);
    assert!(
        said.flowing()
            .contains("kept as it is: not worked out for another room"),
        "{}",
        said.out
    );
}

#[test]
fn slips_are_told_with_what_was_probably_meant() {
    let slips: [(&[&str], &str); 11] = [
        (
            &["--at", "12 C", "70 %", "--round", "-1 mm"],
            "a length cannot be below zero",
        ),
        (
            &["--at", "12 C", "70 %", "--handle", "-4 h"],
            "a time cannot be below zero",
        ),
        (
            &["--at", "70 %", "12 C"],
            "--at: \"70 %\": that is a share, and a temperature is wanted",
        ),
        (&["--at", "12", "70 %"], "did you mean \"12 C\""),
        (&["--at", "12 C"], "2 values required"),
        (&["--at", "12 C", "140 %"], "outside 0 to 100 %"),
        (&["--at", "90 C", "40 %"], "outside -20 to 60 °C"),
        (
            &["--at", "12 C", "70 %", "--depth", "3 cm"],
            "were millimetres meant?",
        ),
        (
            &["--at", "12 C", "70 %", "--depth", "15"],
            "did you mean \"15 mm\"?",
        ),
        (
            &[
                "--at",
                "12 C",
                "70 %",
                "--handle",
                "6 h",
                "--through",
                "2 h",
            ],
            "does not reach through before handle",
        ),
        (
            &["--at", "12 C", "70 %", "--label", "23 C", "97 %"],
            "nothing to compare with",
        ),
    ];
    for (args, expected) in slips {
        let said = dry(args);
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{args:?}");
        assert!(said.err.contains(expected), "{args:?}: {}", said.err);
    }
    let frost = dry(&["--at", "-5 C", "60 %", "--json"]);
    assert_eq!(frost.code, 1, "a minus sign is read as one: {}", frost.err);
}

#[test]
fn us_units_are_degrees_fahrenheit_and_inches() {
    let rooms: [&[&str]; 4] = [
        &[
            "dry",
            "--coating",
            "two-part dome epoxy",
            "--at",
            "50 F",
            "75 %",
            "--us",
        ],
        &[
            "dry",
            "--coating",
            "two-part dome epoxy",
            "--at",
            "63 F",
            "76 %",
            "--us",
        ],
        &[
            "dry",
            "--coating",
            "water-based dome glaze",
            "--at",
            "46 F",
            "60 %",
            "--us",
        ],
        &[
            "dry",
            "--coating",
            "water-based dome glaze",
            "--at",
            "60 F",
            "82 %",
            "--depth",
            "0.15 in",
            "--us",
        ],
    ];
    for room in rooms {
        let text = ask(room).flowing();
        assert!(text.contains("°F") && text.contains(" in "), "{text}");
        for metric in ["°C", " mm", " K ", " m/s"] {
            assert!(!text.contains(metric), "{metric}: {text}");
        }
    }
}

#[test]
fn help_has_an_example_that_runs() {
    let help = ask(&["dry", "--help"]);
    assert!(
        help.out
            .contains("brimful dry --coating \"water-based dome glaze\" --at \"12 C\" \"70 %\"")
    );
    let said = dry(&["--at", "12 C", "70 %"]);
    assert!(said.out.lines().count() <= 34, "one screen");
    assert!(said.out.contains("safety data sheet"));
}

#[test]
fn coatings_are_listed_and_each_told_with_its_sources_and_cautions() {
    let list = ask(&["coatings", "--json"]).json();
    let list = list.as_array().unwrap();
    assert_eq!(list.len(), 7);
    for coating in list {
        let name = coating["name"].as_str().unwrap();
        let properties = coating["properties"].as_array().unwrap();
        assert_eq!(properties.is_empty(), name == "permanent ink");
        for property in properties {
            assert!(
                property["value"].is_number() && property["unit"].is_string(),
                "{property}"
            );
            assert!(
                !property["source"].as_str().unwrap().is_empty(),
                "{property}"
            );
        }
        assert!(coating["cautions"].as_array().unwrap().len() > 3);
        let said = ask(&["coatings", name]);
        assert_eq!(said.code, 0);
        let text = said.flowing();
        assert!(
            text.contains("- The product's own label and safety data sheet"),
            "{text}"
        );
        // told to be careful, never told that it is safe
        assert!(!text.replace("safety", "").contains("safe"), "{text}");
    }
    let epoxy = ask(&["coatings", "two-part dome epoxy"]).flowing();
    assert!(epoxy.contains("pot life mass 100 g"), "{epoxy}");
    let glaze = ask(&["coatings", "water-based dome glaze"]).flowing();
    assert!(
        glaze
            .contains("surface tension 35 mN/m, usually 30 mN/m to 40 mN/m (typical, from memory)")
    );
    let slip = ask(&["coatings", "two part dome epoxi"]);
    assert_eq!(slip.code, 2);
    assert!(
        slip.err.contains("did you mean \"two-part dome epoxy\"?"),
        "{}",
        slip.err
    );
}

/// A label speaks of the usual coat: a thinner one is never promised sooner,
/// unless the maker says how thick a coat the label means.
#[test]
fn a_thin_coat_is_not_promised_sooner_than_the_label() {
    let hours = |more: &[&str]| {
        let args = [
            &["--at", "23 C", "50 %", "--depth", "0.5 mm", "--json"],
            more,
        ]
        .concat();
        number(&dry(&args).json(), "/hours/handle")
    };
    assert!(agree(hours(&[]), 24.0, 1e-9), "{}", hours(&[]));
    assert!(hours(&["--label-depth", "2 mm"]) < 12.0);
}

/// What a lamp or the air's vapour cures loses no water, and a lamp minds no neighbours;
/// dry air is what slows the one that vapour cures.
#[test]
fn what_cures_by_light_or_vapour_is_not_told_as_drying() {
    for family in ["lamp-cured dome resin", "moisture-curing clear"] {
        let said = ask(&["dry", "--coating", family, "--at", "16 C", "30 %"]);
        assert_eq!(said.code, 0);
        for word in ["water", "neighbours", "damper ×", "first principles"] {
            assert!(!said.out.contains(word), "{family}: {word} in {}", said.out);
        }
        assert!(said.out.contains("safety data sheet"));
    }
    let lamp = [
        "dry",
        "--coating",
        "lamp-cured dome resin",
        "--at",
        "16 C",
        "30 %",
    ];
    // the label's 3 min and the tenth that it is rounded to, the high end rounded up
    let lamp = ask(&lamp).out;
    assert!(
        lamp.contains("3 to 4 min") && lamp.contains("gloved hand"),
        "{lamp}"
    );
    let clear = [
        "dry",
        "--coating",
        "moisture-curing clear",
        "--at",
        "16 C",
        "30 %",
    ];
    assert!(ask(&clear).out.contains("drier ×1.7"));
    let damp = [
        "dry",
        "--coating",
        "moisture-curing clear",
        "--at",
        "23 C",
        "85 %",
    ];
    assert!(ask(&damp).out.contains("may foam"));
}
