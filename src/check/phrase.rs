//! Turns of phrase that many messages share: lists, articles, narrowed spans.
//!
//! Must not know any particular check, nor the book.

use super::Check;
use crate::diagnostics::Diagnostic;
use crate::source::Span;

/// "N/mm, lb/in or kgf/mm".
#[must_use]
pub fn or(words: &[impl AsRef<str>]) -> String {
    let mut list = String::new();
    for (at, word) in words.iter().enumerate() {
        if at > 0 {
            list.push_str(if at + 1 == words.len() { " or " } else { ", " });
        }
        list.push_str(word.as_ref());
    }
    list
}

/// "a car", "an event".
#[must_use]
pub fn a(word: &str) -> String {
    let an = word.starts_with(['a', 'e', 'i', 'o', 'u', 'A', 'E', 'I', 'O', 'U']);
    format!("{} {word}", if an { "an" } else { "a" })
}

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

/// A number with up to three decimals, none that say nothing: 0.5, 100, -8.
#[must_use]
pub fn short(value: f64) -> String {
    let text = crate::units::number::format(value, 3);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// With a capital, unless it starts with a quoted word.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
