//! A folder of run files with mistakes, each with the whole message it must bring.

use std::fs;
use std::path::PathBuf;

use brimful::run::Run;

/// Finds a drawing in the folder of bad files, as the program does.
fn beside(name: &str) -> Result<Vec<u8>, String> {
    fs::read(folder().join(name)).map_err(|error| error.to_string())
}

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/bad")
}

#[test]
fn each_bad_file_is_refused_with_its_message() {
    let mut files: Vec<PathBuf> = fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| {
            path.extension()
                .is_some_and(|extension| extension == "toml")
        })
        .collect();
    files.sort();
    assert_eq!(files.len(), 154, "a bad file was added or lost");
    let mut wrong = Vec::new();
    for path in &files {
        let name = path.file_name().unwrap().to_str().unwrap();
        let told = match Run::read_bytes_with(&fs::read(path).unwrap(), name, &beside) {
            Ok(_) => "it was read without a fault\n".to_owned(),
            Err(faults) => format!("{faults}\n"),
        };
        let expected = fs::read_to_string(path.with_extension("txt")).unwrap_or_default();
        if told != expected {
            wrong.push(format!(
                "{name} told\n{told}and was expected to tell\n{expected}"
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn faults_come_in_the_order_of_their_lines() {
    let text = fs::read_to_string(folder().join("many_at_once.toml")).unwrap();
    let faults = Run::read(&text, "many.toml").unwrap_err();
    let lines: Vec<usize> = faults.as_slice().iter().map(|fault| fault.line).collect();
    assert_eq!(lines.len(), 9);
    assert!(lines.is_sorted());
}

/// The program tells the same on standard error, prints nothing else, and says
/// with its exit code that the input is wrong.
#[test]
fn the_program_refuses_each_bad_file_with_exit_code_2() {
    let mut seen = 0;
    for entry in fs::read_dir(folder()).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|e| e != "toml") {
            continue;
        }
        let mut program = assert_cmd::cargo::cargo_bin_cmd!("brimful");
        let done = program.arg("plan").arg(&path).assert().code(2);
        let output = done.get_output();
        assert!(output.stdout.is_empty(), "{}", path.display());
        let told = String::from_utf8_lossy(&output.stderr);
        let expected = fs::read_to_string(path.with_extension("txt")).unwrap();
        // The program names the file by its path, the expected text by its name.
        let words = expected.lines().next().unwrap().split_once(": ").unwrap().1;
        assert!(told.contains(words), "{}: {told}", path.display());
        seen += 1;
    }
    assert_eq!(seen, 154);
}
