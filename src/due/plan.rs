//! What is planned: which cars go to which events, and how much each is expected to run there.
//!
//! Must not know parts. The expectation is the car's own mean over the events it has run to their end; a car that has run none
//! has none. Of an event that has begun, what the car has run there already is no longer to come.

use crate::book::Book;
use crate::book::by_clock::ByClock;
use crate::book::calendar::Calendar;
use crate::book::model::{CarId, Clock, EventId};
use crate::history::History;
use crate::history::odometer::Leg;
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::history::tally::Tally;
use crate::history::time::Zone;
use jiff::civil::Date;
use rayon::prelude::*;

/// One car at the events up to the one asked about.
#[derive(Debug, Clone)]
pub struct CarPlan {
    /// The car.
    pub car: CarId,
    /// The events it is entered for, in date order; the last may be before the one asked about.
    pub events: Vec<EventId>,
    /// Its own mean over earlier events, by clock; `None` where it is not known.
    pub per_event: ByClock<Option<f64>>,
    /// How many earlier events that mean is of.
    pub of: u32,
    /// An event that it has run at and that is not over by then, the last of them.
    pub unfinished: Option<EventId>,
    /// What it is still expected to run at all those events, by clock; `None` where it is not known.
    pub ahead: ByClock<Option<f64>>,
}

impl Plan {
    /// A car's part of it; they stand in the order of the cars.
    #[must_use]
    pub fn of(&self, car: CarId) -> Option<&CarPlan> {
        let at = self.cars.binary_search_by_key(&car, |plan| plan.car).ok()?;
        self.cars.get(at)
    }
}

impl CarPlan {
    /// No event ahead: only what has been run counts.
    #[must_use]
    pub fn none(car: CarId) -> Self {
        let unknown = ByClock::default();
        Self { car, events: Vec::new(), per_event: unknown, of: 0, unfinished: None, ahead: unknown }
    }

    /// How much it is expected to run on a clock, over all those events.
    #[must_use]
    pub fn expected(&self, clock: Clock) -> Option<f64> {
        self.ahead[clock]
    }
}

/// What lies ahead at a moment.
#[derive(Debug, Clone)]
pub struct Plan {
    /// The event asked about; `None` where nothing is to come.
    pub event: Option<EventId>,
    /// Its last day; the moment's where nothing is to come.
    pub end: Date,
    /// The moment as a rank: everything before it is known.
    pub cut: Rank,
    /// The date of that moment.
    pub today: Date,
    /// The cars that go to an event up to then.
    pub cars: Vec<CarPlan>,
}

/// The first event on or after a date to which a car goes.
#[must_use]
pub fn next_event(book: &Book, history: &History, today: Date) -> Option<EventId> {
    let all = book.events.keys();
    let anybody = (0..book.cars.len() as u32).any(|car| goes(book, history, CarId::new(car), Rank::END));
    let ahead = all.filter(|event| {
        let event = &book.events[*event];
        let goes = |car: CarId| goes(book, history, car, Rank::END);
        let named = event.entered.as_ref();
        event.last >= today && named.map_or(anybody, |cars| cars.iter().copied().any(goes))
    });
    ahead.min_by_key(|event| (book.events[*event].first, event.number()))
}

