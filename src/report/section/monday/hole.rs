//! A hole, and a car at an event as the sorts of holes see it.
//!
//! Must not know which sorts there are.

use crate::book::entry::{Entry, EntryId};
use crate::book::model::{CarId, EventId};
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::report::teller::Teller;
use serde::Serialize;

/// Something that is not written.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Hole {
    /// Which session, or which line: "s3".
    pub place: String,
    /// What is not written: "how long it ran".
    pub what: String,
    /// Where it goes: "behind run s3", "at its end".
    pub put: String,
    /// What to type.
    pub line: String,
    /// The line it belongs to.
    pub src: String,
}

/// A car at an event, as the sorts of holes see it.
pub(super) struct Seen<'s, 'a> {
    pub(super) tell: &'s Teller<'a>,
    pub(super) car: CarId,
    pub(super) event: EventId,
    pub(super) sessions: &'s [&'a Session],
    /// From the car's first line there to its last.
    pub(super) span: (Rank, Rank),
}

impl Seen<'_, '_> {
    /// The car's own whole lines at the event, in order.
    pub(super) fn lines(&self) -> impl Iterator<Item = (EntryId, &Entry)> {
        let order = self.tell.cx.history.order.entries.within(self.span.0..self.span.1.next());
        let own = order.iter().copied().filter(|index| self.tell.cx.car_of(*index) == Some(self.car));
        own.filter_map(|index| {
            let line = self.tell.entry(index)?;
            let whole = !(line.broken || line.void || line.withheld);
            (whole && self.tell.cx.book.head(line)?.event == Some(self.event)).then_some((index, line))
        })
    }

    /// The car's whole lines of the other events.
    pub(super) fn elsewhere(&self) -> impl Iterator<Item = &Entry> {
        self.tell.lines_of(self.car).iter().filter_map(|(_, index)| {
            let line = self.tell.entry(*index)?;
            let event = self.tell.cx.book.head(line)?.event;
            let other = event.is_some() && event != Some(self.event);
            (other && !(line.broken || line.void || line.withheld)).then_some(line)
        })
    }
}
