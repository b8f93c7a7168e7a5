//! A run file changed at random is read or refused, and never brings the reader down.

use std::fmt::Write as _;
use std::time::Instant;

use brimful::run::Run;
use proptest::prelude::*;

const DEMO: &str = include_str!("../data/demo.toml");

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
            assert!(!run.pieces.is_empty());
            for piece in &run.pieces {
                assert!(
                    piece.count > 0 && piece.blank < run.blanks.len() && !piece.steps.is_empty()
                );
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
    fn one_value_of_the_demo_swapped_for_any_other(line in any::<usize>(), scrap in any::<usize>()) {
        let lines: Vec<&str> = DEMO.lines().collect();
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
