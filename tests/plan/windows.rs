//! Coats that their label wants within a time of the one under them: the work is laid out so that they are.

use crate::common::calendar::{check, said::with, told};
use crate::common::plan::planned;
use brimful::plan::{Calendar, Dates, NoDates, Plan, Unkept, Warning};
use brimful::show::sheet::sheet;
use brimful::show::text;
use jiff::civil::{DateTime, date};
use scraper::Html;

/// Two coats, the second no sooner than 4 h and no later than 36 h after the first by the label, in its
/// own air and in evenings of work from Monday to Friday. So the second comes on the next evening, or, on a
/// Friday, too late. 12 March 2027 is a Friday.
const RUN: &str = r#"
[run]
name = "test"
start = 2027-03-12T08:00:00
[[piece]]
name = "fob"
count = 40
blank = "disc"
steps = ["seal"]
[[blank]]
name = "disc"
outline = { round = "25 mm" }
porous = false
[[coating]]
name = "sealer"
family = "water-based sealer"
label = { at = ["23 C", "50 %"], handle = "4 h", recoat = "4 h", recoat_until = "36 h" }
[[step]]
name = "seal"
coating = "sealer"
coats = 2
hands_on = "60 s"
set_up = "5 min"
clean_up = "5 min"
[room]
temperature = "23 C"
humidity = "50 %"
[hours]
weekdays = ["18:30-21:30"]
weekend = []
first_run = false
"#;

const START: &str = "start = 2027-03-12T08:00:00";

fn calendar(plan: &Plan) -> &Calendar {
    match &plan.dates {
        Dates::Told(calendar) => calendar,
        other => panic!("{other:?}"),
    }
}

fn past(plan: &Plan) -> bool {
    let mut warnings = plan.warnings.iter();
    warnings.any(|warning| matches!(warning, Warning::PastRecoat { .. }))
}

fn otherwise(plan: &Plan) -> Option<Unkept> {
    plan.warnings.iter().find_map(|warning| match warning {
        Warning::LaidForRecoat { otherwise } => Some(*otherwise),
        _ => None,
    })
}

/// When the first and the second coat begin.
fn coats(plan: &Plan) -> Vec<DateTime> {
    let sittings = calendar(plan).sittings.iter();
    sittings.map(|sitting| sitting.begins).collect()
}

fn evening(month: i8, day: i8) -> DateTime {
    date(2027, month, day).at(18, 30, 0, 0)
}

#[test]
fn a_run_that_can_begin_on_a_friday_begins_on_the_monday() {
    let plan = planned(RUN);
    assert_eq!(coats(&plan), [evening(3, 15), evening(3, 16)]);
    assert!(!past(&plan), "{:?}", plan.warnings);
    // the second coat takes 52 minutes, and may be handled some 4 h after it
    let Some(Unkept::From { begins, ready }) = otherwise(&plan) else {
        panic!("{:?}", plan.warnings);
    };
    assert_eq!((begins, ready.date()), (evening(3, 12), date(2027, 3, 15)));
    let shown = text::plan(&plan);
    let words: Vec<&str> = shown.split_whitespace().collect();
    assert!(
        words
            .join(" ")
            .contains("could begin on Fri 12 Mar 18:30 and be ready by Mon 15 Mar"),
        "{shown}"
    );
    // and until when the second is to be begun is told where the work is
    let first = &calendar(&plan).sittings[0];
    let by = first.next_by.expect("the label tells");
    assert!(by >= evening(3, 16) && by <= evening(3, 17), "{by}");
    let says = by.strftime("next coat by %a %-d %b %H:%M").to_string();
    let page = sheet(&plan, &[]).unwrap();
    let page = Html::parse_document(&page);
    let page: String = page.root_element().text().collect();
    for told in [words.join(" "), page] {
        assert!(told.contains(&says), "{says}");
    }
    assert_eq!(calendar(&plan).sittings[1].next_by, None);
    // a coat that takes the next over the weekend too has nothing to be put off for
    let long = planned(&with(
        RUN,
        "recoat_until = \"36 h\"",
        "recoat_until = \"120 h\"",
    ));
    assert_eq!(coats(&long), [evening(3, 12), evening(3, 15)]);
    assert_eq!(otherwise(&long), None);
}

