//! Reading a line's words one after another, with their text.
//!
//! Must not know what any word means.

use super::tree::{Shape, Word};
use crate::source::{FileId, Span};

/// A place in a line's words.
#[derive(Debug, Clone)]
pub struct Cursor<'a> {
    /// The file the line stands in.
    pub file: FileId,
    /// The whole file's text.
    pub text: &'a str,
    words: &'a [Word],
    at: usize,
    line: (u32, u32),
    /// Whether an unknown name is worth the search for the nearest one.
    pub suggests: bool,
}

impl<'a> Cursor<'a> {
    /// A cursor at the first word; `line` is the line's byte range.
    #[must_use]
    pub const fn new(file: FileId, text: &'a str, words: &'a [Word], line: (u32, u32)) -> Self {
        Self { file, text, words, at: 0, line, suggests: true }
    }

    /// The word here, without moving.
    #[must_use]
    pub fn peek(&self) -> Option<Word> {
        self.words.get(self.at).copied()
    }

    /// The word last moved past.
    #[must_use]
    pub fn before(&self) -> Option<Word> {
        self.words.get(self.at.checked_sub(1)?).copied()
    }

    /// The word after so many, without moving.
    #[must_use]
    pub fn peek_at(&self, ahead: usize) -> Option<Word> {
        self.words.get(self.at + ahead).copied()
    }

    /// Moves past one word.
    pub fn bump(&mut self) {
        self.at += 1;
    }

    /// The word here if it has this shape; moves past it.
    pub fn take(&mut self, shape: Shape) -> Option<Word> {
        let word = self.peek().filter(|word| word.shape == shape)?;
        self.at += 1;
        Some(word)
    }

    /// Moves past the word here if it is `keyword` (capitals do not matter).
    pub fn take_keyword(&mut self, keyword: &str) -> bool {
        let found = self
            .peek()
            .is_some_and(|word| word.shape == Shape::Word && self.str(word).eq_ignore_ascii_case(keyword));
        self.at += usize::from(found);
        found
    }

    /// Whether a comma stood here; moves past it.
    pub fn take_comma(&mut self) -> bool {
        self.take(Shape::Comma).is_some()
    }

    /// The text of a word.
    #[must_use]
    pub fn str(&self, word: Word) -> &'a str {
        self.text.get(word.start as usize..word.end() as usize).unwrap_or_default()
    }

    /// The span of a word.
    #[must_use]
    pub const fn span(&self, word: Word) -> Span {
        word.span(self.file)
    }

    /// The span of what stands here: the word, or where the next would stand (comments left out) when there is none.
    #[must_use]
    pub fn here(&self) -> Span {
        let end = self.words.last().map_or(self.line.1, |last| last.end());
        self.peek().map_or(Span::new(self.file, end, end), |word| self.span(word))
    }

    /// The whole line's span.
    #[must_use]
    pub const fn line(&self) -> Span {
        Span::new(self.file, self.line.0, self.line.1)
    }

    /// The span from the line's first word to its last.
    #[must_use]
    pub fn said(&self) -> Span {
        match (self.words.first(), self.words.last()) {
            (Some(first), Some(last)) => Span::new(self.file, first.start, last.end()),
            _ => self.line(),
        }
    }

    /// Whether all words are read.
    #[must_use]
    pub const fn is_done(&self) -> bool {
        self.at >= self.words.len()
    }

    /// Whether the word at `ahead` is stuck to the word before it (no blank between).
    #[must_use]
    pub fn is_stuck(&self, ahead: usize) -> bool {
        match (self.words.get((self.at + ahead).wrapping_sub(1)), self.peek_at(ahead)) {
            (Some(before), Some(word)) => before.end() == word.start,
            _ => false,
        }
    }
}

/// The words between the quotes of a text word's text, straight or curly.
#[must_use]
pub fn unquote(text: &str) -> &str {
    let marks = ['"', '\u{201C}', '\u{201D}', '\u{201E}'];
    let text = text.strip_prefix(marks).unwrap_or(text);
    text.strip_suffix(marks).unwrap_or(text)
}
