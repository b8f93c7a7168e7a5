//! What is told in several places is told alike, by its own name, and in plain words.

use crate::common::sheet::{DEMO, WINTER, all, demo, select, words};
use brimful::plan::{Dates, Pictured, Plan, pictured, plan};
use brimful::run::Run;
use brimful::show::label::{Kind, labels, pick_list};
use brimful::show::pictures::{self, Named};
use brimful::show::{sheet::sheet, text};
use scraper::Html;

fn made(text: &str) -> (Plan, Pictured) {
    let run = Run::read(text, "run.toml").unwrap_or_else(|faults| panic!("{faults}"));
    let plan = plan(&run).unwrap_or_else(|why| panic!("{why}"));
    let shown = pictured(&run, &plan).unwrap();
    (plan, shown)
}

/// A text without its breaks between lines.
fn flowing(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn told(plan: &Plan) -> String {
    flowing(&text::plan(plan))
}

/// The words of a picture: those drawn, its title and its description, with bars between.
fn drawn(named: &Named) -> String {
    let svg = roxmltree::Document::parse(&named.picture.svg).unwrap();
    let words: Vec<&str> = svg.descendants().filter_map(|node| node.text()).collect();
    flowing(&words.join(" | ").replace(['\u{2068}', '\u{2069}'], ""))
}

/// "20 to 36 h" on the sheet is not "20 h to 36 h" or "20 to 40 h" in the text.
#[test]
fn a_wait_reads_alike_on_the_sheet_and_in_the_text() {
    let mut waits = 0;
    for (name, plan, source) in all() {
        let text = told(plan);
        let page = Html::parse_document(source);
        for cell in select(&page, ".work td.leave [data-from]") {
            if cell.value().name() == "time" {
                continue;
            }
            let wait = words(cell);
            assert!(text.contains(&wait), "{name}: {wait} is not in the text");
            waits += 1;
        }
    }
    assert!(waits >= 6, "{waits}");
}

#[test]
fn a_picture_of_a_boxs_air_names_the_box() {
    let lid = "name = \"baking tray\"\nlid = { height = \"40 mm\", air_changes = 2 }";
    let lidded = demo(&[("name = \"baking tray\"", lid)]);
    for (text, name) in [
        (WINTER.to_owned(), "in the cupboard of 120 L"),
        (lidded, "under the lid of the baking tray"),
    ] {
        let (plan, shown) = made(&text);
        let mut named = 0;
        for picture in pictures::all(&plan, &shown).unwrap() {
            let of_air = ["-room", "-day", "-cupboard"].iter();
            if of_air.clone().any(|end| picture.name.ends_with(end)) {
                let words = drawn(&picture);
                assert!(words.contains(name), "{}: {words}", picture.name);
                named += 1;
            }
        }
        assert!(named >= 3, "{named}");
    }
    // in the open there is no box to name
    let (plan, shown) = made(DEMO);
    for picture in pictures::all(&plan, &shown).unwrap() {
        let words = drawn(&picture);
        assert!(
            !words.contains("cupboard") && !words.contains("the lid"),
            "{}",
            picture.name
        );
    }
}

/// Beside "open a window" nothing says that the room is to be shut.
#[test]
fn a_tray_is_not_shut_off_where_the_room_is_to_be_aired() {
    let page = |text: &str| {
        let (plan, _) = made(text);
        let page = labels(&plan, Kind::Tray).unwrap().expect("trays");
        flowing(
            &Html::parse_document(&page)
                .root_element()
                .text()
                .collect::<Vec<_>>()
                .join(" "),
        )
    };
    let still = page(DEMO);
    assert!(
        still.contains("open a window") && still.contains("room is aired"),
        "{still}"
    );
    assert!(!still.contains("shut"), "{still}");
    let fan = page(&demo(&[("air = \"still\"", "air = \"fan\"")]));
    assert!(
        !fan.contains("draught") && fan.contains("moving air"),
        "{fan}"
    );
}

/// The demo, moved to the turn of a year.
fn at_new_year() -> String {
    demo(&[(
        "ready_by = 2027-04-17T08:00:00",
        "ready_by = 2028-01-05T08:00:00",
    )])
}

/// Every "Thu 8 Apr" in some words, with what follows it.
fn dates(words: &str) -> Vec<String> {
    let months = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec";
    let words: Vec<&str> = words.split_whitespace().collect();
    let found = words.windows(3).filter(|three| {
        let day = three[0].trim_matches(|c: char| !c.is_ascii_digit());
        !day.is_empty()
            && day.len() <= 2
            && months
                .split(' ')
                .any(|month| three[1].trim_matches(',') == month)
    });
    found.map(|three| three.join(" ")).collect()
}

#[test]
fn dates_in_two_years_say_which() {
    let (plan, shown) = made(&at_new_year());
    let windows = pictures::windows(&plan, &shown).unwrap();
    let page = |source: &str| {
        flowing(
            &Html::parse_document(source)
                .root_element()
                .text()
                .collect::<Vec<_>>()
                .join(" "),
        )
    };
    let told = [
        ("text", told(&plan)),
        ("start", flowing(&text::start(&plan))),
        ("sheet", page(&sheet(&plan, &windows).unwrap())),
        ("labels", page(&labels(&plan, Kind::Tray).unwrap().unwrap())),
        ("list", page(&pick_list(&plan))),
    ];
    let mut seen = 0;
    for (what, words) in told {
        for date in dates(&words) {
            let year = date
                .split(' ')
                .next_back()
                .unwrap()
                .trim_matches(|c: char| !c.is_ascii_digit());
            assert!(["2027", "2028"].contains(&year), "{what}: {date}");
            seen += 1;
        }
    }
    assert!(seen > 60, "{seen}");
    let all = pictures::all(&plan, &shown).unwrap();
    let calendar = all.iter().find(|named| named.name == "calendar").unwrap();
    let words = drawn(calendar);
    assert!(words.contains("2027") && words.contains("2028"), "{words}");
    // in one year the dates stay short
    let (plan, _) = made(DEMO);
    assert!(text::plan(&plan).matches("2027").count() <= 2);
}

/// The next page may begin with any row.
#[test]
fn each_row_of_work_says_its_day() {
    let mut rows = 0;
    for (name, plan, source) in all() {
        let page = Html::parse_document(source);
        if !matches!(plan.dates, Dates::Told(_)) {
            continue;
        }
        for cell in select(&page, ".work tbody td.day") {
            assert!(
                words(cell).split(' ').count() >= 3,
                "{name}: {}",
                words(cell)
            );
            rows += 1;
        }
    }
    assert!(rows > 150, "{rows}");
}

/// What limits a run of one piece or two is said in words that make sense of so few.
#[test]
fn the_limit_of_a_few_pieces_reads_plainly() {
    let few = [
        ("count = 60", "count = 2"),
        ("count = 40", "count = 1"),
        (", count = 10 }", ", count = 1 }"),
    ];
    let limit = |text: &str| {
        let (plan, _) = made(text);
        let told = told(&plan);
        let (_, limit) = told.split_once(" Limit ").expect("a limit");
        let (limit, _) = limit.split_once(" Money ").expect("what follows");
        limit.to_owned()
    };
    let dry = limit(&demo(&few));
    let (what, takes) = dry.split_once(" takes ").expect("how long");
    assert!(what.starts_with("drying and second look: "), "{dry}");
    assert!(
        takes.ends_with(" days in your hours, whatever the trays"),
        "{dry}"
    );
    assert!(!takes.contains('.'), "whole days: {dry}");
    let begun = (
        "ready_by = 2027-04-17T08:00:00",
        "start = 2027-04-01T18:00:00",
    );
    // forty minutes for each step of a piece, in an hour of an evening
    let slow =
        ["90 s", "20 s", "50 s", "30 s", "60 s"].map(|each| format!("hands_on = \"{each}\""));
    let slow: Vec<(&str, &str)> = (slow.iter())
        .map(|each| (each.as_str(), "hands_on = \"40 min\""))
        .collect();
    let text = demo(&[few.as_slice(), &slow, &[begun]].concat());
    let (before, after) = text.split_once("[hours]").expect("hours");
    let (_, after) = after.split_once("\n[").expect("what follows");
    let hands = limit(&format!(
        "{before}[hours]\nweekdays = [\"18:30-19:30\"]\nweekend = [\"09:00-10:30\"]\n\n[{after}"
    ));
    assert!(
        hands.starts_with("your hours of work: they are enough for a piece in "),
        "{hands}"
    );
    assert!(hands.contains(" working days; "), "{hands}");
    // one tray that holds one piece
    let small = [
        (
            "size = [\"300 mm\", \"400 mm\"]\ncount = 6",
            "size = [\"70 mm\", \"70 mm\"]\ncount = 1",
        ),
        begun,
    ];
    let tray = limit(&demo(&[few.as_slice(), &small].concat()));
    assert!(
        tray.starts_with("the trays: the only baking tray, taken for "),
        "{tray}"
    );
    assert!(tray.contains(" let through a piece in "), "{tray}");
}

/// The demo sells its seconds at 60 % of the price: 4.50 of it is 2.70, 6.50 is 3.90.
#[test]
fn seconds_and_the_hours_of_work_are_told_for_what_they_are() {
    let (plan, _) = made(DEMO);
    let text = told(&plan);
    assert!(
        text.contains("sold at 2.70") && text.contains("sold at 3.90"),
        "{text}"
    );
    assert!(
        text.contains("of work, on the pieces for shops too, in "),
        "{text}"
    );
    assert!(
        text.contains("those for the shops' pieces left out; "),
        "{text}"
    );
    let (plan, _) = made(&demo(&[("wholesale = { price = 3.60, count = 10 }\n", "")]));
    let text = told(&plan);
    assert!(!text.contains("shop"), "{text}");
    assert!(text.contains(" h of work and selling; "), "{text}");
    let (plan, _) = made(&demo(&[("\nseconds = \"60 %\"", "")]));
    let text = told(&plan);
    assert!(text.contains("2 seconds not sold"), "{text}");
}

/// A square's corners are where its dome stands least steep, so that a cut through its middle shows the
/// most; a star's cut does not.
#[test]
fn the_angle_at_the_cut_is_told_apart_from_the_steepest() {
    let star = "outline = { points = [[0, 20], [5, 7], [19, 6], [8, -3], [12, -16], [0, -8], [-12, -16], [-8, -3], [-19, 6], [-5, 7]], unit = \"mm\", corner = \"1.5 mm\" }";
    for (outline, apart) in [("outline = { round = \"38 mm\" }", false), (star, true)] {
        let (plan, shown) = made(&demo(&[("outline = { round = \"38 mm\" }", outline)]));
        let all = pictures::all(&plan, &shown).unwrap();
        let cut = all
            .iter()
            .find(|named| named.name == "tide-magnet-section")
            .unwrap();
        let words = drawn(cut);
        assert!(
            words.contains("degrees at the right edge of this cut"),
            "{words}"
        );
        assert_eq!(
            words.contains("stands steeper than at this cut"),
            apart,
            "{words}"
        );
        let text = told(&plan);
        assert!(
            text.contains("edge angle 35° where it is steepest"),
            "{text}"
        );
        assert!(text.contains("surface of the dome "), "{text}");
    }
}

/// What a maker pours on a first coat that stays below a bezel's rim is not the whole fill.
#[test]
fn a_second_coat_in_a_bezel_is_drawn_by_what_it_adds() {
    let (plan, shown) = made(
        r#"
[run]
name = "Bezels"
[[piece]]
name = "bezel"
count = 4
blank = "cup"
steps = ["one", "two"]
[[blank]]
name = "cup"
outline = { round = "25 mm" }
wall = "2 mm"
porous = false
[[coating]]
name = "glaze"
family = "water-based dome glaze"
solids = "50 %"
[[step]]
name = "one"
coating = "glaze"
fill = { volume = "0.5 mL" }
[[step]]
name = "two"
coating = "glaze"
[room]
temperature = "20 C"
humidity = "50 %"
"#,
    );
    let [one, two] = plan.pieces[0].fills.as_slice() else {
        panic!("two coats")
    };
    let all = pictures::all(&plan, &shown).unwrap();
    let cut = all.iter().find(|named| named.name == "bezel-section");
    let words = drawn(cut.unwrap());
    let figure = |before: &str, after: &str| -> f64 {
        let from = words
            .find(before)
            .unwrap_or_else(|| panic!("{before}: {words}"));
        let told = &words[from + before.len()..];
        told[..told.find(after).unwrap()].trim().parse().unwrap()
    };
    // two digits are told
    let near = |got: f64, want: f64| assert!((got - want).abs() < 0.05 * want, "{got} {want}");
    // half of the first coat's water is gone
    near(two.under.ml(), 0.5 * one.poured.ml());
    near(figure("bezel: ", " mL on "), two.poured.ml());
    near(
        figure(" mL on ", " mL of dry coat fills the "),
        two.under.ml(),
    );
    let most = two.pour_up_to(two.window.brim.volume).unwrap();
    near(figure("It runs over the edge past ", " mL"), most.ml());
    // and dries over that one, to what the plan says
    let section = shown.sections.iter().find(|one| one.piece == "bezel");
    let dry = section.unwrap().dry.as_ref().unwrap().iter();
    let high = dry.map(|(_, up)| up.mm()).fold(0.0, f64::max);
    near(high, two.dry_peak.mm());
}

/// Slips of the pen: a word twice, a mix of one, a coating that is called as its step is.
#[test]
fn small_words_are_right() {
    let own_name = demo(&[("\"dome glaze\"", "\"dome\"")]);
    let us = own_name.replace("\"metric\"", "\"us\"");
    for text in [&own_name, &us, WINTER] {
        let (plan, shown) = made(text);
        let mut all_words = vec![told(&plan)];
        all_words.extend(pictures::all(&plan, &shown).unwrap().iter().map(drawn));
        for words in all_words {
            let split: Vec<&str> = words.split(' ').collect();
            for pair in split.windows(2) {
                let [one, other] = [pair[0], pair[1]].map(|word| word.trim_end_matches(','));
                let word = one.chars().all(char::is_alphabetic) && one.len() > 1;
                // "ink, ink," says it twice; "print glue, print sealer" lists two names
                let word = word && (!pair[0].ends_with(',') || pair[1].ends_with(','));
                assert!(one != other || !word, "{}", pair.join(" "));
            }
            if plan.pieces.len() == 1 {
                assert!(!words.contains("the mix"), "{words}");
            }
        }
    }
}
