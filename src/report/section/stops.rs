//! The events of a car: those it ran at, and those that lie ahead of what the book knows.
//!
//! Ahead is what the book says, not the clock: the same book has the same pages on any day. Must not know any page.

use crate::book::model::{CarId, EventId};
use crate::history::moment;
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::report::section::year;
use crate::report::teller::Teller;
use crate::report::words;
use std::collections::BTreeSet;

/// The events at which a car ran a session, in order.
pub(in crate::report) fn ran(tell: &Teller<'_>, car: CarId) -> Vec<EventId> {
    let sessions: Vec<_> = year::own(tell, car).collect();
    events(&sessions)
}

/// The events that a car goes to and has run no session at, none of them over by the book's last date, in date order.
pub(in crate::report) fn ahead(tell: &Teller<'_>, car: CarId) -> Vec<EventId> {
    let cx = &tell.cx;
    if cx.history.parts.sold.contains_key(&car) {
        return Vec::new();
    }
    let ran: BTreeSet<EventId> = ran(tell, car).into_iter().collect();
    let ahead = tell.ahead().events(car).filter(|id| !ran.contains(id));
    let mut list: Vec<(jiff::civil::Date, EventId)> =
        ahead.filter_map(|id| Some((cx.book.events.get(id)?.first, id))).collect();
    list.sort_unstable();
    list.into_iter().map(|(_, id)| id).collect()
}

/// The event before one of a car's: the last it ran at; for one ahead, the last of all.
pub(in crate::report) fn before(tell: &Teller<'_>, car: CarId, event: EventId) -> Option<EventId> {
    let ran = ran(tell, car);
    match ran.iter().position(|one| *one == event) {
        Some(at) => at.checked_sub(1).and_then(|at| ran.get(at)).copied(),
        None => ran.last().copied(),
    }
}

/// The moment before a car's first session at an event, as a rank; the end of the book where it has run none there.
pub(in crate::report) fn start(tell: &Teller<'_>, car: CarId, event: EventId) -> Rank {
    let first = tell.cx.history.sessions.at(car, event).next();
    first.map_or(tell.cx.history.order.entries.next_key(), |(_, session)| session.rank)
}

/// The moment after a car's last session at an event.
pub(in crate::report) fn end(tell: &Teller<'_>, car: CarId, event: EventId) -> Rank {
    tell.cx.history.sessions.at(car, event).last().map_or(Rank::START, |(_, session)| session.during)
}

/// "Quern Park, September; Quern Park, 5–6 September 2026": title, circuit and dates.
pub(in crate::report) fn about(tell: &Teller<'_>, event: EventId) -> String {
    let book = tell.cx.book;
    let Some(declared) = book.events.get(event) else { return String::new() };
    let circuit = declared.circuit.and_then(|circuit| book.circuits.get(circuit));
    let mut all = Vec::new();
    if *declared.named.title != *declared.named.typed {
        all.push(declared.named.title.clone());
    }
    all.extend(circuit.map(|circuit| circuit.named.title.clone()));
    // A title mostly begins with its circuit.
    if let [title, circuit] = all.as_slice()
        && title.starts_with(circuit.as_str())
    {
        all.truncate(1);
    }
    all.push(words::dates(declared.first, declared.last));
    all.join(" · ")
}

/// "as its last line left it, 3 October 2026".
pub(in crate::report) fn as_left(tell: &Teller<'_>, car: CarId) -> String {
    let date = tell.last_of(car).map(words::date);
    date.map_or_else(
        || "the book has no line about it yet".to_owned(),
        |date| format!("as its last line left it, {date}"),
    )
}

/// The events of some sessions, in order of their first.
pub(in crate::report) fn events(sessions: &[&Session]) -> Vec<EventId> {
    let mut events: Vec<EventId> = Vec::new();
    for event in sessions.iter().filter_map(|session| session.event) {
        if !events.contains(&event) {
            events.push(event);
        }
    }
    events
}

/// The rank of a car's first line at an event.
pub(in crate::report) fn first_rank(tell: &Teller<'_>, car: CarId, event: EventId) -> Rank {
    moment::span(tell.cx.book, tell.cx.history, car, event).map_or(Rank::START, |(first, _)| first)
}
