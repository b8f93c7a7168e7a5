//! Runs of a coating mixed from two parts, as makers try them: how many mixes, how much in each,
//! and what is bought for them. All of the runs are invented.

use crate::common::calendar::said::{flowing, with};
use crate::common::calendar::{count, list, number, told};
use crate::common::plan::{close, planned};
use brimful::plan::pictured;
use brimful::run::Run;
use brimful::show::pictures::windows;
use brimful::show::sheet::sheet;
use serde_json::Value;

/// Fobs under a resin whose label names its mass, so that both readings of it are one.
pub const FOBS: &str = r#"
[run]
ready_by = 2027-06-26T20:00:00
[[piece]]
name = "fob"
count = 60
blank = "tag"
steps = ["dome"]
[[blank]]
name = "tag"
outline = { round = "38 mm" }
porous = false
bad = "0 %"
[[coating]]
name = "resin"
family = "two-part dome epoxy"
pot_life = "31.191 min"
pot_life_mass = "100 g"
drips = "0 %"
tool = "3 mL"
heel = "0 %"
scatter = "0 %"
bias = "0 %"
bottle = { holds = "200 mL", price = 15.00 }
[[step]]
name = "dome"
coating = "resin"
hands_on = "60 s"
spoilage = "0 %"
[room]
temperature = "23 C"
humidity = "50 %"
[hours]
weekdays = ["18:00-21:00"]
weekend = ["10:00-13:00"]
first_run = false
"#;

/// The demo's kind of file without a date.
fn undated(file: &str) -> String {
    with(file, "[run]\nready_by = 2027-06-26T20:00:00\n", "")
}

pub fn resin(plan: &Value) -> &Value {
    &plan["coatings"][0]
}

/// Pieces that one mix serves.
fn serves(plan: &Value) -> u64 {
    count(&resin(plan)["mix"]["cups"]["serves"][0]["worst"]["coats"])
}

/// Mixes in the calendar.
pub fn mixes(plan: &Value) -> u64 {
    let sittings = list(&plan["calendar"]["sittings"]).iter();
    sittings.map(|sitting| count(&sitting["mixes"])).sum()
}

pub fn assumed<'p>(plan: &'p Value, key: &str) -> Option<&'p str> {
    let mut all = list(&plan["assumptions"]).iter();
    all.find(|it| it["key"] == key)?["value"].as_str()
}

/// A cup keeps 3 mL back, each time.
fn cups(plan: &Value) -> f64 {
    number(&resin(plan)["lines"]["tool_ml"]) / 3.0
}

/// The guess is a minute at each piece, so it counts as a file that says a minute.
#[test]
fn mixes_are_counted_where_no_time_for_the_hands_is_told() {
    for file in [FOBS.to_owned(), undated(FOBS)] {
        let own = told(&file);
        let guess = told(&with(&file, "hands_on = \"60 s\"\n", ""));
        assert!(serves(&own) > 1 && serves(&own) < 60);
        assert_eq!(serves(&own), serves(&guess));
        for key in ["lines", "needed_sure_ml", "bottles", "sittings"] {
            assert_eq!(resin(&own)[key], resin(&guess)[key], "{key}");
        }
        assert_eq!(assumed(&guess, "dome: hands_on"), Some("60 s"));
        assert_eq!(assumed(&own, "dome: hands_on"), None);
        assert!(
            flowing(&with(&file, "hands_on = \"60 s\"\n", ""))
                .contains("at 60 s a piece (a guess)")
        );
    }
}

/// Every mix leaves a film in its cup, whether the run has a date or none.
#[test]
fn a_cup_is_bought_for_every_mix() {
    let dated = told(FOBS);
    assert!(mixes(&dated) >= 60_u64.div_ceil(serves(&dated)));
    close(
        cups(&dated),
        f64::from(u32::try_from(mixes(&dated)).unwrap()),
        1e-9,
    );
    let free = told(&undated(FOBS));
    let least = 60_u64.div_ceil(serves(&free));
    let least = f64::from(u32::try_from(least).unwrap());
    assert!(cups(&free) > least - 1e-9, "{}", cups(&free));
    // of a run that can't be laid out all pieces sit together
    let unlaid = told(&with(
        FOBS,
        "weekdays = [\"18:00-21:00\"]\nweekend = [\"10:00-13:00\"]",
        "weekdays = [\"18:00-18:05\"]\nweekend = [\"10:00-10:05\"]",
    ));
    close(cups(&unlaid), least, 1e-9);
    // and for what the stock makes: with 2 mL to spare for 10 fobs in two cups, the third lacks
    let fill = number(&free["pieces"][0]["fill"]["poured_ml"]);
    let pieces = serves(&free) + 1;
    let does = f64::from(u32::try_from(pieces).unwrap()) * fill + 2.0 * 3.0;
    for (there, good) in [(does + 0.01, pieces), (does - 0.01, serves(&free))] {
        let stock = format!("bottle = {{ holds = \"{there} mL\", have = 1 }}");
        let stocked = with(
            &undated(FOBS),
            "bottle = { holds = \"200 mL\", price = 15.00 }",
            &stock,
        );
        let plan = told(&with(
            &stocked,
            "bad = \"0 %\"",
            "bad = \"0 %\"\nhave = 200",
        ));
        assert_eq!(count(&plan["from_stock"][0]["start"]), good, "{there}");
    }
}

