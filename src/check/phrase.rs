//! What many messages share beyond their words: messages without a place, narrowed spans.
//!
//! Must not know any particular check, nor the book.

use super::Check;
use crate::diagnostics::Diagnostic;
use crate::source::Span;

/// A message about the book as a whole, without a place.
#[must_use]
pub fn whole(check: &Check, message: String) -> Diagnostic {
    Diagnostic { at: None, ..check.at(Span::default(), message) }
}

/// The `index`-th word (from 0) of a span's text, or the whole span when it has fewer.
#[must_use]
pub fn word_of(text: &str, span: Span, index: usize) -> Span {
    let mut at = 0;
    for (seen, word) in text.split_ascii_whitespace().enumerate() {
        let start = at + text.get(at..).and_then(|rest| rest.find(word)).unwrap_or(0);
        at = start + word.len();
        if seen == index {
            return Span::new(span.file, span.start + start as u32, span.start + at as u32);
        }
    }
    span
}
