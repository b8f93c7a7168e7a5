//! What the plan of a run file says in words, and how the program ends.

use assert_cmd::Command;
use brimful::plan::plan;
use brimful::run::Run;
use brimful::show::text;

/// Words with every run of spaces and line ends as one space.
pub fn flat(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The plan's text, flat.
pub fn flowing(file: &str) -> String {
    let run = Run::read(file, "test.toml").unwrap_or_else(|faults| panic!("{faults}"));
    flat(&text::plan(&plan(&run).unwrap()))
}

/// How the program ends with a run file, and what it writes to its output and its errors.
pub fn ran(file: &str, more: &[&str]) -> (i32, String, String) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("run.toml");
    std::fs::write(&path, file).unwrap();
    let mut command = Command::cargo_bin("brimful").unwrap();
    let output = command.arg("plan").arg(&path).args(more).output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    let code = output.status.code().unwrap();
    (code, text(output.stdout), text(output.stderr))
}

/// A file with other words in the place of some that it has.
pub fn with(file: &str, from: &str, to: &str) -> String {
    assert!(file.contains(from), "no {from}");
    file.replace(from, to)
}
