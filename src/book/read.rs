//! Reading dated blocks: a chunk at a time, on all cores, against the finished declarations.
//!
//! Must not know what was true before an entry.

mod head;
mod line;
mod parts;
mod run;
mod setting;

use super::Book;
use super::entry::{Entry, Extra, Head, Item, NONE, Run};
use super::trouble::{Trouble, What};
use super::values::ValueReader;
use crate::source::Files;
use crate::syntax::{Block, Chunk, LineKind};

/// What one chunk says; indexes are its own until [`append`].
#[derive(Debug, Default)]
pub struct Part {
    heads: Vec<Head>,
    entries: Vec<Entry>,
    items: Vec<Item>,
    extras: Vec<Extra>,
    runs: Vec<Run>,
    troubles: Vec<Trouble>,
}

/// Reads a chunk's dated blocks.
pub fn read_chunk(book: &Book, files: &Files, chunk: &Chunk) -> Part {
    let mut part = Part::default();
    part.entries.reserve(chunk.lines.len());
    let Some(file) = files.get(chunk.file) else { return part };
    let mut reader = Reader {
        book,
        chunk,
        text: &file.text,
        out: &mut part,
        values: ValueReader::default(),
        lines: Vec::new(),
        orphans: false,
        no_car: false,
    };
    for block in &chunk.blocks {
        reader.block(*block);
    }
    part.entries.shrink_to_fit();
    part
}

/// Puts the chunks' parts behind one another.
pub fn append(book: &mut Book, parts: Vec<Part>) {
    let total = |size: fn(&Part) -> usize| parts.iter().map(size).sum::<usize>();
    book.heads.reserve_exact(total(|part| part.heads.len()));
    book.entries.reserve_exact(total(|part| part.entries.len()));
    book.items.reserve_exact(total(|part| part.items.len()));
    book.extras.reserve_exact(total(|part| part.extras.len()));
    book.runs.reserve_exact(total(|part| part.runs.len()));
    for part in parts {
        let (heads, entries) = (book.heads.len() as u32, book.entries.len() as u32);
        let (items, extras, runs) =
            (book.items.len() as u32, book.extras.len() as u32, book.runs.len() as u32);
        book.heads.extend(part.heads.into_iter().map(|mut head| {
            head.first += entries;
            head.end += entries;
            head
        }));
        book.entries.extend(part.entries.into_iter().map(|mut entry| {
            entry.head += heads;
            entry.items += items;
            if entry.parent != NONE {
                entry.parent += entries;
            }
            if entry.extra != NONE {
                entry.extra += extras;
            }
            if entry.verb == super::entry::Verb::Run && entry.subject != NONE {
                entry.subject += runs;
            }
            entry
        }));
        book.items.extend(part.items);
        book.extras.extend(part.extras);
        book.runs.extend(part.runs.into_iter().map(|mut run| {
            run.entry += entries;
            run
        }));
        book.troubles.extend(part.troubles);
    }
}

struct Reader<'a> {
    book: &'a Book,
    chunk: &'a Chunk,
    text: &'a str,
    out: &'a mut Part,
    values: ValueReader,
    /// Line index in the block to entry index, for `parent`.
    lines: Vec<u32>,
    /// Whether the block before had nothing to belong to: its neighbours suffer from the same mistake.
    orphans: bool,
    /// Whether the block was told already that its head names no car.
    no_car: bool,
}

impl Reader<'_> {
    fn trouble(&mut self, trouble: Trouble) {
        self.out.troubles.push(trouble);
    }

    fn block(&mut self, block: Block) {
        let lines = &self.chunk.lines[block.head as usize..block.end as usize];
        let Some(first) = lines.first() else { return };
        let after_orphans = std::mem::replace(&mut self.orphans, false);
        match first.kind {
            LineKind::Declaration | LineKind::Bad if first.indent == 0 => return,
            LineKind::Head => {}
            _ => {
                self.orphans = true;
                // A line that could not be read has its message already.
                if !after_orphans && first.kind != LineKind::Bad {
                    let words = self.chunk.words_of(first);
                    let line = crate::syntax::Cursor::new(
                        self.chunk.file,
                        self.text,
                        words,
                        (first.start, first.end),
                    );
                    let span = if first.kind == LineKind::Note { line.line() } else { line.said() };
                    self.trouble(Trouble { span, what: What::Orphan });
                }
                return;
            }
        }
        let Some(head) = self.head(first) else { return };
        self.out.heads.push(head);
        self.no_car = false;
        self.lines.clear();
        self.lines.resize(lines.len(), NONE);
        for (at, line) in lines.iter().enumerate().skip(1) {
            let parent = line
                .parent
                .checked_sub(block.head)
                .and_then(|above| self.lines.get(above as usize).copied())
                .unwrap_or(NONE);
            self.lines[at] = self.line(line, parent);
        }
        let end = self.out.entries.len() as u32;
        if let Some(head) = self.out.heads.last_mut() {
            head.end = end;
        }
    }
}
