//! Whether it is known how a part is: not after a line with a mistake that would have said so.
//!
//! Must not know pages, nor what is planned.

use super::History;
use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::PartId;
use crate::history::order::Rank;

/// The last line with a mistake before a rank that would have said how a part is, where nothing has said it since.
#[must_use]
pub fn unread(book: &Book, history: &History, part: PartId, rank: Rank) -> Option<EntryId> {
    let told = history.parts.get(part);
    let (lost, line) = told.unread.iter().rev().find(|(at, _)| *at < rank).copied()?;
    let since = |at: Rank| at > lost && at < rank;
    let judged = told.seen.iter().any(|seen| since(seen.rank) && seen.verdict.is_some())
        || told.rebuilds.iter().any(|rebuild| since(rebuild.rank));
    let said = |line: &EntryId| {
        let verb = book.entries.get(*line).map(|line| line.verb);
        matches!(verb, Some(Verb::Release | Verb::Failed | Verb::Quarantine | Verb::Scrap))
            && history.order.rank.get(*line).is_some_and(|at| since(*at))
    };
    (!judged && !told.lines.iter().any(said)).then_some(line)
}

/// Whether it is known where a part is at the moment before a rank: not after a line with a mistake, or one that another contradicts, and not
/// while it may be on a car where the book does not have it.
#[must_use]
pub fn is_placed(history: &History, part: PartId, rank: Rank) -> bool {
    let told = history.parts.get(part);
    let from = told.at(rank).map_or(Rank::START, |stay| stay.from);
    if told.claims.iter().any(|claim| claim.from < rank && rank <= claim.until) {
        return false;
    }
    let first = told.doubts.partition_point(|doubt| *doubt < from);
    told.doubts.get(first).is_none_or(|doubt| *doubt >= rank)
}
