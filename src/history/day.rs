//! The day of what a line tells: of what was in a session the day of that moment of it, past midnight and however late it was written.
//!
//! Must not know who asks.

use super::History;
use super::partly::share_of_laps;
use super::session::Session;
use super::time::Zone;
use crate::book::Book;
use crate::book::entry::EntryId;
use jiff::civil::Date;

impl History {
    /// The day on which what a line tells happened. Of a session that went past midnight it is the day of the lap that the line says, where
    /// the session was driven without a stop; else that of the line, where it is one of the session's.
    #[must_use]
    pub fn day_of(&self, book: &Book, index: EntryId) -> Option<Date> {
        let line = self.order.date(book, index);
        let extra = book.entries.get(index).and_then(|entry| book.extra(entry));
        let after = extra.is_some_and(|extra| extra.after.is_some());
        let session = self.during(book, index).filter(|_| !after).and_then(|run| self.sessions.of_run(run));
        let Some(session) = session else { return line };
        let lap = || self.day_of_lap(book, index, session);
        let in_it = || line.map(|line| line.clamp(session.date, session.last));
        if session.date == session.last { Some(session.date) } else { lap().or_else(in_it) }
    }

    /// The day of the lap of a session that a line says; `None` where it says none, or the session stopped.
    fn day_of_lap(&self, book: &Book, index: EntryId, session: &Session) -> Option<Date> {
        if self.sessions.is_divided(session.entry) || session.end <= session.start {
            return None;
        }
        let ran = share_of_laps(book, self, index, session)?;
        let event = session.event.and_then(|event| book.events.get(event));
        let zone = event.and_then(|event| event.zone.as_deref()).or(book.shop.zone.as_deref());
        let mut zone = Zone::new(zone);
        let instant = f64::from(session.start) + ran * f64::from(session.end - session.start);
        session.days().filter(|day| f64::from(zone.day_start(*day)) < instant).last()
    }
}
