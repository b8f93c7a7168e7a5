//! A run file changed at random is read or refused, and never brings the reader down.

use std::fmt::Write as _;
use std::time::Instant;

use brimful::run::{Hours, Run, Stuff, Takes};
use proptest::prelude::*;

const DEMO: &str = include_str!("../../data/demo.toml");

/// A run that uses every table.
const WHOLE: &str = include_str!("../data/whole_run.toml");

/// A drawing of our own, for every name.
const LEAF: &str = "<svg xmlns='http://www.w3.org/2000/svg'><path d='M 0 0 C 20 -20 30 0 40 0 C 30 20 10 20 0 0 Z'/></svg>";

/// A run that uses every key of a blank.
const BLANKS: &str = r#"
[[piece]]
name = "fob"
count = 3
blank = "leaf"
steps = ["cut"]
[[blank]]
name = "leaf"
outline = { svg = "leaf.svg", width = "40 mm", corner = "1 mm" }
thickness = "5 mm"
edge = "0.3 mm"
holes = [{ at = ["0 mm", "0 mm"], across = "3 mm" }, { at = ["6 mm", "0 mm"], across = "2 mm" }]
[[blank]]
name = "oval"
outline = { oval = ["25 mm", "18 mm"] }
wall = "2 mm"
[[blank]]
name = "hexagon"
outline = { regular = 6, across = "25 mm", corner = "1 mm" }
[[blank]]
name = "sail"
outline = { points = [[0, 0], [30, 0], [30, 10], [5, 40]], unit = "mm", corner = "2 mm" }
holes = [{ at = ["20 mm", "8 mm"], across = "0.1 in" }]
pack = { of = 25, price = 6.40 }
[[step]]
name = "cut"
[room]
temperature = "18 C"
humidity = "60 %"
"#;

/// Pieces of text that often mean something to the reader.
const SCRAPS: &[&str] = &[
    "",
    "\"",
    "'",
    "[",
    "]",
    "[[",
    "{",
    "}",
    "=",
    ",",
    "\n",
    "#",
    "-",
    "nan",
    "inf",
    "-0.0",
    "1e308",
    "0x10",
    "true",
    "\u{0}",
    "é",
    "\u{feff}",
    "2027-02-30",
    "\"\"",
    "\"0 mm\"",
    "\"-1 C\"",
    "\"1e999 mm\"",
    "\"50 %\"",
    "[]",
    "{}",
    "99999999999999999999",
    "name",
    "fill = ",
    "corner",
    "outline = { oval = [\"25 mm\", \"18 mm\"] }\n",
    "outline = { regular = 6, across = \"25 mm\", corner = \"1 mm\" }\n",
    "outline = { points = [[0, 0], [30, 0], [15, 20]], unit = \"mm\" }\n",
    "outline = { svg = \"leaf.svg\", width = \"40 mm\" }\n",
    "holes = [{ at = [\"0 mm\", \"6 mm\"], across = \"3 mm\" }]\n",
    "edge = \"0.3 mm\"\n",
    "wall = \"2 mm\"\n",
    "points",
    "[0, 0]",
    "1e9",
    "[room]\n",
    "[[step]]\n",
    "\"\"\"",
    "\\u0000",
    "a.b.c = 1\n",
    "2027-04-04",
    "2027-04-04T08:00:00",
    "\"22:00-01:00\"",
    "\"00:00-24:00\"",
    "\"19:00-19:00\"",
    "\"é:é-é:é\"",
    "\"12 m\"",
    "\"5 days\"",
    "9223372036854775807",
    "[hours]\n",
    "[[tray]]\n",
    "[[supply]]\n",
    "per_piece",
    "spool = \"10 m\"\n",
    "sheet = [\"148 mm\", \"210 mm\"]\n",
    "height = \"1.2 m\"\n",
];

