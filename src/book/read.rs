//! Reading dated blocks: a chunk at a time, on all cores, against the finished declarations.
//!
//! Must not know what was true before an entry.

mod costs;
mod gauges;
mod handed;
mod head;
mod jobs;
mod line;
mod loans;
mod near;
mod outfit;
mod parts;
mod result;
mod run;
mod setting;
mod stock;
mod stretch;
mod tried;
mod verb;

pub use verb::verb_of;

use super::Book;
use super::dates::Offsets;
use super::entry::{
    Audience, Entry, EntryId, Extra, ExtraId, Head, HeadId, Item, ItemId, Run, RunId, Subject,
};
use super::names::Thing;
use super::trouble::{Trouble, What};
use super::values::ValueReader;
use crate::ids::Arena;
use crate::source::{FileId, Files};
use crate::syntax::{Block, Chunk, LineKind};
pub use outfit::read_outfit;

/// What one chunk says; indexes are its own until [`append`].
#[derive(Debug, Default)]
pub struct Part {
    heads: Arena<HeadId, Head>,
    entries: Arena<EntryId, Entry>,
    items: Arena<ItemId, Item>,
    extras: Arena<ExtraId, Extra>,
    runs: Arena<RunId, Run>,
    offsets: Vec<(EntryId, Offsets)>,
    troubles: Vec<Trouble>,
}

/// Reads a chunk's dated blocks.
pub fn read_chunk(book: &Book, files: &Files, chunk: &Chunk) -> Part {
    let mut part = Part::default();
    part.entries.as_vec().reserve(chunk.lines.len());
    let Some(file) = files.get(chunk.file) else { return part };
    let mut reader = Reader {
        book,
        chunk,
        text: &file.text,
        out: &mut part,
        values: ValueReader::default(),
        lines: Vec::new(),
        unread: Vec::new(),
        orphans: false,
        headless: true,
        no_car: false,
    };
    for block in &chunk.blocks {
        reader.block(*block);
    }
    part.entries.as_vec().shrink_to_fit();
    part
}

/// Where a part's lists start in the book's.
#[derive(Debug, Clone, Copy)]
struct Start {
    heads: usize,
    entries: usize,
    items: usize,
    extras: usize,
    runs: usize,
}

/// Puts the chunks' parts behind one another; the long lists side by side on all cores.
pub fn append(book: &mut Book, parts: Vec<Part>) {
    let mut start = Start {
        heads: book.heads.len(),
        entries: book.entries.len(),
        items: book.items.len(),
        extras: book.extras.len(),
        runs: book.runs.len(),
    };
    let mut starts = Vec::with_capacity(parts.len());
    let (mut entries, mut items, mut extras) = (Vec::new(), Vec::new(), Vec::new());
    for part in parts {
        starts.push(start);
        book.heads.extend(part.heads.into_iter().map(|mut head| {
            head.first = head.first.plus(start.entries);
            head.end = head.end.plus(start.entries);
            head
        }));
        book.runs.extend(part.runs.into_iter().map(|mut run| {
            run.entry = run.entry.plus(start.entries);
            for stretch in &mut run.stretches {
                stretch.entry = stretch.entry.plus(start.entries);
            }
            run
        }));
        let offsets = part.offsets.into_iter();
        book.offsets.extend(offsets.map(|(entry, typed)| (entry.plus(start.entries), typed)));
        book.troubles.extend(part.troubles);
        start.heads = book.heads.len();
        start.runs = book.runs.len();
        start.entries += part.entries.len();
        start.items += part.items.len();
        start.extras += part.extras.len();
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
    date_lost_heads(book);
}

/// Heads whose date cannot be read, with none above in their file: they stand on the day of the next one there; in a file without any, on the
/// book's last day, so that what they touch is not known at its end. A book without any date leaves them before every day.
fn date_lost_heads(book: &mut Book) {
    if book.heads.iter().all(Head::is_dated) {
        return;
    }
    let last = book.heads.iter().filter(|head| head.is_dated()).map(|head| head.date).max();
    neighbour(book.heads.iter_mut());
    neighbour(book.heads.iter_mut().rev());
    for head in book.heads.iter_mut().filter(|head| !head.is_dated()) {
        head.date = last.unwrap_or(head.date);
    }
}

/// Gives each head without a day that of the one before it in its file, in the order they come.
fn neighbour<'h>(heads: impl Iterator<Item = &'h mut Head>) {
    let mut before: Option<(FileId, jiff::civil::Date)> = None;
    for head in heads {
        if head.is_dated() {
            before = Some((head.span.file, head.date));
        } else if let Some((_, date)) = before.filter(|(file, _)| *file == head.span.file) {
            head.date = date;
        }
    }
}

