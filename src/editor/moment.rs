//! Whose car a line is about, and when: the head above it, and the moment before the line.
//!
//! Must not know any request.

use super::leaf::Leaf;
use crate::book::entry::{EntryId, Head};
use crate::book::model::CarId;
use crate::history::order::Rank;

/// The dated head that a byte stands under, on the head's own line too.
#[must_use]
pub fn head<'a>(page: &Leaf<'a>, offset: usize) -> Option<&'a Head> {
    let book = &page.compiled.book;
    let before = page.chunk.blocks.iter().filter_map(|block| page.chunk.lines_of(*block).first());
    let line = before.take_while(|line| line.start as usize <= offset).last()?;
    let holds =
        |head: &Head| head.span.file == page.file && (line.start..=line.end).contains(&head.span.start);
    book.heads.iter().find(|head| holds(head))
}

/// The car of that head.
#[must_use]
pub fn car(page: &Leaf<'_>, offset: usize) -> Option<CarId> {
    head(page, offset)?.car
}

/// The moment before the line that a byte stands on, as values and jobs go by it: its own where it is an entry, else after the lines above
/// it in its block, else as the car stood on that day.
#[must_use]
pub fn rank(page: &Leaf<'_>, offset: usize) -> Rank {
    let (book, order) = (&page.compiled.book, &page.compiled.history.order);
    let Some(head) = head(page, offset) else { return Rank::END };
    let of = |id: EntryId| order.rank.get(id).copied();
    if let Some(own) = own(page, offset).and_then(of) {
        return own;
    }
    let above = |id: &EntryId| book.entries.get(*id).is_some_and(|one| (one.start as usize) < offset);
    if let Some(last) = head.lines().take_while(above).filter_map(of).max() {
        return last.next();
    }
    if let Some(first) = head.lines().filter_map(of).min() {
        return first;
    }
    let lines = head.car.map(|car| order.lines_of(book, car)).unwrap_or_default();
    let known = lines.iter().rev().find(|(_, id)| order.date(book, *id).is_some_and(|day| day <= head.date));
    known.map_or(Rank::START, |(rank, _)| rank.next())
}

/// The same as parts go by it: of a line `after s1` the end of that session.
#[must_use]
pub fn of_parts(page: &Leaf<'_>, offset: usize) -> Rank {
    let own = own(page, offset).map(|id| page.compiled.history.rank(&page.compiled.book, id));
    own.unwrap_or_else(|| rank(page, offset))
}

/// The entry that a byte's line is.
fn own(page: &Leaf<'_>, offset: usize) -> Option<EntryId> {
    page.entry(page.line(offset)?).map(|(id, _)| id)
}
