//! The book as it would have been at the moment of a line, had everything been known that is known today.
//!
//! Lines of later are taken out of the texts and the rest is compiled as if they had never been typed. What they say of before stays: a number
//! that a later `correct` line puts right stands corrected where it was typed; comparisons of gauges, and bench readings of a part that was not
//! rebuilt in between, stay as the shop's. Must not know what the book is wanted for.

use super::ended::{blank, block, line_of, typed};
use crate::Compiled;
use crate::book::Book;
use crate::book::correction::Correction;
use crate::book::entry::{Entry, EntryId, Flags, Head, Item, Verb};
use crate::book::model::{CarId, PartId};
use crate::history::order::Rank;
use crate::ids::Arena;
use crate::source::{FileId, Files, SourceFile};
use crate::vocabulary::QuantityId;
use jiff::civil::Date;
use rustc_hash::FxHashMap;

/// Up to where the book is taken, and at which day it then stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Up to the end of the line's day, at the last line by then.
    OfDay,
    /// Up to the line, at the last one above it.
    OfLine,
    /// Up to the end of the line's day, at that day, as one that is asked for.
    AtDay,
}

/// What is later than a line, and stays for what it says of before.
struct Late<'a> {
    compiled: &'a Compiled,
    day: Date,
    rank: Rank,
    standing: Standing,
    /// When each part was first rebuilt from the moment on.
    rebuilt: FxHashMap<PartId, Rank>,
    /// How many lines put a quantity of a car right.
    correcting: FxHashMap<About, usize>,
    /// What each of them puts right.
    corrections: FxHashMap<EntryId, Vec<&'a Correction>>,
}

/// Which quantity, of which car.
type About = (Option<QuantityId>, Option<CarId>);

fn about(book: &Book, entry: &Entry) -> About {
    (entry.quantity, book.head(entry).and_then(|head| head.car))
}

impl<'a> Late<'a> {
    fn new(compiled: &'a Compiled, (day, rank): (Date, Rank), standing: Standing) -> Self {
        let book = &compiled.book;
        let (mut rebuilt, mut correcting) = (FxHashMap::<PartId, Rank>::default(), FxHashMap::default());
        for (line, entry) in book.entries.iter_enumerated() {
            if entry.verb == Verb::Correct {
                *correcting.entry(about(book, entry)).or_default() += 1;
            } else if entry.verb == Verb::Rebuild {
                let at = compiled.history.order.rank.get(line).copied().unwrap_or(Rank::START);
                let more = book.extra(entry).and_then(|extra| extra.parts.as_deref());
                let more = more.into_iter().flat_map(|facts| facts.more.iter().copied());
                for part in entry.part().into_iter().chain(more).filter(|_| at >= rank) {
                    rebuilt.entry(part).and_modify(|first| *first = at.min(*first)).or_insert(at);
                }
            }
        }
        let mut corrections = FxHashMap::<EntryId, Vec<&Correction>>::default();
        let mut all: Vec<_> = book.corrections.iter().collect();
        all.sort_unstable_by_key(|(item, _)| **item);
        for (_, correction) in all {
            corrections.entry(correction.by).or_default().push(correction);
        }
        Self { compiled, day, rank, standing, rebuilt, correcting, corrections }
    }

    fn rank(&self, line: EntryId) -> Rank {
        self.compiled.history.order.rank.get(line).copied().unwrap_or(Rank::START)
    }

    /// Whether a line of a block is later.
    fn is_late(&self, head: &Head, line: EntryId) -> bool {
        head.date > self.day || self.standing == Standing::OfLine && self.rank(line) >= self.rank
    }

    /// Whether a later line stays.
    fn stays(&self, line: EntryId) -> bool {
        let book = &self.compiled.book;
        let Some(entry) = book.entries.get(line) else { return false };
        if let Some(above) = entry.parent {
            return self.stays(above);
        }
        if entry.verb == Verb::Correct {
            return self.puts_right(line, entry).is_none();
        }
        let until = self.rank(line);
        let benched = |part| self.rebuilt.get(&part).is_none_or(|first| *first >= until);
        entry.verb == Verb::Compare || entry.verb == Verb::Bench && entry.part().is_some_and(benched)
    }

