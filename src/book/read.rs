//! Reading dated blocks: a chunk at a time, on all cores, against the finished declarations.
//!
//! Must not know what was true before an entry.

mod costs;
mod head;
mod jobs;
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
        headless: true,
        no_car: false,
    };
    for block in &chunk.blocks {
        reader.block(*block);
    }
    part.entries.shrink_to_fit();
    part
}

/// Where a part's lists start in the book's.
#[derive(Debug, Clone, Copy)]
struct Start {
    heads: u32,
    entries: u32,
    items: u32,
    extras: u32,
    runs: u32,
}

/// Puts the chunks' parts behind one another; the long lists side by side on all cores.
pub fn append(book: &mut Book, parts: Vec<Part>) {
    let mut start = Start {
        heads: book.heads.len() as u32,
        entries: book.entries.len() as u32,
        items: book.items.len() as u32,
        extras: book.extras.len() as u32,
        runs: book.runs.len() as u32,
    };
    let mut starts = Vec::with_capacity(parts.len());
    let (mut entries, mut items, mut extras) = (Vec::new(), Vec::new(), Vec::new());
    for part in parts {
        starts.push(start);
        book.heads.extend(part.heads.into_iter().map(|mut head| {
            head.first += start.entries;
            head.end += start.entries;
            head
        }));
        book.runs.extend(part.runs.into_iter().map(|mut run| {
            run.entry += start.entries;
            run
        }));
        book.troubles.extend(part.troubles);
        start.heads = book.heads.len() as u32;
        start.runs = book.runs.len() as u32;
        start.entries += part.entries.len() as u32;
        start.items += part.items.len() as u32;
        start.extras += part.extras.len() as u32;
        entries.push(part.entries);
        items.push(part.items);
        extras.push(part.extras);
    }
    let Book { entries: all_entries, items: all_items, extras: all_extras, .. } = book;
    rayon::join(
        || {
            for (list, start) in entries.into_iter().zip(starts) {
                all_entries.extend(list.into_iter().map(|entry| moved(entry, start)));
            }
            join(all_items, items);
        },
        || join(all_extras, extras),
    );
}

fn join<T>(all: &mut Vec<T>, lists: Vec<Vec<T>>) {
    for mut list in lists {
        all.append(&mut list);
    }
}

/// An entry with its indexes into the whole book's lists.
fn moved(mut entry: Entry, start: Start) -> Entry {
    entry.head += start.heads;
    entry.items += start.items;
    if entry.parent != NONE {
        entry.parent += start.entries;
    }
    if entry.extra != NONE {
        entry.extra += start.extras;
    }
    let about_run = matches!(entry.verb, super::entry::Verb::Run | super::entry::Verb::Laps);
    if about_run && entry.subject != NONE {
        entry.subject += start.runs;
    }
    entry
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
    /// Whether no dated head stands above that a line without its indent could belong to.
    headless: bool,
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
            LineKind::Declaration if first.indent == 0 => {
                self.after_margin_verb(lines, block);
                return;
            }
            LineKind::Bad if first.indent == 0 => return,
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
        self.headless = true;
        let Some(head) = self.head(first) else { return };
        self.headless = false;
        self.out.heads.push(head);
        self.no_car = false;
        self.lines_under(lines, block);
    }

    /// A verb at the margin lost its indent, as its own message says; the lines below still belong to the date above.
    fn after_margin_verb(&mut self, lines: &[crate::syntax::Line], block: Block) {
        let Some(first) = lines.first() else { return };
        let verb = self.chunk.words_of(first).first().and_then(|word| line::verb_of(word.text(self.text)));
        if verb.is_none() {
            self.headless = true;
        } else if !self.headless && !self.out.heads.is_empty() {
            self.lines_under(lines, block);
        }
    }

    fn lines_under(&mut self, lines: &[crate::syntax::Line], block: Block) {
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
