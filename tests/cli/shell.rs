//! Completions and the manual, made from the commands themselves.

use assert_cmd::cargo::cargo_bin_cmd;

fn ran(args: &[&str]) -> (i32, String, String) {
    let out = cargo_bin_cmd!("brimful").args(args).output().expect("runs");
    let text = |bytes| String::from_utf8(bytes).expect("text");
    (
        out.status.code().expect("a code"),
        text(out.stdout),
        text(out.stderr),
    )
}

const COMMANDS: [&str; 11] = [
    "plan",
    "new",
    "dome",
    "dry",
    "season",
    "mix",
    "trays",
    "price",
    "coatings",
    "completions",
    "man",
];

#[test]
fn every_shell_gets_every_command() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let (code, script, err) = ran(&["completions", shell]);
        assert_eq!((code, err.as_str()), (0, ""), "{shell}");
        for word in COMMANDS.iter().chain(&["pictures-only", "surface-tension"]) {
            assert!(script.contains(word), "{shell} lacks {word}");
        }
    }
    let (code, _, err) = ran(&["completions", "tcsh"]);
    assert!(code == 2 && err.contains("possible values"), "{err}");
}

/// Where the machine has a bash, it takes the script and completes from it.
#[test]
fn bash_completes_from_the_script() {
    let (_, script, _) = ran(&["completions", "bash"]);
    let asked = format!(
        "{script}\nCOMP_WORDS=(brimful pl); COMP_CWORD=1; _brimful brimful pl brimful; echo \"${{COMPREPLY[@]}}\""
    );
    let Ok(out) = std::process::Command::new("bash")
        .args(["-c", &asked])
        .output()
    else {
        println!("skipped: no bash here");
        return;
    };
    assert_eq!(String::from_utf8_lossy(&out.stdout).trim(), "plan");
}

#[test]
fn the_manual_names_every_command_and_each_has_a_page() {
    let (code, page, err) = ran(&["man"]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(page.contains(".TH brimful 1"));
    for command in COMMANDS {
        assert!(
            page.contains(&format!("brimful\\-{command}(1)")),
            "{command}"
        );
        let (code, own, _) = ran(&["man", command]);
        assert_eq!(code, 0);
        assert!(own.contains(".SH SYNOPSIS"), "{command}");
    }
    let (code, _, err) = ran(&["man", "plam"]);
    assert!(
        code == 2 && err.contains("\"plam\"") && err.contains("plan, new"),
        "{err}"
    );
}
