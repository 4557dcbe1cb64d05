//! Which bench line of a part holds at a moment: the part is what the bench says of it from its last rebuild to its next, both ways.
//!
//! Must not know what was read on the bench.

use super::History;
use super::order::Rank;
use super::slots::Owner;
use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::PartId;
use crate::vocabulary::QuantityId;

/// From which moment to which a part is the same: its last rebuild, and its next.
#[must_use]
pub fn life(history: &History, part: PartId, rank: Rank) -> (Option<Rank>, Rank) {
    let rebuilds = &history.parts.get(part).rebuilds;
    let last = rebuilds.iter().rev().map(|rebuild| rebuild.rank).find(|at| *at < rank);
    let next = rebuilds.iter().map(|rebuild| rebuild.rank).find(|at| *at >= rank);
    (last, next.unwrap_or(Rank::END))
}

/// The bench lines of that life as they hold at a moment, the one that holds last: those before it in order, and before them those
/// after it, the nearest last.
#[must_use]
pub fn in_life<T>(
    history: &History,
    part: PartId,
    rank: Rank,
    lines: impl DoubleEndedIterator<Item = (Rank, T)> + Clone,
) -> Vec<T> {
    let (from, until) = life(history, part, rank);
    let own = lines.filter(|(at, _)| from.is_none_or(|from| *at > from) && *at < until);
    let after = own.clone().rev().filter(|(at, _)| *at >= rank);
    let before = own.filter(|(at, _)| *at < rank);
    after.chain(before).map(|(_, line)| line).collect()
}

/// The line about a quantity of a part that cannot be read, where it has no other: set or read before a moment, or on the bench in that
/// life. Its tag says nothing then.
#[must_use]
pub fn lost(
    book: &Book,
    history: &History,
    (part, quantity): (PartId, QuantityId),
    rank: Rank,
) -> Option<EntryId> {
    let (from, until) = life(history, part, rank);
    let told = |line: &EntryId| {
        let entry = book.entries.get(*line).filter(|entry| !entry.void);
        entry.zip(history.order.rank.get(*line)).is_some_and(|(entry, at)| {
            if entry.verb == Verb::Bench {
                from.is_none_or(|from| *at > from) && *at < until
            } else {
                *at < rank
            }
        })
    };
    history.slots.lost_of(Owner::Part(part), quantity).iter().copied().rfind(told)
}
