//! The messages as JSON, for a shop's own scripts.
//!
//! Must not know any particular check. The keys and their order are a promise: add, never rename.

use super::{Diagnostic, Mark, Severity};
use crate::source::{Files, Places};
use serde::Serialize;

/// The whole document.
#[derive(Debug, Serialize)]
struct Document<'a> {
    /// The messages, in the order of the book.
    diagnostics: Vec<Entry<'a>>,
    /// How many of them are errors. Messages are counted, not the places of one message.
    errors: usize,
    /// How many of them are warnings.
    warnings: usize,
    /// How many of them are notes.
    notes: usize,
}

/// One message.
#[derive(Debug, Serialize)]
struct Entry<'a> {
    /// The check's stable name.
    check: &'a str,
    /// `error`, `warning` or `note`.
    severity: Severity,
    /// What is wrong, in words.
    message: &'a str,
    /// The main place; null for a message about the book as a whole.
    at: Option<At<'a>>,
    /// The other lines it quarrels with.
    also: Vec<At<'a>>,
    /// The shortest cure; null when there is none.
    cure: Option<&'a str>,
    /// How many times the same mistake stands in the book.
    times: u32,
}

impl<'a> Entry<'a> {
    fn new(one: &'a Diagnostic, places: &Places<'a>) -> Self {
        Self {
            check: one.check,
            severity: one.severity,
            message: &one.message,
            at: one.at.as_ref().and_then(|mark| At::new(mark, places)),
            also: one.also.iter().filter_map(|mark| At::new(mark, places)).collect(),
            cure: one.cure.as_deref(),
            times: one.times,
        }
    }
}

/// One place.
#[derive(Debug, Serialize)]
struct At<'a> {
    /// Path below the book's folder, with `/` between parts.
    path: &'a str,
    /// Line of the first character, from 1.
    line: u32,
    /// Column of the first character, from 1, in characters (Unicode code points).
    column: u32,
    /// Line of the end, from 1.
    end_line: u32,
    /// Column just past the last character.
    end_column: u32,
    /// The text between the two; only the first 1000 characters of a longer one.
    text: String,
    /// What the message says of this place; may be empty.
    words: &'a str,
}

impl<'a> At<'a> {
    /// `None` for a mark in no file of the book.
    fn new(mark: &'a Mark, places: &Places<'a>) -> Option<Self> {
        let place = places.place(mark.span)?;
        Some(Self {
            path: places.path(mark.span.file),
            line: place.line,
            column: place.column,
            end_line: place.end_line,
            end_column: place.end_column,
            text: places.text(mark.span).chars().take(1000).collect(),
            words: &mark.words,
        })
    }
}

/// The messages as one JSON document, indented, ending in a line end.
#[must_use]
pub fn render(diagnostics: &[Diagnostic], files: &Files) -> String {
    let places = Places::new(files);
    let count = |severity| diagnostics.iter().filter(|one| one.severity == severity).count();
    let document = Document {
        diagnostics: diagnostics.iter().map(|one| Entry::new(one, &places)).collect(),
        errors: count(Severity::Error),
        warnings: count(Severity::Warning),
        notes: count(Severity::Note),
    };
    crate::visible::json(&document)
}
