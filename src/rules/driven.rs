//! What drivers drove, as readings for rules on `stint-time` and `drive-time`: each stint, and each driver's day.
//!
//! Must not know limits.

use super::Scrutiny;
use super::reading::{Reading, Value};
use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::{CarId, PersonId};
use crate::book::place::Place;
use crate::history::History;
use crate::history::sessions::SessionId;
use crate::units::DimensionId;
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

impl Scrutiny<'_> {
    /// The readings of a car. A day of which some stint is not known is none: it may be more, and is not judged.
    pub(super) fn driven(&self, car: CarId, what: Driven, all: &mut Vec<Reading>) {
        let mut push = |entry: EntryId, minutes: f64| {
            let value = Value {
                place: Place::CAR,
                si: minutes * 60.0,
                dimension: DimensionId::TIME,
                error: 0.0,
                unit: None,
                decimals: 0,
                typed: None,
            };
            all.push(Reading { driven: true, ..self.reading(Some(entry), vec![value], false) });
        };
        match what {
            // A session that is not divided is one stint, if it has a driver at all.
            Driven::Stint => {
                for (id, _) in self.history.sessions.of(car) {
                    let drives: Vec<_> = self.history.sessions.drives(id).collect();
                    let mut longest: Option<(EntryId, Option<PersonId>, f64)> = None;
                    for (entry, driver, minutes) in drives {
                        let stage = self.book.entries.get(entry).is_some_and(|line| line.verb == Verb::Stage);
                        let Some(minutes) = minutes.filter(|_| driver.is_some() && !stage) else {
                            longest = None;
                            continue;
                        };
                        // Who goes on behind a stop without another at the wheel goes on driving.
                        let before = longest.filter(|(_, who, _)| *who == driver).map_or(0.0, |(.., before)| before);
                        longest = Some((entry, driver, before + minutes));
                        push(entry, before + minutes);
                    }
                }
            }
            Driven::Day => {
                let sessions = self.history.sessions.of_car.get(car).map_or(&[][..], Vec::as_slice);
                for day in DriverDay::of(self.book, self.history, sessions).into_iter().filter(|day| !day.at_least) {
                    push(day.last, day.minutes);
                }
            }
        }
    }
}
