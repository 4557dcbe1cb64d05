//! One file of a compiled book with its lines and words, for whoever must know what stands where.
//!
//! Must not know any request. Words come from the syntax tree, what they mean from the book; nothing is read a second way.

use super::desk::Desk;
use super::text::Text;
use crate::Compiled;
use crate::book::entry::{Entry, EntryId};
use crate::book::names::{Thing, folded, same};
use crate::source::FileId;
use crate::syntax::{Chunk, Line, Shape, Word, parse_lines_only};
use crate::vocabulary::QuantityId;
use std::path::{Path, PathBuf};

/// One file of a book.
#[derive(Debug)]
pub struct Leaf<'a> {
    /// Everything that is open.
    pub desk: &'a Desk,
    /// Its book.
    pub compiled: &'a Compiled,
    /// The file.
    pub file: FileId,
    /// Where it is.
    pub path: PathBuf,
    /// The book's text of it.
    pub source: &'a str,
    /// Its positions.
    pub text: Text<'a>,
    /// Its lines.
    pub chunk: Chunk,
}

/// What a word names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Named {
    /// Something declared.
    Thing(Thing),
    /// A quantity.
    Quantity(QuantityId),
}

/// A word, or the part of one between slashes, that may be a name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Piece<'a> {
    /// First byte in the file.
    pub start: u32,
    /// Its text.
    pub text: &'a str,
}

impl Piece<'_> {
    /// One past its last byte.
    #[must_use]
    pub const fn end(&self) -> u32 {
        self.start + self.text.len() as u32
    }
}

impl<'a> Leaf<'a> {
    /// A file of a compiled book; `None` where it is not among its files.
    #[must_use]
    pub fn new(desk: &'a Desk, compiled: &'a Compiled, path: &Path) -> Option<Self> {
        let file = Desk::file(compiled, path)?;
        Self::of(desk, compiled, file)
    }

    /// The same by its id.
    #[must_use]
    pub fn of(desk: &'a Desk, compiled: &'a Compiled, file: FileId) -> Option<Self> {
        let source = compiled.files.get(file)?.text.as_str();
        let path = Desk::path_of(compiled, file)?;
        let text = desk.text(compiled, file);
        Some(Self { desk, compiled, file, path, source, text, chunk: parse_lines_only(source) })
    }

    /// The line that holds a byte.
    #[must_use]
    pub fn line(&self, offset: usize) -> Option<&Line> {
        let after = self.chunk.lines.partition_point(|line| line.start as usize <= offset);
        let line = self.chunk.lines.get(after.checked_sub(1)?)?;
        (offset <= line.end as usize).then_some(line)
    }

    /// The word at a byte, or that ends there.
    #[must_use]
    pub fn word(&self, offset: usize) -> Option<Word> {
        let words = self.chunk.words_of(self.line(offset)?);
        let holds = |word: &&Word| (word.start as usize..=word.end() as usize).contains(&offset);
        // Of two that touch, the later: the cursor stands before its first letter.
        words.iter().rev().find(holds).copied()
    }

    /// The name at a byte, and what it names.
    #[must_use]
    pub fn name(&self, offset: usize) -> Option<(Piece<'a>, Named)> {
        let pieces = pieces(self.word(offset)?, self.source);
        let at =
            pieces.into_iter().rev().find(|one| (one.start as usize..=one.end() as usize).contains(&offset));
        let piece = at?;
        Some((piece, self.named(piece.text)?))
    }

    /// What a word names.
    #[must_use]
    pub fn named(&self, word: &str) -> Option<Named> {
        let book = &self.compiled.book;
        let thing = book.names.find(word).map(Named::Thing);
        thing.or_else(|| book.vocabulary.find(&folded(word)).map(Named::Quantity))
    }

    /// The entry that a line is.
    #[must_use]
    pub fn entry(&self, line: &Line) -> Option<(EntryId, &'a Entry)> {
        let book = &self.compiled.book;
        let id = book.entries.partition_point(|one| (one.file, one.start) < (self.file, line.start));
        let entry = book.entries.get(id)?;
        (entry.file == self.file && entry.start < line.end).then_some((id, entry))
    }

    /// Every place in this file where a name stands.
    pub fn places<'b>(&'b self, name: &'b str) -> impl Iterator<Item = Piece<'a>> + 'b {
        let words = self.chunk.words.iter();
        words.flat_map(|word| pieces(*word, self.source)).filter(move |piece| same(piece.text, name))
    }

    /// The text of a line without the blanks round it.
    #[must_use]
    pub fn said(&self, line: &Line) -> &'a str {
        self.source.get(line.start as usize..line.end as usize).unwrap_or_default().trim()
    }
}

/// The names that a word may hold: itself, or what stands between its slashes. None in words that are no names.
fn pieces(word: Word, source: &str) -> Vec<Piece<'_>> {
    if !matches!(word.shape, Shape::Word | Shape::Code | Shape::Odd | Shape::Ratio) {
        return Vec::new();
    }
    let mut at = word.start;
    let mut pieces = Vec::new();
    for text in word.text(source).split('/') {
        pieces.push(Piece { start: at, text });
        at += text.len() as u32 + 1;
    }
    pieces
}
