//! Running the program and reading what it says.
#![allow(dead_code, reason = "each test uses its own part")]

use assert_cmd::Command;
use serde_json::Value;

/// What one run of the program said.
pub struct Said {
    pub code: i32,
    pub out: String,
    pub err: String,
}

/// Runs the program with these arguments.
pub fn ask(args: &[&str]) -> Said {
    let output = Command::cargo_bin("brimful")
        .unwrap()
        .args(args)
        .output()
        .unwrap();
    Said {
        code: output.status.code().unwrap(),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

impl Said {
    /// The JSON that it wrote, whatever its exit code.
    pub fn json(&self) -> Value {
        serde_json::from_str(&self.out).unwrap_or_else(|fault| panic!("{fault}: {}", self.err))
    }

    /// Its text with every run of spaces and line ends as one space.
    pub fn flowing(&self) -> String {
        self.out.split_whitespace().collect::<Vec<_>>().join(" ")
    }
}

/// A number of the JSON, by its path.
pub fn number(json: &Value, path: &str) -> f64 {
    json.pointer(path)
        .and_then(Value::as_f64)
        .unwrap_or_else(|| panic!("{path} in {json:#}"))
}

/// Whether two figures agree to a share of the second.
pub fn agree(got: f64, wanted: f64, share: f64) -> bool {
    (got - wanted).abs() <= share * wanted.abs()
}
