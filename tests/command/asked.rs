//! check, why, state and diff: results and troubles.

use super::{BOOK, BROKEN, DISPUTED, JOBS, holds, holds_in, said, said_on};

#[test]
fn check_says_what_is_wrong_on_stderr_and_how_much_on_stdout() {
    holds("check", &["check", BOOK]);
    holds("check-broken", &["check", BROKEN]);
    holds("check-broken-short", &["check", BROKEN, "--format", "short"]);
    holds("check-no-folder", &["check", "tests/fixtures/command/nowhere"]);
}

#[test]
fn why_explains_a_check_or_lists_them() {
    holds("why", &["why", "unit-missing"]);
    holds("why-unknown", &["why", "unit-mising"]);
    let all = said(&["why"]);
    assert_eq!(all.code, "0");
    for check in stringline::check::CHECKS.iter() {
        assert!(all.out.contains(&format!("  {}  ", check.name)), "{}", check.name);
    }
    assert!(all.out.lines().all(|line| line.chars().count() <= 96), "{}", all.out);
}

#[test]
fn state_of_a_car() {
    holds("state", &["state", BOOK, "heron"]);
    holds("state-at", &["state", BOOK, "Heron", "pell-1/s2"]);
    holds("state-baseline", &["state", BOOK, "heron", "dry"]);
    holds_in("state-narrow", &["state", BOOK, "heron", "2025-05-03"], 70);
    holds("state-empty", &["state", BOOK, "wren"]);
    holds("state-broken", &["state", BROKEN, "heron"]);
    holds("state-disputed", &["state", DISPUTED, "heron"]);
    holds("state-jobs", &["state", JOBS, "heron", "2025-05-03"]);
    holds("state-json", &["state", BROKEN, "heron", "--format", "json"]);
}

#[test]
fn state_of_what_is_not_there() {
    holds("state-no-car", &["state", BOOK, "herron"]);
    holds("state-not-a-car", &["state", BOOK, "dm-1"]);
    holds("state-far-car", &["state", BOOK, "lapwing"]);
    holds("state-no-event", &["state", BOOK, "heron", "pel-1"]);
    holds("state-no-session", &["state", BOOK, "heron", "pell-1/s9"]);
    holds("state-not-there", &["state", BOOK, "heron", "pell-3/s1"]);
    holds("state-no-folder", &["state", "tests/fixtures/command/nowhere", "heron"]);
    holds("state-nothing", &["state"]);
    assert_eq!(said(&["state", BOOK, "heron", "dry", "more"]).code, "2");
    assert_eq!(said(&["blank"]).code, "2");
    assert_eq!(said(&["stat"]).code, "2");
}

#[test]
fn diff_of_two_moments() {
    holds("diff", &["diff", BOOK, "heron", "pell-1/s1", "pell-2"]);
    holds("diff-none", &["diff", BOOK, "heron", "pell-2", "pell-2"]);
    holds("diff-backward", &["diff", BOOK, "heron", "pell-1/s3", "pell-1/s2"]);
    holds("diff-disputed", &["diff", DISPUTED, "heron", "pell-1/start", "pell-1/end"]);
    holds("diff-too-few", &["diff", "heron", "pell-1"]);
    holds("diff-no-moment", &["diff", BOOK, "heron", "pell-1", "pell-9/s1"]);
    holds("diff-json", &["diff", BOOK, "heron", "pell-1/s1", "pell-1/s2", "--format", "json"]);
}

/// Every page fits in 100 columns on the demo book, but for what is one word.
#[test]
fn the_demo_book_fits() {
    for car in ["bittern", "plover", "teal", "curlew"] {
        for words in [
            vec!["state", "ledgers/2026", car],
            vec!["diff", "ledgers/2026", car, "2026-04-20", "2026-10-01"],
        ] {
            let said = super::said_in(&words, 100);
            for line in said.out.lines() {
                assert!(line.chars().count() <= 100, "{words:?}: {line}");
                assert_eq!(line, line.trim_end());
            }
        }
    }
}

#[test]
fn help_ends_in_an_example() {
    for command in ["check", "state", "diff", "why", "blank", "format", "costs"] {
        let said = said(&[command, "--help"]);
        assert_eq!((said.code.as_str(), said.err.as_str()), ("0", ""));
        let (_, example) = said.out.rsplit_once("Example:\n").unwrap();
        for line in example.lines().filter(|line| !line.is_empty()) {
            assert!(line.starts_with(&format!("  stringline {command}")), "{line}");
        }
    }
}

/// A word from habit leads to what does its job, never to one that is only spelt like it.
#[test]
fn a_word_from_habit_is_pointed_on() {
    for (word, wanted) in [
        ("help", "--help"),
        ("init", "begin"),
        ("new", "blank"),
        ("completions", "STRINGLINE_COMPLETE"),
        ("man", "manual"),
        ("serve", "report"),
        ("export", "--format json"),
        ("import", "transcribe"),
        ("add", "editor"),
        ("undo", "git"),
        ("Undo", "git"),
        ("log", "git log"),
    ] {
        let said = super::said(&[word]);
        assert_eq!((said.code.as_str(), said.out.as_str()), ("2", ""), "{word}");
        let start = format!("stringline: there is no command `{word}`; ");
        assert!(said.err.starts_with(&start) && said.err.contains(wanted), "{word}: {}", said.err);
        assert!(!said.err.contains("handover"), "{word}: {}", said.err);
    }
    // One slip of a letter is still clap's to point out.
    assert!(super::said(&["chekc"]).err.contains("'check'"));
    // Every pointer names commands that there are.
    let tree = stringline::command::tree();
    for word in [
        "help", "init", "man", "serve", "export", "import", "add", "undo", "show", "log", "lint", "fmt",
        "build",
    ] {
        let said = super::said(&[word]).err;
        for named in said.split("`stringline ").skip(1) {
            let name = named.split([' ', '`']).next().unwrap();
            assert!(name.starts_with("--") || tree.find_subcommand(name).is_some(), "{word}: {said}");
        }
    }
}

/// A baseline whose moment is still to come on the day that is asked about is no mistake then; one that never has a moment is.
#[test]
fn a_baseline_of_later_is_not_there_yet() {
    let home = tempfile::tempdir().unwrap();
    let book = "car wren \"Wren\"\ncircuit pell \"Pell\"\nevent pell-1 2025-05-10 at pell \"Pell\"\n\
                baseline quick wren pell-1/s1 \"the quick one\"\n\n2025-05-03 wren\n  set camber LF -3 deg\n\n\
                2025-05-10 wren at pell-1\n  run s1 20 min\n";
    std::fs::write(home.path().join("book.sline"), book).unwrap();
    let folder = home.path().to_str().unwrap();
    let at = |date: &str| said_on(&["rules", folder, "wren", "--at", date], 96, "2025-06-01T12:00:00Z");
    for date in ["2025-05-05", "2025-05-10"] {
        let said = at(date);
        assert!(!said.err.contains("error") && said.code == "0", "{date}: {}{}", said.out, said.err);
    }
    std::fs::write(home.path().join("book.sline"), book.replace("pell-1/s1", "pell-1/s9")).unwrap();
    assert!(at("2025-05-10").code != "0");
}
