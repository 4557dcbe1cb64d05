//! What a session itself read of the tyres, and what else belongs to those same tyres.
//!
//! Whether a reading still holds is `history::likeness`'s to say; nothing is decided here but what is asked of it. Must not know drawings.

use crate::book::entry::{EntryId, Item};
use crate::book::place::Place;
use crate::history::likeness::{self, Reading};
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::history::slots::{Register, SlotEvent, Track};
use crate::report::teller::Teller;
use crate::vocabulary::QuantityId;

/// A reading with its line.
#[derive(Clone, Copy)]
pub(super) struct CameIn<'a> {
    /// Its track.
    pub track: &'a Track,
    /// The event.
    pub event: SlotEvent,
    /// Its line.
    pub line: EntryId,
}

/// What a session itself read at a place, of what was on the car as it ran.
pub(super) fn read<'a>(
    tell: &Teller<'a>,
    session: &Session,
    quantity: QuantityId,
    place: Place,
) -> Option<CameIn<'a>> {
    let (book, history) = (tell.cx.book, tell.cx.history);
    let track = track(tell, session, quantity, place)?;
    let of_it = |event: &&SlotEvent| {
        event.entry.is_some_and(|line| history.during(book, line) == Some(session.entry))
    };
    let event = *track.events.iter().rev().find(of_it)?;
    let line = event.entry.filter(|_| event.register() == Register::Read)?;
    let rank = event.rank(&history.order)?;
    is_same(tell, session, (track, place), (line, rank)).then_some(CameIn { track, event, line })
}

/// What they were at as the session began, set or read.
pub(super) fn before<'a>(
    tell: &Teller<'a>,
    session: &Session,
    quantity: QuantityId,
    place: Place,
) -> Option<CameIn<'a>> {
    let history = tell.cx.history;
    let slot = tell.cx.on(session.car, session.rank).slot(quantity, place)?;
    let event = slot.held.is(history)?;
    let (line, rank) = event.entry.zip(event.rank(&history.order))?;
    let own = track(tell, session, quantity, place).is_some_and(|track| std::ptr::eq(track, slot.track));
    (own && is_same(tell, session, (slot.track, place), (line, rank))).then_some(CameIn {
        track: slot.track,
        event,
        line,
    })
}

/// What was read of them last before a rank, in whatever session or between two.
pub(super) fn last<'a>(
    tell: &Teller<'a>,
    session: &Session,
    quantity: QuantityId,
    place: Place,
    until: Rank,
) -> Option<CameIn<'a>> {
    let track = track(tell, session, quantity, place)?;
    let order = &tell.cx.history.order;
    let rank = |event: &SlotEvent| event.rank(order).filter(|rank| *rank < until);
    let event = *track.events.iter().rev().find(|event| rank(event).is_some())?;
    let line = event.entry.filter(|_| event.register() == Register::Read)?;
    is_same(tell, session, (track, place), (line, rank(&event)?)).then_some(CameIn { track, event, line })
}

/// The numbers of a pair or a triple, the first in front.
pub(super) fn numbers<'a>(tell: &Teller<'a>, reading: &CameIn<'_>) -> Vec<&'a Item> {
    let book = tell.cx.book;
    book.items.get(reading.event.item()).into_iter().chain(book.further(reading.event.item())).collect()
}

/// Whose track a place was as a session ran.
fn track<'a>(tell: &Teller<'a>, session: &Session, quantity: QuantityId, place: Place) -> Option<&'a Track> {
    let (owner, at) = tell.cx.on(session.car, session.during).slot_of(quantity, place);
    tell.cx.history.slots.find(owner, quantity, at)
}

/// Whether what a line says is of what was in that place as the session ran: nothing that makes it untrue lies between.
fn is_same(
    tell: &Teller<'_>,
    session: &Session,
    (track, place): (&Track, Place),
    (entry, rank): (EntryId, Rank),
) -> bool {
    let reading = Reading { quantity: track.quantity, place, entry, owner: track.owner };
    let ends = [rank.min(session.during), rank.max(session.during)];
    likeness::changes(tell.cx.facts, session.car, reading, ends).next().is_none()
}
