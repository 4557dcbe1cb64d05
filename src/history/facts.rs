//! What everything after the fold is made of: the texts, the book, what was true when. One bundle for all, and one value for
//! "this car at this moment".
//!
//! Must not know what anybody makes of it.

use super::History;
use super::gauges::Correction;
use super::order::Rank;
use super::slots::{Register, SlotEvent, Track};
use crate::book::Book;
use crate::book::entry::{By, EntryId, Item, Verb};
use crate::book::model::{CarId, GaugeId};
use crate::source::Files;

/// The texts, the book and its fold. Whoever needs more adds to it, and lends it on by `Deref`.
#[derive(Debug, Clone, Copy)]
pub struct Facts<'a> {
    /// The texts.
    pub files: &'a Files,
    /// The book.
    pub book: &'a Book,
    /// Its fold.
    pub history: &'a History,
}

impl<'a> Facts<'a> {
    /// A car at the moment before a rank.
    #[must_use]
    pub const fn on(self, car: CarId, rank: Rank) -> Standing<'a> {
        Standing { facts: self, car, rank }
    }

    /// By which gauge a line read, and by how much that gauge read high then, in the SI of the item's unit. `None` where it names no
    /// gauge, or one that was never compared.
    #[must_use]
    pub fn correction(self, line: EntryId, item: &Item) -> Option<(GaugeId, Correction)> {
        let entry = self.book.entries.get(line)?;
        let By::Gauge(gauge) = entry.by else { return None };
        if self.history.gauges.is_empty() || !item.has_value() {
            return None;
        }
        let day = self.history.order.date(self.book, line)?;
        let car = self.book.head(entry).and_then(|head| head.car);
        let dim = item.unit().get().dim;
        self.history.gauges.correction(gauge, dim, day, car).map(|found| (gauge, found))
    }

    /// The comparison with a mistake that leaves it unknown by how much the gauge of a line reads high.
    #[must_use]
    pub fn comparison_lost(self, line: EntryId) -> Option<EntryId> {
        match self.book.entries.get(line)?.by {
            By::Gauge(gauge) => self.history.gauges.lost(gauge),
            _ => None,
        }
    }

    /// The line whose gauge a slot's value was read by: of a value that was changed by so much, that of the value it was changed from.
    #[must_use]
    pub fn read_by(self, track: &Track, event: &SlotEvent) -> Option<EntryId> {
        let line = event.entry?;
        let changed =
            |entry: EntryId| self.book.entries.get(entry).is_some_and(|entry| entry.verb == Verb::Adjust);
        if self.history.gauges.is_empty() || !changed(line) {
            return Some(line);
        }
        let at = track.events.iter().rposition(|one| one == event)?;
        let before = track.events.get(..at)?.iter().rev();
        let base = before
            .take_while(|one| one.register() != Register::Unknown)
            .find(|one| !one.entry.is_some_and(changed));
        base?.entry
    }
}

/// A car at a moment: that before the entry of a rank. What it holds then is in [`super::state`].
#[derive(Debug, Clone, Copy)]
pub struct Standing<'a> {
    /// What is known.
    pub facts: Facts<'a>,
    /// The car.
    pub car: CarId,
    /// The rank.
    pub rank: Rank,
}

impl<'a> std::ops::Deref for Standing<'a> {
    type Target = Facts<'a>;

    fn deref(&self) -> &Facts<'a> {
        &self.facts
    }
}
