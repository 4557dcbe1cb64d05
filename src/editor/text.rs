//! Positions of the protocol in a text: lines from 0, columns in UTF-16 units, both ways.
//!
//! Must not know the language. A line ends at `\n`, `\r\n` or `\r` alone, as the protocol has it; a byte-order mark at the start of a
//! text is one unit of the first line there, and no byte of the book's text.

use lsp_types::{Position, Range};

/// The mark that may stand before a text.
const MARK: &str = "\u{FEFF}";

/// A text as a client holds it.
#[derive(Debug)]
pub struct Text<'a> {
    raw: &'a str,
    starts: Vec<usize>,
    mark: usize,
}

impl<'a> Text<'a> {
    /// Of the whole text as the client has it, mark included.
    #[must_use]
    pub fn new(raw: &'a str) -> Self {
        let bytes = raw.as_bytes();
        let ends = bytes.iter().enumerate().filter(|(at, byte)| match byte {
            b'\n' => true,
            b'\r' => bytes.get(at + 1) != Some(&b'\n'),
            _ => false,
        });
        let starts = std::iter::once(0).chain(ends.map(|(at, _)| at + 1)).collect();
        Self { raw, starts, mark: if raw.starts_with(MARK) { MARK.len() } else { 0 } }
    }

    /// The position of a byte of the book's text (without the mark).
    #[must_use]
    pub fn position(&self, offset: usize) -> Position {
        let at = self.raw.floor_char_boundary(offset.saturating_add(self.mark));
        let line = self.starts.partition_point(|start| *start <= at).saturating_sub(1);
        let start = self.starts.get(line).copied().unwrap_or(0);
        let before = self.raw.get(start..at).unwrap_or_default();
        Position::new(line as u32, before.encode_utf16().count() as u32)
    }

    /// The range of some bytes of the book's text.
    #[must_use]
    pub fn range(&self, from: u32, to: u32) -> Range {
        Range::new(self.position(from as usize), self.position(to as usize))
    }

    /// The byte of the book's text at a position; past a line's end it is that end, past the last line the text's.
    #[must_use]
    pub fn offset(&self, position: Position) -> usize {
        self.raw_offset(position).saturating_sub(self.mark)
    }

    /// The range of the whole text.
    #[must_use]
    pub fn whole(&self) -> Range {
        Range::new(Position::new(0, 0), self.position(self.raw.len()))
    }

    /// The text with a part of it replaced.
    #[must_use]
    pub fn replaced(&self, range: Range, new: &str) -> String {
        let (from, to) = (self.raw_offset(range.start), self.raw_offset(range.end));
        let (from, to) = (from.min(to), from.max(to));
        let part = |range: Option<&str>| range.unwrap_or_default().to_owned();
        part(self.raw.get(..from)) + new + self.raw.get(to..).unwrap_or_default()
    }

    fn raw_offset(&self, position: Position) -> usize {
        let line = position.line as usize;
        let Some(start) = self.starts.get(line).copied() else { return self.raw.len() };
        let end = self.starts.get(line + 1).copied().unwrap_or(self.raw.len());
        let held = self.raw.get(start..end).unwrap_or_default().trim_end_matches(['\r', '\n']);
        let mut units = 0;
        for (at, c) in held.char_indices() {
            units += c.len_utf16() as u32;
            if units > position.character {
                return start + at;
            }
        }
        start + held.len()
    }
}
