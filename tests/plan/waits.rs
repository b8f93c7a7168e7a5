//! What a coat waits for, by the hour it is laid in and by what comes next.

use crate::common::plan::planned;
use brimful::plan::{Booked, Dates, NoDates, Plan, Warning};
use brimful::show::label::{Kind, labels};
use brimful::show::sheet::sheet;
use brimful::show::{json, text};
use scraper::Html;

/// A run of one sealed piece in a room that is cold at night: its family's film does not form
/// below 10 °C, nor does any water-based film below its minimum (ISO 2115 measures it).
fn cold_nights(pour: &str, hours: &str) -> Plan {
    planned(&cold(
        "start = 2027-03-15T08:00:00\nready_by = 2027-03-25T21:00:00",
        pour,
        hours,
    ))
}

/// The file of such a run, with its dates.
fn cold(dates: &str, pour: &str, hours: &str) -> String {
    format!(
        r#"
[run]
name = "test"
{dates}
sure = "80 %"
[[piece]]
name = "fob"
count = 40
blank = "disc"
steps = ["seal"]
[[blank]]
name = "disc"
outline = {{ round = "25 mm" }}
porous = false
[[coating]]
name = "sealer"
family = "water-based sealer"
label = {{ at = ["23 C", "50 %"], handle = "2 h", recoat = "2 h" }}
[[step]]
name = "seal"
coating = "sealer"
hands_on = "60 s"
set_up = "5 min"
clean_up = "5 min"
[room]
temperature = "18 C"
humidity = "50 %"
night = ["3 C", "80 %"]
{pour}
[hours]
weekdays = [{hours}]
weekend = [{hours}]
first_run = false
"#
    )
}

