//! What drivers drove: which quantities it is held to, and each driver's day.
//!
//! Must not know limits.

use crate::book::Book;
use crate::book::entry::EntryId;
use crate::book::model::PersonId;
use crate::history::History;
use crate::history::sessions::SessionId;
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
    /// The day: that on which the stint began.
    pub date: Date,
    /// Minutes, as far as they are known.
    pub minutes: f64,
    /// Some stint does not say.
    pub at_least: bool,
    /// The last of his stints.
    pub last: EntryId,
}

impl DriverDay {
    /// What each driver drove in some sessions, day by day; of who is not named there is nothing.
    #[must_use]
    pub fn of(book: &Book, history: &History, sessions: &[SessionId]) -> Vec<Self> {
        let mut days: BTreeMap<(Date, PersonId), Self> = BTreeMap::new();
        for id in sessions {
            let session = history.sessions.get(*id);
            for (entry, driver, minutes) in history.sessions.drives(*id) {
                let Some(driver) = driver else { continue };
                let date = history.order.date(book, entry).unwrap_or(session.date);
                let new = Self { driver, date, minutes: 0.0, at_least: false, last: entry };
                let day = days.entry((date, driver)).or_insert(new);
                day.minutes += minutes.unwrap_or(0.0);
                day.at_least |= minutes.is_none();
                day.last = entry;
            }
        }
        days.into_values().collect()
    }
}
