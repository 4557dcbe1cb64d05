//! Corrections of memory: what a line should have said takes the place of what was typed, from that line on, and what was typed is kept.
//!
//! The rule. `correct QUANTITY PLACE OLD -> NEW` is of the last line of its car before it that states just OLD there; of one that states
//! it within what is left open only where no other does. Lines between the two that quote it (`OLD -> ...`) are put right with it. Must not
//! know settings or parts.

use super::alike::{fits, words};
use super::order::{Order, Rank};
use super::problem::Problem;
use crate::book::Book;
use crate::book::correction::Correction;
use crate::book::entry::{Entry, EntryId, Flags, Item, ItemId, Verb};
use crate::book::model::CarId;
use crate::source::{FileId, Files};
use crate::vocabulary::QuantityId;
use rustc_hash::FxHashMap;

/// Puts right what the book's `correct` lines correct; what they miss is a problem.
pub(super) fn apply(book: &mut Book, files: &Files, order: &Order, problems: &mut Vec<Problem>) {
    // A reader's book has the corrections he may read, and no others.
    let before: std::collections::BTreeMap<_, _> =
        std::mem::take(&mut book.corrections).into_iter().collect();
    for (item, correction) in before {
        if let Some(item) = book.items.get_mut(item) {
            *item = correction.typed;
        }
    }
    let is_correct = |entry: &Entry| entry.verb == Verb::Correct && !entry.broken;
    let mut lines: Vec<(Rank, EntryId)> = (book.entries.iter_enumerated())
        .filter(|(_, entry)| is_correct(entry))
        .filter_map(|(index, _)| Some((*order.rank.get(index)?, index)))
        .collect();
    if lines.is_empty() {
        return;
    }
    lines.sort_unstable();
    let stated = stated(book, order);
    let mut texts = Vec::new();
    for (rank, index) in lines {
        let entry = book.entries[index];
        let Some(key) = key(book, &entry) else { continue };
        let before = stated.get(&key).map_or(&[][..], Vec::as_slice);
        let before = before.get(..before.partition_point(|(at, _)| *at < rank)).unwrap_or_default();
        let items: Vec<(ItemId, Item)> = items(book, &entry);
        let groups: Vec<&[(ItemId, Item)]> = values(&items, 2).collect();
        let of = |group: &[(ItemId, Item)], old: bool| {
            group.first().is_some_and(|(_, one)| one.is(Flags::OLD) == old)
        };
        let place = |group: &[(ItemId, Item)]| group.first().map(|(_, one)| one.place);
        for old in groups.iter().filter(|group| of(group, true)) {
            let new = groups.iter().find(|new| of(new, false) && place(new) == place(old));
            let (Some(new), Some((first, of_first))) = (new, old.first()) else { continue };
            let found = stating(book, files, before, (old, entry.file));
            let Some(found) = found.filter(|_| old.len() == new.len()) else {
                let near = before.iter().rev().map(|(_, line)| *line).find(|line| {
                    items_at(book, *line)
                        .any(|(_, item)| item.place == of_first.place && !item.is(Flags::OLD))
                });
                problems.push(Problem::CorrectionMisses { entry: index, item: *first, near });
                continue;
            };
            // The line itself, and what quotes it since; each number of a pair and each repeat by its own.
            let quotes = quotes(book, files, before, found, old.len());
            for (first, line) in [found].into_iter().chain(quotes) {
                for (more, (_, new)) in new.iter().enumerate() {
                    let item = first.plus(more);
                    let typed = book.items[item];
                    let file = book.entries[line].file;
                    texts.push((typed.span(file), new.span(entry.file)));
                    // Corrected twice, it still knows what was typed first.
                    book.corrections.entry(item).or_insert(Correction { line, typed, by: index }).by = index;
                    let flags = typed.flags & (Flags::OLD | Flags::PART | Flags::REPEAT)
                        | new.flags & (Flags::TEXT | Flags::OFF | Flags::STATED);
                    book.items[item] =
                        Item { start: typed.start, len: typed.len, place: typed.place, flags, ..*new };
                }
            }
        }
    }
    files.correct(&texts);
}

type Key = (CarId, QuantityId);

fn key(book: &Book, entry: &Entry) -> Option<Key> {
    Some((book.head(entry)?.car?, entry.quantity?))
}

fn items(book: &Book, entry: &Entry) -> Vec<(ItemId, Item)> {
    let all = book.items_of(entry).iter().copied().enumerate();
    all.map(|(at, item)| (entry.items.plus(at), item)).collect()
}

