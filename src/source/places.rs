//! Lines and columns of a book's spans.
//!
//! Must not know the language, nor how a place is shown to people.

use crate::source::line_table::LineTable;
use crate::source::{FileId, Files, Span};
use std::cell::OnceCell;
use std::ops::Range;

/// Lines and columns of a span's two ends, all from 1; columns count characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// Line of the first character.
    pub line: u32,
    /// Column of the first character.
    pub column: u32,
    /// Line of the end.
    pub end_line: u32,
    /// Column just past the last character.
    pub end_column: u32,
}

/// The places of a book's spans; the line table of a file is made when it is first asked for.
#[derive(Debug)]
pub struct Places<'a> {
    files: &'a Files,
    tables: Vec<OnceCell<LineTable>>,
}

impl<'a> Places<'a> {
    /// Places in `files`.
    #[must_use]
    pub fn new(files: &'a Files) -> Self {
        Self { files, tables: vec![OnceCell::new(); files.len()] }
    }

    /// The text of a file and its line table; `None` for an id of another book.
    #[must_use]
    pub fn file(&self, id: FileId) -> Option<(&'a str, &LineTable)> {
        let text = self.files.get(id)?.text.as_str();
        let table = self.tables.get(id.0 as usize)?.get_or_init(|| LineTable::new(text));
        Some((text, table))
    }

    /// The path of a file; empty for an unknown id.
    #[must_use]
    pub fn path(&self, id: FileId) -> &'a str {
        self.files.path(id)
    }

    /// The path of a file, byte for byte as the disk has it.
    #[must_use]
    pub fn path_bytes(&self, id: FileId) -> &'a [u8] {
        self.files.path_bytes(id)
    }

    /// The bytes of a span, moved outward to whole characters and cut at the end of the text, whatever it says.
    #[must_use]
    pub fn bytes(&self, span: Span) -> Option<Range<usize>> {
        let text = self.files.get(span.file)?.text.as_str();
        let start = text.floor_char_boundary(span.start as usize);
        Some(start..text.ceil_char_boundary(span.end as usize).max(start))
    }

    /// The text under a span, in whole characters; empty when the span lies outside.
    #[must_use]
    pub fn text(&self, span: Span) -> &'a str {
        let text = self.files.get(span.file).map_or("", |file| file.text.as_str());
        self.bytes(span).and_then(|bytes| text.get(bytes)).unwrap_or_default()
    }

    /// Lines and columns of a span, in whole characters; `None` for an id of another book.
    #[must_use]
    pub fn place(&self, span: Span) -> Option<Place> {
        let (text, table) = self.file(span.file)?;
        let bytes = self.bytes(span)?;
        let spot = |at: usize| {
            let line = table.line(at as u32);
            let before = table.start(line).and_then(|start| text.get(start..at)).unwrap_or_default();
            (line, before.chars().count() as u32 + 1)
        };
        let (line, column) = spot(bytes.start);
        let (end_line, end_column) = spot(bytes.end);
        Some(Place { line, column, end_line, end_column })
    }
}
