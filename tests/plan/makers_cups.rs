//! What goes into each cup of a mixed coating, as makers try it: on bare wood, with unlike pieces, and weighed by
//! whoever has only the sheet at hand. All of the runs are invented.

use super::makers_mixes::{FOBS, all_add_up, assumed, cupfuls, mixes, resin};
use crate::common::calendar::said::{flowing, with};
use crate::common::calendar::{count, list, number, told};
use crate::common::cup::Beaker;
use crate::common::plan::{close, planned};
use brimful::plan::pictured;
use brimful::run::Run;
use brimful::show::label::{Kind, labels, pick_list};
use brimful::show::pictures::windows;
use brimful::show::sheet::sheet;
use serde_json::Value;

/// The discs of bare wood, which takes so much of the first film more, and the step's other lines.
pub fn on_wood(soak: &str, hands_on: &str, more: &str) -> String {
    let wood = with(FOBS, "porous = false", "porous = true");
    let scatter = "scatter = \"0 %\"";
    let wood = with(&wood, scatter, &format!("{scatter}\nsoak = \"{soak}\""));
    let hands = format!("hands_on = \"{hands_on}\"\n{more}");
    with(&wood, "hands_on = \"60 s\"", &hands)
}

/// The first coat of two sinks into bare wood: half of its film more, as the file says.
#[test]
fn the_first_coat_on_bare_wood_is_mixed_larger() {
    let wood = on_wood("50 %", "20 s", "wet_film = \"0.2 mm\"\ncoats = 2");
    let plan = told(&wood);
    all_add_up(&plan);
    // 60 discs of 38 mm under 0.2 mm
    let film = 60.0 * std::f64::consts::PI * 19.0 * 19.0 * 0.2e-3;
    for (coat, films) in [(1, 1.5), (2, 1.0)] {
        let cups = cupfuls(&plan).into_iter();
        let own = cups.filter(|(.., sitting)| sitting["coat"] == coat);
        let laid: f64 = own.map(|(mixes, each, ..)| mixes * (each - 3.0)).sum();
        close(laid, films * film, 1e-9);
    }
}

/// 161 discs of 38 mm under 0.4 mm are 73 mL, and 88 mL on the average of three coats of which the first sinks in by
/// 60 %: that would be one mix of a little under the label's 100 g. But the first takes 117 mL.
#[test]
fn no_mix_is_greater_than_the_labels_for_the_coat_that_sinks_in() {
    let wood = on_wood("60 %", "1 s", "wet_film = \"0.4 mm\"\ncoats = 3");
    let wood = with(&wood, "count = 60", "count = 161");
    let plan = told(&wood);
    all_add_up(&plan);
    let sittings = list(&plan["calendar"]["sittings"]).iter();
    let masses: Vec<f64> = sittings
        .flat_map(|sitting| list(&sitting["cupfuls"]))
        .map(|of| number(&of["holds"]["a_g"]) + number(&of["holds"]["b_g"]))
        .collect();
    let most = masses.iter().copied().fold(0.0, f64::max);
    assert!(most > 60.0 && most <= 100.0, "{masses:?}");
}

/// What stands in the run sheet, without its tags.
fn on_paper(file: &str) -> String {
    let (run, planned) = (Run::read(file, "fobs.toml").unwrap(), planned(file));
    let windows = windows(&planned, &pictured(&run, &planned).unwrap()).unwrap();
    let page = sheet(&planned, &windows).unwrap();
    let page = scraper::Html::parse_document(&page);
    page.root_element().text().collect::<Vec<_>>().join("")
}

