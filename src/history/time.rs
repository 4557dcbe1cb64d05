//! Civil dates and clock times to instants, in the event's or the shop's zone, through clock changes.
//!
//! Must not know entries. Instants are minutes since 1970-01-01T00:00Z.

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use rustc_hash::FxHashMap;

/// A zone with the days it has worked out.
#[derive(Debug)]
pub struct Zone {
    zone: TimeZone,
    days: FxHashMap<Date, Day>,
}

#[derive(Debug, Clone, Copy)]
struct Day {
    /// Instant of 00:00.
    start: i32,
    /// Whether the next 48 hours have a clock change.
    changes: bool,
}

fn minutes(at: Timestamp) -> i32 {
    at.as_second().div_euclid(60) as i32
}

impl Zone {
    /// The zone of that IANA name; UTC where it is unknown.
    #[must_use]
    pub fn new(name: Option<&str>) -> Self {
        let zone = name.and_then(|name| TimeZone::get(name).ok()).unwrap_or(TimeZone::UTC);
        Self { zone, days: FxHashMap::default() }
    }

    /// The instant of a date's 00:00.
    pub fn day_start(&mut self, date: Date) -> i32 {
        self.day(date).start
    }

    fn day(&mut self, date: Date) -> Day {
        if let Some(day) = self.days.get(&date) {
            return *day;
        }
        let at = |date: Date| {
            let civil = date.at(0, 0, 0, 0);
            self.zone.to_ambiguous_timestamp(civil).compatible().map_or(0, minutes)
        };
        let start = at(date);
        let after = date.tomorrow().and_then(Date::tomorrow).map_or(start + 2880, at);
        let day = Day { start, changes: after - start != 2880 };
        self.days.insert(date, day);
        day
    }

    /// The instant of `clock` minutes (below 2880) after a date's 00:00 on the clock face. A time that the clock
    /// shows twice is the first that is not before `not_before`; a time it skips is read as if it had not.
    pub fn instant(&mut self, date: Date, clock: i32, not_before: Option<i32>) -> i32 {
        let day = self.day(date);
        if !day.changes {
            return day.start + clock;
        }
        let (date, clock) =
            if clock >= 1440 { (date.tomorrow().unwrap_or(date), clock - 1440) } else { (date, clock) };
        let civil = date.at((clock / 60) as i8, (clock % 60) as i8, 0, 0);
        let both = self.zone.to_ambiguous_timestamp(civil);
        let first = both.earlier().map_or(day.start + clock, minutes);
        let second = both.later().map_or(first, minutes);
        let gap = matches!(both.offset(), jiff::tz::AmbiguousOffset::Gap { .. });
        if gap {
            return second.max(first);
        }
        match not_before {
            Some(bound) if first < bound && second >= bound => second,
            _ => first,
        }
    }

    /// The civil date and minutes of the day of an instant.
    #[must_use]
    pub fn civil(&self, at: i32) -> (Date, u16) {
        let stamp = Timestamp::from_second(i64::from(at) * 60).unwrap_or(Timestamp::UNIX_EPOCH);
        let civil = self.zone.to_datetime(stamp);
        (civil.date(), civil.hour() as u16 * 60 + civil.minute() as u16)
    }

    /// The date of an instant that lies within two days of `head`; quick for the usual case.
    pub fn date_near(&mut self, head: Date, at: i32) -> Date {
        let start = self.day_start(head);
        if at < start + 1380 { head } else { self.civil(at).0 }
    }
}
