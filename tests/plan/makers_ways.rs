//! One run begun at another time, and two ways of doing a run side by side.

use crate::common::calendar::said::{flat, ran, with};
use crate::common::calendar::{check, list, moment};
use serde_json::Value;

const DEMO: &str = include_str!("../../data/demo.toml");

fn json(out: &str) -> Value {
    serde_json::from_str(out).unwrap_or_else(|why| panic!("{why}: {out}"))
}

/// The demo from some moment on, by its file.
fn begun(start: &str) -> String {
    with(
        DEMO,
        "name = \"Harbour fair\"",
        &format!("name = \"Harbour fair\"\nstart = {start}"),
    )
}

#[test]
fn from_is_as_if_the_file_said_it_and_goes_before_what_it_says() {
    // in time, and too late
    for (moment, file, done) in [
        ("2027-03-30 18:00", "2027-03-30T18:00:00", 0),
        ("2027-04-10 09:00", "2027-04-10T09:00:00", 1),
    ] {
        let told = ran(DEMO, &["--json", "--from", moment]);
        assert_eq!(told.0, done, "{}", told.2);
        assert_eq!(told, ran(&begun(file), &["--json"]));
        assert_eq!(
            told,
            ran(&begun("2027-03-20T09:00:00"), &["--json", "--from", moment])
        );
        let plan = json(&told.1);
        check(&begun(file), &plan).unwrap_or_else(|why| panic!("{why}"));
        let from: jiff::civil::DateTime = file.parse().unwrap();
        assert!(moment_of(&plan, "start") >= from);
        assert_eq!(list(&plan["still_can"]).is_empty(), done == 0);
    }
}

fn moment_of(plan: &Value, key: &str) -> jiff::civil::DateTime {
    moment(&plan["calendar"][key])
}

#[test]
fn from_after_the_date_or_in_other_words_is_refused() {
    let (code, out, err) = ran(DEMO, &["--from", "2027-04-17 08:00"]);
    assert_eq!((code, out.as_str()), (1, ""));
    assert!(
        flat(&err).contains("is not before the run's ready_by, 2027-04-17 08:00"),
        "{err}"
    );
    let (code, _, err) = ran(DEMO, &["--from", "next week"]);
    assert_eq!(code, 2);
    assert!(
        err.contains("2027-04-02 18:30") && err.contains("\"now\""),
        "{err}"
    );
}

#[test]
fn two_ways_beside_each_other_say_what_each_says_alone() {
    let folder = tempfile::tempdir().unwrap();
    let other = folder.path().join("in-a-warm-room.toml");
    let warm = with(DEMO, "\"16 C\"", "\"21 C\"");
    std::fs::write(&other, &warm).unwrap();
    let beside = ["--against", other.to_str().unwrap(), "--json"];
    let (code, out, err) = ran(DEMO, &beside);
    assert_eq!((code, err.as_str()), (0, ""));
    let ways = json(&out);
    let [this, that] = list(&ways) else {
        panic!("{ways}")
    };
    for (way, file) in [(this, DEMO), (that, warm.as_str())] {
        let alone = json(&ran(file, &["--json"]).1);
        let calendar = &alone["calendar"];
        for key in [
            "latest_start",
            "start",
            "ready",
            "chance_ready",
            "hands_on_h",
        ] {
            assert!(
                !way[key].is_null() && way[key] == calendar[key],
                "{key}: {way}"
            );
        }
        assert_eq!(way["trays"][0], alone["trays"]["used"]);
        assert_eq!(way["waves"], alone["trays"]["waves"]);
        assert_eq!(way["can_be_done"], alone["can_be_done"]);
        let mut codes: Vec<&str> = list(&alone["warnings"])
            .iter()
            .map(|it| it["code"].as_str().unwrap())
            .collect();
        codes.sort_unstable();
        codes.dedup();
        assert_eq!(way["warnings"], Value::from(codes));
    }
    assert!(
        moment(&that["latest_start"]) >= moment(&this["latest_start"]),
        "warmer is no later"
    );
    assert!(
        that["file"]
            .as_str()
            .unwrap()
            .ends_with("in-a-warm-room.toml")
    );
    // --from holds for both, and if either is too late that is how it ends
    let late = [&beside[..], &["--from", "2027-04-10 09:00"]].concat();
    let (code, out, err) = ran(DEMO, &late);
    assert_eq!(code, 1);
    assert!(err.contains("too late"), "{err}");
    let ways = json(&out);
    // the blanks take six days, and the first evening of work after that is the same one's
    assert!(
        list(&ways)
            .iter()
            .all(|way| way["start"] == "2027-04-16T18:30:00"),
        "{ways}"
    );
}
