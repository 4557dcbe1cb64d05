//! How much cars ran, in whole units, for what a total comes to an hour, a day and a kilometre.
//!
//! Must not know money.

use crate::book::model::CarId;
use crate::history::History;
use crate::history::sessions::Session;
use jiff::civil::Date;
use std::collections::BTreeSet;

/// Running of some sessions.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Running {
    /// Sessions.
    pub sessions: u32,
    /// Seconds; `None` where some session did not say, or drove on the road between its stages.
    pub seconds: Option<u64>,
    /// Days on which a car ran, added up over cars.
    pub days: u64,
    /// Millimetres driven, at speed and on the road; `None` where some session has no distance.
    pub millimetres: Option<u64>,
}

/// The running of the sessions that `counts` keeps, of some cars, in a year or in all. A session is of the year it began in; one past midnight
/// ran on each of its days, and each of those is of its own year.
pub fn of(
    history: &History,
    cars: &[CarId],
    year: Option<i16>,
    counts: impl Fn(&Session) -> bool,
) -> Running {
    let of_year = |date: &Date| year.is_none_or(|year| date.year() == year);
    let mut running = Running { seconds: Some(0), millimetres: Some(0), ..Running::default() };
    for car in cars {
        let mut days: BTreeSet<Date> = BTreeSet::new();
        for (_, session) in history.sessions.of(*car).filter(|(_, session)| counts(session)) {
            days.extend(session.days().filter(of_year));
            if !of_year(&session.date) {
                continue;
            }
            running.sessions += 1;
            let seconds = session.seconds().filter(|_| !session.untimed);
            running.seconds = running.seconds.zip(seconds).and_then(|(sum, more)| sum.checked_add(more));
            running.millimetres =
                running.millimetres.zip(session.millimetres()).and_then(|(sum, more)| sum.checked_add(more));
        }
        running.days += days.len() as u64;
    }
    running
}
