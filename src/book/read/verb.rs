//! The verb that a word is.
//!
//! Must not know what a verb does.

use crate::book::entry::Verb;

/// The verb or answering line of that word.
#[must_use]
pub fn verb_of(text: &str) -> Option<Verb> {
    let first = text.as_bytes().first()?.to_ascii_lowercase();
    Verb::ALL.iter().copied().find(|verb| {
        let word = verb.word();
        word.len() == text.len()
            && word.as_bytes().first() == Some(&first)
            && word.eq_ignore_ascii_case(text)
            && *verb != Verb::Note
    })
}