/// The words of a page, or of a text, without its breaks between lines.
fn flat(page: &str) -> String {
    let page = Html::parse_document(page);
    let words: Vec<&str> = page.root_element().text().collect();
    let words = words.join(" ").replace(['\u{2068}', '\u{2069}'], "");
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The text of a plan, its run sheet and its tray labels.
fn papers(plan: &Plan) -> [String; 3] {
    let label = labels(plan, Kind::Tray).unwrap().expect("trays");
    [text::plan(plan), sheet(plan, &[]).unwrap(), label].map(|page| flat(&page))
}

fn sittings(plan: &Plan) -> &[Booked] {
    match &plan.dates {
        Dates::Told(calendar) => &calendar.sittings,
        other => panic!("{other:?}"),
    }
}

#[test]
fn no_coat_is_laid_in_hours_from_which_it_is_never_there() {
    for pour in ["", r#"pour = "09:00""#] {
        let plan = cold_nights(pour, r#""09:00-09:45", "20:30-22:00""#);
        for booked in sittings(&plan) {
            let hour = booked.begins.hour();
            assert!((8..20).contains(&hour), "{pour}: laid {}", booked.begins);
            // a coat of 2 h, in a room 5 °C under its label's, is not kept until the evening
            let left = booked.next_from.duration_since(booked.ends).as_secs_f64() / 3600.0;
            assert!(left < 5.0, "{pour}: {left} h");
        }
    }
}

/// Who works to the papers of a run without a date has no calendar that shuns those hours.
#[test]
fn hours_in_which_a_coat_is_not_laid_stand_on_every_paper() {
    for dates in ["", "start = 2027-03-15T08:00:00"] {
        let hours = r#""09:00-09:45", "20:30-22:00""#;
        let plan = planned(&cold(dates, r#"pour = "09:00""#, hours));
        let barred = plan.not_laid_in("seal").expect("nights are cold");
        let [[from, to]] = barred.spells.as_slice() else {
            panic!("{barred:?}");
        };
        // through the night, and not at 09:00, at which the calendar lays it
        assert!(*from <= 20 && (1..=9).contains(to), "{barred:?}");
        let want = format!("not laid from {from:02}:00 to {to:02}:00, or it may never be ready");
        for paper in papers(&plan) {
            assert!(paper.contains(&want), "{dates}: {want}: {paper}");
        }
        let told: serde_json::Value = serde_json::from_str(&json::plan(&plan).unwrap()).unwrap();
        assert_eq!(told["steps"][0]["not_laid"], want);
        assert_eq!(
            told["steps"][0]["not_laid_h"],
            serde_json::json!([[from, to]])
        );
        // on the first screen, before any detail
        let first = papers(&plan)[0]
            .split("How full")
            .next()
            .unwrap()
            .to_owned();
        assert!(first.contains(&want), "{first}");
    }
    // nor is one told where work never comes to them
    let day = planned(&cold("", r#"pour = "09:00""#, r#""09:00-11:00""#));
    assert!(day.not_laid.is_empty(), "{:?}", day.not_laid);
    assert!(papers(&day).iter().all(|paper| !paper.contains("not laid")));
}

/// Work in the hours that are left, and not in the whole spell, is what a single piece is too long for.
#[test]
fn a_coat_that_takes_longer_than_the_hours_left_for_it_is_told_of_those() {
    let long = r#"clean_up = "5 min"
[room]"#;
    let file = cold("", r#"pour = "09:00""#, r#""08:00-22:00""#);
    let plan = planned(&file);
    let Some([[from, to]]) = plan
        .not_laid_in("seal")
        .map(|barred| barred.spells.as_slice())
    else {
        panic!("{:?}", plan.not_laid);
    };
    // from eight, or from when the barred hours end
    let left = f64::from(*from) - f64::from((*to).max(8));
    assert!(left > 1.0 && left < 14.0, "{:?}", plan.not_laid);
    let file = file.replace(long, "clean_up = \"13 h\"\n[room]");
    let plan = planned(&file);
    let Dates::Never(NoDates::TooLong { longest, .. }) = &plan.dates else {
        panic!("{:?}", plan.dates);
    };
    assert!(
        (longest.h() - left).abs() < 1e-9,
        "{longest:?} is not {left}"
    );
    let want = format!(
        "it is not laid from {from:02}:00 to {to:02}:00, so the longest spell of work that is left for it is {left} h"
    );
    let [text, sheet, _] = papers(&plan);
    assert!(text.contains(&want) && sheet.contains(&want), "{text}");
    // with no such hours it is the longest spell itself
    let warm = planned(&file.replace("\"3 C\"", "\"17 C\"").replace("13 h", "15 h"));
    let text = flat(&text::plan(&warm));
    assert!(
        text.contains("and the longest spell of work is 14 h"),
        "{text}"
    );
}

#[test]
fn with_no_other_hours_there_is_no_date() {
    let plan = cold_nights(r#"pour = "09:00""#, r#""20:30-22:00""#);
    assert_eq!(
        plan.dates,
        Dates::Never(NoDates::NeverDries {
            what: "seal".to_owned()
        })
    );
    let shown = flat(&text::plan(&plan));
    assert!(shown.contains("no date: laid in any of the hours of work, seal"));
    // what would help is tried from the maker's own start, up to the date alone, and with neither
    let evenings = r#""20:30-22:00""#;
    let ways = |dates: &str| {
        let plan = planned(&cold(dates, r#"pour = "09:00""#, evenings));
        assert!(matches!(plan.dates, Dates::Never(_)), "{:?}", plan.dates);
        let [text, sheet, _] = papers(&plan);
        let can = plan.still_can.into_iter();
        let all = can.filter(|can| can.pieces == 40 && can.changes.len() == 1);
        let all: Vec<_> = all.map(|can| (can.changes, can.ready.is_some())).collect();
        (all, text, sheet)
    };
    let by = "ready_by = 2027-03-25T21:00:00";
    let warmer = "heat the room to 20 °C";
    for (dates, dated) in [
        (format!("start = 2027-03-15T08:00:00\n{by}"), true),
        (by.to_owned(), true),
        ("start = 2027-03-15T08:00:00".to_owned(), true),
        (String::new(), false),
    ] {
        let (all, text, sheet) = ways(&dates);
        assert!(!all.is_empty(), "{dates}: {text}");
        assert!(
            all.iter().all(|(_, told)| *told == dated),
            "{dates}: {all:?}"
        );
        for page in [text, sheet] {
            let told = page.contains(&format!("40 pieces: {warmer}"));
            assert!(page.contains(warmer) && told != dated, "{dates}: {page}");
        }
    }
}

/// The run of [`sealed_file`].
fn sealed(work: &str, label: &str) -> Plan {
    planned(&sealed_file(work, label))
}

/// A seal, some work, and a dome; at the label's own air, so that the label's hours hold.
fn sealed_file(work: &str, label: &str) -> String {
    format!(
        r#"
[run]
name = "test"
start = 2027-03-01T08:00:00
[[piece]]
name = "fob"
count = 6
blank = "disc"
steps = ["seal", {work} "dome"]
[[blank]]
name = "disc"
outline = {{ round = "20 mm" }}
porous = false
[[coating]]
name = "sealer"
family = "water-based sealer"
label = {{ at = ["23 C", "50 %"], {label} }}
[[coating]]
name = "glaze"
family = "water-based dome glaze"
label = {{ at = ["23 C", "50 %"], handle = "12 h" }}
[[step]]
name = "seal"
coating = "sealer"
[[step]]
name = "sand"
[[step]]
name = "wipe"
[[step]]
name = "dome"
coating = "glaze"
[room]
temperature = "23 C"
humidity = "50 %"
[hours]
weekdays = ["08:00-22:00"]
weekend = ["08:00-22:00"]
"#
    )
}

/// From the end of the seal to the dome, in hours.
fn until_the_dome(plan: &Plan) -> f64 {
    let of = |what: &str| sittings(plan).iter().find(|sitting| sitting.what == what);
    let (seal, dome) = (of("seal").unwrap(), of("dome").unwrap());
    dome.begins.duration_since(seal.ends).as_secs_f64() / 3600.0
}

#[test]
fn work_between_two_coats_takes_no_time_off_the_first_ones_wait() {
    let label = r#"handle = "2 h", recoat = "30 h""#;
    for work in ["", r#""sand","#, r#""sand", "wipe","#] {
        let hours = until_the_dome(&sealed(work, label));
        assert!(hours >= 30.0, "{work}: {hours}");
    }
}

#[test]
fn a_coat_that_comes_later_than_the_last_one_takes_it_is_told() {
    let late = |label: &str| {
        let plan = sealed(r#""sand","#, label);
        let told = plan.warnings.iter().find_map(|warning| match warning {
            Warning::PastRecoat {
                step, until, gap, ..
            } => Some((step.clone(), until.h(), gap.h())),
            _ => None,
        });
        (until_the_dome(&plan), told, flat(&text::plan(&plan)))
    };
    let (hours, told, shown) = late(r#"handle = "20 h", recoat = "4 h", recoat_until = "12 h""#);
    let (step, until, gap) = told.expect("the window is past");
    // the label's own air: 12 h at the most, and never later than it says
    assert!(step == "seal" && until <= 12.0 && until > 8.0, "{until}");
    assert!(gap >= hours && gap < hours + 1.0, "{gap} against {hours}");
    assert!(shown.contains("sand it dull"), "{shown}");
    // it has to be dry to handle before the sanding, and that is past the window already
    let by_itself = "what is waited for in between takes that long by itself";
    assert!(
        shown.contains(by_itself) && !shown.contains("closer together"),
        "{shown}"
    );
    // ready in the night, and the next comes no sooner than on the next day
    let label = r#"handle = "2 h", recoat = "2 h", recoat_until = "9 h""#;
    let file = sealed_file("", label).replace("\"08:00-22:00\"", "\"20:30-22:00\"");
    let evening = planned(&file);
    let shown = flat(&text::plan(&evening));
    assert!(
        shown.contains("closer together") && !shown.contains(by_itself),
        "{shown}"
    );
    let (_, told, shown) = late(r#"handle = "2 h", recoat = "2 h", recoat_until = "12 h""#);
    assert!(
        told.is_none() && !shown.contains("sand it dull"),
        "{told:?}"
    );
}

/// Each face has its own coats: the dome of either lies on that face's seal, not on the other's.
#[test]
fn a_face_is_coated_over_its_own_last_coat() {
    let label = r#"handle = "2 h", recoat = "2 h", recoat_until = "11 h""#;
    let file = sealed_file("", label)
        .replace(
            "coating = \"sealer\"",
            "coating = \"sealer\"\ncoats = 1\nfaces = \"both\"",
        )
        .replace(
            "coating = \"glaze\"",
            "coating = \"glaze\"\nfaces = \"both\"",
        );
    let plan = planned(&file);
    let laid = |what: &str| -> Vec<&Booked> {
        let of = sittings(&plan)
            .iter()
            .filter(|sitting| sitting.what == what);
        of.collect()
    };
    let (seals, domes) = (laid("seal"), laid("dome"));
    let gaps: Vec<f64> = (seals.iter().zip(&domes))
        .map(|(seal, dome)| dome.begins.duration_since(seal.begins).as_secs_f64() / 3600.0)
        .collect();
    let (until, gap) = plan
        .warnings
        .iter()
        .find_map(|warning| match warning {
            Warning::PastRecoat { until, gap, .. } => Some((until.h(), gap.h())),
            _ => None,
        })
        .expect("the second dome waits for the first one, and its seal with it");
    // the first face's is in time, and the other's is not
    assert!(
        gaps.len() == 2 && gaps[0] < until && gaps[1] > until,
        "{gaps:?} {until}"
    );
    assert!((gap - gaps[1]).abs() < 0.5, "{gap} is not {}", gaps[1]);
}

/// Whatever minute of an hour a coat is laid at, it waits no shorter than it would take laid at that
/// minute, and is not laid where it would never be there.
#[test]
fn a_coat_laid_late_in_an_hour_waits_as_long_as_it_takes_then() {
    let mut laid = 0;
    for night in [r#""3 C", "80 %""#, r#""11 C", "85 %""#] {
        for hours in [
            r#""19:05-19:55""#,
            r#""16:05-16:57""#,
            r#""13:02-13:52""#,
            r#""08:02-08:54""#,
        ] {
            let file = |pour: &str| {
                let dates = "start = 2027-03-15T08:00:00";
                cold(dates, pour, hours).replace(r#""3 C", "80 %""#, night)
            };
            let plan = planned(&file(""));
            let Dates::Told(calendar) = &plan.dates else {
                let never = matches!(plan.dates, Dates::Never(NoDates::NeverDries { .. }));
                assert!(never, "{night} {hours}: {:?}", plan.dates);
                continue;
            };
            for booked in calendar.sittings.iter().filter(|it| it.what == "seal") {
                let clock = booked.ends.strftime("%H:%M");
                let then = planned(&file(&format!("pour = \"{clock}\"")));
                let timed = then.steps[0].drying.timed().expect("times");
                let handle = timed.handled().expect("a stage");
                let takes = handle.here.expect("it is there").likely;
                let waits = booked.next_from.duration_since(booked.ends).as_secs_f64() / 60.0;
                assert!(
                    waits >= takes.min() - 1e-6,
                    "{night} {clock}: {waits} {takes:?}"
                );
                laid += 1;
            }
        }
    }
    assert!(laid >= 5, "{laid}");
}

/// A coat on the face that lies up needs no hands on the piece, so that it waits for the label's next
/// coat alone, be it another step's; and so it comes within the label's latest.
#[test]
fn the_next_coat_on_the_same_face_waits_until_the_last_one_takes_it() {
    let label = r#"handle = "20 h", recoat = "4 h", recoat_until = "12 h""#;
    let past = |plan: &Plan| {
        let mut all = plan.warnings.iter();
        all.any(|warning| matches!(warning, Warning::PastRecoat { .. }))
    };
    let plan = sealed("", label);
    let hours = until_the_dome(&plan);
    assert!((4.0..12.0).contains(&hours) && !past(&plan), "{hours}");
    // nor does a second flood coat wait, written as a step of its own
    let again = sealed_file("", label)
        .replace(
            "steps = [\"seal\",  \"dome\"]",
            "steps = [\"dome\", \"again\"]",
        )
        .replace(
            "handle = \"12 h\"",
            "handle = \"24 h\", recoat = \"4 h\", recoat_until = \"13 h\"",
        )
        .replace(
            "[room]",
            "[[step]]\nname = \"again\"\ncoating = \"glaze\"\nfill = { share = \"90 %\" }\n[room]",
        );
    let plan = planned(&again);
    let [first, second] = sittings(&plan) else {
        panic!("{:?}", plan.dates);
    };
    let hours = second.begins.duration_since(first.ends).as_secs_f64() / 3600.0;
    assert!((4.0..12.0).contains(&hours) && !past(&plan), "{hours}");
    // where the piece is picked up, for work or to be turned over, it has to be dry to handle
    let hours = until_the_dome(&sealed(r#""sand","#, label));
    assert!(hours >= 20.0, "{hours}");
    let both = |of: &str| format!("coating = \"{of}\"\nfaces = \"both\"");
    let turned = sealed_file("", label)
        .replace(
            "coating = \"sealer\"\n[[step]]",
            &format!("{}\ncoats = 1\n[[step]]", both("sealer")),
        )
        .replace(
            "coating = \"glaze\"\n[room]",
            &format!("{}\n[room]", both("glaze")),
        );
    let plan = planned(&turned);
    let [.., back, front, _] = sittings(&plan) else {
        panic!("{:?}", plan.dates);
    };
    assert_eq!((back.what.as_str(), front.what.as_str()), ("seal", "dome"));
    let hours = front.begins.duration_since(back.ends).as_secs_f64() / 3600.0;
    assert!(hours >= 20.0, "{hours}");
}

/// A quick coat over a slow one leaves the piece soft below: it is lifted, worked on and ready no sooner
/// than the lower coat is dry to handle.
#[test]
fn a_quick_coat_does_not_hide_a_slow_one_below() {
    let file = sealed_file("", r#"handle = "40 h", recoat = "2 h""#);
    assert!(file.contains("handle = \"12 h\"") && file.contains(" \"dome\"]"));
    let file = file.replace("handle = \"12 h\"", "handle = \"1 h\"");
    for work in ["", ", \"sand\""] {
        let plan = planned(&file.replace(" \"dome\"]", &format!(" \"dome\"{work}]")));
        let all = sittings(&plan);
        let of = |what: &str| all.iter().rfind(|booked| booked.what == what);
        let (seal, dome) = (of("seal").unwrap(), of("dome").unwrap());
        let after = |at: jiff::civil::DateTime| at.duration_since(seal.ends).as_secs_f64() / 3600.0;
        assert!(after(dome.ends) < 30.0, "{all:?}");
        let lifted = after(dome.lifted.unwrap());
        assert!(lifted >= 40.0 && after(dome.next_from) >= 40.0, "{all:?}");
        let sanded = of("sand");
        assert_eq!(sanded.is_some(), !work.is_empty());
        assert!(
            sanded.is_none_or(|sand| after(sand.begins) >= 40.0),
            "{all:?}"
        );
    }
}