fn items_at(book: &Book, line: EntryId) -> impl Iterator<Item = (ItemId, Item)> + use<> {
    book.entries.get(line).map_or_else(Vec::new, |entry| items(book, entry)).into_iter()
}

/// The lines that state each quantity of each car, in order.
fn stated(book: &Book, order: &Order) -> FxHashMap<Key, Vec<(Rank, EntryId)>> {
    let mut all: FxHashMap<Key, Vec<(Rank, EntryId)>> = FxHashMap::default();
    for (rank, index) in order.entries.iter_enumerated() {
        let Some(entry) = book.entries.get(*index) else { continue };
        if entry.verb.has_values()
            && entry.verb != Verb::Bench
            && !entry.broken
            && !entry.void
            && let Some(key) = key(book, entry)
        {
            all.entry(key).or_default().push((rank, *index));
        }
    }
    all
}

/// An item of a line.
type At = (ItemId, EntryId);

/// The value that a line before a correction, or before a quote, states for what is said to be there, by its first item: the last that says just
/// those numbers in that unit; else the one within what is left open, where no other is. Of a pair, and of repeats, every number.
fn stating(
    book: &Book,
    files: &Files,
    before: &[(Rank, EntryId)],
    old: (&[(ItemId, Item)], FileId),
) -> Option<At> {
    let (_, first) = old.0.first()?;
    let mut near = Vec::new();
    for (_, line) in before.iter().rev() {
        let file = book.entries[*line].file;
        let items: Vec<(ItemId, Item)> = items_at(book, *line).collect();
        for group in values(&items, old.0.len()) {
            let Some((at, item)) = group.first() else { continue };
            if item.is(Flags::OLD) || item.place != first.place || group.len() != old.0.len() {
                continue;
            }
            let each = group.iter().zip(old.0);
            let said: Option<Vec<Nearness>> =
                each.map(|((_, item), (_, of))| says(book, files, (of, old.1), (item, file))).collect();
            match said {
                Some(all) if all.iter().all(|one| *one == Nearness::Just) => return Some((*at, *line)),
                Some(_) => near.push((*at, *line)),
                None => {}
            }
        }
    }
    let [only] = near.as_slice() else { return None };
    Some(*only)
}

/// The values of a line, each with its further numbers and repeats; where so many numbers are meant as one, each repeat is one by itself.
fn values(items: &[(ItemId, Item)], numbers: usize) -> impl Iterator<Item = &[(ItemId, Item)]> {
    let further = if numbers == 1 { Flags::PART } else { Flags::PART | Flags::REPEAT };
    items.chunk_by(move |_, (_, next)| next.is(further))
}

/// Every later value that quotes it as an old value, by its first item.
fn quotes(book: &Book, files: &Files, before: &[(Rank, EntryId)], of: At, numbers: usize) -> Vec<At> {
    let from = before.iter().position(|(_, line)| *line == of.1).unwrap_or(before.len());
    let place = book.items[of.0].place;
    let mut all = Vec::new();
    for (number, (_, line)) in before.iter().enumerate().skip(from + 1) {
        let file = book.entries[*line].file;
        let earlier = before.get(..number).unwrap_or_default();
        let items: Vec<(ItemId, Item)> = items_at(book, *line).collect();
        for group in values(&items, numbers) {
            let Some((at, item)) = group.first() else { continue };
            let same = item.is(Flags::OLD) && item.place == place && group.len() == numbers;
            if same && stating(book, files, earlier, (group, file)) == Some(of) {
                all.push((*at, *line));
            }
        }
    }
    all
}

/// How an item says what is said to be there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Nearness {
    /// The same words, or just that number in that unit.
    Just,
    /// Within what both leave open.
    Within,
}

/// How an item says what the correction says was typed; `None` where it says something else.
fn says(book: &Book, files: &Files, old: (&Item, FileId), item: (&Item, FileId)) -> Option<Nearness> {
    if item.0.is(Flags::NOT_READ | Flags::UNKNOWN) {
        return None;
    }
    if let Some(same) = words(files, old, item) {
        return same.then_some(Nearness::Just);
    }
    if !item.0.has_value() || !old.0.has_value() || !fits(book, files, old, (item, None, item.0.si)) {
        return None;
    }
    let hair = 1e-9 * item.0.si.abs().max(old.0.si.abs());
    let just = item.0.unit() == old.0.unit() && (item.0.si - old.0.si).abs() <= hair;
    Some(if just { Nearness::Just } else { Nearness::Within })
}
