//! What is planned: which cars go to which events, and how much each is expected to run there.
//!
//! Must not know parts. The expectation is the car's own mean over the events it has run; a car that has run none has none.

use crate::book::Book;
use crate::book::model::{CarId, Clock, EventId};
use crate::history::History;
use crate::history::sessions::Session;
use crate::history::tally::Tally;
use crate::history::time::Zone;
use jiff::civil::Date;

/// One car at the events up to the one asked about.
#[derive(Debug, Clone)]
pub struct CarPlan {
    /// The car.
    pub car: CarId,
    /// The events it is entered for, in date order; the last may be before the one asked about.
    pub events: Vec<EventId>,
    /// Its own mean over earlier events, by clock; `None` where it is not known.
    pub per_event: [Option<f64>; Clock::ALL.len()],
    /// How many earlier events that mean is of.
    pub of: u32,
}

impl CarPlan {
    /// How much it is expected to run on a clock, over all those events.
    #[must_use]
    pub fn expected(&self, clock: Clock) -> Option<f64> {
        self.per_event[clock as usize].map(|mean| mean * self.events.len() as f64)
    }
}

/// What lies ahead at a moment.
#[derive(Debug, Clone)]
pub struct Plan {
    /// The event asked about.
    pub event: EventId,
    /// The moment as a rank: everything before it is known.
    pub cut: u32,
    /// The date of that moment.
    pub today: Date,
    /// The cars that go to an event up to then.
    pub cars: Vec<CarPlan>,
}

/// The first event on or after a date to which a car goes.
#[must_use]
pub fn next_event(book: &Book, history: &History, today: Date) -> Option<EventId> {
    let all = (0..book.events.len() as u32).map(EventId);
    let ahead = all.filter(|event| {
        let event = &book.events[event.0 as usize];
        event.last >= today
            && (0..book.cars.len() as u32).any(|car| goes(book, history, CarId(car), event, u32::MAX))
    });
    ahead.min_by_key(|event| (book.events[event.0 as usize].first, event.0))
}

/// The plan before an event, as known at its start, or today if that is earlier.
#[must_use]
pub fn plan(book: &Book, history: &History, event: EventId, today: Date) -> Plan {
    let asked = &book.events[event.0 as usize];
    let at = asked.first.min(today);
    let mut zone = Zone::new(book.shop.zone.as_deref());
    // Today's lines have happened; those of the event's first day have not.
    let cut = if today < asked.first {
        rank_of(history, zone.day_start(today.tomorrow().unwrap_or(today)))
    } else {
        let day = rank_of(history, zone.day_start(asked.first));
        // An untimed line of another zone may stand a few hours off; a session at the event never counts as before it.
        let own = history
            .sessions
            .all
            .iter()
            .filter(|session| session.event == Some(event))
            .map(|session| session.rank);
        own.min().map_or(day, |first| first.min(day))
    };
    let mut cars = Vec::new();
    for car in (0..book.cars.len() as u32).map(CarId) {
        let mut events: Vec<EventId> = (0..book.events.len() as u32)
            .map(EventId)
            .filter(|id| {
                let one = &book.events[id.0 as usize];
                let ahead = one.first >= at && one.last <= asked.last || *id == event;
                ahead && goes(book, history, car, one, cut)
            })
            .collect();
        events.sort_by_key(|id| (book.events[id.0 as usize].first, id.0));
        if !events.is_empty() {
            let (per_event, of) = means(history, car, cut);
            cars.push(CarPlan { car, events, per_event, of });
        }
    }
    Plan { event, cut, today: at, cars }
}

fn rank_of(history: &History, start: i32) -> u32 {
    history.order.entries.partition_point(|entry| history.order.at[*entry as usize] < start) as u32
}

/// Whether a car goes to an event: entered, or nobody is named; and not sold before `cut`.
fn goes(book: &Book, history: &History, car: CarId, event: &crate::book::model::Event, cut: u32) -> bool {
    let ours = book.cars.get(car.0 as usize).is_some();
    let sold = history.parts.sold.get(&car).is_some_and(|(rank, _)| *rank < cut);
    ours && !sold && (event.entered.is_empty() || event.entered.contains(&car))
}

/// The car's mean use over the events it ran before `cut`. A clock that one of them does not state is not known.
fn means(history: &History, car: CarId, cut: u32) -> ([Option<f64>; Clock::ALL.len()], u32) {
    let mut runs: Vec<(EventId, Tally)> = Vec::new();
    for id in history.sessions.between(car, 0, cut) {
        let session: &Session = history.sessions.get(*id);
        let Some(event) = session.event else { continue };
        if let Some((_, run)) = runs.iter_mut().rev().find(|(known, _)| *known == event) {
            run.add(session, 1.0);
        } else {
            let mut run = Tally::default();
            run.add(session, 1.0);
            runs.push((event, run));
        }
    }
    let mut per_event = [None; Clock::ALL.len()];
    for clock in Clock::ALL {
        let known: Option<Vec<f64>> = runs
            .iter()
            .map(|(_, run)| Some(run.on(clock)).filter(|(_, at_least)| !at_least).map(|(value, _)| value))
            .collect();
        per_event[clock as usize] = known
            .filter(|known| !known.is_empty())
            .map(|known| known.iter().sum::<f64>() / known.len() as f64);
    }
    (per_event, runs.len() as u32)
}