/// Changes one place of a text: cuts some bytes out, puts a scrap in, or repeats a stretch.
fn change(text: &[u8], (at, cut, scrap, again): (usize, usize, usize, bool)) -> Vec<u8> {
    let at = at % (text.len() + 1);
    let end = (at + cut).min(text.len());
    let middle: &[u8] = if again {
        &text[at..end]
    } else {
        SCRAPS[scrap % SCRAPS.len()].as_bytes()
    };
    let rest = if again { &text[at..] } else { &text[end..] };
    [&text[..at], middle, rest].concat()
}

/// What must hold of any answer.
fn holds(bytes: &[u8]) {
    let leaf = |_: &str| Ok(LEAF.as_bytes().to_vec());
    match Run::read_bytes_with(bytes, "changed.toml", &leaf) {
        Ok(run) => {
            making_holds(&run);
            supplies_hold(&run);
            selling_holds(&run);
            hours_hold(&run.hours);
        }
        Err(faults) => {
            let lines = bytes.split(|&byte| byte == b'\n').count();
            assert!(!faults.as_slice().is_empty());
            for fault in faults.as_slice() {
                assert!(
                    (1..=lines).contains(&fault.line) && fault.column >= 1,
                    "{fault}"
                );
                assert!(!fault.to_string().contains('\n'), "{fault}");
            }
        }
    }
}

fn making_holds(run: &Run) {
    assert!(!run.pieces.is_empty());
    for piece in &run.pieces {
        assert!(piece.count > 0 && piece.blank < run.blanks.len() && !piece.steps.is_empty());
        assert!(piece.steps.iter().all(|&step| step < run.steps.len()));
    }
    for blank in &run.blanks {
        assert!(blank.top.outline().area().mm2() > 0.0, "{blank:?}");
    }
    assert!(
        run.steps
            .iter()
            .filter_map(|step| step.work.coating())
            .all(|at| at < run.coatings.len())
    );
    for tray in &run.trays {
        let room = tray.size.map(|side| (side - tray.margin * 2.0).mm());
        assert!(room.into_iter().all(|free| free > 0.0), "{tray:?}");
        assert!(tray.count > 0 && tray.magnet_gap >= tray.gap, "{tray:?}");
    }
    assert!(run.shelves.iter().all(|it| it.levels > 0 && it.count > 0));
    assert!(run.shelves.is_empty() || !run.trays.is_empty());
}

fn supplies_hold(run: &Run) {
    for supply in &run.supplies {
        assert!(supply.pack.is_none_or(|pack| pack.of > 0), "{supply:?}");
    }
    for each in run.steps.iter().flat_map(|step| &step.uses) {
        match (&run.supplies[each.supply].stuff, each.takes) {
            (Stuff::Each { .. }, Takes::Count(count)) => assert!(count > 0),
            (Stuff::Cut { spool, .. }, Takes::Length(length)) => {
                assert!(length.mm() > 0.0 && length <= *spool, "{each:?}");
            }
            (Stuff::Sheet { .. }, Takes::Shape { bleed }) => assert!(bleed.mm() >= 0.0),
            (stuff, takes) => panic!("{takes:?} of {stuff:?}"),
        }
    }
}

fn selling_holds(run: &Run) {
    for piece in &run.pieces {
        let shop = piece.wholesale.map_or(0, |wholesale| wholesale.count);
        assert!(shop <= piece.count, "{piece:?}");
    }
    for coating in &run.coatings {
        let priced = coating.bottle.is_some_and(|bottle| bottle.price.is_some());
        assert!(priced || coating.also_sold.is_empty(), "{coating:?}");
    }
    let Some(selling) = &run.selling else { return };
    assert!(!selling.currency.is_empty() && selling.pieces_per_sale >= 1.0);
    assert!(selling.kit.iter().all(|kit| kit.fairs > 0));
    let paid = selling.at_stall.is_some() && selling.labour.is_some();
    assert!(paid || !selling.stall_paid, "{selling:?}");
}