#[test]
fn the_latest_start_before_a_date_is_one_that_keeps_the_coats_close() {
    // on Friday it would do, were it not for the window
    let plan = planned(&with(RUN, START, "ready_by = 2027-03-16T08:00:00"));
    assert_eq!(coats(&plan), [evening(3, 11), evening(3, 12)]);
    assert!(!past(&plan), "{:?}", plan.warnings);
    let by = calendar(&plan).by.as_ref().unwrap();
    assert_eq!(by.sure_start, Some(evening(3, 11)));
    // the work of an evening takes 52 minutes of it
    assert_eq!(by.likely_start, Some(date(2027, 3, 11).at(20, 38, 0, 0)));
    let Some(Unkept::AsLateAs(at)) = otherwise(&plan) else {
        panic!("{:?}", plan.warnings);
    };
    assert_eq!(at.date(), date(2027, 3, 12));
    assert!(text::plan(&plan).contains("could begin as late as"));
}

#[test]
fn a_start_of_ones_own_is_put_off_where_the_date_leaves_time() {
    let both = format!("{START}\nready_by = 2027-03-19T08:00:00");
    let plan = planned(&with(RUN, START, &both));
    assert_eq!(coats(&plan), [evening(3, 15), evening(3, 16)]);
    assert!(!past(&plan), "{:?}", plan.warnings);
    assert!(otherwise(&plan).is_some());
    // and where it leaves none the coats are as they must be, and that is told
    let both = format!("{START}\nready_by = 2027-03-16T08:00:00");
    let plan = planned(&with(RUN, START, &both));
    assert_eq!(coats(&plan), [evening(3, 12), evening(3, 15)]);
    assert!(past(&plan) && otherwise(&plan).is_none());
}

/// One evening a week: no start brings the coats closer.
#[test]
fn what_no_start_mends_is_told_and_begun_at_once() {
    let weekly = with(
        RUN,
        "weekdays = [\"18:30-21:30\"]",
        "friday = [\"18:30-21:30\"]\nweekdays = []",
    );
    let plan = planned(&weekly);
    assert_eq!(coats(&plan), [evening(3, 12), evening(3, 19)]);
    assert!(past(&plan) && otherwise(&plan).is_none());
    let shown = text::plan(&plan);
    assert!(shown.contains("closer together"), "{shown}");
}

/// An evening too short for any piece is not mended by trays, however few those are.
#[test]
fn hours_that_are_too_short_are_not_blamed_on_the_trays() {
    let tray = "[[tray]]\nsize = [\"200 mm\", \"150 mm\"]\ncount = 1\n[room]";
    let file = with(&with(RUN, "[room]", tray), "18:30-21:30", "18:30-18:38");
    let plan = planned(&file);
    match &plan.dates {
        Dates::Never(NoDates::TooLong { what, longest, .. }) => {
            assert_eq!((what.as_str(), longest.min()), ("seal", 8.0));
        }
        other => panic!("{other:?}"),
    }
}

/// Thursdays and Sundays, of which most are off: only the last Saturday and Sunday keep the window, and
/// that is not sure. A start that is sure and does not keep it is told before one that keeps it and is not sure.
#[test]
fn a_sure_start_is_not_refused_for_a_window() {
    let file = with(RUN, START, "ready_by = 2027-03-14T22:30:00");
    let file = with(&file, "\"36 h\"", "\"30 h\"");
    let file = with(
        &file,
        "weekdays = [\"18:30-21:30\"]",
        "weekdays = []\nthursday = [\"18:30-21:30\"]",
    );
    let mut off: Vec<String> = Vec::new();
    let mut sunday = date(2027, 3, 7);
    while sunday > date(2026, 9, 1) {
        off.push(sunday.to_string());
        sunday -= jiff::Span::new().days(7);
    }
    let weekend = format!("weekend = [\"17:30-19:30\"]\noff = [{}]", off.join(", "));
    let file = with(&file, "weekend = []", &weekend);
    let plan = planned(&file);
    let by = calendar(&plan).by.as_ref().unwrap();
    let sure = by.sure_start.expect("Thursday is sure");
    assert_eq!(sure.date(), date(2027, 3, 11));
    assert!(by.likely_start.unwrap() >= sure);
    assert!(past(&plan), "{:?}", plan.warnings);
}