/// In a first run each piece takes three times as long, in the calendar and in the mix: what a file says
/// is 60 s is then what another, no first run, says is 180 s.
#[test]
fn a_mix_serves_at_the_pace_of_the_calendar() {
    let slow = with(FOBS, "hands_on = \"60 s\"", "hands_on = \"180 s\"");
    let first = with(FOBS, "first_run = false", "first_run = true");
    let (slow, first_run) = (told(&slow), told(&first));
    assert_eq!(serves(&slow), serves(&first_run));
    assert!(serves(&first_run) < serves(&told(FOBS)));
    let pace = &resin(&first_run)["mix"]["cups"]["serves"][0]["hands_on_s"];
    close(number(pace), 180.0, 1e-9);
    assert_eq!(mixes(&slow), mixes(&first_run));
    close(
        number(&first_run["calendar"]["hands_on_h"]),
        number(&slow["calendar"]["hands_on_h"]),
        1e-9,
    );
    let words = flowing(&first);
    assert!(
        words.contains(
            "at 3 min a piece (60 s, 3 times that in a first run) one mix serves at most"
        ),
        "{words}"
    );
    // no mix is longer in the hands than it may be worked with
    let working = 0.6 * 31.191 * 60.0;
    let longest = f64::from(u32::try_from(serves(&first_run)).unwrap()) * 180.0;
    assert!(longest <= 1.3 * working, "{longest} s");
}

/// So many mixes of so much each are the whole; and nobody is asked to make that in one cup.
#[test]
fn mixes_are_told_one_by_one() {
    let plan = told(FOBS);
    let mix = &resin(&plan)["mix"];
    let many = count(&mix["mixes"]);
    assert_eq!(many, mixes(&plan));
    for part in ["a_g", "b_g", "a_ml", "b_ml"] {
        let all = number(&mix["each"][part]) * f64::from(u32::try_from(many).unwrap());
        close(all, number(&mix["expected"][part]), 1e-9);
        let most = number(&mix["cups"]["serves"][0]["worst"]["parts"][part]);
        assert!(number(&mix["each"][part]) <= most * (1.0 + 1e-9));
    }
    let each = |part: &str| format!("{:.1} g", number(&mix["each"][part]));
    let words = flowing(FOBS);
    assert!(words.contains(&format!("in {many} mixes")), "{words}");
    let parts = format!("A {} and B {}", each("a_g"), each("b_g"));
    assert!(words.contains(&parts), "{words}");
    let run = Run::read(FOBS, "fobs.toml").unwrap();
    let plan = planned(FOBS);
    let windows = windows(&plan, &pictured(&run, &plan).unwrap()).unwrap();
    let page = sheet(&plan, &windows).unwrap();
    let page = scraper::Html::parse_document(&page);
    let page: String = page.root_element().text().collect::<Vec<_>>().join("");
    assert!(!page.contains("In all: A"), "{page}");
    assert!(page.contains(&format!("{many} mixes")), "{page}");
    assert!(
        page.contains(&format!("A {} + B {}", each("a_g"), each("b_g"))),
        "{page}"
    );
    // beside the mixes, and once more among all cautions
    let (_, beside) = page.split_once(" mixes, each").unwrap();
    let short = "small mixes, poured out promptly; a hot cup goes outdoors";
    assert!(beside.contains(short), "{page}");
}

/// Several steps of one coating are told apart: each has its own sittings.
#[test]
fn sittings_are_told_for_each_step() {
    let file = r#"
[[piece]]
name = "tile"
count = 5
blank = "square"
steps = ["prime", "level"]
[[blank]]
name = "square"
outline = { rectangle = ["40 mm", "40 mm"] }
porous = false
[[coating]]
name = "film"
family = "water-based sealer"
tool = "2 mL"
[[step]]
name = "prime"
coating = "film"
[[step]]
name = "level"
coating = "film"
coats = 3
[room]
temperature = "20 C"
humidity = "50 %"
"#;
    let plan = told(file);
    let coating = &plan["coatings"][0];
    assert_eq!(coating["sittings"], 4);
    close(number(&coating["lines"]["tool_ml"]), 8.0, 1e-9);
    let by_step: Vec<_> = list(&coating["sittings_by_step"])
        .iter()
        .map(|of| (of["step"].as_str().unwrap(), count(&of["sittings"])))
        .collect();
    assert_eq!(by_step, [("prime", 1), ("level", 3)]);
    let words = flowing(file);
    assert!(
        words.contains("8 mL in the tool (4 sittings: 1 of prime and 3 of level)"),
        "{words}"
    );
}