    /// What a later `correct` line writes in the place of what was typed, where that says the same: each first byte, one past the
    /// last, and the new text. `None` where only the line itself can say it.
    fn puts_right(&self, line: EntryId, entry: &Entry) -> Option<Vec<(FileId, u32, u32, String)>> {
        let book = &self.compiled.book;
        let items = book.items_of(entry);
        // Corrected before, the number typed first is quoted by that line too.
        let other = self.correcting.get(&about(book, entry)).is_some_and(|lines| *lines > 1);
        let mut texts = Vec::new();
        for correction in self.corrections.get(&line).into_iter().flatten() {
            let typed = correction.typed;
            let said = items.iter().find(|new: &&Item| !new.is(Flags::OLD) && new.place == typed.place)?;
            let at = book.entries.get(correction.line)?;
            if said.unit != typed.unit || other {
                return None;
            }
            let text = self.compiled.files.get(entry.file)?.text.as_str();
            let text = text.get(said.start as usize..said.start as usize + usize::from(said.len))?;
            texts.push((at.file, typed.start, typed.start + u32::from(typed.len), text.to_owned()));
        }
        Some(texts)
    }
}

/// The book at the moment of a line, with what is known today; `None` where there is no such line.
#[must_use]
pub fn standing(compiled: &Compiled, line: EntryId, standing: Standing) -> Option<Compiled> {
    let book = &compiled.book;
    let day = book.head(book.entries.get(line)?)?.date;
    let rank = compiled.history.order.rank.get(line).copied()?;
    let late = Late::new(compiled, (day, rank), standing);
    let mut right = Vec::new();
    let corrects =
        book.entries.iter_enumerated().filter(|(_, entry)| entry.verb == Verb::Correct && !entry.broken);
    for (index, entry) in corrects {
        if book.head(entry).is_some_and(|head| late.is_late(head, index)) {
            right.extend(late.puts_right(index, entry).unwrap_or_default());
        }
    }
    right.sort_unstable_by(|a, b| b.cmp(a));
    let mut heads: FxHashMap<FileId, Vec<&Head>> = FxHashMap::default();
    for head in &book.heads {
        heads.entry(head.span.file).or_default().push(head);
    }
    let mut files = Vec::new();
    for (id, file) in compiled.files.iter() {
        let mut text = text(&late, heads.get(&id).map_or(&[], Vec::as_slice), &file.text);
        for (_, start, end, new) in right.iter().filter(|(file, ..)| *file == id) {
            // Where the line itself is later it is gone.
            let here = text.get(*start as usize..*end as usize);
            if here.is_some_and(|here| !here.trim().is_empty()) {
                text.replace_range(*start as usize..*end as usize, new);
            }
        }
        files.push(SourceFile { text, ..file.clone() });
    }
    let then = crate::of_texts(Files::new(files), Vec::new(), |_| day, None);
    let at = (standing == Standing::AtDay).then_some(day);
    Some(Compiled { at, upto: Some(day), ..then })
}

/// A text without what is later.
fn text(late: &Late<'_>, heads: &[&Head], text: &str) -> String {
    let book = &late.compiled.book;
    let mut bytes = text.as_bytes().to_vec();
    for head in heads {
        let whole = block(text, head.span.start as usize);
        let lines: Vec<EntryId> = typed(book, head).collect();
        let stays = |line: &EntryId| !late.is_late(head, *line) || late.stays(*line);
        if !lines.iter().any(stays) {
            if head.date > late.day || !lines.is_empty() {
                blank(&mut bytes, whole);
            }
            continue;
        }
        for line in lines.iter().filter(|line| !stays(line)) {
            if let Some(entry) = book.entries.get(*line) {
                blank(&mut bytes, line_of(text, entry));
            }
        }
        if head.date > late.day && !keeps_car(&book.entries, &lines, late) {
            // What is said there of a gauge or on the bench is no day of the car's.
            let date = head.span.start as usize + "2026-05-12".len();
            blank(&mut bytes, (date, head.span.end as usize));
        }
    }
    // Whole lines and words are blanked, so the rest is whole characters still.
    String::from_utf8(bytes).unwrap_or_default()
}

/// Whether a line that stays needs the car of its head.
fn keeps_car(entries: &Arena<EntryId, Entry>, lines: &[EntryId], late: &Late<'_>) -> bool {
    let correct = |line: &&EntryId| entries.get(**line).is_some_and(|entry| entry.verb == Verb::Correct);
    lines.iter().filter(correct).any(|line| late.stays(*line))
}
