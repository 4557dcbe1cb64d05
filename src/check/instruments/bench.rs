//! The values of a `bench` line: typed on it, or worked out from the `points` rows under it.
//!
//! Must not know any particular check.

use crate::book::entry::{Entry, EntryId, Item, ItemId, Verb};
use crate::check::Context;
use crate::units::DimensionId;

/// One repeat on the bench.
#[derive(Debug, Clone, Copy)]
pub struct Repeat {
    /// Its line: the `bench` line itself or a row under it.
    pub entry: EntryId,
    /// Its item, where it was typed outright.
    pub item: Option<ItemId>,
    /// Its value, SI: typed, or (last load - first load) / (last travel - first travel).
    pub value: f64,
    /// Load of the first pair, newtons, and the span of loads; for rows.
    pub zero: Option<(f64, f64)>,
}

/// Lines under an entry, and lines under those, in order.
pub fn under<'a>(cx: &Context<'a>, index: EntryId) -> impl Iterator<Item = (EntryId, &'a Entry)> {
    let head = cx.entry(index).head;
    let rest = cx.book.entries.iter_from(index.plus(1));
    rest.take_while(move |(_, entry)| {
        entry.head == head && entry.parent.is_some_and(|parent| parent >= index)
    })
}

/// The repeats of a `bench` line that were not voided.
pub fn values(cx: &Context<'_>, index: EntryId) -> Vec<Repeat> {
    let entry = cx.entry(index);
    let items = cx.book.items_of(entry).iter().enumerate();
    let typed = items.filter(|(_, item)| Context::is_number(item)).map(|(at, item)| Repeat {
        entry: index,
        item: Some(entry.items.plus(at)),
        value: item.si,
        zero: None,
    });
    let mut all: Vec<Repeat> = typed.collect();
    for (row, below) in under(cx, index) {
        if below.verb == Verb::Points && !below.void && !below.broken && below.parent == Some(index) {
            all.extend(slope(row, cx.book.items_of(below)));
        }
    }
    all
}

fn slope(row: EntryId, items: &[Item]) -> Option<Repeat> {
    let length = |item: &&Item| item.unit().get().dim == DimensionId::LENGTH.get().dim;
    let travel: Vec<f64> = items.iter().filter(length).map(|item| item.si).collect();
    let load: Vec<f64> = items.iter().filter(|item| !length(item)).map(|item| item.si).collect();
    let ends = |list: &[f64]| Some((*list.first()?, *list.last()?));
    let ((from, to), (zero, full)) = (ends(&travel)?, ends(&load)?);
    if travel.len() != load.len() || (to - from).abs() < 1e-12 {
        return None;
    }
    Some(Repeat {
        entry: row,
        item: None,
        value: (full - zero) / (to - from),
        zero: Some((zero, full - zero)),
    })
}

/// The mean; `None` of nothing.
pub fn mean(all: &[Repeat]) -> Option<f64> {
    (!all.is_empty()).then(|| all.iter().map(|repeat| repeat.value).sum::<f64>() / all.len() as f64)
}
