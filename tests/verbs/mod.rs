//! A verb that parses and means nothing is not done: for each, removing its line changes a state, a use, a message or a report.

mod outcome;
mod oval;
mod results;
mod survives;
mod taken;

use crate::checks::compile_text;
use outcome::{outcome, pages};
use stringline::book::entry::Verb;

/// One book in which every verb has a line of its own. The line of a verb is the one whose first word (after a clock) it is;
/// lines that belong to it (deeper indented) go with it.
const BOOK: &str = include_str!("../fixtures/verbs.sline");

/// The book without the `n`-th line that starts with the verb, and without the lines under it.
fn without(verb: &str) -> String {
    let mut out = String::new();
    let mut gone: Option<usize> = None;
    let mut done = false;
    for line in BOOK.lines() {
        let indent = line.len() - line.trim_start().len();
        if gone.is_some_and(|above| indent > above && !line.trim().is_empty()) {
            continue;
        }
        gone = None;
        let mut words = line.split_whitespace();
        let first = words.next().unwrap_or_default();
        let word = if first.contains(':') { words.next().unwrap_or_default() } else { first };
        if !done && indent > 0 && word == verb {
            gone = Some(indent);
            done = true;
            continue;
        }
        out.push_str(line);
        out.push('\n');
    }
    assert!(done, "the fixture has no line of `{verb}`");
    out
}

#[test]
fn the_fixture_has_no_error() {
    let compiled = compile_text(BOOK);
    let errors: Vec<&str> = compiled
        .diagnostics
        .iter()
        .filter(|one| one.severity == stringline::diagnostics::Severity::Error)
        .map(|one| one.message.as_str())
        .collect();
    assert!(errors.is_empty(), "{errors:#?}");
}

#[test]
fn every_verb_changes_what_the_book_says() {
    let whole = compile_text(BOOK);
    let (whole, report) = (outcome(&whole), pages(&whole));
    let mut idle = Vec::new();
    for verb in Verb::ALL {
        if *verb == Verb::Note {
            continue;
        }
        let less = compile_text(&without(verb.word()));
        // Words and looks (say, think, inspect) and readings whose figures come later live in the report alone.
        if whole == outcome(&less) && report == pages(&less) {
            idle.push(verb.word());
        }
    }
    assert!(idle.is_empty(), "these verbs mean nothing: {idle:?}");
}

/// The comparison above must not hang on line numbers alone: a comment moves every line and says nothing.
#[test]
fn a_comment_changes_nothing() {
    let with = compile_text(&format!("# One more line.\n{BOOK}"));
    let plain = compile_text(BOOK);
    assert!(outcome(&with) == outcome(&plain));
    let (a, b) = (pages(&with), pages(&plain));
    let at = a.bytes().zip(b.bytes()).position(|(a, b)| a != b);
    let near = |text: &str| at.and_then(|at| text.get(at.saturating_sub(60)..at + 60)).map(str::to_owned);
    assert!(a == b, "{:?} {:?}", near(&a), near(&b));
}
