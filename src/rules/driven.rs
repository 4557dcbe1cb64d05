//! What drivers drove: which quantities it is held to, and each driver's day.
//!
//! Must not know limits.

use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::PersonId;
use crate::history::History;
use crate::history::clock::LONGEST_PAST_MIDNIGHT;
use crate::history::order::{Length, Zones};
use crate::history::sessions::SessionId;
use crate::history::stretches::Part;
use crate::history::time::Zone;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// Which of the two a quantity's name is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Driven {
    /// How long a driver drives without a break.
    Stint,
    /// How long he drives in a day.
    Day,
    /// How long he drives in one session, past midnight too.
    Session,
    /// How long he drives at one event, however many days it has.
    Event,
}

impl Driven {
    /// That of a name.
    #[must_use]
    pub fn of(name: &str) -> Option<Self> {
        match name {
            "stint-time" => Some(Self::Stint),
            "drive-time" => Some(Self::Day),
            "session-drive-time" => Some(Self::Session),
            "event-drive-time" => Some(Self::Event),
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
    /// Minutes, as far as they are known to have been on this day.
    pub minutes: f64,
    /// Some stint does not say how long it was, or how much of it was on this day.
    pub at_least: bool,
    /// At most so many minutes more, of stints that were on this day or on another.
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
                let shares = match window(book, history, *id, entry) {
                    Some(window) => by_day(zone, session.date, window, minutes),
                    None => vec![Share {
                        date: history.order.date(book, entry).unwrap_or(session.date),
                        least: minutes.unwrap_or(0.0),
                        more: minutes.map(|_| 0.0),
                    }],
                };
                for Share { date, least, more } in shares {
                    let new = Self { driver, date, minutes: 0.0, at_least: false, split: 0.0, last: entry };
                    let day = days.entry((date, driver)).or_insert(new);
                    day.minutes += least;
                    day.at_least |= more != Some(0.0);
                    day.split += more.unwrap_or(0.0);
                    day.last = entry;
                }
            }
        }
        days.into_values().collect()
    }
}

/// The days that a session was on, or may have been on.
pub(super) fn days_of(book: &Book, history: &History, id: SessionId) -> Vec<Date> {
    let session = history.sessions.get(id);
    let mut zones = Zones::new(book);
    let zone = zones.of(session.event);
    let over = history.sessions.drives(id).filter_map(|(entry, ..)| window(book, history, id, entry));
    let over = over.map(|(_, until)| zone.date_near(session.date, until - 1)).max();
    let last = over.map_or(session.last, |over| over.max(session.last));
    let days = session.date.series(jiff::Span::new().days(1)).take_while(|day| *day <= last);
    days.take(MOST_DAYS).collect()
}

/// From when at the earliest until when at the latest somebody drove, by the line of it: between what is known before and behind it, each drive
/// that says how long it was at its length. A session of which nobody knows the end is taken to be no longer than one that goes past midnight.
/// `None` where no time tells anything of it.
fn window(book: &Book, history: &History, id: SessionId, line: EntryId) -> Option<(i32, i32)> {
    let session = history.sessions.get(id);
    let parts = history.sessions.parts(id);
    let Some(own) = parts.iter().position(|part| part.entry == line) else {
        return history.sessions.drove(&history.order, id, line);
    };
    let part = parts.get(own)?;
    let begun = history.order.begun.contains(&session.run);
    let end = Some(session.end).filter(|end| begun && *end > session.start);
    let long = |part: &Part| part.minutes.map_or(0, |minutes| libm::ceil(minutes) as i32);
    let pinned = |part: &Part| book.entries.get(part.entry).is_some_and(|line| line.clock.0 >= 0);
    // With a hole in the session nobody knows where what has no time of its own stood beside it.
    let (mut hole, mut over) = (false, begun.then_some(session.start));
    for part in parts {
        let start = part.was.map(|(start, _)| start).filter(|_| pinned(part));
        hole |= over.zip(start).is_some_and(|(over, start)| start - over > 1);
        over = part.was.map(|(_, end)| end);
    }
    hole |= over.zip(end).is_some_and(|(over, end)| (end - over).abs() > 1);
    let was = |part: &Part| part.was.filter(|(start, end)| end > start && (!hole || pinned(part)));
    if let Some(was) = was(part) {
        return Some(was);
    }
    let before = parts.iter().take(own).fold(begun.then_some(session.start), |from, part| {
        let from = if pinned(part) { Some(part.start) } else { from };
        was(part).map(|(_, end)| end).or(from.map(|from| from.saturating_add(long(part))))
    });
    let from = if pinned(part) { Some(part.start) } else { before };
    let until = parts.iter().skip(own + 1).rev().fold(end, |until, part| {
        let until = until.map(|until| until.saturating_sub(long(part)));
        let pin = pinned(part).then_some(part.start);
        was(part).map(|(start, _)| start).or(pin).or(until)
    });
    let (from, until) = match (from, until) {
        (None, None) => return None,
        (Some(from), None) => {
            let pin = parts.iter().find(|part| pinned(part)).map(|part| part.start);
            let first = if begun { session.start } else { pin.unwrap_or(from) };
            let over = from.saturating_add(long(part));
            let most = first.saturating_add(LONGEST_PAST_MIDNIGHT);
            // One that is longer already may be longer still.
            (from, if most > over { most } else { over.saturating_add(LONGEST_PAST_MIDNIGHT) })
        }
        // Not before what stands above the session.
        (None, Some(until)) => (session.start.min(until.saturating_sub(long(part))), until),
        (Some(from), Some(until)) => (from, until),
    };
    Some((from, until.max(from.saturating_add(long(part)).max(from + 1))))
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

/// What of a drive was on a day.
struct Share {
    date: Date,
    /// The least minutes that it was.
    least: f64,
    /// How many more it may have been; `None` where nobody knows.
    more: Option<f64>,
}

/// A drive's minutes, cut at midnight. Where they do not fill the time from the earliest it began to the latest it was over, as much is of a day
/// for certain as the other days have no room for.
fn by_day(zone: &mut Zone, date: Date, (from, until): (i32, i32), minutes: Option<f64>) -> Vec<Share> {
    let first = zone.date_near(date, from);
    let last = zone.date_near(date, until - 1);
    let mut rooms = Vec::new();
    let (mut day, mut start) = (first, from);
    while day < last && rooms.len() < MOST_DAYS {
        let next = day.tomorrow().unwrap_or(last);
        let midnight = zone.day_start(next);
        rooms.push((day, f64::from(midnight - start)));
        (day, start) = (next, midnight);
    }
    rooms.push((last, f64::from(until - start)));
    let all = f64::from(until - from);
    let several = rooms.len() > 1;
    let share = |(date, room): (Date, f64)| {
        let Some(minutes) = minutes else { return Share { date, least: 0.0, more: None } };
        if !several {
            return Share { date, least: minutes, more: Some(0.0) };
        }
        // Minutes are typed to a part of one, instants are whole: what is left over is of the last day.
        let apart = minutes - all;
        if apart.abs() < 1.0 {
            let left = if date == last { apart } else { 0.0 };
            return Share { date, least: (room + left).max(0.0), more: Some(0.0) };
        }
        let least = (minutes - (all - room)).clamp(0.0, room.max(0.0));
        Share { date, least, more: Some((room.min(minutes) - least).max(0.0)) }
    };
    rooms.into_iter().map(share).collect()
}