fn join<K, T>(all: &mut Arena<K, T>, lists: Vec<Arena<K, T>>) {
    for mut list in lists {
        all.as_vec().append(list.as_vec());
    }
}

/// An entry with its indexes into the whole book's lists.
fn moved(mut entry: Entry, start: Start) -> Entry {
    entry.head = entry.head.plus(start.heads);
    entry.items = entry.items.plus(start.items);
    entry.parent = entry.parent.map(|parent| parent.plus(start.entries));
    entry.extra = entry.extra.map(|extra| extra.plus(start.extras));
    if let Subject::Run(run) = entry.subject {
        entry.subject = Subject::Run(run.plus(start.runs));
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
    lines: Vec<Option<EntryId>>,
    /// Lines whose verb nobody can read, and for which none is near.
    unread: Vec<EntryId>,
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
        let lines = self.chunk.lines_of(block);
        let Some(first) = lines.first() else { return };
        let after_orphans = std::mem::replace(&mut self.orphans, false);
        match first.kind {
            LineKind::Declaration if first.indent == 0 => {
                self.after_margin_verb(lines, block);
                return;
            }
            LineKind::Bad if first.indent == 0 => {
                if self.is_timed_verb(first) {
                    self.after_margin_verb(lines, block);
                } else {
                    self.under_lost_head(first, lines, block);
                }
                return;
            }
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
        let Some(head) = self.head(first) else {
            self.under_lost_head(first, lines, block);
            return;
        };
        self.headless = false;
        self.out.heads.push(head);
        self.no_car = false;
        self.lines_under(lines, block);
    }

    /// The lines under a head whose date cannot be read: what they are about is not known any more. They stand where they are typed,
    /// behind the block above; that they cannot be read is the head's mistake.
    fn under_lost_head(&mut self, first: &crate::syntax::Line, lines: &[crate::syntax::Line], block: Block) {
        let typed = self.text.get(first.start as usize..first.end as usize).unwrap_or_default().trim_start();
        if !typed.starts_with(|first: char| first.is_ascii_digit()) {
            return;
        }
        let names = &self.book.names;
        let mut cars = typed.split([' ', '\t', ',']).filter_map(|word| names.find(word));
        let car = cars.find_map(|thing| if let Thing::Car(car) = thing { Some(car) } else { None });
        let next = self.out.entries.next_key();
        let date = self.out.heads.last().map_or(Head::UNDATED, |head| head.date);
        self.out.heads.push(Head {
            span: crate::source::Span::new(self.chunk.file, first.start, first.end),
            date,
            car,
            event: None,
            clock: None,
            offset: None,
            person: None,
            written: None,
            owner: None,
            car_unknown: car.is_none(),
            event_unknown: true,
            first: next,
            end: next,
        });
        let troubles = self.out.troubles.len();
        self.lines_under(lines, block);
        self.out.troubles.truncate(troubles);
        let under: Vec<EntryId> = self.out.entries.iter_from(next).map(|(id, _)| id).collect();
        for id in under {
            let entry = &mut self.out.entries[id];
            entry.broken = true;
            // On which day it ran nobody knows: it is no session that another could quarrel with.
            entry.clock = (-1, -1);
            entry.void |= entry.verb == super::entry::Verb::Run;
            let mut extra = self.out.entries[id].extra.and_then(|extra| self.out.extras.get(extra)).cloned();
            extra.get_or_insert_default().audience = Some(Audience::Shop);
            self.out.entries[id].extra = extra.map(|extra| self.out.extras.push(extra));
        }
        self.headless = true;
    }

    /// A verb at the margin lost its indent, as its own message says: what it touches is not known, and the lines below still belong to
    /// the date above.
    fn after_margin_verb(&mut self, lines: &[crate::syntax::Line], block: Block) {
        let Some(first) = lines.first() else { return };
        let verb = self.chunk.words_of(first).first().and_then(|word| line::verb_of(word.text(self.text)));
        if verb.is_none() && !self.is_timed_verb(first) {
            self.headless = true;
        } else if !self.headless && !self.out.heads.is_empty() {
            let troubles = self.out.troubles.len();
            let entry = self.line(first, None);
            self.out.troubles.truncate(troubles);
            self.out.entries[entry].broken = true;
            self.lines_under(lines, block);
        }
    }

    /// Whether a line that cannot be read begins with a time and a verb: no head, but a line of the date above that lost its indent.
    fn is_timed_verb(&self, line: &crate::syntax::Line) -> bool {
        let typed = self.text.get(line.start as usize..line.end as usize).unwrap_or_default();
        let mut words = typed.split_whitespace();
        let time = words
            .next()
            .is_some_and(|word| word.starts_with(|first: char| first.is_ascii_digit()) && word.contains(':'));
        line.kind == LineKind::Bad && time && words.next().is_some_and(|word| line::verb_of(word).is_some())
    }

    /// Whether an indented line begins as a dated head does.
    fn is_head(&self, line: &crate::syntax::Line) -> bool {
        let typed = self.text.get(line.start as usize..line.end as usize).unwrap_or_default().trim_start();
        let mut bytes = typed.bytes();
        let year = bytes.by_ref().take(4).filter(u8::is_ascii_digit).count() == 4;
        let dash = bytes.next().is_some_and(|byte| matches!(byte, b'-' | b'/' | b'.'));
        matches!(line.kind, LineKind::Entry | LineKind::Bad)
            && year
            && dash
            && bytes.next().is_some_and(|byte| byte.is_ascii_digit())
    }

    /// A dated head that is indented: which of the two dates, and which car, the lines under it belong to nobody knows until the next
    /// head at the margin.
    fn indented_head(&mut self, head: &crate::syntax::Line, lines: &[crate::syntax::Line], block: Block) {
        let end = self.out.entries.next_key();
        if let Some(above) = self.out.heads.last_mut() {
            above.end = end;
        }
        if head.kind != LineKind::Bad {
            let typed = self.text.get(head.start as usize..head.end as usize).unwrap_or_default();
            let start = head.start + (typed.len() - typed.trim_start().len()) as u32;
            let length = typed.trim_start().find([' ', '\t']).unwrap_or(typed.trim_start().len());
            let span = crate::source::Span::new(self.chunk.file, start, start + length as u32);
            self.trouble(Trouble { span, what: What::HeadIndented });
        }
        self.under_lost_head(head, lines, block);
    }

    fn lines_under(&mut self, lines: &[crate::syntax::Line], block: Block) {
        self.lines.clear();
        self.lines.push(None);
        for (at, line) in lines.iter().enumerate().skip(1) {
            if self.is_head(line)
                && let Some((head, under)) = lines.get(at..).and_then(|rest| Some((rest.first()?, rest)))
            {
                self.indented_head(head, under, Block { head: block.head + at as u32, ..block });
                return;
            }
            let parent = line
                .parent
                .checked_sub(block.head)
                .and_then(|above| self.lines.get(above as usize).copied().flatten());
            let entry = self.line(line, parent);
            self.lines.push(Some(entry));
            self.wear(entry);
        }
        let end = self.out.entries.next_key();
        if let Some(head) = self.out.heads.last_mut() {
            head.end = end;
        }
    }
}
