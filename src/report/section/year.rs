//! A car's years: which there are, where one begins and ends, what the car ran in it.
//!
//! Must not know any page.

use crate::book::model::CarId;
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::history::time::Zone;
use crate::report::teller::Teller;
use jiff::civil::Date;

/// The years in which the book has a line about a car.
pub(in crate::report) fn years(tell: &Teller<'_>, car: CarId) -> Vec<i16> {
    let mut years: Vec<i16> =
        tell.cx.book.heads_of(car).filter(|head| head.is_dated()).map(|head| head.date.year()).collect();
    years.sort_unstable();
    years.dedup();
    years
}

/// First rank of a year, and one past its last.
pub(in crate::report) fn ranks(tell: &Teller<'_>, year: i16) -> (Rank, Rank) {
    let mut zone = Zone::new(tell.cx.book.shop.zone.as_deref());
    let order = &tell.cx.history.order;
    let mut rank = |year: i16| {
        let Ok(first) = Date::new(year, 1, 1) else { return order.entries.len() };
        let at = zone.day_start(first);
        order
            .entries
            .partition_point(|entry| order.at.get(*entry).is_some_and(|instant| *instant < at))
            .index()
    };
    (Rank::from(rank(year)), Rank::from(rank(year.saturating_add(1))))
}

/// The sessions of a car that the reader may read of. What ran while the car was another's is in his book for the hours of its
/// parts alone.
pub(in crate::report) fn own<'a>(tell: &Teller<'a>, car: CarId) -> impl Iterator<Item = &'a Session> {
    let history = tell.cx.history;
    history.sessions.of(car).map(|(_, session)| session).filter(|session| !is_withheld(tell, session))
}

/// Whether a session is in the reader's book for the hours of parts alone.
pub(in crate::report) fn is_withheld(tell: &Teller<'_>, session: &Session) -> bool {
    !tell.cx.history.parts.is_own_running(tell.cx.book, session, tell.compiled.reader)
}

/// The sessions of a car in a year.
pub(in crate::report) fn sessions<'a>(tell: &Teller<'a>, car: CarId, year: i16) -> Vec<&'a Session> {
    own(tell, car).filter(|session| session.date.year() == year).collect()
}
