//! Nothing that wants a coat dry through comes before it is, and a plan says where the maker's
//! own file or a label that does not tell has it otherwise.

use crate::common::plan::planned;
use brimful::plan::{Booked, Calendar, Dates, Plan, Warning};
use brimful::show::{json, text, words};
use jiff::civil::DateTime;

/// A run of an epoxy dome with work after it; at the label's own air, so that the label's hours hold.
fn epoxy(label: &str, cord: &str, more: &str) -> Plan {
    planned(&format!(
        r#"
[run]
name = "test"
start = 2027-03-01T09:00:00
[[piece]]
name = "fob"
count = 6
blank = "disc"
steps = ["dome", "cord", "bag"]
[[blank]]
name = "disc"
outline = {{ round = "20 mm" }}
porous = false
[[coating]]
name = "resin"
family = "two-part dome epoxy"
label = {{ at = ["23 C", "50 %"], {label} }}
[[step]]
name = "dome"
coating = "resin"
fill = {{ peak = "1 mm" }}
[[step]]
name = "cord"
{cord}
[[step]]
name = "bag"
{more}
[room]
temperature = "23 C"
humidity = "50 %"
[hours]
weekdays = ["08:00-22:00"]
weekend = ["08:00-22:00"]
"#
    ))
}

fn calendar(plan: &Plan) -> &Calendar {
    match &plan.dates {
        Dates::Told(calendar) => calendar,
        other => panic!("{other:?}"),
    }
}

fn sitting<'p>(plan: &'p Plan, what: &str) -> &'p Booked {
    let mut sittings = calendar(plan).sittings.iter();
    sittings.find(|sitting| sitting.what == what).unwrap()
}

fn hours(from: DateTime, to: DateTime) -> f64 {
    to.duration_since(from).as_secs_f64() / 3600.0
}

/// The hours after the dome was poured at which the cord is threaded, and at which all is ready.
fn after_the_pour(plan: &Plan) -> [f64; 2] {
    let poured = sitting(plan, "dome").ends;
    [sitting(plan, "cord").begins, calendar(plan).ready].map(|at| hours(poured, at))
}

fn before_through(plan: &Plan) -> Vec<(Vec<String>, bool, bool)> {
    let told = plan.warnings.iter().filter_map(|warning| match warning {
        Warning::BeforeThrough {
            what,
            ready,
            through,
            ..
        } => Some((what.clone(), *ready, through.is_some())),
        _ => None,
    });
    told.collect()
}

const HANDLE: &str = r#"needs = "handle""#;
const ALL: &str = r#"tack_free = "8 h", handle = "24 h", through = "72 h""#;

#[test]
fn work_after_the_last_coat_waits_until_it_is_dry_through() {
    let plan = epoxy(ALL, "", "");
    let [cord, ready] = after_the_pour(&plan);
    assert!((72.0..72.0 + 10.5).contains(&cord), "{cord}");
    assert!(ready >= cord, "{ready}");
    assert_eq!(before_through(&plan), []);
}

#[test]
fn a_file_may_have_it_sooner_and_is_told_of_it_and_ready_still_waits() {
    let plan = epoxy(ALL, HANDLE, HANDLE);
    let [cord, ready] = after_the_pour(&plan);
    assert!((24.0..24.0 + 10.5).contains(&cord), "{cord}");
    assert!((72.0..72.1).contains(&ready), "{ready}");
    let both = vec!["cord".to_owned(), "bag".to_owned()];
    assert_eq!(before_through(&plan), [(both, false, true)]);
    let words = text::plan(&plan);
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("\"cord\" and \"bag\" wait only"), "{words}");
    assert!(json::plan(&plan).unwrap().contains("before-through"));
}

/// Threaded at 24 h, bagged at 72 h: each step goes by its own need.
#[test]
fn each_step_waits_for_what_it_needs() {
    let plan = epoxy(ALL, HANDLE, "");
    let [cord, ready] = after_the_pour(&plan);
    assert!((24.0..24.0 + 10.5).contains(&cord), "{cord}");
    let bag = hours(sitting(&plan, "dome").ends, sitting(&plan, "bag").begins);
    assert!((72.0..72.0 + 10.5).contains(&bag) && ready >= bag, "{bag}");
    assert_eq!(
        before_through(&plan),
        [(vec!["cord".to_owned()], false, true)]
    );
}