/// Spells in order and apart, all of them awake, and at least one.
fn hours_hold(hours: &Hours) {
    let awake = hours.awake;
    assert!(awake.from < awake.to && awake.to <= 1440, "{hours:?}");
    assert!(hours.days.iter().any(|day| !day.is_empty()), "{hours:?}");
    for day in &hours.days {
        for spell in day {
            assert!(spell.from < spell.to, "{hours:?}");
            assert!(
                awake.from <= spell.from && spell.to <= awake.to,
                "{hours:?}"
            );
        }
        assert!(
            day.windows(2).all(|two| two[0].to < two[1].from),
            "{hours:?}"
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 512, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn changed_demo_files_are_read_or_refused(
        changes in prop::collection::vec((any::<usize>(), 0usize..40, any::<usize>(), any::<bool>()), 1..6),
    ) {
        let mut text = DEMO.as_bytes().to_vec();
        for change_made in changes {
            text = change(&text, change_made);
        }
        holds(&text);
    }

    #[test]
    fn changed_blanks_are_read_or_refused(
        changes in prop::collection::vec((any::<usize>(), 0usize..40, any::<usize>(), any::<bool>()), 0..5),
    ) {
        let mut text = BLANKS.as_bytes().to_vec();
        for change_made in changes {
            text = change(&text, change_made);
        }
        holds(&text);
    }

    #[test]
    fn changed_whole_runs_are_read_or_refused(
        changes in prop::collection::vec((any::<usize>(), 0usize..40, any::<usize>(), any::<bool>()), 0..4),
    ) {
        let mut text = WHOLE.as_bytes().to_vec();
        for change_made in changes {
            text = change(&text, change_made);
        }
        holds(&text);
    }

    #[test]
    fn one_value_swapped_for_any_other(
        whole in any::<bool>(), line in any::<usize>(), scrap in any::<usize>(),
    ) {
        let lines: Vec<&str> = if whole { WHOLE } else { DEMO }.lines().collect();
        let with_value: Vec<usize> = (0..lines.len()).filter(|&at| lines[at].contains(" = ")).collect();
        let at = with_value[line % with_value.len()];
        let key = lines[at].split(" = ").next().unwrap();
        let changed = format!("{key} = {}", SCRAPS[scrap % SCRAPS.len()]);
        let text: Vec<&str> = (0..lines.len()).map(|n| if n == at { changed.as_str() } else { lines[n] }).collect();
        holds(text.join("\n").as_bytes());
    }

    #[test]
    fn any_bytes_are_read_or_refused(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        holds(&bytes);
    }
}

/// A run of `count` kinds of blank, each with its own piece; `blank` says which blank a piece names.
fn many(count: usize, blank: impl Fn(usize) -> String) -> String {
    let mut text = String::from(
        "room = { temperature = '18 C', humidity = '60 %' }\nstep = [{ name = 'cut' }]\n",
    );
    for at in 0..count {
        let size = 20 + at % 30;
        write!(
            text,
            "[[blank]]\nname = 'b{at}'\noutline = {{ round = '{size} mm' }}\n"
        )
        .unwrap();
        write!(
            text,
            "[[piece]]\nname = 'p{at}'\ncount = 3\nblank = '{}'\nsteps = ['cut']\n",
            blank(at)
        )
        .unwrap();
    }
    text
}

#[test]
fn ten_thousand_blanks_are_read_in_a_moment() {
    let text = many(10_000, |at| format!("b{at}"));
    let start = Instant::now();
    let run = Run::read(&text, "many.toml").unwrap();
    let took = start.elapsed();
    assert_eq!((run.blanks.len(), run.pieces[9_999].blank), (10_000, 9_999));
    // The whole plan of so many must take under 10 s; reading may take a fifth of that even unoptimised.
    assert!(took.as_secs_f64() < 2.0, "{took:?}");
}

#[test]
fn ten_thousand_wrong_names_are_told_in_a_moment() {
    let text = many(10_000, |at| format!("c{at}"));
    let start = Instant::now();
    let faults = Run::read(&text, "many.toml").unwrap_err();
    let took = start.elapsed();
    assert_eq!(faults.as_slice().len(), 10_000);
    assert!(took.as_secs_f64() < 5.0, "{took:?}");
}
