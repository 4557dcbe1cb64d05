//! The language reference's examples are a book that compiles clean, and they show every construct.

use crate::checks::compile_text;
use stringline::book::declare::DECLARATIONS;
use stringline::book::entry::Verb;

const PAGE: &str = include_str!("../../grammar/README.md");

/// The text of all fences of that kind, in order.
pub fn fences(kind: &str) -> String {
    let mut text = String::new();
    let mut on = false;
    for line in PAGE.lines() {
        if let Some(rest) = line.strip_prefix("```") {
            on = rest == kind;
            continue;
        }
        if on {
            text.push_str(line);
            text.push('\n');
        }
    }
    text
}

#[test]
fn the_examples_compile_without_an_error() {
    let compiled = compile_text(&fences("sline"));
    let errors: Vec<String> = compiled
        .diagnostics
        .iter()
        .filter(|one| one.severity == stringline::diagnostics::Severity::Error)
        .map(|one| format!("{}: {}", one.check, one.message))
        .collect();
    assert!(errors.is_empty(), "{errors:#?}");
    assert!(compiled.book.entries.len() > 60);
}

#[test]
fn every_verb_has_an_example_and_a_row() {
    let compiled = compile_text(&fences("sline"));
    assert_eq!(Verb::COUNT, 54);
    for verb in &Verb::ALL[..Verb::ALL.len() - 1] {
        let shown = compiled.book.entries.iter().any(|entry| entry.verb == *verb);
        assert!(shown, "no example of {}", verb.word());
        assert!(PAGE.contains(&format!("`{}", verb.word())), "no row for {}", verb.word());
    }
}

#[test]
fn every_declaration_and_property_is_described() {
    let examples = fences("sline");
    for word in DECLARATIONS {
        assert!(examples.lines().any(|line| line.starts_with(&format!("{word} "))), "no example of {word}");
        for property in stringline::book::declare::names_of(word) {
            assert!(PAGE.contains(property), "{word}: `{property}` is not described");
        }
    }
}