/// 40 of the fobs, and so many samples of 220 mm, each of which takes near all that a mix may be.
fn with_samples(count: u32) -> String {
    let more = format!(
        "[[piece]]
name = \"sample\"
count = {count}
blank = \"large disc\"
steps = [\"dome\"]
[[blank]]
name = \"large disc\"
outline = {{ round = \"220 mm\" }}
porous = false
bad = \"0 %\"
[[coating]]"
    );
    let fobs = with(FOBS, "count = 60", "count = 40");
    // a figure that two decimals don't halve
    let fobs = with(&fobs, "tool = \"3 mL\"", "tool = \"3.2 mL\"");
    with(&fobs, "[[coating]]", &more)
}

fn limit(plan: &Value, piece: &str) -> u64 {
    let serves = list(&resin(plan)["mix"]["cups"]["serves"]).iter();
    let mut own = serves.filter(|of| of["piece"] == piece);
    count(&own.next().unwrap()["in_a_mix"])
}

/// A mix is held to what the pieces in it take, and to no other's: a sample as large as a mix does for leaves the fobs
/// as they were.
#[test]
fn a_large_sample_makes_no_small_mixes_for_the_others() {
    let file = with_samples(1);
    let plan = told(&file);
    all_add_up(&plan);
    let alone = told(&with(FOBS, "count = 60", "count = 40"));
    assert_eq!(mixes(&plan), mixes(&alone) + 1, "{}", plan["calendar"]);
    assert!(limit(&plan, "sample") <= 1 && limit(&plan, "fob") > 10);
    for (_, _, pieces, _) in cupfuls(&plan) {
        let all: u64 = pieces.iter().map(|of| count(&of["count"])).sum();
        for of in pieces {
            assert!(all <= limit(&plan, of["piece"].as_str().unwrap()).max(1));
        }
    }
    // nor is it otherwise where no date is told
    let undated = told(&with(&file, "[run]\nready_by = 2027-06-26T20:00:00\n", ""));
    let sittings = |plan: &Value| count(&resin(plan)["sittings"]);
    assert!(sittings(&undated) <= sittings(&plan), "{}", resin(&undated));
}

/// Whoever has the sheet alone can weigh a mix for any of the pieces: it is so much for each and so much for the cup, by
/// which the plan's own mixes come out too.
#[test]
fn the_sheet_tells_what_to_weigh_for_any_pieces() {
    let file = with_samples(3);
    let plan = told(&file);
    let cups = &resin(&plan)["mix"]["cups"];
    let page = on_paper(&file);
    let weighed = |split: &Value| {
        let of = |part: &str| number(&split[part]);
        format!(
            "A {:.2} g + B {:.2} g (A {:.2} mL + B {:.2} mL)",
            of("a_g"),
            of("b_g"),
            of("a_ml"),
            of("b_ml")
        )
    };
    let keeps = format!(
        "By the piece: in each mix {} for its cup",
        weighed(&cups["keeps"])
    );
    assert!(page.contains(&keeps), "{keeps} in {page}");
    for serves in list(&cups["serves"]) {
        let each = format!(
            "dome, {}: {}, no mix with any of it for more than {} piece",
            serves["piece"].as_str().unwrap(),
            weighed(&serves["each"]),
            serves["in_a_mix"]
        );
        assert!(page.contains(&each), "{each} in {page}");
    }
    for part in ["a_g", "b_g", "a_ml", "b_ml"] {
        for sitting in list(&plan["calendar"]["sittings"]) {
            for cupful in list(&sitting["cupfuls"]) {
                let takes: f64 = (list(&cupful["pieces"]).iter())
                    .map(|of| {
                        let mut serves = list(&cups["serves"]).iter();
                        let own = serves.find(|it| it["piece"] == of["piece"]).unwrap();
                        number(&of["count"]) * number(&own["each"][part])
                    })
                    .sum();
                close(
                    number(&cupful["holds"][part]),
                    takes + number(&cups["keeps"][part]),
                    1e-9,
                );
            }
        }
    }
}

/// Where the page has room a row tells each of its mixes and the pieces that it is for.
#[test]
fn a_row_tells_all_its_recipes_where_there_is_room() {
    // 43 fobs are three mixes of two kinds, and the sample has its own
    let file = with(&with_samples(1), "count = 40", "count = 43");
    let plan = told(&file);
    let [row] = list(&plan["calendar"]["work"]) else {
        panic!("{}", plan["calendar"]["work"]);
    };
    let page = on_paper(&file);
    let cupfuls = list(&row["cupfuls"]);
    assert_eq!(cupfuls.len(), 3, "{row}");
    for of in cupfuls {
        let [piece] = list(&of["pieces"]) else {
            panic!("{of}");
        };
        let recipe = format!(
            "{} of A {:.1} g + B {:.1} g for {} {}",
            of["mixes"],
            number(&of["holds"]["a_g"]),
            number(&of["holds"]["b_g"]),
            piece["count"],
            piece["piece"].as_str().unwrap()
        );
        assert!(page.contains(&recipe), "{recipe} in {page}");
    }
}

/// The coat that sinks in takes half of its film more, so what a piece takes is told for it and for the other.
#[test]
fn the_sheet_tells_what_a_further_coat_takes() {
    let wood = on_wood("50 %", "20 s", "wet_film = \"0.2 mm\"\ncoats = 2");
    let plan = told(&wood);
    let serves = &resin(&plan)["mix"]["cups"]["serves"][0];
    for part in ["a_g", "b_g", "a_ml", "b_ml"] {
        let (first, further) = (
            number(&serves["each"][part]),
            number(&serves["further"][part]),
        );
        close(first, 1.5 * further, 1e-9);
    }
    let page = on_paper(&wood);
    assert!(
        page.contains(" the first coat of a face, ") && page.contains(" each further"),
        "{page}"
    );
    assert!(flowing(&wood).contains(" for each further"));
    // and of one coat nothing of the kind
    let once = told(FOBS);
    assert!(resin(&once)["mix"]["cups"]["serves"][0]["further"].is_null());
}

/// Without a date nobody knows which pieces a mix is for, so no recipe is told that would be for none; and how long the
/// heaviest may be worked with is that of the heaviest that one may be.
#[test]
fn undated_mixes_of_several_kinds_are_told_by_the_piece() {
    let file = with(
        &with_samples(1),
        "[run]\nready_by = 2027-06-26T20:00:00\n",
        "",
    );
    let page = on_paper(&file);
    assert!(page.contains(" mixes, each for its own pieces. "), "{page}");
    assert!(!page.contains("each of about"), "{page}");
    assert!(flowing(&file).contains("each for its own pieces, on average of"));
    let plan = told(&file);
    let cups = &resin(&plan)["mix"]["cups"];
    let masses = list(&cups["serves"])
        .iter()
        .map(|of| number(&of["worst"]["mix_g"]));
    let most = masses.fold(0.0, f64::max);
    close(number(&cups["planned"]["mass_g"]), most, 1e-9);
}

/// One piece that takes more than the mass that the label speaks of is mixed for all the same, and that is said.
#[test]
fn one_piece_for_more_than_the_labels_mass_is_told() {
    let file = with(&with_samples(1), "220 mm", "380 mm");
    let plan = told(&file);
    let mut serves = list(&resin(&plan)["mix"]["cups"]["serves"]).iter();
    let sample = serves.find(|of| of["piece"] == "sample").unwrap();
    assert!(number(&sample["worst"]["mix_g"]) > 100.0, "{sample}");
    let said = "that one is more than the 100 g that the label speaks of";
    assert!(on_paper(&file).contains(said));
    assert!(flowing(&file).contains("of which its label says nothing: that is for less"));
    assert!(!on_paper(&with_samples(1)).contains("that the label speaks of"));
}

/// How long the fullest of the planned cups may be worked with stands beside it, and not only how long all of it would
/// last in one.
#[test]
fn the_heaviest_mix_tells_how_long_it_lasts() {
    let file = with_samples(1);
    let plan = told(&file);
    let planned = &resin(&plan)["mix"]["cups"]["planned"];
    let sittings = list(&plan["calendar"]["sittings"]).iter();
    let masses = sittings
        .flat_map(|sitting| list(&sitting["cupfuls"]))
        .map(|of| number(&of["holds"]["a_g"]) + number(&of["holds"]["b_g"]));
    let most = masses.fold(0.0, f64::max);
    close(number(&planned["mass_g"]), most, 1e-9);
    let minutes = number(&planned["work"]["worst_min"]).floor();
    // the label's 31 min are for 100 g, and 0.6 of a gel time is worked with
    assert!(minutes < 31.0, "{planned}");
    let words = flowing(&file);
    let said = format!(
        "the heaviest, is to be worked with for {minutes} min at most from when its parts meet, 3 min of stirring among them"
    );
    assert!(words.contains(&said), "{said} in {words}");
    let page = on_paper(&file);
    let said = format!(", in {minutes} min, stirring and all.");
    assert!(page.contains(&said), "{said} in {page}");
}

/// What a mix may be worked with begins when its parts meet, so its pieces have no more of it than stirring leaves them.
/// How long a mix lasts is the solver's of `cup_common`: 0.6 of the time to gel, or until it is 10 K warmer than the room.
#[test]
fn a_mix_lasts_for_its_stirring_and_all_its_pieces() {
    let file = |stirring: &str| {
        let label = format!("pot_life = \"31.191 min\"\nstirring = \"{stirring}\"");
        with(FOBS, "pot_life = \"31.191 min\"", &label)
    };
    let resin_in_cup = Beaker::labelled(1045.0, 100.0, 31.191);
    for stirring in [0.0, 4.0, 12.0] {
        let plan = told(&file(&format!("{stirring} min")));
        let serves = &resin(&plan)["mix"]["cups"]["serves"][0]["worst"];
        let (gels, warm) = resin_in_cup.minutes(number(&serves["mix_g"]), 23.0);
        let lasts = warm.min(0.6 * gels);
        // a fob takes 60 s, and one more makes the mix larger too
        let wanted = stirring + number(&serves["coats"]);
        assert!(wanted <= lasts * 1.0001, "{stirring}: {serves}, {lasts}");
        assert!(wanted + 1.0 > lasts * 0.97, "{stirring}: {serves}, {lasts}");
    }
    // who tells no time for it has it counted all the same, and is told
    let plan = told(FOBS);
    close(
        number(&resin(&plan)["mix"]["cups"]["stirring_min"]),
        3.0,
        1e-9,
    );
    assert_eq!(assumed(&plan, "resin: stirring"), Some("3 min"));
    assert_eq!(assumed(&told(&file("3 min")), "resin: stirring"), None);
}

/// Stirring is part of what is done before each mix's pieces, which then takes as long as that at the least.
#[test]
fn a_set_up_is_no_shorter_than_its_stirring() {
    let file = |set_up: &str| {
        let step = format!("hands_on = \"60 s\"\nset_up = \"{set_up}\"");
        with(FOBS, "hands_on = \"60 s\"", &step)
    };
    let [short, just] = ["1 min", "3 min"].map(|set_up| told(&file(set_up)));
    assert_eq!(short["calendar"], just["calendar"]);
    assert_eq!(assumed(&short, "dome: set_up"), Some("3 min"));
    assert_eq!(assumed(&just, "dome: set_up"), None);
}

/// A bottle of two parts is counted by what both hold, and says so wherever it is to be bought.
#[test]
fn a_kit_is_told_to_be_both_parts_together() {
    assert!(flowing(FOBS).contains("1 bottle of resin (200 mL, A and B together)"));
    assert!(on_paper(FOBS).contains("200 mL resin, A and B together"));
    let list = pick_list(&planned(FOBS));
    assert!(list.contains("for dome; A and B together"), "{list}");
}

/// A kind that goes through a step again takes another amount there: the two are told apart, and both times a mix is
/// for as many.
#[test]
fn a_further_time_through_a_step_is_told_apart() {
    let twice = with(FOBS, "steps = [\"dome\"]", "steps = [\"dome\", \"dome\"]");
    let plan = told(&twice);
    let [first, second] = list(&resin(&plan)["mix"]["cups"]["serves"]) else {
        panic!("{}", resin(&plan));
    };
    assert_eq!([&first["time"], &second["time"]], [1, 2]);
    assert_eq!(first["in_a_mix"], second["in_a_mix"]);
    assert_eq!([&first["in_step"], &second["in_step"]], [60, 60]);
    assert!(on_paper(&twice).contains("dome, fob, time 2: "));
    assert!(flowing(&twice).contains("dome, fob, time 2: "));
}

/// 12 and 12 of one size: a mix serves either kind whole, and not both.
#[test]
fn what_a_mix_does_for_with_others_is_told() {
    let more = "[[piece]]
name = \"tag\"
count = 12
blank = \"tag\"
steps = [\"dome\"]
[[coating]]";
    let two = with(&with(FOBS, "count = 60", "count = 12"), "[[coating]]", more);
    let most = limit(&told(&two), "fob");
    assert!((12..24).contains(&most), "{most}");
    let words = flowing(&two);
    let said = format!("one mix serves all 12, with others at most {most} pieces");
    assert_eq!(words.matches(&said).count(), 2, "{words}");
    // and of one kind there are no others
    let alone = flowing(&with(FOBS, "count = 60", "count = 12"));
    assert!(alone.contains("one mix serves all 12") && !alone.contains("with others"));
}

/// What a small piece takes is told to two figures, for it is taken many times.
#[test]
fn small_pieces_weigh_something() {
    let small = with(FOBS, "round = \"38 mm\"", "round = \"5 mm\"");
    let plan = told(&small);
    let each = number(&resin(&plan)["mix"]["cups"]["serves"][0]["each"]["a_g"]);
    assert!((0.001..0.0095).contains(&each), "{each}");
    let page = on_paper(&small);
    assert!(
        page.contains(&format!("dome, fob: A {each:.4} g")),
        "{page}"
    );
}

/// A coat on each face is no second coat on the one that is full: every paper says which face it is for.
#[test]
fn a_coat_on_the_other_face_is_told_as_one() {
    let both = with(
        FOBS,
        "hands_on = \"60 s\"",
        "hands_on = \"60 s\"\nfaces = \"both\"",
    );
    let tray = "[[tray]]\nsize = [\"300 mm\", \"400 mm\"]\ncount = 6\ngap = \"10 mm\"\n[room]";
    let both = with(&both, "[room]", tray);
    let (words, page) = (flowing(&both), on_paper(&both));
    for (coat, face) in [(1, "first face"), (2, "other face")] {
        let said = format!(", coat {coat} of 2, {face}");
        assert!(words.contains(&said) && page.contains(&said), "{words}");
    }
    let labels = labels(&planned(&both), Kind::Tray).unwrap().unwrap();
    assert!(labels.contains("dome 2 of 2, other face"), "{labels}");
    assert!(!flowing(FOBS).contains("first face"));
}