/// The second coat takes three times as long as the first, so its last piece comes later after the last one
/// under it than its first after the first: it has to begin so much sooner.
#[test]
fn a_longer_coat_has_to_begin_sooner_than_its_window_closes() {
    let two = with(
        RUN,
        "[room]",
        "[[step]]\nname = \"again\"\ncoating = \"sealer\"\nhands_on = \"200 s\"\nset_up = \"5 min\"\nclean_up = \"5 min\"\n[room]",
    );
    let two = with(&two, "steps = [\"seal\"]", "steps = [\"seal\", \"again\"]");
    let two = with(&two, "coats = 2", "coats = 1");
    let plan = planned(&with(&two, "\"18:30-21:30\"", "\"16:30-21:30\""));
    let [seal, again] = calendar(&plan).sittings.as_slice() else {
        panic!("{:?}", plan.dates);
    };
    let shut = |from: DateTime, to: DateTime| to.duration_since(from).as_secs_f64() / 3600.0;
    let told = seal.next_by.expect("the label tells");
    let takes = again.ends.duration_since(again.begins);
    let (first, last) = (shut(seal.begins, told), shut(seal.ends, told + takes));
    // 36 h on the label, of which the room leaves the same share to either
    assert!(last > first + 1.0 && last <= 36.0, "{first} {last}");
    let same = planned(RUN);
    let [seal, _] = calendar(&same).sittings.as_slice() else {
        panic!("{:?}", same.dates);
    };
    let window = shut(seal.begins, seal.next_by.unwrap());
    assert!((last - window).abs() < 0.02, "{last} {window}");
}

/// Begun on any day of the week, with the day's work: what is late then is told.
#[test]
fn a_run_without_a_date_holds_nothing_back_and_tells_what_is_late() {
    let plan = planned(&with(RUN, START, ""));
    assert!(
        past(&plan) && otherwise(&plan).is_none(),
        "{:?}",
        plan.warnings
    );
}

/// More trays lay first coats sooner, and a coat that is laid sooner waits longer for the next: as many
/// trays as would keep the windows are then left unused. Nor is the run ready any later.
#[test]
fn more_trays_never_leave_a_coat_longer_than_it_takes_the_next() {
    let mut kept = 0;
    // with the trays filled as they come free, each of these is late with some more trays
    for (pieces, window, coats, weekdays, weekend) in [
        (
            150,
            20,
            2,
            "\"07:00-09:00\", \"18:00-20:00\"",
            "\"08:00-12:00\", \"14:00-18:00\"",
        ),
        (60, 28, 2, "\"18:00-20:30\"", "\"18:00-21:00\""),
        (150, 30, 2, "\"18:00-20:30\"", "\"18:00-20:30\""),
        (
            90,
            26,
            3,
            "\"08:00-12:00\", \"14:00-18:00\"",
            "\"09:00-11:00\", \"19:00-21:00\"",
        ),
        (
            200,
            26,
            3,
            "\"18:00-21:00\"",
            "\"09:00-11:00\", \"19:00-21:00\"",
        ),
        (
            300,
            12,
            2,
            "\"07:00-09:00\", \"18:00-20:00\"",
            "\"07:00-09:00\", \"18:00-20:00\"",
        ),
    ] {
        let change = |file: &str, old: &str, new: String| with(file, old, &new);
        let file = change(RUN, "count = 40", format!("count = {pieces}"));
        let file = change(&file, "\"36 h\"", format!("\"{window} h\""));
        let file = change(&file, "coats = 2", format!("coats = {coats}"));
        let file = change(
            &file,
            "weekdays = [\"18:30-21:30\"]",
            format!("weekdays = [{weekdays}]"),
        );
        let file = change(&file, "weekend = []", format!("weekend = [{weekend}]"));
        let file = with(&file, "\"60 s\"", "\"40 s\"");
        let mut before: Option<(bool, DateTime)> = None;
        for trays in 1..=7 {
            let tray =
                format!("[[tray]]\nsize = [\"200 mm\", \"150 mm\"]\ncount = {trays}\n[room]");
            let file = with(&file, "[room]", &tray);
            let plan = planned(&file);
            check(&file, &told(&file)).unwrap_or_else(|why| panic!("{why}\n{file}"));
            let (is_past, ready) = (past(&plan), calendar(&plan).ready);
            if let Some((was_past, was)) = before {
                assert!(was_past || !is_past, "{trays} trays\n{file}");
                assert!(
                    was_past || ready <= was,
                    "{trays} trays: {ready}, not {was}\n{file}"
                );
            }
            kept += u32::from(!is_past);
            before = Some((is_past, ready));
        }
    }
    assert!(kept > 30, "{kept}");
}
