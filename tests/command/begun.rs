//! A book begun, and the manual pages: commands that read no book.

use super::{said, said_on};
use crate::checks::compile_text;
use std::path::Path;
use stringline::diagnostics::Severity;

/// Whether a line behind a `#` is one to use, and no sentence.
fn to_use(line: &str) -> Option<&str> {
    let (before, rest) = line.split_once("# ")?;
    let first = rest.chars().next()?;
    (before.trim().is_empty() && first.is_lowercase()).then_some(line)
}

#[test]
fn a_book_is_begun_and_every_line_in_it_can_be_used() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("new/ledgers");
    let at = folder.to_str().unwrap();
    // Half an hour past midnight in Dublin, not yet in UTC: the day is the shop's.
    let words = ["begin", at, "wren", "--zone", "Europe/Dublin", "--currency", "EUR", "--shop", "Back Lane"];
    let begun = said_on(&words, 96, "2025-06-20T23:30:00Z");
    assert_eq!((begun.code.as_str(), begun.err.as_str()), ("0", ""));
    for named in ["shop.sline", "wren.sline", "stringline check", "stringline report"] {
        assert!(begun.out.contains(named), "{}", begun.out);
    }
    let text = |name: &str| std::fs::read_to_string(folder.join(name)).unwrap();
    assert!(text("shop.sline").contains("shop \"Back Lane\"  currency EUR  zone Europe/Dublin\n"));
    assert!(text("wren.sline").contains("\n2025-06-21 wren\n"));
    let checked = said(&["check", at]);
    assert_eq!((checked.code.as_str(), checked.err.as_str()), ("0", ""));
    // With every `#` taken off that stands before a line.
    let mut used = 0;
    let whole: String = [text("shop.sline"), text("wren.sline")]
        .concat()
        .lines()
        .map(|line| {
            used += usize::from(to_use(line).is_some());
            to_use(line).map_or_else(|| line.to_owned(), |line| line.replacen("# ", "", 1)) + "\n"
        })
        .collect();
    assert!(used >= 12, "{used}");
    let wrong: Vec<_> =
        compile_text(&whole).diagnostics.into_iter().filter(|one| one.severity == Severity::Error).collect();
    assert!(wrong.is_empty(), "{wrong:?}");
    // It is as `format` would have it, and a second beginning leaves it alone.
    assert_eq!(said(&["format", "--check", at]).code, "0");
    let again = said(&["begin", at, "heron"]);
    assert_eq!(again.code, "2");
    assert!(again.err.contains("has a book already; it is left as it is"), "{}", again.err);
    assert!(!folder.join("heron.sline").exists());
}

/// What cannot be read as a book is not written.
#[test]
fn no_book_is_begun_that_would_not_be_read() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("new");
    let at = folder.to_str().unwrap();
    for words in [
        &["wr en"][..],
        &["../wren"],
        &["LF"],
        &["wren", "--currency", "EURO"],
        &["wren", "--zone", "Nowhere/Land"],
        &["wren", "--shop", "a\" zone \"b"],
        &["wren", "--shop", "a\n2025-01-01"],
        &["wren", "--zone", "Europe/Dublin\nclient x \"X\""],
        &["wren", "--zone", "Europe/Dublin rate 5 EUR"],
        &["wren", "--currency", "EUR\nclient x \"X\""],
        &["wren", "--shop", "a\u{201D} zone \u{201C}b"],
    ] {
        let refused = said(&[&["begin", at], words].concat());
        assert_eq!((refused.code.as_str(), refused.out.as_str()), ("2", ""), "{words:?}");
        assert_eq!(refused.err.lines().count(), 1, "{words:?}: {}", refused.err);
        assert!(!folder.exists(), "{words:?}");
    }
}

/// A file where the folder is to be is said to be one.
#[test]
fn no_book_is_begun_in_a_file() {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("ledgers");
    std::fs::write(&file, "mine\n").unwrap();
    let refused = said(&["begin", file.to_str().unwrap(), "wren"]);
    assert_eq!((refused.code.as_str(), refused.out.as_str()), ("2", ""));
    assert!(refused.err.contains("is a file, and a book is a folder"), "{}", refused.err);
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "mine\n");
}

#[test]
fn every_command_has_a_manual_page() {
    let home = tempfile::tempdir().unwrap();
    let at = home.path().join("man1");
    let written = said(&["manual", "--out", at.to_str().unwrap()]);
    assert_eq!((written.code.as_str(), written.err.as_str()), ("0", ""));
    let page = |name: &str| std::fs::read_to_string(at.join(format!("{name}.1"))).unwrap();
    for command in stringline::command::tree().get_subcommands() {
        let name = command.get_name();
        let text = page(&format!("stringline-{name}"));
        assert!(text.contains(".TH stringline") && text.contains(".SH SYNOPSIS"), "{name}");
        assert_eq!(said(&["manual", name]).out, text);
        // What is typed as an example stands on lines of its own.
        assert!(!text.contains("Example:") || text.contains(".nf\n"), "{name}");
    }
    assert!(
        page("stringline").contains(".SH SUBCOMMANDS") && !page("stringline-check").contains("SUBCOMMANDS")
    );
    assert_eq!(said(&["manual", "chekc"]).code, "2");
}

/// `--quiet` leaves out what is only counted; `--color` rules over everything else.
#[test]
fn quiet_and_colour() {
    let quiet = said(&["check", super::BOOK, "--quiet"]);
    assert_eq!((quiet.code.as_str(), quiet.out.as_str()), ("0", ""));
    let broken = said(&["--quiet", "check", super::BROKEN]);
    assert!(broken.code == "1" && broken.err.contains("error["), "{}", broken.err);
    assert!(!broken.err.contains('\u{1b}'));
    assert!(said(&["check", super::BROKEN, "--color", "always"]).err.contains('\u{1b}'));
    assert!(!said(&["check", super::BROKEN, "--color", "never"]).err.contains('\u{1b}'));
    // Results for programs are no counts.
    assert!(said(&["check", super::BOOK, "--quiet", "--format", "json"]).out.starts_with('{'));
    assert!(!Path::new("ledgers").join("wren.sline").exists());
}