/// The plan before an event, as known at its start, or today if that is earlier; of one that has begun and is not over, as known today.
#[must_use]
pub fn plan(book: &Book, history: &History, event: EventId, today: Date) -> Plan {
    let asked = &book.events[event];
    let to_come = today <= asked.last;
    let at = if to_come { today } else { asked.first };
    let mut zone = Zone::new(book.shop.zone.as_deref());
    // Today's lines have happened; of an event that is over those of its first day had not.
    let cut = if to_come {
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
    let ahead = Calendar::ahead(book, at);
    let cars = (0..book.cars.len() as u32).into_par_iter().map(CarId::new);
    let cars =
        cars.filter_map(|car| car_plan(book, history, &ahead, car, (event, cut, at), asked.last)).collect();
    Plan { event: Some(event), end: asked.last, cut, today: at, cars }
}

/// How the cars stand on a day, nothing being planned: each is expected to run nothing.
#[must_use]
pub fn without_event(book: &Book, history: &History, today: Date) -> Plan {
    let mut zone = Zone::new(book.shop.zone.as_deref());
    let cut = rank_of(history, zone.day_start(today.tomorrow().unwrap_or(today)));
    let cars = (0..book.cars.len() as u32).map(CarId::new).filter(|car| goes(book, history, *car, cut));
    let nothing = |car| CarPlan { ahead: ByClock::of(|_| Some(0.0)), ..CarPlan::none(car) };
    Plan { event: None, end: today, cut, today, cars: cars.map(nothing).collect() }
}

/// The plans of the cars that are not in a plan and go to an event that has begun before its event is over: what they need from the shelf
/// they need by then.
#[must_use]
pub fn beside(book: &Book, history: &History, plan: &Plan) -> Vec<CarPlan> {
    let Some(event) = plan.event else { return Vec::new() };
    let asked = &book.events[event];
    let ahead = Calendar::ahead(book, plan.today);
    let begun = book.events.iter().filter(|event| event.first <= asked.last);
    let until = begun.map(|event| event.last).max().unwrap_or(asked.last);
    let others = (0..book.cars.len() as u32).map(CarId::new).filter(|car| plan.of(*car).is_none());
    others
        .filter_map(|car| car_plan(book, history, &ahead, car, (event, plan.cut, plan.today), until))
        .collect()
}

/// A car's part of the plan before the event asked about, from rank `cut` and date `at`: the events that begin before it is over and are
/// over by a day; `None` where it goes nowhere.
fn car_plan(
    book: &Book,
    history: &History,
    ahead: &Calendar,
    car: CarId,
    (asked, cut, at): (EventId, Rank, Date),
    until: Date,
) -> Option<CarPlan> {
    if !goes(book, history, car, cut) {
        return None;
    }
    let last = book.events[asked].last;
    let runs = runs(history, car, cut);
    let over = |id: EventId| is_over(book, &runs, id, at);
    let in_time = |id: &EventId| book.events[*id].first <= last && book.events[*id].last <= until;
    let mut events: Vec<EventId> =
        ahead.events(car).filter(|id| *id == asked || in_time(id) && !over(*id)).collect();
    if events.is_empty() {
        return None;
    }
    events.sort_by_key(|id| (book.events[*id].first, id.number()));
    let (per_event, of) = known_mean(book, history, &runs, (car, cut, at));
    let unfinished = runs.iter().map(|(event, ..)| *event).rfind(|event| *event != asked && !over(*event));
    let ahead = ByClock::of(|clock| {
        let mean = per_event[clock]?;
        let run = |id: &EventId| {
            runs.iter().find(|(event, ..)| event == id).map_or(0.0, |(_, run, _)| run.on(clock).0)
        };
        Some(events.iter().map(|id| (mean - run(id)).max(0.0)).sum())
    });
    Some(CarPlan { car, events, per_event, of, unfinished, ahead })
}

/// What one event of a car's is, by clock: the mean of those it has run to their end by a date, as known at a rank; and of how
/// many that is.
#[must_use]
pub fn usual(book: &Book, history: &History, car: CarId, cut: Rank, at: Date) -> (ByClock<Option<f64>>, u32) {
    let withheld = |session: &Session| book.entries.get(session.entry).is_none_or(|entry| entry.withheld);
    let own = history.sessions.between(car, Rank::START, cut).iter().map(|id| history.sessions.get(*id));
    // What ran while the car was another's is in a reader's book for the hours of its parts.
    if own.clone().any(withheld) {
        return mean_event(book, &walk(own.filter(|session| !withheld(session))), at);
    }
    known_mean(book, history, &runs(history, car, cut), (car, cut, at))
}

/// Whether an event is over by a date: its last day is past, or is that day and the car has run on it.
fn is_over(book: &Book, runs: &[(EventId, Tally, Date)], id: EventId, at: Date) -> bool {
    let ran_that_day = || runs.iter().any(|(event, _, day)| *event == id && *day >= at);
    let end = book.events[id].last;
    end < at || end == at && ran_that_day()
}

/// The same, where no line with a mistake says that the car may have run more, at one of them or at another.
fn known_mean(
    book: &Book,
    history: &History,
    runs: &[(EventId, Tally, Date)],
    (car, cut, at): (CarId, Rank, Date),
) -> (ByClock<Option<f64>>, u32) {
    let (mean, of) = mean_event(book, runs, at);
    let lost = history.sessions.lost_between(car, Rank::START, cut);
    (if lost { ByClock::of(|_| None) } else { mean }, of)
}

fn mean_event(book: &Book, runs: &[(EventId, Tally, Date)], at: Date) -> (ByClock<Option<f64>>, u32) {
    let over = runs.iter().filter(|(event, ..)| is_over(book, runs, *event, at));
    let whole: Vec<&Tally> = over.map(|(_, run, _)| run).collect();
    (ByClock::of(|clock| mean(&whole, clock)), whole.len() as u32)
}

fn rank_of(history: &History, start: i32) -> Rank {
    history.order.entries.partition_point(|entry| history.order.at[*entry] < start)
}

/// Whether a car goes to events at all: it is not sold before `cut`.
fn goes(book: &Book, history: &History, car: CarId, cut: Rank) -> bool {
    let ours = book.cars.get(car).is_some();
    let sold = history.parts.sold.get(&car).is_some_and(|(rank, _)| *rank < cut);
    ours && !sold
}

/// What the car ran at each event before `cut`, and the date of the last session there.
fn runs(history: &History, car: CarId, cut: Rank) -> Vec<(EventId, Tally, Date)> {
    if let Some(legs) = history.odometer(car).and_then(|odometer| odometer.by_event(cut)) {
        let run = |(event, leg): (EventId, Leg<'_>)| {
            let mut run = Tally::default();
            run.add_leg(leg);
            Some((event, run, *leg.dates.last()?))
        };
        return legs.into_iter().filter_map(run).collect();
    }
    walk(history.sessions.between(car, Rank::START, cut).iter().map(|id| history.sessions.get(*id)))
}

fn walk<'a>(sessions: impl Iterator<Item = &'a Session>) -> Vec<(EventId, Tally, Date)> {
    let mut runs: Vec<(EventId, Tally, Date)> = Vec::new();
    for session in sessions {
        let Some(event) = session.event else { continue };
        if let Some((_, run, day)) = runs.iter_mut().rev().find(|(known, ..)| *known == event) {
            run.add(session);
            *day = session.date.max(*day);
        } else {
            let mut run = Tally::default();
            run.add(session);
            runs.push((event, run, session.date));
        }
    }
    runs
}

/// The mean over those events. A clock that one of them does not state is not known.
fn mean(runs: &[&Tally], clock: Clock) -> Option<f64> {
    let known: Option<Vec<f64>> = runs
        .iter()
        .map(|run| Some(run.on(clock)).filter(|(_, at_least)| !at_least).map(|(value, _)| value))
        .collect();
    known.filter(|known| !known.is_empty()).map(|known| known.iter().sum::<f64>() / known.len() as f64)
}
