//! What drivers drove: which quantities it is held to, and each driver's day.
//!
//! Must not know limits.

use crate::book::Book;
use crate::book::entry::EntryId;
use crate::book::model::PersonId;
use crate::history::History;
use crate::history::order::Zones;
use crate::history::sessions::SessionId;
use crate::history::time::{Face, Zone};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// Which of the two a quantity's name is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Driven {
    /// How long a driver drives without a break.
    Stint,
    /// How long he drives in a day.
    Day,
}

impl Driven {
    /// That of a name.
    #[must_use]
    pub fn of(name: &str) -> Option<Self> {
        match name {
            "stint-time" => Some(Self::Stint),
            "drive-time" => Some(Self::Day),
            _ => None,
        }
    }
}

/// One driver's running on a day, session by session.
#[derive(Debug, Clone, PartialEq)]
pub struct DriverDay {
    /// Who.
    pub driver: PersonId,
    /// The day. A stint past midnight is of both its days, each with its own minutes.
    pub date: Date,
    /// Minutes, as far as they are known.
    pub minutes: f64,
    /// Some stint does not say how long it was, or how much of it was on this day.
    pub at_least: bool,
    /// The last of his stints.
    pub last: EntryId,
}

impl DriverDay {
    /// What each driver drove in some sessions, day by day; of who is not named there is nothing.
    #[must_use]
    pub fn of(book: &Book, history: &History, sessions: &[SessionId]) -> Vec<Self> {
        let mut days: BTreeMap<(Date, PersonId), Self> = BTreeMap::new();
        let mut zones = Zones::new(book);
        for id in sessions {
            let session = history.sessions.get(*id);
            let timed = book.entries.get(session.entry).is_some_and(|run| run.clock.0 >= 0);
            let zone = zones.of(session.event);
            for (entry, driver, minutes) in history.sessions.drives(*id) {
                let Some(driver) = driver else { continue };
                let part = history.sessions.parts(*id).iter().find(|part| part.entry == entry);
                let (start, end) = part.map_or((session.start, session.end), |part| (part.start, part.end));
                let date = if timed {
                    zone.date_near(session.date, start)
                } else {
                    history.order.date(book, entry).unwrap_or(session.date)
                };
                let shares =
                    if timed { by_day(zone, date, (start, end), minutes) } else { vec![(date, minutes)] };
                for (date, minutes) in shares {
                    let new = Self { driver, date, minutes: 0.0, at_least: false, last: entry };
                    let day = days.entry((date, driver)).or_insert(new);
                    day.minutes += minutes.unwrap_or(0.0);
                    day.at_least |= minutes.is_none();
                    day.last = entry;
                }
            }
        }
        days.into_values().collect()
    }
}

/// A drive's minutes, cut at midnight. Where they are not those of the clock, nobody knows how many were on which day.
fn by_day(
    zone: &mut Zone,
    date: Date,
    (start, end): (i32, i32),
    minutes: Option<f64>,
) -> Vec<(Date, Option<f64>)> {
    let last = if end > start { zone.date_near(date, end - 1) } else { date };
    if last <= date {
        return vec![(date, minutes)];
    }
    // Minutes are typed to a part of one, instants are whole.
    let clocked = minutes.filter(|minutes| (f64::from(end - start) - minutes).abs() < 1.0);
    let mut shares = Vec::new();
    let (mut day, mut from, mut left) = (date, start, clocked);
    while day < last {
        let next = day.tomorrow().unwrap_or(last);
        let midnight = match zone.face(next, 0, None) {
            Face::Once(at) | Face::Twice(at, _) => Some(at),
            Face::Never | Face::Elsewhere => None,
        };
        let share = midnight.map(|midnight| f64::from(midnight - from)).filter(|_| clocked.is_some());
        shares.push((day, share));
        left = left.zip(share).map(|(left, share)| left - share);
        from = midnight.unwrap_or(from);
        day = next;
    }
    shares.push((last, left));
    shares
}
