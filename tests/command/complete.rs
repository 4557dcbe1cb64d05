//! Words completed in a shell: the script of each, and the names of the book behind the words that want them.

use super::BOOK;
use std::path::Path;
use std::process::Command;

const PROGRAM: &str = env!("CARGO_BIN_EXE_stringline");

/// What the program offers in place of the last of these words.
fn offered(words: &[&str]) -> Vec<String> {
    let done = Command::new(PROGRAM)
        .arg("--")
        .arg("stringline")
        .args(words)
        .env("STRINGLINE_COMPLETE", "bash")
        .env("_CLAP_COMPLETE_INDEX", words.len().to_string())
        .env("_CLAP_IFS", "\u{b}")
        .output()
        .unwrap();
    assert!(done.status.success() && done.stderr.is_empty(), "{words:?}");
    let said = String::from_utf8(done.stdout).unwrap();
    said.split('\u{b}').filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

#[test]
fn names_of_the_book_are_offered_where_they_fit() {
    assert_eq!(offered(&["stat"]), ["state"]);
    assert_eq!(offered(&["state", BOOK, "her"]), ["heron"]);
    assert_eq!(offered(&["sheet", BOOK, "heron", "pell-1"]), ["pell-1"]);
    assert_eq!(offered(&["report", BOOK, "--car", "h"]), ["heron"]);
    assert_eq!(offered(&["report", BOOK, "--for", "or"]), ["orr"]);
    assert!(offered(&["due", BOOK, "--before", ""]).contains(&"pell-2".to_owned()));
    assert_eq!(offered(&["lives", BOOK, "coup"]), ["coupling"]);
    assert_eq!(offered(&["why", "old-value-d"]), ["old-value-differs"]);
    // A book is a folder; of one that is none, nothing is offered, and nothing breaks.
    assert!(offered(&["check", "tests/fixtures/command/bo"]).iter().any(|one| one.starts_with(BOOK)));
    assert!(offered(&["state", "grammar/editors", "her"]).is_empty());
}

#[test]
fn every_shell_has_its_script() {
    for shell in ["bash", "elvish", "fish", "powershell", "zsh", "/usr/bin/zsh"] {
        let done = Command::new(PROGRAM).env("STRINGLINE_COMPLETE", shell).output().unwrap();
        let script = String::from_utf8(done.stdout).unwrap();
        assert!(done.status.success() && script.contains("STRINGLINE_COMPLETE"), "{shell}");
        // It calls the program by its whole path.
        assert!(script.contains(PROGRAM), "{shell}: {script}");
    }
    let none = Command::new(PROGRAM).env("STRINGLINE_COMPLETE", "abacus").output().unwrap();
    let said = String::from_utf8(none.stderr).unwrap();
    assert_eq!(none.status.code(), Some(2));
    assert!(
        said.starts_with("stringline: no words are completed for the shell `abacus`; there are bash"),
        "{said}"
    );
}

/// A real shell, as its own completion calls the script.
#[cfg(unix)]
#[test]
fn bash_completes_a_car() {
    let script = format!(
        "source <(STRINGLINE_COMPLETE=bash '{PROGRAM}')\n\
         COMP_WORDS=(stringline state {BOOK} he) COMP_CWORD=3 COMP_TYPE=9\n\
         _clap_complete_stringline stringline he {BOOK}\n\
         printf '%s\\n' \"${{COMPREPLY[@]}}\""
    );
    let done = Command::new("bash").args(["--norc", "-c", &script]).output().unwrap();
    assert_eq!(String::from_utf8_lossy(&done.stdout), "heron\n", "{}", String::from_utf8_lossy(&done.stderr));
}

/// A folder's name is somebody's words: what hides in it does not reach a terminal.
#[cfg(unix)]
#[test]
fn no_name_steers_a_terminal() {
    let home = tempfile::tempdir().unwrap();
    std::fs::create_dir(home.path().join("a\u{1b}[31mb\u{202e}")).unwrap();
    let typed = format!("{}/a", home.path().display());
    for word in offered(&["check", &typed]) {
        assert!(!word.contains(['\u{1b}', '\u{202e}']), "{word:?}");
    }
    assert!(Path::new(PROGRAM).exists());
}
