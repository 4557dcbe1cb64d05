//! Where something stands in a book: a file and a byte range in it.
//!
//! Knows offsets only. It must not know the language, nor how a place is shown to people.

use std::cmp::Ordering;
use std::hash::{Hash, Hasher};

/// A ledger file of the book, numbered in path order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct FileId(pub u32);

/// A byte range in one file; `start <= end`. Offsets are in the file's text as held in memory.
///
/// Two spans of the same bytes are the same span, whatever they were meant for.
#[derive(Debug, Clone, Copy, Default)]
pub struct Span {
    /// The file.
    pub file: FileId,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
    /// For which of the things that the same bytes say of several they stand here.
    sake: u16,
}

impl Span {
    /// Where what is about the whole book stands: before its first byte.
    pub const BOOK: Self = Self::new(FileId(0), 0, 0);

    /// The span of `start..end` in `file`.
    #[must_use]
    pub const fn new(file: FileId, start: u32, end: u32) -> Self {
        Self { file, start, end, sake: 0 }
    }

    /// The smallest span that covers both; both must be in one file (else the first is returned).
    #[must_use]
    pub fn to(self, other: Self) -> Self {
        if self.file != other.file {
            return self;
        }
        Self::new(self.file, self.start.min(other.start), self.end.max(other.end))
    }

    /// The same bytes, for the sake of one of the things that they say of several: `front -3.0` says one number of two corners.
    #[must_use]
    pub const fn for_one(self, sake: u16) -> Self {
        Self { sake, ..self }
    }

    /// The same up to another byte.
    #[must_use]
    pub const fn until(self, end: u32) -> Self {
        Self { end, ..self }
    }

    /// For whose sake it stands.
    pub(super) const fn sake(self) -> u16 {
        self.sake
    }

    const fn bytes(self) -> (FileId, u32, u32) {
        (self.file, self.start, self.end)
    }
}

impl PartialEq for Span {
    fn eq(&self, other: &Self) -> bool {
        self.bytes() == other.bytes()
    }
}

impl Eq for Span {}

impl Hash for Span {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.bytes().hash(state);
    }
}

impl PartialOrd for Span {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Span {
    fn cmp(&self, other: &Self) -> Ordering {
        self.bytes().cmp(&other.bytes())
    }
}
