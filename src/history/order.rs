//! When each entry happened, and the one order of all of them.
//!
//! Must not know what entries do, beyond that a session has an end and that a line under another belongs to it.

use super::clock::Clock;
use super::problem::Problem;
use super::time::Zone;
use crate::book::Book;
use crate::book::entry::EntryId;
use crate::book::model::EventId;
use crate::ids::Arena;
use jiff::civil::Date;
use rayon::prelude::*;
use rustc_hash::FxHashMap;

pub use super::rank::{Length, Order, Rank};

/// Works out the order. The rule of one block's clock is in `clock`; between blocks of one file and day, times decide where
/// both have some, else the order of the lines.
#[must_use]
pub fn order(book: &Book, problems: &mut Vec<Problem>) -> Order {
    let mut order = Order {
        at: vec![0; book.entries.len()].into(),
        decided: vec![false; book.entries.len()].into(),
        ends: vec![0; book.runs.len()].into(),
        lengths: vec![Length::Untold; book.runs.len()].into(),
        ..Order::default()
    };
    let mut zones = Zones::new(book);
    // The moment that a file's lines have come to on each date.
    let mut reached: FxHashMap<Date, i32> = FxHashMap::default();
    let mut file = None;
    for (id, head) in book.heads.iter_enumerated() {
        if file.replace(head.span.file) != Some(head.span.file) {
            reached.clear();
        }
        let zone = zones.of(head.event);
        let since = reached.get(&head.date).copied();
        let end = Clock::begin(book, zone, (id, head), since, &mut order, problems).read();
        let date = zones.of(head.event).date_near(head.date, end);
        for day in [head.date, date] {
            let at = reached.entry(day).or_insert(end);
            *at = end.max(*at);
        }
    }
    let mut entries: Arena<Rank, EntryId> = book.entries.keys().collect();
    let at = &order.at;
    // Entry numbers break ties: the order of the files within a minute, as a stable sort would keep it.
    entries.as_vec().par_sort_unstable_by_key(|entry| (at[*entry], *entry));
    order.rank = vec![Rank::START; entries.len()].into();
    for (rank, entry) in entries.iter_enumerated() {
        order.rank[*entry] = rank;
    }
    order.entries = entries;
    order
}

/// The zones of a book: the shop's, and those of events that have their own.
#[derive(Debug)]
pub struct Zones {
    shop: Zone,
    own: FxHashMap<EventId, Zone>,
}

impl Zones {
    /// The shop's and the events' zones.
    #[must_use]
    pub fn new(book: &Book) -> Self {
        let shop = Zone::new(book.shop.zone.as_deref());
        let own = book
            .events
            .iter_enumerated()
            .filter_map(|(id, event)| Some((id, Zone::new(Some(event.zone.as_deref()?)))))
            .collect();
        Self { shop, own }
    }

    /// An event's zone, or the shop's.
    pub fn of(&mut self, event: Option<EventId>) -> &mut Zone {
        match event.and_then(|event| self.own.get_mut(&event)) {
            Some(zone) => zone,
            None => &mut self.shop,
        }
    }
}
