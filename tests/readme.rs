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
