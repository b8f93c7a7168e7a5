//! How long a coat is left alone is told alike on every paper: hands off until it is dry to handle, and
//! what else is waited for.

use crate::common::sheet::{Paper, printed};
use brimful::plan::{Further, Plan, StepPlan};
use brimful::quantity::{Show, Time, Units};
use brimful::show::label::{Kind, labels};
use brimful::show::{json, text, words};
use brimful::stage::Stage;
use scraper::Html;

/// Two coats of sealer that take the next long after they are dry to handle, and a dome that is dry
/// through days after that.
const RUN: &str = r#"
[run]
name = "Left alone"
DATE
[[piece]]
name = "drop"
count = 20
blank = "disc"
steps = ["seal", "dome", "back"]
[[blank]]
name = "disc"
outline = { round = "25 mm" }
thickness = "4 mm"
porous = true
[[coating]]
name = "sealer"
family = "water-based sealer"
label = { at = ["23 C", "50 %"], handle = "2 h", recoat = "30 h", recoat_until = "90 h" }
[[coating]]
name = "glaze"
family = "water-based dome glaze"
label = { at = ["23 C", "50 %"], handle = "6 h", recoat = "18 h", through = "100 h", bag = "120 h" }
[[step]]
name = "seal"
coating = "sealer"
coats = 2
[[step]]
name = "dome"
coating = "glaze"
[[step]]
name = "back"
hands_on = "60 s"
[room]
temperature = "20 C"
humidity = "50 %"
[[tray]]
name = "board"
size = ["200 mm", "200 mm"]
count = 2
gap = "10 mm"
[hours]
weekdays = ["19:00-21:00"]
weekend = ["10:00-12:00", "14:00-17:00"]
first_run = false
"#;

fn run(date: &str) -> String {
    assert!(RUN.contains("DATE\n"));
    RUN.replace("DATE\n", date)
}

/// What is read on a page.
fn read(page: &str) -> String {
    let page = scraper::Html::parse_document(page);
    let pieces: String = page.root_element().text().collect::<Vec<_>>().join(" ");
    let spaced = pieces.split_whitespace().collect::<Vec<_>>().join(" ");
    spaced.replace(" ;", ";").replace(" ,", ",")
}

fn tray_labels(plan: &Plan) -> String {
    let page = labels(plan, Kind::Tray).expect("fits").expect("some");
    read(&page)
}

fn step<'p>(plan: &'p Plan, name: &str) -> &'p StepPlan {
    plan.steps.iter().find(|step| step.name == name).unwrap()
}

/// A stage's time here, as the drying tells it.
fn here(step: &StepPlan, stage: Stage) -> Time {
    let outlook = step.drying.timed().unwrap();
    let told = outlook.stages.iter().find(|told| told.stage == stage);
    told.unwrap().here.unwrap().likely
}

fn after(further: Further) -> Time {
    match further {
        Further::After(band) => band.likely,
        other => panic!("{other:?}"),
    }
}

#[test]
fn hands_are_off_until_dry_to_handle_and_no_longer() {
    let (plan, page) = printed(&run(""), Paper::A4);
    let (seal, dome) = (step(&plan, "seal"), step(&plan, "dome"));
    let of = |step: &StepPlan| step.left_alone.unwrap();
    assert_eq!(of(seal).hands_off.likely, here(seal, Stage::Handle));
    assert_eq!(of(dome).hands_off.likely, here(dome, Stage::Handle));
    // the second coat and the dome wait; nothing is worked on after the sealer alone
    assert_eq!(after(of(seal).next_coat), here(seal, Stage::Recoat));
    assert_eq!(of(seal).through, Further::No);
    // nothing is laid on the dome; what follows waits for the later of its two
    assert_eq!(of(dome).next_coat, Further::No);
    assert_eq!(after(of(dome).through), here(dome, Stage::Bag));
    assert!(of(step(&plan, "seal")).next_coat != Further::No);
    assert!(step(&plan, "back").left_alone.is_none());

    let json: serde_json::Value = serde_json::from_str(&json::plan(&plan).unwrap()).unwrap();
    let (sheet, labels) = (read(&page), tray_labels(&plan));
    for (index, step) in plan.steps.iter().enumerate().take(2) {
        let left = step.left_alone.unwrap();
        let hands_off = words::span(&left.hands_off);
        assert_eq!(json["steps"][index]["hands_off"], hands_off);
        let mut told = vec![(hands_off.clone(), "hands off for ")];
        if let Further::After(band) = left.next_coat {
            // and until when, for nobody is warned of an hour that no calendar names
            let until = here(step, Stage::RecoatUntil);
            assert_eq!(left.next_until, Some(until));
            let span = format!(
                "{}, within {}",
                words::span(&band),
                until.show(Units::Metric)
            );
            assert_eq!(
                json["steps"][index]["next_coat"],
                format!("next coat after {span}")
            );
            told.push((span, "next coat after "));
        }
        if let Further::After(band) = left.through {
            assert_eq!(
                json["steps"][index]["dry_through"],
                format!(
                    "ready to bag, for further work, after {}",
                    words::span(&band)
                )
            );
            told.push((words::span(&band), "ready to bag, for further work, after "));
        }
        assert_eq!(told.len(), 2);
        for (at, (span, before)) in told.iter().enumerate() {
            assert!(labels.contains(&format!("{before}{span}")), "{labels}");
            let on_sheet = if at == 0 {
                span.clone()
            } else {
                format!("{before}{span}")
            };
            assert!(sheet.contains(&on_sheet), "{on_sheet}: {sheet}");
        }
    }
    // the sheet tells how long all of it takes, and its trays
    let undated = plan.dates.undated().unwrap();
    let takes = format!("It takes {} from the first step", words::lasts(undated));
    assert!(sheet.contains(&takes), "{sheet}");
    let work = format!("{} of work; ", words::work(undated.hands_on));
    assert!(sheet.contains(&work), "{sheet}");
    assert!(sheet.contains("in use at the busiest"), "{sheet}");
}

