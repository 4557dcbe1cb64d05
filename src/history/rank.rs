//! The one order of a book's entries, as data: ranks, instants, lengths. How it is worked out is in [`super::order`].
//!
//! Must not know what entries do.

pub use super::within::Spell;
use crate::book::Book;
use crate::book::entry::{EntryId, Head, RunId};
use crate::book::model::CarId;
use crate::ids::Arena;
use crate::ids::ids;
use jiff::civil::Date;
use rustc_hash::{FxHashMap, FxHashSet};

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
    pub at: Arena<EntryId, i32>,
    /// Entries in the order things happened.
    pub entries: Arena<Rank, EntryId>,
    /// Position of each entry in that order.
    pub rank: Arena<EntryId, Rank>,
    /// Whether a clock time in its block decides where an entry stands against other blocks' entries.
    pub decided: Arena<EntryId, bool>,
    /// End of each session, by run; its start where neither an end nor minutes are known.
    pub ends: Arena<RunId, i32>,
    /// The sessions of which a time tells when they began: their own, or one of their parts'.
    pub begun: FxHashSet<RunId>,
    /// What the times of each session say of its length, by run.
    pub lengths: Arena<RunId, Length>,
    /// The civil date of the lines that times put on a later day than their head's.
    pub dates: FxHashMap<EntryId, Date>,
    /// When each part of a session was, by its line.
    pub spells: FxHashMap<EntryId, Spell>,
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
        // A line without a time may be of the night that its block's day ends in.
        let same_day = book.heads[a.head].date == book.heads[b.head].date
            || self.date(book, first) == self.date(book, second);
        let decided = self.decided[first] && self.decided[second] && self.at[first] != self.at[second];
        same_day && !decided
    }

    /// The civil date of a line: its head's, or a later one where its block has gone past midnight.
    #[must_use]
    pub fn date(&self, book: &Book, entry: EntryId) -> Option<Date> {
        let head = || book.head(book.entries.get(entry)?).map(|head| head.date);
        self.dates.get(&entry).copied().or_else(head)
    }

    /// One past the rank of the last line of a day.
    #[must_use]
    pub fn after(&self, book: &Book, day: Date) -> Rank {
        self.entries.partition_point(|entry| self.date(book, *entry).is_none_or(|date| date <= day))
    }

    /// The lines of a car's blocks in order, each with its rank.
    #[must_use]
    pub fn lines_of(&self, book: &Book, car: CarId) -> Vec<(Rank, EntryId)> {
        let all = book.heads_of(car).flat_map(Head::lines);
        let rank = |entry: EntryId| self.rank.get(entry).copied();
        let mut lines: Vec<(Rank, EntryId)> = all.filter_map(|entry| Some((rank(entry)?, entry))).collect();
        lines.sort_unstable();
        lines
    }
}
