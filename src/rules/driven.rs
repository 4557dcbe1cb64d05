//! What drivers drove: which quantities it is held to, and each driver's day.
//!
//! Must not know limits.

use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::PersonId;
use crate::history::History;
use crate::history::order::{Length, Zones};
use crate::history::sessions::{Session, SessionId};
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

/// One driver's running of one car on a day, session by session.
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
    /// So many minutes more he drove on this day or on another.
    pub split: f64,
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
            let zone = zones.of(session.event);
            for (entry, driver, minutes) in history.sessions.drives(*id) {
                let Some(driver) = driver else { continue };
                let shares = match history.sessions.drove(book, *id, entry) {
                    Some(was) => by_day(zone, session.date, was, minutes),
                    None => match days_of(book, session).as_slice() {
                        [_] => {
                            vec![(history.order.date(book, entry).unwrap_or(session.date), minutes)]
                        }
                        several => several.iter().map(|date| (*date, None)).collect(),
                    },
                };
                let several = shares.len() > 1;
                for (date, share) in shares {
                    let new = Self { driver, date, minutes: 0.0, at_least: false, split: 0.0, last: entry };
                    let day = days.entry((date, driver)).or_insert(new);
                    day.minutes += share.unwrap_or(0.0);
                    day.at_least |= share.is_none();
                    day.split += minutes.filter(|_| several && share.is_none()).unwrap_or(0.0);
                    day.last = entry;
                }
            }
        }
        days.into_values().collect()
    }
}

/// The days that a session was on.
pub(super) fn days_of(book: &Book, session: &Session) -> Vec<Date> {
    let timed = book.entries.get(session.entry).is_some_and(|run| run.clock.0 >= 0);
    let last = if timed { session.last } else { session.date };
    let days = session.date.series(jiff::Span::new().days(1)).take_while(|day| *day <= last);
    days.take(MOST_DAYS).collect()
}

/// The minutes of a session that no driver is known to have driven: who drove is not written, or how long. `None` where nobody knows how
/// many they are.
pub(super) fn untold(book: &Book, history: &History, id: SessionId) -> Option<f64> {
    let session = history.sessions.get(id);
    let mut known = 0.0;
    let mut open = false;
    for (_, driver, minutes) in history.sessions.drives(id) {
        match driver.and(minutes) {
            Some(minutes) => known += minutes,
            None => open = true,
        }
    }
    let parts = history.sessions.parts(id);
    let stood: f64 = parts.iter().filter(|part| !part.runs()).filter_map(|part| part.minutes).sum();
    let typed = book.runs.get(session.run).and_then(|run| run.minutes);
    let clocked = match history.order.lengths.get(session.run) {
        Some(Length::Known(minutes) | Length::Back(minutes)) => Some(f64::from(*minutes)),
        _ => None,
    };
    // Minutes typed may be those from its start to its end.
    let ran = typed.filter(|typed| {
        stood == 0.0
            || [clocked, Some(known + stood)].into_iter().flatten().all(|whole| (typed - whole).abs() > 1.0)
    });
    let gross = clocked.or(typed).map(|whole| whole - stood);
    let rest = ran.or(gross).or(session.minutes).map(|whole| whole - known);
    // Between stages it drives on the road.
    let staged = parts.iter().any(|part| part.verb == Verb::Stage);
    if open {
        // What comes to more than there was says nothing of the rest.
        return rest.filter(|rest| *rest >= 0.0 && !staged);
    }
    // What stands between stints may all be stops, where one does not say how long it was.
    let measured = parts.iter().all(|part| part.runs() || part.minutes.is_some());
    // Times are typed to a minute.
    Some(rest.filter(|rest| *rest > 1.0 && !staged && measured).unwrap_or(0.0))
}

/// No session is of more days than this: its minutes are a slip.
const MOST_DAYS: usize = 40;

/// A drive's minutes, cut at midnight. Where they are not those of the clock, nobody knows how many were on which day.
fn by_day(
    zone: &mut Zone,
    date: Date,
    (start, end): (i32, i32),
    minutes: Option<f64>,
) -> Vec<(Date, Option<f64>)> {
    let date = zone.date_near(date, start);
    let last = zone.date_near(date, end - 1);
    if last <= date {
        return vec![(date, minutes)];
    }
    // Minutes are typed to a part of one, instants are whole.
    let clocked = minutes.filter(|minutes| (f64::from(end - start) - minutes).abs() < 1.0);
    let mut shares = Vec::new();
    let (mut day, mut from, mut left) = (date, start, clocked);
    while day < last && shares.len() < MOST_DAYS {
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
