//! Where something stands in a book: a file and a byte range in it.
//!
//! Knows offsets only. It must not know the language, nor how a place is shown to people.

/// A ledger file of the book, numbered in path order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct FileId(pub u32);

/// A byte range in one file; `start <= end`. Offsets are in the file's text as held in memory.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct Span {
    /// The file.
    pub file: FileId,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// Where what is about the whole book stands: before its first byte.
    pub const BOOK: Self = Self::new(FileId(0), 0, 0);

    /// The span of `start..end` in `file`.
    #[must_use]
    pub const fn new(file: FileId, start: u32, end: u32) -> Self {
        Self { file, start, end }
    }

    /// The smallest span that covers both; both must be in one file (else the first is returned).
    #[must_use]
    pub fn to(self, other: Self) -> Self {
        if self.file != other.file {
            return self;
        }
        Self { file: self.file, start: self.start.min(other.start), end: self.end.max(other.end) }
    }
}
