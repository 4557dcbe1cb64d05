//! Where lines start, worked out once per file, so that a thousand messages do not count line ends a thousand times.
//!
//! Must not know the language, nor how a place is shown to people.

use std::ops::Range;

/// The first byte of every line of one text. A line ends at `\n`; a `\r` before it belongs to the line end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LineTable {
    starts: Vec<u32>,
}

impl LineTable {
    /// The table of `text`. A text has one line more than it has line ends, so an empty one has one line.
    #[must_use]
    pub fn new(text: &str) -> Self {
        let ends = memchr::memchr_iter(b'\n', text.as_bytes());
        Self { starts: std::iter::once(0).chain(ends.map(|at| at as u32 + 1)).collect() }
    }

    /// The same counting only some lines, told by the byte that each starts with: what stands between two of them belongs to the
    /// first.
    #[must_use]
    pub fn of_some(mut starts: Vec<u32>) -> Self {
        starts.sort_unstable();
        starts.dedup();
        Self { starts }
    }

    /// How many lines; of a whole text at least 1.
    #[must_use]
    pub fn count(&self) -> u32 {
        self.starts.len() as u32
    }

    /// The line (from 1) that holds the byte at `offset`; the last one for an offset past the end, the first before all.
    #[must_use]
    pub fn line(&self, offset: u32) -> u32 {
        (self.starts.partition_point(|start| *start <= offset) as u32).max(1)
    }

    /// First byte of a line (from 1); `None` past the last line.
    #[must_use]
    pub fn start(&self, line: u32) -> Option<usize> {
        self.starts.get((line as usize).checked_sub(1)?).map(|start| *start as usize)
    }

    /// The bytes of a line (from 1) without its line end. `text` is the text the table was made of.
    #[must_use]
    pub fn range(&self, text: &str, line: u32) -> Range<usize> {
        let Some(start) = self.start(line) else { return text.len()..text.len() };
        let end = self.start(line + 1).map_or(text.len(), |next| next - 1);
        let held = text.get(start..end).unwrap_or_default();
        start..start + held.strip_suffix('\r').unwrap_or(held).len()
    }
}
