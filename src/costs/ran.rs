//! Who ran where and when, found without looking through all sessions.
//!
//! Must not know sums.

use crate::book::Book;
use crate::book::model::{CarId, EventId};
use crate::history::History;
use crate::history::sessions::{Session, SessionId};
use crate::ids::Arena;
use std::collections::{BTreeMap, BTreeSet};

/// What a car ran.
#[derive(Debug, Clone, Default)]
pub struct CarRan {
    /// Whole seconds, of the sessions that say.
    pub seconds: u64,
    /// Events.
    pub events: BTreeSet<EventId>,
}

/// Sessions by event, and what each car ran by event and year.
pub struct Ran<'a> {
    history: &'a History,
    /// By event, places in `sessions.all`.
    sessions: Arena<EventId, Vec<SessionId>>,
    events: Arena<EventId, BTreeMap<CarId, CarRan>>,
    years: BTreeMap<i16, BTreeMap<CarId, CarRan>>,
}

impl<'a> Ran<'a> {
    /// Looks through the sessions once.
    pub fn of(book: &Book, history: &'a History) -> Self {
        let mut ran = Self {
            history,
            sessions: vec![Vec::new(); book.events.len()].into(),
            events: vec![BTreeMap::new(); book.events.len()].into(),
            years: BTreeMap::new(),
        };
        for (at, session) in history.sessions.all.iter_enumerated() {
            let year = ran.years.entry(session.date.year()).or_default();
            add(year.entry(session.car).or_default(), session);
            if let Some(event) = session.event {
                if let Some(cars) = ran.events.get_mut(event) {
                    add(cars.entry(session.car).or_default(), session);
                }
                if let Some(list) = ran.sessions.get_mut(event) {
                    list.push(at);
                }
            }
        }
        ran
    }

    /// What each car ran at an event.
    pub fn at(&self, event: EventId) -> Option<&BTreeMap<CarId, CarRan>> {
        self.events.get(event)
    }

    /// What each car ran in a year.
    pub fn in_year(&self, year: i16) -> Option<&BTreeMap<CarId, CarRan>> {
        self.years.get(&year)
    }

    /// The sessions of an event, in order.
    pub fn sessions(&self, event: EventId) -> impl Iterator<Item = &'a Session> + '_ {
        let list = self.sessions.get(event).map_or(&[][..], Vec::as_slice);
        list.iter().filter_map(|at| self.history.sessions.all.get(*at))
    }
}

fn add(car: &mut CarRan, session: &Session) {
    car.seconds = car.seconds.saturating_add(session.seconds().unwrap_or(0));
    car.events.extend(session.event);
}
