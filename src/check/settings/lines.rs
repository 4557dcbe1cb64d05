//! What several slots of one line have in common, so that a line with four corners makes one message.
//!
//! Must not know any particular check.

use crate::book::entry::{EntryId, ItemId};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::check::Context;
use crate::history::order::Rank;
use crate::history::slots::{SlotEvent, Track};
use crate::vocabulary::QuantityId;
use rayon::prelude::*;

/// What a look at one track found: the line, the item on it, and whatever else.
pub struct Hit<T> {
    /// The line.
    pub entry: EntryId,
    /// The item.
    pub item: ItemId,
    /// What was found.
    pub what: T,
}

/// Looks at every track on all cores and gathers what is found by line, lines and items in the book's order.
pub fn by_line<T: Send>(
    cx: &Context<'_>,
    look: impl Fn(&Track, &mut Vec<Hit<T>>) + Sync,
) -> Vec<Vec<Hit<T>>> {
    let mut hits: Vec<Hit<T>> = cx
        .history
        .slots
        .tracks
        .par_iter()
        .flat_map_iter(|track| {
            let mut found = Vec::new();
            look(track, &mut found);
            found
        })
        .collect();
    hits.sort_by_key(|hit| (hit.entry, hit.item));
    let mut lines: Vec<Vec<Hit<T>>> = Vec::new();
    for hit in hits {
        match lines.last_mut() {
            Some(line) if line.last().is_some_and(|last| last.entry == hit.entry) => line.push(hit),
            _ => lines.push(vec![hit]),
        }
    }
    lines
}

/// What a place of a car held just before a rank, by whichever track it stands in then.
pub fn before<'a>(
    cx: &Context<'a>,
    car: CarId,
    quantity: QuantityId,
    place: Place,
    rank: Rank,
) -> Option<(&'a Track, SlotEvent)> {
    let slots = &cx.history.slots;
    let (owner, at) = cx.on(car, rank).slot_of(quantity, place);
    let track = slots.find(owner, quantity, at)?;
    let count = earlier(cx, track, rank);
    Some((track, *track.events.get(count.checked_sub(1)?)?))
}

/// How many of a track's events stand before a rank.
pub fn earlier(cx: &Context<'_>, track: &Track, rank: Rank) -> usize {
    track.events.partition_point(|event| event.rank(&cx.history.order).is_none_or(|at| at < rank))
}
