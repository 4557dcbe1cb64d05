//! When each entry happened, and the one order of all of them.
//!
//! Must not know what entries do, beyond that a session has an end and that a line under another belongs to it.

use super::time::Zone;
use crate::book::Book;
use crate::book::entry::{Entry, EntryId, RunId, Verb};
use crate::book::model::{CarId, EventId};
use crate::ids::ids;
use rayon::prelude::*;
use rustc_hash::FxHashMap;
use typed_index_collections::TiVec;

ids! {
    /// An entry's place in the order of all of them; also a moment, that before the entry of that rank.
    Rank: u32,
}

impl Rank {
    /// The moment before the first entry.
    pub const START: Self = Self::new(0);
    /// The moment after the last: later than every rank an entry has.
    pub const END: Self = Self::new(u32::MAX);

    /// The moment after an entry.
    #[must_use]
    pub const fn next(self) -> Self {
        Self::new(self.number().saturating_add(1))
    }

    /// The rank before, if there is one.
    #[must_use]
    pub fn previous(self) -> Option<Self> {
        self.number().checked_sub(1).map(Self::new)
    }
}

/// The order of a book's entries.
#[derive(Debug, Clone, Default)]
pub struct Order {
    /// Instant of each entry, minutes since the epoch; for a session its start.
    pub at: TiVec<EntryId, i32>,
    /// Entries in the order things happened.
    pub entries: TiVec<Rank, EntryId>,
    /// Position of each entry in that order.
    pub rank: TiVec<EntryId, Rank>,
    /// Whether a clock time in its block decides where an entry stands against other blocks' entries.
    pub decided: TiVec<EntryId, bool>,
    /// End of each session, by run.
    pub ends: TiVec<RunId, i32>,
}

impl Order {
    /// The lines of a car's blocks in order, each with its rank.
    #[must_use]
    pub fn lines_of(&self, book: &Book, car: CarId) -> Vec<(Rank, EntryId)> {
        let all = book.heads_of(car).flat_map(super::super::book::entry::Head::lines);
        let rank = |entry: EntryId| self.rank.get(entry).copied();
        let mut lines: Vec<(Rank, EntryId)> = all.filter_map(|entry| Some((rank(entry)?, entry))).collect();
        lines.sort_unstable();
        lines
    }
}

/// Works out the order.
#[must_use]
pub fn order(book: &Book) -> Order {
    let mut order = Order {
        at: vec![0; book.entries.len()].into(),
        decided: vec![false; book.entries.len()].into(),
        ends: vec![0; book.runs.len()].into(),
        ..Order::default()
    };
    let mut zones = Zones::new(book);
    for head in &book.heads {
        let zone = zones.of(book, head.event);
        time_block(book, zone, head, &mut order);
    }
    let mut entries: TiVec<Rank, EntryId> = book.entries.keys().collect();
    let at = &order.at;
    // Entry numbers break ties: the order of the files within a minute, as a stable sort would keep it.
    entries.raw.par_sort_unstable_by_key(|entry| (at[*entry], *entry));
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
    pub fn of(&mut self, _book: &Book, event: Option<EventId>) -> &mut Zone {
        match event.and_then(|event| self.own.get_mut(&event)) {
            Some(zone) => zone,
            None => &mut self.shop,
        }
    }
}

fn time_block(book: &Book, zone: &mut Zone, head: &crate::book::entry::Head, order: &mut Order) {
    let date = head.date;
    let start = zone.day_start(date);
    let mut now = head.clock.map_or(start, |clock| zone.instant(date, i32::from(clock), None));
    let mut decided = head.clock.is_some();
    // How many days past the head's date the clock has gone.
    let mut days = 0;
    for index in head.lines() {
        let entry = &book.entries[index];
        if entry.parent.is_some() {
            let (at, known) = under(book, entry, order);
            order.at[index] = at;
            order.decided[index] = known;
            continue;
        }
        if entry.clock.0 >= 0 {
            let from = i32::from(entry.clock.0);
            let mut at = zone.instant(date, from + days * 1440, Some(now).filter(|_| decided));
            if days == 0 && decided && at < now && entry.clock.0 < 720 && now - start > 1440 {
                days = 1;
                at = zone.instant(date, from + 1440, Some(now));
            }
            now = at;
            decided = true;
        }
        order.at[index] = now;
        order.decided[index] = decided;
        if entry.verb == Verb::Run {
            let mut end = now;
            if entry.clock.1 >= 0 {
                let to = i32::from(entry.clock.1);
                let mut civil = to + days * 1440;
                end = zone.instant(date, civil, Some(now + 1));
                if end <= now {
                    civil += 1440;
                    let next = zone.instant(date, civil.min(2879), Some(now + 1));
                    let typed = book.run(entry).and_then(|run| run.minutes);
                    if past_midnight(next - now, typed) {
                        days = (days + 1).min(1);
                        end = next;
                    } else {
                        // A slip of the pen: the end is not known, and the rest of the day stays where it is.
                        end = now + typed.map_or(0, whole);
                    }
                }
            } else if entry.clock.0 >= 0
                && let Some(minutes) = book.run(entry).and_then(|run| run.minutes)
            {
                end = now + whole(minutes);
            }
            if let Some(slot) = entry.run().and_then(|run| order.ends.get_mut(run)) {
                *slot = end;
            }
            now = end.max(now);
        }
    }
}

/// Minutes as typed, as whole ones; no slip of the pen carries a session past the end of time.
fn whole(minutes: f64) -> i32 {
    libm::ceil(minutes).clamp(0.0, 1e6) as i32
}

/// Longest session, in minutes, that is taken to have gone past midnight on the word of its times alone.
pub const LONGEST_PAST_MIDNIGHT: i32 = 360;

/// Whether a session whose end stands before its start went past midnight: not for much of a day, unless the minutes
/// typed say so too.
fn past_midnight(elapsed: i32, typed: Option<f64>) -> bool {
    elapsed <= LONGEST_PAST_MIDNIGHT || typed.is_some_and(|typed| (typed - f64::from(elapsed)).abs() <= 1.0)
}

/// A line under another happens when that does: under a session, at its end.
fn under(book: &Book, entry: &Entry, order: &Order) -> (i32, bool) {
    let mut next = entry.parent;
    let mut known = (0, false);
    while let Some((above, parent)) = next.and_then(|above| Some((above, book.entries.get(above)?))) {
        known = (order.at[above], order.decided[above]);
        if parent.verb == Verb::Run {
            let end = parent.run().and_then(|run| order.ends.get(run)).copied().unwrap_or(known.0);
            return (end.max(known.0), known.1);
        }
        next = parent.parent.filter(|higher| *higher < above);
    }
    known
}
