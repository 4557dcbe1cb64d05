//! The texts of a book and the line table of each.
//!
//! Must not know the language.

use super::covered::Covered;
use super::{FileId, LineTable, Span};
use rustc_hash::FxHashMap;
use std::ffi::OsString;
use std::path::PathBuf;
use std::sync::OnceLock;

/// One ledger file held in memory.
#[derive(Debug, Clone, Default)]
pub struct SourceFile {
    /// Path relative to the book's folder, with `/` between parts on every system, as it is shown ([`super::shown`]): no two
    /// files of a book have the same. Nothing is opened by it.
    pub path: String,
    /// The text: UTF-8, without a leading byte-order mark; bytes that were not UTF-8 stand as U+FFFD.
    pub text: String,
}

/// Where on disk a ledger is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Origin {
    /// What to open.
    pub open: PathBuf,
    /// Path relative to the book's folder, with `/` between parts on every system; byte for byte as the disk has it.
    pub below: OsString,
    /// Whether the file began with a byte-order mark, which its text is without.
    pub mark: bool,
}

/// All ledger files of a book, in path order.
#[derive(Debug, Clone, Default)]
pub struct Files {
    all: Vec<SourceFile>,
    /// Of each file, in a book from disk; empty otherwise.
    origins: Vec<Origin>,
    /// Where files were looked for, in a book from a folder on disk.
    folders: Vec<PathBuf>,
    /// Made when a line is first asked for: a message about one line names others.
    lines: Vec<OnceLock<LineTable>>,
    /// Of texts in which something is covered.
    covered: Option<Covered>,
    /// Words that stand in place of others: what a value should have said, by where it was typed and for whose sake.
    corrected: OnceLock<FxHashMap<(Span, u16), Span>>,
}

impl Files {
    /// Files in the given order; callers sort by path first.
    #[must_use]
    pub fn new(files: Vec<SourceFile>) -> Self {
        let lines = vec![OnceLock::new(); files.len()];
        Self { all: files, lines, ..Self::default() }
    }

    /// The same, where bytes of the texts may be covered ([`super::covered`]), and where the lines of a file may be counted by
    /// another table than all of them.
    #[must_use]
    pub fn with_covers(files: Vec<(SourceFile, Option<LineTable>)>) -> Self {
        let (files, tables): (Vec<_>, Vec<_>) = files.into_iter().unzip();
        let lines = tables.into_iter().map(|table| table.map_or_else(OnceLock::new, OnceLock::from));
        Self { lines: lines.collect(), covered: Some(Covered::default()), ..Self::new(files) }
    }

    /// Files that were read from disk, where they were looked for in these folders.
    pub(super) fn read(files: Vec<(SourceFile, Origin)>, folders: Vec<PathBuf>) -> Self {
        let (files, origins) = files.into_iter().unzip();
        Self { origins, folders, ..Self::new(files) }
    }

    /// Every folder on disk in which the book's files were looked for, whether there were any; none where the book comes
    /// from a single file or from memory.
    #[must_use]
    pub fn folders(&self) -> &[PathBuf] {
        &self.folders
    }

    /// Where on disk a file is; `None` where it comes from none.
    #[must_use]
    pub fn origin(&self, id: FileId) -> Option<&Origin> {
        self.origins.get(id.0 as usize)
    }

    /// The path of a file below the book's folder, byte for byte as the disk has it; empty for an unknown id.
    #[must_use]
    pub fn path_bytes(&self, id: FileId) -> &[u8] {
        self.origin(id).map_or_else(|| self.path(id).as_bytes(), |origin| origin.below.as_encoded_bytes())
    }

    /// The files with their ids, in order.
    pub fn iter(&self) -> impl Iterator<Item = (FileId, &SourceFile)> {
        self.all.iter().enumerate().map(|(index, file)| (FileId(index as u32), file))
    }

    /// How many files.
    #[must_use]
    pub fn len(&self) -> usize {
        self.all.len()
    }

    /// Whether the book has no file at all.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.all.is_empty()
    }

    /// The file, or `None` for an id of another book.
    #[must_use]
    pub fn get(&self, id: FileId) -> Option<&SourceFile> {
        self.all.get(id.0 as usize)
    }

    /// The text under a span; empty when the span lies outside.
    #[must_use]
    pub fn text(&self, span: Span) -> &str {
        let corrected = self.corrected.get().and_then(|corrected| corrected.get(&(span, span.sake())));
        self.typed(corrected.copied().unwrap_or(span))
    }

    /// Words in whose place others are read from now on, each by the span of just those words, for that one's sake. Said once.
    pub fn correct(&self, words: &[(Span, Span)]) {
        let words = words.iter().map(|(typed, said)| ((*typed, typed.sake()), *said));
        let _ = self.corrected.set(words.collect());
    }

    /// The text under a span as it was typed, whatever was corrected since.
    #[must_use]
    pub fn typed(&self, span: Span) -> &str {
        let text = self
            .get(span.file)
            .and_then(|file| file.text.get(span.start as usize..span.end as usize))
            .unwrap_or_default();
        self.covered.as_ref().map_or(text, |covered| covered.text(span, text))
    }

    /// The path of a file; empty for an unknown id.
    #[must_use]
    pub fn path(&self, id: FileId) -> &str {
        self.get(id).map_or("", |file| file.path.as_str())
    }

    /// Line (from 1) of a span's start, as it is told; 0 for an unknown file.
    #[must_use]
    pub fn line(&self, span: Span) -> u32 {
        let (Some(file), Some(lines)) = (self.get(span.file), self.lines.get(span.file.0 as usize)) else {
            return 0;
        };
        lines.get_or_init(|| LineTable::new(&file.text)).line(span.start)
    }

    /// Line and column (both from 1; the column counts characters) of the span's start.
    #[must_use]
    pub fn line_column(&self, span: Span) -> (u32, u32) {
        let Some(file) = self.get(span.file) else { return (0, 0) };
        let start = (span.start as usize).min(file.text.len());
        let (before, _) = file.text.as_bytes().split_at(start);
        let line_start = memchr::memrchr(b'\n', before).map_or(0, |at| at + 1);
        let column = file.text.get(line_start..start).map_or(0, |text| text.chars().count());
        (self.line(span), column as u32 + 1)
    }
}
