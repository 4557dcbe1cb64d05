//! Which events each car goes to, in the order of their days: worked out once for whoever asks about many cars.
//!
//! Must not know what was run.

use super::Book;
use super::model::{CarId, Event, EventId};
use jiff::civil::Date;

/// The events of a book, or those that are not over by some day.
#[derive(Debug, Clone, Default)]
pub struct Calendar {
    /// Where nobody is named, so that every car may go.
    open: Vec<EventId>,
    /// By car, where it is named.
    of_car: Vec<Vec<EventId>>,
}

impl Calendar {
    /// Every event.
    #[must_use]
    pub fn of(book: &Book) -> Self {
        Self::with(book, |_| true)
    }

    /// The events whose last day is that one or later.
    #[must_use]
    pub fn ahead(book: &Book, from: Date) -> Self {
        Self::with(book, |event| event.last >= from)
    }

    fn with(book: &Book, wanted: impl Fn(&Event) -> bool) -> Self {
        let mut made = Self { open: Vec::new(), of_car: vec![Vec::new(); book.cars.len()] };
        let mut all: Vec<(&Event, EventId)> =
            book.events.iter().zip((0..).map(EventId)).filter(|(event, _)| wanted(event)).collect();
        all.sort_by_key(|(event, id)| (event.first, event.last, *id));
        for (event, id) in all {
            let Some(entered) = &event.entered else {
                made.open.push(id);
                continue;
            };
            for car in entered {
                // A car named twice goes there once.
                if let Some(list) =
                    made.of_car.get_mut(car.0 as usize).filter(|list| list.last() != Some(&id))
                {
                    list.push(id);
                }
            }
        }
        made
    }

    /// Where a car goes: first those it is named for, then those where nobody is; each by first day, last day, and the order in
    /// which they are declared.
    pub fn events(&self, car: CarId) -> impl Iterator<Item = EventId> {
        self.lists(car).into_iter().flatten().copied()
    }

    /// The first event of a car's by first day, last day, and the order in which they are declared.
    #[must_use]
    pub fn first(&self, book: &Book, car: CarId) -> Option<EventId> {
        let day = |id: &EventId| book.events.get(id.0 as usize).map(|event| (event.first, event.last, *id));
        self.lists(car).into_iter().filter_map(|list| list.first().copied()).min_by_key(day)
    }

    /// The first event of a car's that begins after a day; of two that begin together the one declared first.
    #[must_use]
    pub fn after(&self, book: &Book, car: CarId, day: Date) -> Option<EventId> {
        let first = |id: &EventId| book.events.get(id.0 as usize).map_or(Date::MAX, |event| event.first);
        let found = self.lists(car).into_iter().filter_map(|list| {
            let rest = list.get(list.partition_point(|id| first(id) <= day)..)?;
            let begins = first(rest.first()?);
            rest.iter().take_while(|id| first(id) == begins).min().copied()
        });
        found.min_by_key(|id| (first(id), *id))
    }

    fn lists(&self, car: CarId) -> [&[EventId]; 2] {
        [self.of_car.get(car.0 as usize).map_or(&[], Vec::as_slice), &self.open]
    }
}