#[test]
fn the_later_of_through_and_bag_is_waited_for() {
    let plan = epoxy(r#"handle = "24 h", through = "48 h", bag = "96 h""#, "", "");
    let [cord, _] = after_the_pour(&plan);
    assert!((96.0..96.0 + 10.5).contains(&cord), "{cord}");
}

#[test]
fn a_label_that_does_not_tell_is_said() {
    let plan = epoxy(r#"handle = "24 h""#, "", "");
    // the family's own 72 h stand in where the label's air is the family's
    assert_eq!(before_through(&plan), []);
    let glaze = planned(
        r#"
[run]
name = "test"
start = 2027-03-01T09:00:00
[[piece]]
name = "fob"
count = 6
blank = "disc"
steps = ["dome", "bag"]
[[blank]]
name = "disc"
outline = { round = "20 mm" }
porous = false
[[coating]]
name = "glaze"
family = "water-based dome glaze"
[[step]]
name = "dome"
coating = "glaze"
[[step]]
name = "bag"
[room]
temperature = "23 C"
humidity = "50 %"
"#,
    );
    assert_eq!(
        before_through(&glaze),
        [(vec!["bag".to_owned()], true, false)]
    );
}

/// An epoxy dome first, a quick sealer on the back after it: the slow coat is still waited for.
#[test]
fn a_slow_coat_under_a_quick_one_is_waited_for() {
    let plan = planned(
        r#"
[run]
name = "test"
start = 2027-03-01T09:00:00
[[piece]]
name = "fob"
count = 6
blank = "disc"
steps = ["dome", "back", "cord"]
[[blank]]
name = "disc"
outline = { round = "20 mm" }
porous = false
[[coating]]
name = "resin"
family = "two-part dome epoxy"
[[coating]]
name = "sealer"
family = "water-based sealer"
label = { at = ["23 C", "50 %"], handle = "2 h", recoat = "2 h", through = "4 h" }
[[step]]
name = "dome"
coating = "resin"
fill = { peak = "1 mm" }
[[step]]
name = "back"
coating = "sealer"
[[step]]
name = "cord"
[room]
temperature = "23 C"
humidity = "50 %"
[hours]
weekdays = ["08:00-22:00"]
weekend = ["08:00-22:00"]
"#,
    );
    let [cord, _] = after_the_pour(&plan);
    assert!((72.0..72.0 + 10.5).contains(&cord), "{cord}");
}

/// One tray takes one wave after another as each is dry to handle, so none is to be left on it longer.
#[test]
fn a_tray_that_is_taken_again_was_not_to_be_left_alone() {
    let label = "handle = \"12 h\", through = \"72 h\"";
    let file = format!(
        r#"
[run]
name = "test"
start = 2027-03-01T09:00:00
[[piece]]
name = "fob"
count = 40
blank = "disc"
steps = ["dome"]
[[blank]]
name = "disc"
outline = {{ round = "20 mm" }}
porous = false
[[coating]]
name = "resin"
family = "two-part dome epoxy"
label = {{ at = ["23 C", "50 %"], {label} }}
[[step]]
name = "dome"
coating = "resin"
[room]
temperature = "23 C"
humidity = "50 %"
[[tray]]
size = ["200 mm", "200 mm"]
count = 1
gap = "10 mm"
[hours]
weekdays = ["19:00-20:00"]
weekend = ["19:00-20:00"]
"#
    );
    let plan = planned(&file);
    let sittings = &calendar(&plan).sittings;
    let domes: Vec<&Booked> = (sittings.iter())
        .filter(|sitting| sitting.what == "dome" && sitting.lifted.is_some())
        .collect();
    assert!(domes.len() > 1, "{domes:?}");
    for pair in domes.windows(2) {
        assert!(pair[0].leave_until() <= pair[1].begins, "{pair:?}");
        assert!(pair[0].leave_until() < pair[0].next_from, "{pair:?}");
    }
    let words = text::plan(&plan);
    let words: Vec<&str> = words.split_whitespace().collect();
    assert!(words.join(" ").contains("; dry through "));
}

/// What a label does not tell is not said of its coat.
#[test]
fn what_is_waited_for_goes_by_the_labels_own_name() {
    for (label, is, not) in [
        (
            r#"handle = "24 h", bag = "96 h""#,
            "ready to bag",
            "dry through",
        ),
        (
            r#"handle = "24 h", through = "96 h""#,
            "dry through",
            "ready to bag",
        ),
        // at the later of the two it is both
        (
            r#"handle = "24 h", through = "48 h", bag = "96 h""#,
            "ready to bag",
            "dry through",
        ),
    ] {
        let plan = epoxy(label, "", "");
        let told = text::plan(&plan);
        let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(told.contains(&format!("; {is} ")), "{label}: {told}");
        assert!(!told.contains(&format!("; {not} ")), "{label}: {told}");
        let left = plan.steps[0].left_alone.unwrap();
        let left = words::dry_through(&left).unwrap();
        assert!(
            left.starts_with(&format!("{is}, for further work, after ")),
            "{left}"
        );
    }
}

/// A start that is told as sure is, and one that is sure is told so: runs at random that had it otherwise.
#[test]
fn what_is_sure_and_how_often_agree() {
    for file in [
        include_str!("../data/sure_a.toml"),
        include_str!("../data/sure_b.toml"),
    ] {
        let plan = planned(file);
        let by = calendar(&plan).by.as_ref().unwrap();
        let ready = by.chance.as_ref().unwrap().ready;
        assert_eq!(by.sure_start.is_some(), ready >= plan.header.sure, "{by:?}");
    }
}

/// A step that asks for a coat to be dry through is told where no label says when that is, wherever it comes.
#[test]
fn a_step_that_asks_in_vain_is_told() {
    let plan = planned(
        r#"
[run]
name = "test"
start = 2027-03-01T09:00:00
[[piece]]
name = "fob"
count = 6
blank = "disc"
steps = ["seal", "sand", "dome"]
[[blank]]
name = "disc"
outline = { round = "20 mm" }
[[coating]]
name = "sealer"
family = "water-based sealer"
[[coating]]
name = "glaze"
family = "water-based dome glaze"
[[step]]
name = "seal"
coating = "sealer"
coats = 1
[[step]]
name = "sand"
needs = "through"
[[step]]
name = "dome"
coating = "glaze"
[room]
temperature = "23 C"
humidity = "50 %"
[hours]
weekdays = ["08:00-22:00"]
weekend = ["08:00-22:00"]
"#,
    );
    let asked = plan.warnings.iter().any(|warning| {
        matches!(warning, Warning::BeforeThrough { step, what, .. } if step == "seal" && what == &["sand"])
    });
    assert!(asked, "{:?}", plan.warnings);
}
