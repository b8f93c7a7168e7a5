//! Nothing about a coating is shown without its cautions: every command, and every file that a
//! plan is saved as.

use std::fs;
use std::path::Path;

use assert_cmd::cargo::cargo_bin_cmd;
use brimful::coating::{Applied, Cautions, cautions, comes_first, families, family, for_buyers};

const DEMO: &str = include_str!("../../data/demo.toml");

fn ran(args: &[&str]) -> String {
    let out = cargo_bin_cmd!("brimful").args(args).output().expect("runs");
    assert!(
        out.status.success() || out.status.code() == Some(1),
        "{args:?}"
    );
    String::from_utf8(out.stdout).expect("text")
}

/// Words without the breaks between lines.
fn joined(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whether `words` say what comes first, and of each moment what is to be said of a family: at length or in short.
#[track_caller]
fn cautioned(which: &str, words: &str, of: Cautions) {
    let words = joined(words);
    assert!(
        words.contains(of.first) || words.contains(comes_first()),
        "{which}: {words}"
    );
    for line in of.lines {
        assert!(
            words.contains(&line.say) || words.contains(&line.short),
            "{which} lacks \"{}\"",
            line.short
        );
    }
}

/// What a file says to who reads it, whatever it is written in.
fn said(path: &Path, text: &str) -> String {
    let kind = path
        .extension()
        .and_then(|e| e.to_str())
        .unwrap_or_default();
    match kind {
        "svg" => {
            let svg = roxmltree::Document::parse(text).expect("XML");
            let lines = svg.descendants().filter(|n| n.has_tag_name("text"));
            let each: Vec<String> = lines
                .map(|n| n.descendants().filter_map(|n| n.text()).collect::<String>())
                .collect();
            each.join(" ")
        }
        "html" => {
            let mut words = String::new();
            let mut rest = text;
            while let Some((before, after)) = rest.split_once('<') {
                words.push_str(before);
                words.push(' ');
                rest = after.split_once('>').map_or("", |(_, after)| after);
            }
            words
                .replace("&quot;", "\"")
                .replace("&lt;", "<")
                .replace("&gt;", ">")
                .replace("&amp;", "&")
        }
        "json" => text.replace("\\\"", "\""),
        _ => text.to_owned(),
    }
}

/// The demo with its domes poured of another family.
fn demo_of(family: &str) -> String {
    DEMO.replace(
        "family = \"water-based dome glaze\"\nsurface_tension = \"34 mN/m\"",
        &format!("family = \"{family}\""),
    )
}

/// What is saved of a run has all the cautions of the family that its domes are poured of; each
/// kind of file is there.
#[track_caller]
fn every_file_is_careful(run: &str, of: Cautions, kinds: &[&str]) {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("run.toml");
    fs::write(&file, run).expect("written");
    let saved = folder.path().join("saved");
    let asked = ["plan", file.to_str().expect("a path")];
    let told = ran(&[&asked[..], &["--save", saved.to_str().expect("a path")]].concat());
    cautioned("the plan's text", &told, of);
    let json = ran(&[&asked[..], &["--json"]].concat());
    cautioned("the plan's JSON", &json.replace("\\\"", "\""), of);
    let mut seen = Vec::new();
    for entry in fs::read_dir(&saved).expect("saved") {
        let path = entry.expect("an entry").path();
        let name = path.file_name().expect("a name").to_string_lossy();
        seen.push(name.clone().into_owned());
        // painted from the SVG of the same name
        if let Some(stem) = name.strip_suffix(".png") {
            assert!(saved.join(format!("{stem}.svg")).is_file(), "{name}");
            continue;
        }
        let words = joined(&said(&path, &fs::read_to_string(&path).expect("text")));
        if ["piece-labels.html", "care-cards.html"].contains(&&*name) {
            for line in for_buyers() {
                let told = [&line.say, &line.short]
                    .into_iter()
                    .any(|say| words.contains(&say[1..]));
                assert!(told, "{name} lacks {}", line.concern);
            }
            continue;
        }
        let coating = (name.strip_suffix("-room.svg")).or(name.strip_suffix("-bottles.svg"));
        let own = match coating {
            None | Some("dome-glaze") => of,
            // of one coating: its own family's
            Some(_) => cautions("water-based").expect("known"),
        };
        cautioned(&name, &words, own);
    }
    for kind in kinds {
        assert!(
            seen.iter().any(|name| name.ends_with(kind)),
            "{kind} in {seen:?}"
        );
    }
}

/// What is saved of any run with a calendar.
const ALWAYS: [&str; 13] = [
    "plan.txt",
    "plan.json",
    "sheet.html",
    "tray-labels.html",
    "piece-labels.html",
    "care-cards.html",
    "pick-list.html",
    "-section.svg",
    "-depth.svg",
    "-tray.svg",
    "-bottles.svg",
    "calendar.svg",
    "cost.svg",
];

#[test]
fn every_file_of_a_plan_says_what_to_be_careful_of() {
    let poured = families()
        .iter()
        .filter(|family| family.applied == Applied::Flooded);
    for family in poured {
        let of = cautions(&family.cautions).expect("its cautions");
        every_file_is_careful(&demo_of(&family.name), of, &ALWAYS);
    }
}

#[test]
fn so_do_those_of_coats_that_dry_in_a_box() {
    let of = cautions("water-based").expect("known");
    let lid = "count = 6\nlid = { height = \"90 mm\", air_changes = 20 }\n";
    let boxed = DEMO.replace("count = 6\n", lid);
    every_file_is_careful(&boxed, of, &["-cupboard.svg", "-day.svg"]);
    let cupboard =
        "humidity = \"64 %\"\ncupboard = { holds = \"600 L\", air_changes = 20, pieces = 48 }";
    let boxed = DEMO.replace("humidity = \"64 %\"", cupboard);
    every_file_is_careful(&boxed, of, &["cupboard.svg", "-day.svg"]);
}

/// The demo is planned by the bare name; the list of coatings says what comes first, and whose
/// cautions are whose where it tells all of them.
#[test]
fn what_is_shown_without_a_question_says_it_too() {
    let glaze = &family("water-based dome glaze").expect("known").cautions;
    for args in [&[][..], &["--json"]] {
        let told = ran(args).replace("\\\"", "\"");
        cautioned("the demo", &told, cautions(glaze).expect("known"));
    }
    let list = joined(&ran(&["coatings"]));
    assert!(list.contains(comes_first()), "{list}");
    let all = ran(&["coatings", "--json"]).replace("\\\"", "\"");
    for family in families() {
        cautioned("the list", &all, cautions(&family.cautions).expect("known"));
    }
}

/// Every command, with what it is asked; those that are about no coating have nothing to say.
const ASKED: [(&str, &[&str]); 9] = [
    ("dome", &["dome", "--round", "25 mm", "--coating"]),
    ("dry", &["dry", "--at", "18 C", "55 %", "--coating"]),
    (
        "season",
        &[
            "season",
            "--logger",
            "tests/logs/two_days_in_a_loft.csv",
            "--coating",
        ],
    ),
    ("mix", &["mix", "--weight", "40 g", "--coating"]),
    ("coatings", &["coatings"]),
    ("trays", &[]),
    ("price", &[]),
    ("completions", &[]),
    ("man", &[]),
];

#[test]
fn every_command_about_a_coating_says_what_to_be_careful_of() {
    let help = ran(&["--help"]);
    let (_, listed) = help.split_once("Commands:\n").expect("commands");
    let (listed, _) = listed.split_once("\n\n").expect("an end");
    let commands = listed.lines().filter(|line| !line.starts_with("   "));
    let mut seen = 0;
    for command in commands.filter_map(|line| line.split_whitespace().next()) {
        if ["plan", "new", "help"].contains(&command) {
            continue; // a plan is walked above; a new file is the maker's own
        }
        seen += 1;
        let (_, args) = ASKED
            .iter()
            .find(|(name, _)| *name == command)
            .unwrap_or_else(|| {
                panic!("say here what \"{command}\" is asked, and whether it is about a coating")
            });
        if args.is_empty() {
            continue;
        }
        let coating = if command == "mix" {
            "two-part dome epoxy"
        } else {
            "water-based dome glaze"
        };
        let key = &family(coating).expect("known").cautions;
        for json in [&[][..], &["--json"]] {
            let args: Vec<&str> = args
                .iter()
                .copied()
                .chain([coating])
                .chain(json.iter().copied())
                .collect();
            cautioned(
                command,
                &ran(&args).replace("\\\"", "\""),
                cautions(key).expect("known"),
            );
        }
    }
    assert_eq!(seen, ASKED.len());
}
