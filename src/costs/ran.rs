//! Who ran where and when, found without looking through all sessions.
//!
//! Must not know sums.

use crate::book::Book;
use crate::book::entry::EntryId;
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
    /// It ran more than that, or may have, and nobody knows how long: the line.
    pub untimed: Option<EntryId>,
    /// A `run` line with a mistake: it may have been at another event.
    pub lost: bool,
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
        for (car, line) in history.sessions.lost() {
            ran.lost(book, (car, line));
        }
        ran
    }

    /// Notes that a car may have run more, by a line with a mistake: at its event, else wherever it may have been on its day.
    fn lost(&mut self, book: &Book, (car, line): (CarId, EntryId)) {
        let Some(head) = book.entries.get(line).and_then(|entry| book.head(entry)) else { return };
        let (day, there) = (Some(head.date).filter(|_| head.is_dated()), head.event);
        match day {
            Some(day) => open(self.years.entry(day.year()).or_default(), car, line),
            None => self.years.values_mut().for_each(|cars| open(cars, car, line)),
        }
        if let Some(cars) = there.and_then(|event| self.events.get_mut(event)) {
            open(cars, car, line);
        }
        if there.is_some() {
            return;
        }
        for (event, cars) in book.events.iter().zip(&mut self.events) {
            if day.is_none_or(|day| (event.first..=event.last).contains(&day)) {
                open(cars, car, line);
            }
        }
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

fn open(cars: &mut BTreeMap<CarId, CarRan>, car: CarId, line: EntryId) {
    let ran = cars.entry(car).or_default();
    ran.lost = true;
    ran.untimed.get_or_insert(line);
}

fn add(car: &mut CarRan, session: &Session) {
    if session.untimed || session.minutes.is_none() {
        car.untimed.get_or_insert(session.entry);
    }
    car.seconds = car.seconds.saturating_add(session.seconds().unwrap_or(0));
    car.events.extend(session.event);
}