/// With dates each coat of one coating has one and the same span, and what goes on later says what it is.
#[test]
fn dated_labels_tell_one_span_for_one_coating_and_what_goes_on_when() {
    let (plan, page) = printed(&run("start = 2027-03-01T09:00:00\n"), Paper::A4);
    let labels = tray_labels(&plan);
    let sealed = words::span(&step(&plan, "seal").left_alone.unwrap().hands_off);
    let said = format!("({sealed} from the coat)");
    let calendar = plan.dates.calendar().unwrap();
    let coats = calendar.sittings.iter().filter(|one| one.what == "seal");
    let trays: usize = coats
        .map(|one| one.trays.iter().sum::<u32>() as usize)
        .sum();
    assert!(trays > 1);
    assert_eq!(labels.matches(&said).count(), trays, "{said}: {labels}");
    // between its coats the sealer waits for the next one, and the dome until it is ready to bag
    let page = Html::parse_document(&page);
    let page: String = page.root_element().text().collect();
    let told = text::plan(&plan);
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    // the first screen tells of the longer of the two waits as well
    let first = told.split(" How full ").next().unwrap();
    let next = words::next_coat(&step(&plan, "seal").left_alone.unwrap()).unwrap();
    assert!(
        next.starts_with("next coat after ") && next.contains("within"),
        "{next}"
    );
    assert!(first.contains(&format!("; {next}")), "{next}: {first}");
    for (what, coat, stage) in [
        ("seal", 1, Stage::Recoat),
        ("seal", 2, Stage::Recoat),
        ("dome", 1, Stage::Bag),
    ] {
        let found = calendar.sittings.iter().find(|one| {
            one.what == what
                && matches!(one.task, brimful::plan::Task::Step { coat: own, .. } if own == coat)
        });
        let sitting = found.unwrap();
        assert_eq!(sitting.waits_for, Some(stage), "{what} {coat}");
        assert!(sitting.leave_until() < sitting.next_from);
        let says = match stage {
            Stage::Bag => "ready to bag",
            _ => "next coat from",
        };
        let at = sitting.next_from.strftime("%a %-d %b %H:%M").to_string();
        let says = format!("; {says} {at}");
        assert!(labels.contains(&says), "{says}: {labels}");
        assert!(told.contains(&says), "{says}: {told}");
        assert!(page.contains(&says), "{says}");
    }
}

/// A tray's label never names more pieces than lie on that tray.
#[test]
fn a_tray_label_names_its_own_pieces_or_says_some_of_them() {
    let many = [
        ("count = 20\nblank", "count = 60\nblank"),
        ("count = 2\ngap", "count = 8\ngap"),
        ("[\"19:00-21:00\"]", "[\"08:00-20:00\"]"),
    ];
    let many = (many.iter()).fold(run("start = 2027-03-01T09:00:00\n"), |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replace(from, to)
    });
    let (plan, _) = printed(&many, Paper::A4);
    let labels = tray_labels(&plan);
    let holds = u64::from(plan.space.per_tray(0).unwrap());
    let started = plan.pieces[0].start;
    let own: Vec<u64> = labels
        .split(" × drop")
        .filter_map(|before| before.rsplit(' ').next()?.parse().ok())
        .collect();
    assert!(
        own.len() > 1 && own.iter().all(|&own| own > 0 && own <= holds),
        "{labels}"
    );
    assert_eq!(own.iter().sum::<u64>(), started, "{labels}");
    // of two kinds on shared trays nobody knows which lie where
    let two = many.replace(
        "[[blank]]",
        "[[piece]]\nname = \"lid\"\ncount = 60\nblank = \"disc\"\nsteps = [\"seal\", \"dome\", \"back\"]\n[[blank]]",
    );
    let (plan, _) = printed(&two, Paper::A4);
    let labels = tray_labels(&plan);
    let calendar = plan.dates.calendar().unwrap();
    let shared = calendar.sittings.iter().find(|one| one.pieces.len() == 2);
    let pieces = &shared.expect("a wave of both").pieces;
    assert!(shared.unwrap().trays.iter().sum::<u32>() > 1);
    let all: Vec<String> = pieces
        .iter()
        .map(|(name, count)| format!("{count} × {name}"))
        .collect();
    let all = format!("some of {}", all.join(" and "));
    assert!(labels.contains(&all), "{all}: {labels}");
}

/// Cold resin turns glassy before it has cured: it has no time, and its own label's is not given for it.
#[test]
fn a_coat_that_never_gets_there_is_not_promised_by_its_own_label() {
    let cold = run("")
        .replace("water-based dome glaze", "two-part dome epoxy")
        .replace("\"20 C\"", "\"5 C\"");
    let (plan, page) = printed(&cold, Paper::A4);
    let dome = step(&plan, "dome");
    assert!(dome.drying.timed().is_some() && dome.left_alone.is_none());
    let labels = tray_labels(&plan);
    assert!(
        labels.contains("dome: done __________, it is never dry to handle in this room"),
        "{labels}"
    );
    let page = read(&page);
    assert!(
        page.contains("it is never dry to handle in this room"),
        "{page}"
    );
    assert!(!page.contains("no time can be told"), "{page}");
    assert!(
        page.contains("As it stands there is no date: how long"),
        "{page}"
    );
}
