//! Gauges that go to events, and which of them may not be trusted at one.
//!
//! Must not know what they read.

use crate::book::Book;
use crate::book::entry::By;
use crate::book::model::{Gauge, GaugeId};
use crate::book::names::Thing;
use jiff::civil::Date;

/// Which gauges were used at an event.
#[must_use]
pub fn at_events(book: &Book) -> Vec<bool> {
    let mut used = vec![false; book.gauges.len()];
    for head in book.heads.iter().filter(|head| head.event.is_some()) {
        for entry in book.entries.within(head.first..head.end) {
            if let By::Gauge(gauge) = entry.by
                && let Some(used) = used.get_mut(gauge.index())
            {
                *used = true;
            }
        }
    }
    used
}

/// Those used at events whose last good day comes before a day, or could not be read, in the order they are declared.
#[must_use]
pub fn out_of_date(book: &Book, end: Date) -> Vec<GaugeId> {
    let over = |(id, gauge): (GaugeId, &Gauge)| {
        gauge.valid_until.is_some_and(|until| until < end)
            || book.unread.has(Some(Thing::Gauge(id)), "valid-until")
    };
    if !book.gauges.iter_enumerated().any(over) {
        return Vec::new();
    }
    let used = at_events(book);
    let all = book.gauges.iter_enumerated().filter(|(at, _)| used.get(at.index()).copied().unwrap_or(false));
    let out = all.filter(|one| over(*one));
    out.map(|(at, _)| at).collect()
}
