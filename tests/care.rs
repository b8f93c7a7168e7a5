//! Nothing about a coating is shown without its cautions: every command, and every file that a
//! plan is saved as.

use std::fs;
use std::path::Path;

use assert_cmd::cargo::cargo_bin_cmd;
use brimful::coating::{Cautions, cautions, comes_first, families, for_buyers};

const DEMO: &str = include_str!("../data/demo.toml");

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

#[test]
fn every_file_of_a_plan_says_what_to_be_careful_of() {
    let folder = tempfile::tempdir().expect("a folder");
    let poured = [
        "water-based dome glaze",
        "two-part dome epoxy",
        "lamp-cured dome resin",
        "moisture-curing clear",
    ];
    let known: Vec<&str> = families()
        .iter()
        .map(|family| family.name.as_str())
        .collect();
    for family in poured {
        assert!(known.contains(&family), "{family}");
        let key = &brimful::coating::family(family).expect("a family").cautions;
        let of = cautions(key).expect("its cautions");
        let file = folder.path().join("run.toml");
        fs::write(&file, demo_of(family)).expect("written");
        let saved = folder.path().join(key);
        let told = ran(&[
            "plan",
            file.to_str().expect("a path"),
            "--save",
            saved.to_str().expect("a path"),
        ]);
        cautioned("the plan's text", &told, of);
        let mut seen = Vec::new();
        for entry in fs::read_dir(&saved).expect("saved") {
            let path = entry.expect("an entry").path();
            let name = path
                .file_name()
                .expect("a name")
                .to_string_lossy()
                .into_owned();
            seen.push(name.clone());
            // painted from the SVG of the same name
            if let Some(stem) = name.strip_suffix(".png") {
                assert!(saved.join(format!("{stem}.svg")).is_file(), "{name}");
                continue;
            }
            let words = joined(&said(&path, &fs::read_to_string(&path).expect("text")));
            if ["piece-labels.html", "care-cards.html"].contains(&name.as_str()) {
                for line in for_buyers() {
                    let told = [&line.say, &line.short]
                        .into_iter()
                        .any(|say| words.contains(&say[1..]));
                    assert!(told, "{name} lacks {}", line.concern);
                }
            } else if let Some(coating) = name
                .strip_suffix("-room.svg")
                .or(name.strip_suffix("-bottles.svg"))
            {
                // of one coating: its own family's
                let own = if coating == "dome-glaze" {
                    of
                } else {
                    cautions("water-based").expect("known")
                };
                cautioned(&name, &words, own);
            } else {
                cautioned(&name, &words, of);
            }
        }
        assert!(seen.len() >= 10, "{seen:?}");
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
        let key = &brimful::coating::family(coating).expect("known").cautions;
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
