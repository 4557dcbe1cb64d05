//! Words that a reader may not have, in texts that keep every other byte in its place.
//!
//! A covered byte stands where a hidden one stood, so that spans still fit; whoever asks for the words gets one sign for the whole
//! run, the same for a short name and a long one. Must not know whose words they are.

use super::Span;
use elsa::sync::FrozenMap;

/// In the place of a byte that is covered.
pub const COVER: u8 = 0x1a;
/// The same in a note, where a row of underscores would be markup.
pub const COVER_NOTE: u8 = 0x1c;
/// What is read in the place of what is covered.
pub const SIGN: &str = "___";
/// The same in a note.
pub const SIGN_NOTE: &str = "...";

/// Texts under spans with something covered, as they are read; made when they are first asked for.
#[derive(Default)]
pub(super) struct Covered(FrozenMap<(u32, u32, u32), Box<str>>);

impl Covered {
    /// The words under a span.
    pub(super) fn text<'a>(&'a self, span: Span, text: &'a str) -> &'a str {
        if !text.bytes().any(|byte| matches!(byte, COVER | COVER_NOTE)) {
            return text;
        }
        let key = (span.file.0, span.start, span.end);
        self.0.get(&key).unwrap_or_else(|| self.0.insert(key, signed(text).into()))
    }
}

impl std::fmt::Debug for Covered {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Covered")
    }
}

impl Clone for Covered {
    fn clone(&self) -> Self {
        Self::default()
    }
}

/// A text with one sign for each run of covered bytes.
#[must_use]
pub fn signed(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut last = None;
    for c in text.chars() {
        let sign = match u8::try_from(c) {
            Ok(COVER) => Some(SIGN),
            Ok(COVER_NOTE) => Some(SIGN_NOTE),
            _ => None,
        };
        match sign {
            Some(sign) if last != Some(c) => out.push_str(sign),
            Some(_) => {}
            None => out.push(c),
        }
        last = Some(c);
    }
    out
}
