//! Civil dates and clock times to instants, in the event's or the shop's zone, through clock changes.
//!
//! A clock face says one instant, or two where the clock goes back over it, or none where it goes forward over it; nothing here
//! picks one of two. Must not know entries. Instants are minutes since 1970-01-01T00:00Z.

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::{AmbiguousOffset, Offset, TimeZone};
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

/// The instants of a clock face on a date.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Face {
    /// The clock shows it once.
    Once(i32),
    /// The clock shows it twice: the earlier instant and the later.
    Twice(i32, i32),
    /// The clock skips it.
    Never,
    /// It has an offset behind it that the zone does not have then.
    Elsewhere,
}

fn minutes(at: Timestamp) -> i32 {
    saturated(at.as_second().div_euclid(60))
}

/// Later than every instant of a book is as good as the last there is, and earlier as the first.
fn saturated(minutes: i64) -> i32 {
    minutes.clamp(i64::from(i32::MIN), i64::from(i32::MAX)) as i32
}

/// A date's 00:00 in UTC.
fn utc(date: Date) -> i32 {
    let days = Date::constant(1970, 1, 1).until(date).map_or(0, |span| i64::from(span.get_days()));
    saturated(days * 1440)
}

fn ahead(offset: Offset) -> i16 {
    (offset.seconds() / 60) as i16
}

impl Zone {
    /// The zone of that IANA name; UTC where it is unknown.
    #[must_use]
    pub fn new(name: Option<&str>) -> Self {
        let zone = name.and_then(|name| TimeZone::get(name).ok()).unwrap_or(TimeZone::UTC);
        Self { zone, days: FxHashMap::default() }
    }

    /// The instant of a date's 00:00; of the first that the clock shows, where it skips that.
    pub fn day_start(&mut self, date: Date) -> i32 {
        self.day(date).start
    }

    fn day(&mut self, date: Date) -> Day {
        if let Some(day) = self.days.get(&date) {
            return *day;
        }
        let at = |date: Date| {
            let civil = date.at(0, 0, 0, 0);
            // Only the first and the last day of the calendar have none.
            self.zone.to_ambiguous_timestamp(civil).compatible().map_or_else(|_| utc(date), minutes)
        };
        let start = at(date);
        let after = date.tomorrow().and_then(Date::tomorrow).map_or(start.saturating_add(2880), at);
        let day = Day { start, changes: after.saturating_sub(start) != 2880 };
        self.days.insert(date, day);
        day
    }

    /// The instants of a clock face: `clock` minutes of the day, 0 to 1440, with the offset typed behind it, if any
    /// (minutes ahead of UTC).
    pub fn face(&mut self, date: Date, clock: i16, offset: Option<i16>) -> Face {
        let day = self.day(date);
        if !day.changes && offset.is_none() {
            return Face::Once(day.start.saturating_add(i32::from(clock)));
        }
        let (date, clock) =
            if clock >= 1440 { (date.tomorrow().unwrap_or(date), clock - 1440) } else { (date, clock) };
        let civil = date.at((clock / 60) as i8, (clock % 60) as i8, 0, 0);
        let both = self.zone.to_ambiguous_timestamp(civil);
        let is = |one: Offset| offset.is_none_or(|typed| typed == ahead(one));
        let (Ok(first), Ok(second)) = (both.earlier().map(minutes), both.later().map(minutes)) else {
            return Face::Never;
        };
        match both.offset() {
            AmbiguousOffset::Gap { .. } => Face::Never,
            AmbiguousOffset::Unambiguous { offset } if is(offset) => Face::Once(first),
            AmbiguousOffset::Unambiguous { .. } => Face::Elsewhere,
            AmbiguousOffset::Fold { before, after } => match (is(before), is(after)) {
                (true, true) => Face::Twice(first, second),
                (true, false) => Face::Once(first),
                (false, true) => Face::Once(second),
                (false, false) => Face::Elsewhere,
            },
        }
    }

    /// The offsets, minutes ahead of UTC, that a clock face could have: before and after the change that doubles or skips
    /// it, else the one of that time, twice.
    #[must_use]
    pub fn offsets(&self, date: Date, clock: i16) -> (i16, i16) {
        let (date, clock) =
            if clock >= 1440 { (date.tomorrow().unwrap_or(date), clock - 1440) } else { (date, clock) };
        let civil = date.at((clock / 60) as i8, (clock % 60) as i8, 0, 0);
        match self.zone.to_ambiguous_timestamp(civil).offset() {
            AmbiguousOffset::Unambiguous { offset } => (ahead(offset), ahead(offset)),
            AmbiguousOffset::Gap { before, after } | AmbiguousOffset::Fold { before, after } => {
                (ahead(before), ahead(after))
            }
        }
    }

    /// Of a clock face that is skipped: what the clock shows when it goes forward, and what it shows then instead.
    #[must_use]
    pub fn skipped(&self, date: Date, clock: i16) -> Option<(u16, u16)> {
        let civil = date.at((clock % 1440 / 60) as i8, (clock % 60) as i8, 0, 0);
        let both = self.zone.to_ambiguous_timestamp(civil);
        let AmbiguousOffset::Gap { before, after } = both.offset() else { return None };
        let change = self.zone.following(both.earlier().ok()?).next()?.timestamp();
        let face = |offset: Offset| {
            let civil = offset.to_datetime(change);
            civil.hour() as u16 * 60 + civil.minute() as u16
        };
        Some((face(before), face(after)))
    }

    /// The civil date and minutes of the day of an instant.
    #[must_use]
    pub fn civil(&self, at: i32) -> (Date, u16) {
        let stamp = Timestamp::from_second(i64::from(at) * 60).unwrap_or(Timestamp::UNIX_EPOCH);
        let civil = self.zone.to_datetime(stamp);
        (civil.date(), civil.hour() as u16 * 60 + civil.minute() as u16)
    }

    /// The date of an instant that is not before `head` begins; quick for the usual case.
    pub fn date_near(&mut self, head: Date, at: i32) -> Date {
        let start = self.day_start(head);
        if at < start.saturating_add(1380) { head } else { self.civil(at).0 }
    }
}
