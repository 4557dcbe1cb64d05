//! One line a message, for editors' error lists and for `grep`: `path:line:col: severity[check]: message (cure)`.
//!
//! Must not know any particular check.

use super::{Diagnostic, one_line, repeated};
use crate::source::{Files, Places};
use std::fmt::Write as _;

/// The messages, one line each, in the order given. A message about the book as a whole has no place before it.
#[must_use]
pub fn render(diagnostics: &[Diagnostic], files: &Files) -> String {
    let places = Places::new(files);
    let mut out = String::new();
    for diagnostic in diagnostics {
        let span = diagnostic.at.as_ref().map(|mark| mark.span);
        if let Some((span, place)) = span.and_then(|span| Some((span, places.place(span)?))) {
            let path = one_line(places.path(span.file));
            let _ = write!(out, "{path}:{}:{}: ", place.line, place.column);
        }
        let word = diagnostic.severity.word();
        let _ = write!(out, "{word}[{}]: {}", diagnostic.check, one_line(&diagnostic.message));
        if let Some(cure) = &diagnostic.cure {
            let _ = write!(out, " ({})", one_line(cure));
        }
        if let Some(words) = repeated(diagnostic.times) {
            let _ = write!(out, " [{words}]");
        }
        out.push('\n');
    }
    out
}
