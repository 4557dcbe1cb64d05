//! When each entry happened, and the one order of all of them.
//!
//! Must not know what entries do, beyond that a session has an end and that a line under another belongs to it.

use super::clock::Clock;
use super::problem::Problem;
use super::time::Zone;
use crate::book::Book;
use crate::book::entry::{EntryId, RunId};
use crate::book::model::{CarId, EventId};
use crate::ids::ids;
use jiff::civil::Date;
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
    /// End of each session, by run; its start where neither an end nor minutes are known.
    pub ends: TiVec<RunId, i32>,
    /// What the times of each session say of its length, by run.
    pub lengths: TiVec<RunId, Length>,
    /// The civil date of the lines that times put on a later day than their head's.
    pub dates: FxHashMap<EntryId, Date>,
    /// Lines whose time is none.
    pub lost: Vec<EntryId>,
}

/// What the times on a session's line say of its length. Minutes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Length {
    /// Nothing: it has no times, or no end, or one that is none.
    #[default]
    Untold,
    /// That it was so long.
    Known(i32),
    /// That it was so long, its end being after its start only since the clock went back between them.
    Back(i32),
    /// A time comes twice: the one or the other.
    Either(i32, i32),
    /// It would be so long, past midnight, which is more likely a slip of the pen.
    Slip(i32),
}

impl Order {
    /// Whether two entries stand in different files on one day and no clock time decides which came first.
    #[must_use]
    pub fn unclear(&self, book: &Book, first: EntryId, second: EntryId) -> bool {
        let (a, b) = (&book.entries[first], &book.entries[second]);
        if a.file == b.file || a.head == b.head {
            return false;
        }
        let same_day = book.heads[a.head].date == book.heads[b.head].date;
        let decided = self.decided[first] && self.decided[second] && self.at[first] != self.at[second];
        same_day && !decided
    }

    /// The civil date of a line: its head's, or a later one where its block has gone past midnight.
    #[must_use]
    pub fn date(&self, book: &Book, entry: EntryId) -> Option<Date> {
        let head = || book.head(book.entries.get(entry)?).map(|head| head.date);
        self.dates.get(&entry).copied().or_else(head)
    }

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
        let zone = zones.of(book, head.event);
        let since = reached.get(&head.date).copied();
        let end = Clock::begin(book, zone, (id, head), since, &mut order, problems).read();
        let date = zones.of(book, head.event).date_near(head.date, end);
        for day in [head.date, date] {
            let at = reached.entry(day).or_insert(end);
            *at = end.max(*at);
        }
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
