//! The house: which module may import which, read from the sources.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// Each module's floor. A module may import lower floors only, and itself.
const FLOORS: [(&str, u8); 17] = [
    ("quantity", 0),
    ("stage", 0),
    ("geometry", 1),
    ("cure", 1),
    ("coating", 1),
    ("consumption", 2),
    ("weather", 2),
    ("space", 2),
    ("schedule", 2),
    ("cost", 2),
    ("drying", 3),
    ("run", 4),
    ("plan", 5),
    ("ask", 5),
    ("show", 6),
    ("cli", 7),
    ("main", 8),
];

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
}

/// The module of a source file: its first folder under `src`, or its name.
fn module(path: &Path, root: &Path) -> String {
    let inner = path.strip_prefix(root).expect("under src");
    let first = inner.components().next().expect("a part");
    first
        .as_os_str()
        .to_string_lossy()
        .trim_end_matches(".rs")
        .to_owned()
}

/// Modules that a source text names after `crate::` or `brimful::`.
fn named(text: &str) -> Vec<&str> {
    let code = text
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"));
    code.flat_map(|line| {
        ["crate::", "brimful::"].into_iter().flat_map(move |mark| {
            line.match_indices(mark).map(move |(at, _)| {
                let rest = &line[at + mark.len()..];
                let end = rest.find(|c: char| !c.is_alphanumeric() && c != '_');
                &rest[..end.unwrap_or(rest.len())]
            })
        })
    })
    .collect()
}

#[test]
fn no_module_imports_one_of_its_own_floor_or_above() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let floors: BTreeMap<&str, u8> = FLOORS.into();
    let (mut files, mut arrows, mut wrong) = (Vec::new(), 0, Vec::new());
    sources(&root, &mut files);
    for path in &files {
        let from = module(path, &root);
        if from == "lib" {
            continue;
        }
        let floor = *floors
            .get(from.as_str())
            .unwrap_or_else(|| panic!("{from} has no floor"));
        let text = fs::read_to_string(path).expect("a source");
        for hidden in ["crate::{", "super::super::quantity", "super::super::cure"] {
            if text.contains(hidden) {
                wrong.push(format!(
                    "{} names modules past this check: {hidden}",
                    path.display()
                ));
            }
        }
        for to in named(&text) {
            let Some(&below) = floors.get(to) else {
                continue;
            };
            arrows += 1;
            if to != from && below >= floor {
                wrong.push(format!("{} imports {to}", path.display()));
            }
        }
    }
    assert!(arrows > 50, "only {arrows} imports were read");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The layout that the project promises at its top.
#[test]
fn the_top_of_the_repository_holds_what_it_should() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for name in [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "LICENSE-MIT",
        "LICENSE-APACHE",
    ] {
        assert!(root.join(name).is_file(), "{name} is missing");
    }
    for name in ["src", "tests", "data", "plots", "benches"] {
        assert!(root.join(name).is_dir(), "{name}/ is missing");
    }
}
