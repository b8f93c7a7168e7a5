//! The README's commands run, and print what it says.
//!
//! A `console` block holds one command after `$ ` and the output expected; a last
//! line `[...]` stands for the rest. `BRIMFUL_BLESS=1` writes the output
//! afresh: read the difference before you keep it.

use std::fs;
use std::path::Path;

/// Splits a command line at spaces outside double quotes.
fn words(line: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            _ => words.last_mut().expect("a word").push(c),
        }
    }
    words.retain(|w| !w.is_empty());
    words
}

/// What the program prints for `$ brimful ...`.
fn output(command: &str) -> String {
    let words = words(command);
    assert_eq!(words[0], "brimful", "{command}");
    let mut program = assert_cmd::cargo::cargo_bin_cmd!("brimful");
    let done = program.args(&words[1..]).assert().success();
    String::from_utf8(done.get_output().stdout.clone()).expect("text")
}

/// The first screen of a long answer: up to the first detail section.
fn first_screen(text: &str) -> String {
    let end = text.find("\nHow full").expect("a detail section");
    text[..end].trim_end().to_owned()
}

#[test]
fn the_readme_prints_what_the_program_prints() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md");
    let readme = fs::read_to_string(&path).expect("a README");
    let mut fresh = String::new();
    let mut rest = readme.as_str();
    let mut blocks = 0;
    while let Some(at) = rest.find("```console\n$ ") {
        let start = at + "```console\n$ ".len();
        let end = start + rest[start..].find("```").expect("a closed block");
        let block = &rest[start..end];
        let (command, told) = block.split_once('\n').expect("a command");
        let printed = output(command);
        let expected = if told.trim_end().ends_with("[...]") {
            format!("{}\n[...]\n", first_screen(&printed))
        } else {
            format!("{}\n", printed.trim_end())
        };
        fresh.push_str(&rest[..start]);
        fresh.extend([command, "\n", &expected]);
        rest = &rest[end..];
        blocks += 1;
    }
    fresh.push_str(rest);
    assert_eq!(blocks, 7);
    if std::env::var_os("BRIMFUL_BLESS").is_some() {
        fs::write(&path, fresh).expect("written");
    } else {
        let differ = readme
            .lines()
            .zip(fresh.lines())
            .find(|(told, printed)| told != printed);
        assert!(
            readme == fresh,
            "the README tells, and the program prints: {differ:#?}"
        );
    }
}

/// The commands that are told without their output run too, in their order, in a folder with the
/// files that they name.
#[test]
fn the_readme_s_other_commands_run() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    fs::create_dir(at("data")).expect("a folder");
    for (from, name) in FILES {
        fs::copy(root.join(from), at(name)).expect("copied");
    }
    fs::write(at("town.epw"), crate::common::weather::seasons()).expect("written");
    fs::write(at("leaf.svg"), LEAF).expect("written");
    let readme = fs::read_to_string(root.join("README.md")).expect("a README");
    let blocks = readme.split("```sh\n").skip(1);
    let lines = blocks.flat_map(|block| block.split("```").next().unwrap_or_default().lines());
    let mut ran = 0;
    for line in lines.filter(|line| line.starts_with("brimful ")) {
        let command = line.split('#').next().unwrap_or_default();
        let done = assert_cmd::cargo::cargo_bin_cmd!("brimful")
            .args(&words(command)[1..])
            .current_dir(folder.path())
            .output()
            .expect("runs");
        // begun now, it may be too late for the date in the new file
        let fits =
            done.status.success() || (line.contains("--from now") && done.status.code() == Some(1));
        assert!(fits, "{line}\n{}", String::from_utf8_lossy(&done.stderr));
        assert!(!done.stdout.is_empty(), "{line}");
        ran += 1;
    }
    assert_eq!(ran, 20);
}

/// What the README's files are, here.
const FILES: [(&str, &str); 3] = [
    ("data/template.toml", "other.toml"),
    ("data/winter.toml", "data/winter.toml"),
    ("tests/logs/two_days_in_a_loft.csv", "loft.csv"),
];

/// A leaf, as a drawing program would save it.
const LEAF: &str = "<svg xmlns='http://www.w3.org/2000/svg'><path d='M20 0 C45 20 45 60 20 80 C-5 60 -5 20 20 0 Z'/></svg>";

/// Its two opening commands are the ones that continuous checks run.
#[test]
fn the_readme_opens_with_the_job_and_two_commands() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let readme = fs::read_to_string(root.join("README.md")).expect("a README");
    assert!(readme.starts_with("# brimful\n\nYou lay prints"));
    let checks = fs::read_to_string(root.join(".ci/run")).expect("the checks");
    for command in ["cargo run", "cargo test"] {
        assert!(
            readme.contains(command) && checks.contains(command),
            "{command}"
        );
    }
}
