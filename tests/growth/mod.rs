//! The bench of growth has a book for everything the language has, and each is a book without an error.

#[path = "../benches/growth/books/mod.rs"]
mod books;

use books::{Side, book, constructs, recipe, recipes};
use stringline::diagnostics::Severity;
use stringline::source::Memory;

/// What a construct is called in a ledger: the last word of its name.
fn word(construct: &str) -> Option<&str> {
    let (of, name) = construct.split_once(' ')?;
    (of != "list").then_some(name)
}

/// How many of the lines have the word.
fn lines_with(text: &str, word: &str) -> usize {
    text.lines().filter(|line| line.split([' ', ',']).any(|each| each == word)).count()
}

fn errors(text: &str) -> Vec<String> {
    let now = "2026-11-01T12:00:00Z".parse().unwrap();
    let compiled = stringline::compile(&Memory::new(&[("growth.sline", text)], now)).unwrap();
    let errors = compiled.diagnostics.iter().filter(|one| one.severity == Severity::Error);
    let line = |one: &stringline::diagnostics::Diagnostic| {
        let span = one.at.as_ref().map(|mark| mark.span);
        span.map_or(String::new(), |span| compiled.files.text(span).to_owned())
    };
    errors.map(|one| format!("{}: {} ({})", one.check, one.message, line(one))).collect()
}

#[test]
fn everything_the_language_has_has_a_recipe() {
    let all = constructs();
    let missing: Vec<&String> = all.iter().filter(|each| recipe(each).is_none()).collect();
    assert!(missing.is_empty(), "no recipe in tests/benches/growth/books for {missing:?}");
    let twice: Vec<&String> = all.iter().filter(|each| recipes(each).count() > 1).collect();
    assert!(twice.is_empty(), "the second recipe is never measured: {twice:?}");
    let mut once = all.clone();
    once.sort();
    once.dedup();
    assert_eq!(once.len(), all.len(), "two constructs have one name");
}

#[test]
fn a_recipe_writes_what_it_is_called_after() {
    for construct in constructs() {
        let text = book(recipe(&construct).unwrap(), 12, None, 0);
        if let Some(word) = word(&construct) {
            let base = book(recipe(&construct).unwrap(), 0, None, 0);
            let (some, none) = (lines_with(&text, word), lines_with(&base, word));
            // A book has one shop: its facts stand there once, and what grows is what they are for.
            let grows = if construct.starts_with("shop ") { some == 1 } else { some > none };
            assert!(grows, "{construct}: `{word}` is on {none} lines without it, and on {some} in\n{text}");
        }
        assert_ne!(text, book(recipe(&construct).unwrap(), 0, None, 0), "{construct} writes nothing");
        let longer = book(recipe(&construct).unwrap(), 120, None, 0);
        assert!(longer.len() > text.len(), "{construct} does not grow");
    }
}

#[test]
fn its_books_have_no_error() {
    let mut bad = Vec::new();
    for (at, construct) in constructs().into_iter().enumerate() {
        // Each beside one of the sides; the sides' own lines are the same beside any other.
        for side in [None, Some(Side::ALL[at % Side::ALL.len()])] {
            let text = book(recipe(&construct).unwrap(), 20, side, 7);
            if let Some(first) = errors(&text).first() {
                bad.push(format!("{construct}, beside {:?}: {first}", side.map(Side::word)));
            }
        }
    }
    assert!(bad.is_empty(), "{}", bad.join("\n"));
}
