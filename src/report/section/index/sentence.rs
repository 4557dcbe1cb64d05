//! A sentence of the first page and its line.
//!
//! Must not know what it says.

use serde::Serialize;

/// A sentence and its line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Sentence {
    /// A word before it: "sold", "nothing fitted", "jobs to do"; may be empty.
    pub word: String,
    /// The sentence.
    pub text: String,
    /// The line.
    pub src: String,
    /// Whether it must be seen to.
    pub presses: bool,
}

pub(super) fn said(word: &str, text: String, src: String) -> Sentence {
    Sentence { word: word.to_owned(), text, src, presses: false }
}
