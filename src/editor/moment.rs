//! Whose car a line is about, and when: the head above it, and the moment before the line.
//!
//! Must not know any request.

use super::leaf::Leaf;
use crate::book::entry::{Head, HeadId};
use crate::book::model::CarId;
use crate::history::order::Rank;

/// The dated head that a byte stands under, on the head's own line too.
#[must_use]
pub fn head<'a>(page: &Leaf<'a>, offset: usize) -> Option<(HeadId, &'a Head)> {
    let book = &page.compiled.book;
    let before = page.chunk.blocks.iter().filter_map(|block| page.chunk.lines_of(*block).first());
    let line = before.take_while(|line| line.start as usize <= offset).last()?;
    let holds =
        |head: &Head| head.span.file == page.file && (line.start..=line.end).contains(&head.span.start);
    book.heads.iter_enumerated().find(|(_, head)| holds(head))
}

/// The car of that head.
#[must_use]
pub fn car(page: &Leaf<'_>, offset: usize) -> Option<CarId> {
    head(page, offset)?.1.car
}

/// The moment before the line that a byte stands on: after the lines above it in its block, else as the car stood on that day.
#[must_use]
pub fn rank(page: &Leaf<'_>, offset: usize) -> Rank {
    let (book, history) = (&page.compiled.book, &page.compiled.history);
    let Some((_, head)) = head(page, offset) else { return Rank::END };
    let line = page.source.get(..offset).and_then(|text| text.rfind('\n')).map_or(0, |at| at + 1);
    let above =
        head.lines().take_while(|id| book.entries.get(*id).is_some_and(|one| (one.start as usize) < line));
    if let Some(last) = above.last() {
        return history.rank(book, last).next();
    }
    if let Some(own) = head.lines().next() {
        return history.rank(book, own);
    }
    let lines = head.car.map(|car| history.order.lines_of(book, car)).unwrap_or_default();
    let known =
        lines.iter().rev().find(|(_, id)| history.order.date(book, *id).is_some_and(|day| day <= head.date));
    known.map_or(Rank::START, |(rank, _)| rank.next())
}
