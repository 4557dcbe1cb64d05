//! The tree: chunks of blocks of lines of words, in compact arrays with u32 offsets.
//!
//! Must not know what any word means.

use super::Trouble;
use crate::source::{FileId, Span};
pub use crate::syntax::kind::LineKind;

/// The lexical shape of a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[repr(u8)]
pub enum Shape {
    /// Letters first: a verb, a name, a unit, a place.
    Word,
    /// One number: decimal, fraction of a ruler, degrees and minutes.
    Number,
    /// `a/b` or `a/b/c` that is not a fraction of a ruler.
    Ratio,
    /// `a..b`, numbers.
    Range,
    /// A date or a range of dates.
    Date,
    /// `HH:MM` or `HH:MM..HH:MM`.
    Clock,
    /// `M:SS.s`, a lap time.
    Lap,
    /// Starts with a digit and is none of the above: `75W-90`, `205/55R16`.
    Code,
    /// Quoted text, with its quotes.
    Text,
    /// `->`.
    Arrow,
    /// A lone dash: not read.
    Dash,
    /// `?`: not known.
    Unknown,
    /// `,` before a blank.
    Comma,
    /// `± 0.4`.
    Tolerance,
    /// The rest of the line after `because` (the words only; may be empty).
    Because,
    /// Anything else.
    Odd,
}

/// One word of a line. Offsets are absolute in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Word {
    /// First byte in the file.
    pub start: u32,
    /// Length in bytes.
    pub len: u16,
    /// Its shape.
    pub shape: Shape,
}

impl Word {
    /// One past the last byte.
    #[must_use]
    pub const fn end(self) -> u32 {
        self.start + self.len as u32
    }

    /// Its span in `file`.
    #[must_use]
    pub const fn span(self, file: FileId) -> Span {
        Span::new(file, self.start, self.end())
    }

    /// Its text, out of the whole file's text.
    #[must_use]
    pub fn text(self, file: &str) -> &str {
        file.get(self.start as usize..self.end() as usize).unwrap_or_default()
    }
}

/// One line that is not blank and not a comment.
#[derive(Debug, Clone, Copy)]
pub struct Line {
    /// First byte of the line in the file.
    pub start: u32,
    /// One past its last byte, without the line end.
    pub end: u32,
    /// Line number in the chunk, from 0; see [`Chunk::line_number`].
    pub number: u32,
    /// Index of its first word in the chunk.
    pub first_word: u32,
    /// How many words.
    pub words: u16,
    /// Of a line that the grammar refused: how many words it seems to have, from the same index.
    pub salvaged: u16,
    /// Width of its indent (a tab goes to the next multiple of 8); 0 for column 0.
    pub indent: u16,
    /// Index in the chunk of the line it belongs to; its own index at column 0.
    pub parent: u32,
    /// The rule.
    pub kind: LineKind,
}

/// A column-0 line and the indented lines under it: `lines[head..end]` of a chunk.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Block {
    /// Index of its first line (a head, a declaration, or an orphan at a file's start).
    pub head: u32,
    /// One past its last line.
    pub end: u32,
}

/// A run of whole blocks of one file.
#[derive(Debug, Clone, Default)]
pub struct Chunk {
    /// The file.
    pub file: FileId,
    /// Line number (from 1) of the chunk's first line in the file.
    pub first_line: u32,
    /// How many line ends the chunk has.
    pub line_ends: u32,
    /// Its lines that say something.
    pub lines: Vec<Line>,
    /// Their words, line by line.
    pub words: Vec<Word>,
    /// Its blocks.
    pub blocks: Vec<Block>,
    /// What could not be read.
    pub troubles: Vec<Trouble>,
}

impl Chunk {
    /// The lines of one of its blocks, the head line first.
    #[must_use]
    pub fn lines_of(&self, block: Block) -> &[Line] {
        self.lines.get(block.head as usize..block.end as usize).unwrap_or_default()
    }

    /// The words of a line.
    #[must_use]
    pub fn words_of(&self, line: &Line) -> &[Word] {
        let first = line.first_word as usize;
        self.words.get(first..first + line.words as usize).unwrap_or_default()
    }

    /// The words that a line seems to have which the grammar refused: what it was about, and nothing that could be believed.
    #[must_use]
    pub fn salvaged_of(&self, line: &Line) -> &[Word] {
        let first = line.first_word as usize;
        self.words.get(first..first + line.salvaged as usize).unwrap_or_default()
    }

    /// Line number in the file, from 1.
    #[must_use]
    pub const fn line_number(&self, line: &Line) -> u32 {
        self.first_line + line.number
    }
}

/// A whole book's tree: its chunks in file order.
#[derive(Debug, Clone, Default)]
pub struct Tree {
    /// Chunks in the order of the files and of the text.
    pub chunks: Vec<Chunk>,
}
