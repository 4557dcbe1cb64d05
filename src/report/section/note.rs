//! Notes: Markdown as HTML, the only HTML in any view.
//!
//! Must not know where a note stands.

use crate::audience;
use crate::book::entry::EntryId;
use crate::report::markdown;
use crate::report::teller::Teller;
use serde::Serialize;

/// A note.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Note {
    /// Safe HTML: raw HTML in the note has become text.
    pub html: String,
    /// Its first line.
    pub src: String,
}

/// One note of the note lines at these entries, joined as they stand.
pub(super) fn note(tell: &Teller<'_>, entries: &[EntryId]) -> Note {
    let lines: Vec<&str> = entries
        .iter()
        .filter_map(|index| tell.entry(*index))
        .map(|entry| {
            let text = tell.cx.text(entry.span());
            // Whom it is for is said to the compiler.
            let text = audience::policy::note(text).map_or(text, |(_, rest)| rest);
            let text = text.strip_prefix('|').unwrap_or(text);
            text.strip_prefix(' ').unwrap_or(text)
        })
        .collect();
    Note {
        html: markdown::html(&lines.join("\n")),
        src: entries.first().map_or_else(String::new, |index| tell.src_of(*index)),
    }
}