/// The minutes of a cup are the same in its warning and beside its mix, rounded down in both.
#[test]
fn a_cup_lasts_equally_long_wherever_it_is_told() {
    let plan = told(FOBS);
    let all = &resin(&plan)["mix"]["cups"]["all_at_once"];
    let minutes = |of: &str| number(&all[of]["worst_min"]).floor();
    let words = flowing(FOBS);
    for said in [
        format!("gels within about {} min", minutes("gels")),
        format!("would gel after {} min", minutes("gels")),
        format!("to be worked with for {} min at most", minutes("work")),
    ] {
        assert!(words.contains(&said), "{said}: {words}");
    }
}

/// Small tags under the same resin in a step of their own, so that they sit apart.
fn with_small_tags() -> String {
    with(
        FOBS,
        "[[coating]]",
        "[[piece]]
name = \"small fob\"
count = 8
blank = \"small tag\"
steps = [\"small dome\"]
[[blank]]
name = \"small tag\"
outline = { round = \"20 mm\" }
porous = false
bad = \"0 %\"
[[step]]
name = \"small dome\"
coating = \"resin\"
hands_on = \"60 s\"
spoilage = \"0 %\"
[[coating]]",
    )
}

fn volume(split: &Value) -> f64 {
    number(&split["a_ml"]) + number(&split["b_ml"])
}

/// Mixes that are alike: how many, what goes into each, the pieces it is for, and their sitting.
pub fn cupfuls(plan: &Value) -> Vec<(f64, f64, &[Value], &Value)> {
    let sittings = list(&plan["calendar"]["sittings"]).iter();
    let each = sittings.flat_map(|sitting| {
        let mut mixes = 0;
        let all: Vec<_> = (list(&sitting["cupfuls"]).iter())
            .map(|of| {
                mixes += count(&of["mixes"]);
                let pieces = list(&of["pieces"]);
                (number(&of["mixes"]), volume(&of["holds"]), pieces, sitting)
            })
            .collect();
        assert_eq!(mixes, sitting["mixes"].as_u64().unwrap_or(0));
        all
    });
    each.collect()
}

/// All mixes together are the expected amount.
pub fn all_add_up(plan: &Value) {
    let all: f64 = cupfuls(plan)
        .iter()
        .map(|(mixes, each, ..)| mixes * each)
        .sum();
    close(all, volume(&resin(plan)["mix"]["expected"]), 1e-9);
}

/// Nothing drips, spoils or fails, and each cup keeps 3 mL: so a mix is what its own pieces take and those
/// 3 mL. Its pieces are whole ones, and those of a sitting's mixes are the sitting's.
#[test]
fn each_sitting_tells_what_goes_into_its_own_mixes() {
    let two = with_small_tags();
    let plan = told(&two);
    let fill = |name: &Value| {
        let mut pieces = list(&plan["pieces"]).iter();
        let piece = pieces.find(|it| it["name"] == *name).unwrap();
        number(&piece["fill"]["poured_ml"])
    };
    for (_, each, pieces, _) in cupfuls(&plan) {
        let takes: f64 = (pieces.iter())
            .map(|of| number(&of["count"]) * fill(&of["piece"]))
            .sum();
        close(each, takes + 3.0, 1e-9);
    }
    for sitting in list(&plan["calendar"]["sittings"]) {
        let some = |pieces: &Value, times: u64| -> u64 {
            list(pieces)
                .iter()
                .map(|of| times * count(&of["count"]))
                .sum()
        };
        let cupfuls = list(&sitting["cupfuls"]).iter();
        let mixed: u64 = cupfuls
            .map(|of| some(&of["pieces"], count(&of["mixes"])))
            .sum();
        assert!(
            mixed == 0 || mixed == some(&sitting["pieces"], 1),
            "{sitting}"
        );
    }
    all_add_up(&plan);
    // the small ones' cup holds far less than the large ones'
    let mix = &resin(&plan)["mix"];
    let [least, most] = ["least", "most"].map(|of| volume(&mix[of]));
    close(least, 8.0 * fill(&"small fob".into()) + 3.0, 1e-9);
    assert!(most > 1.5 * least, "{least} {most}");
    let words = flowing(&two);
    assert!(words.contains("each as its sitting asks"), "{words}");
    let (run, planned) = (Run::read(&two, "fobs.toml").unwrap(), planned(&two));
    let windows = windows(&planned, &pictured(&run, &planned).unwrap()).unwrap();
    let page = sheet(&planned, &windows).unwrap();
    assert!(page.contains("each for its own pieces"), "{page}");
    // and where all are alike one recipe does
    let few = with(FOBS, "count = 60", "count = 8");
    assert!(resin(&told(&few))["mix"]["least"].is_null());
    assert!(!flowing(&few).contains("each as its sitting asks"));
}

/// 49 are no three like mixes: the calendar and the row of the sheet tell those for 17 and for 16 apart, each mix
/// being a piece's part for each of its pieces, and what the cup keeps.
#[test]
fn mixes_for_one_piece_more_are_told_apart() {
    let file = with(FOBS, "count = 60", "count = 49");
    let plan = told(&file);
    all_add_up(&plan);
    let cups = &resin(&plan)["mix"]["cups"];
    let part = |of: &str, pieces: f64| {
        pieces * number(&cups["serves"][0]["each"][of]) + number(&cups["keeps"][of])
    };
    let [[a, b], [c, d]] = [17.0, 16.0].map(|pieces| ["a_g", "b_g"].map(|of| part(of, pieces)));
    let words = flowing(&file);
    let wanted = format!(
        "in 3 mixes (1 of A {a:.1} g and B {b:.1} g for 17 pieces, 2 of A {c:.1} g and B {d:.1} g for 16 pieces each)"
    );
    assert!(words.contains(&wanted), "{wanted} in {words}");
    // no share of the whole, which serves sixteen pieces and a third
    assert!(!words.contains("each of about"), "{words}");
    let (run, planned) = (Run::read(&file, "fobs.toml").unwrap(), planned(&file));
    let windows = windows(&planned, &pictured(&run, &planned).unwrap()).unwrap();
    let page = sheet(&planned, &windows).unwrap();
    let row = page.split("<tr").find(|row| row.contains(" mixes: "));
    let row: String = (row.expect("a row of unlike mixes").split('<'))
        .map(|tag| tag.split_once('>').map_or("", |(_, words)| words))
        .collect();
    let wanted = format!(
        "3 mixes: 1 of A {a:.1} g + B {b:.1} g for 17, 2 of A {c:.1} g + B {d:.1} g for 16 each"
    );
    assert!(row.contains(&wanted), "{wanted} in {row}");
}

/// Two kinds that are poured in one sitting: each mix goes on with what the one before left of the first.
#[test]
fn mixes_of_a_sitting_with_two_kinds_name_their_pieces() {
    let two = with(
        &with_small_tags(),
        "steps = [\"small dome\"]",
        "steps = [\"dome\"]",
    );
    let plan = told(&two);
    all_add_up(&plan);
    let cups = cupfuls(&plan);
    let both = cups.iter().find(|(_, _, pieces, _)| pieces.len() == 2);
    let Some((1.0, _, [first, second], _)) = both else {
        panic!("{cups:?}");
    };
    assert_eq!([&first["piece"], &second["piece"]], ["fob", "small fob"]);
    let sizes: Vec<u64> = (cups.iter())
        .map(|(_, _, pieces, _)| pieces.iter().map(|of| count(&of["count"])).sum())
        .collect();
    let (least, most) = (sizes.iter().min().unwrap(), sizes.iter().max().unwrap());
    // a kind of which there are only eight does not make the mixes small
    assert!(serves(&plan) > 16);
    assert_eq!(mixes(&plan), 68_u64.div_ceil(serves(&plan)));
    assert!(
        most - least < 2 && *most <= serves(&plan) && *most > 16,
        "{sizes:?}"
    );
    let named = format!(
        "{} × fob and {} × small fob",
        first["count"], second["count"]
    );
    assert!(flowing(&two).contains(&named), "{named}");
}

/// A step that is gone through twice adds little the second time, and a fill that adds nothing is no
/// reason to plan nothing.
#[test]
fn a_further_visit_to_a_step_is_mixed_for_by_itself() {
    let twice = with(FOBS, "steps = [\"dome\"]", "steps = [\"dome\", \"dome\"]");
    let plan = told(&twice);
    all_add_up(&plan);
    let cups = cupfuls(&plan);
    let [first, .., last] = cups.as_slice() else {
        panic!("{cups:?}");
    };
    close(last.1, 3.0, 1e-9);
    assert!(first.1 > 10.0, "{}", first.1);
    // what is too small to weigh is looked for among the mixes, not in their average
    let words = flowing(&twice);
    let small = cups.iter().filter(|(_, each, ..)| *each < 15.0).count();
    assert!(small > 0 && small < cups.len(), "{cups:?}");
    let warned = words.split(" less than the ").next().unwrap();
    assert!(
        warned.ends_with("at the least, are") || warned.ends_with(" g, is"),
        "{words}"
    );
    assert!(warned.contains("of its "), "{words}");
}
