//! The card for the scrutineers: one page for a car's next event.

use super::Sort;
use crate::book::model::{CarId, EventId};
use crate::report::desk::{Desk, Options};
use crate::report::key::{Key, Listed};
use crate::report::section::card::{self, ScrutinyCard};
use crate::report::section::frame::Frame;
use crate::report::section::stops;
use crate::report::teller::Teller;

/// The page, as it is listed.
pub(in crate::report) fn listed(tell: &Teller<'_>, car: CarId, event: EventId) -> Listed {
    let name = tell.event(event).to_owned();
    Listed {
        key: Key::Card(car, event),
        text: format!("Card for the scrutineers, {name}"),
        name: vec![tell.cx.car(car).to_owned(), name, "card".to_owned()],
        remark: "",
        year: tell.cx.book.events.get(event).map(|event| event.first.year()),
    }
}

impl Sort for ScrutinyCard {
    const TEMPLATE: &'static str = "card.html";

    fn of_car(tell: &Teller<'_>, options: Options, car: CarId) -> Vec<Listed> {
        // Of an event that is over there is nothing to show anybody: the season tells how it stood.
        let next = stops::ahead(tell, car).into_iter().next();
        let next = next.map(|event| listed(tell, car, event));
        next.filter(|one| options.season.is_none_or(|only| one.year == Some(only))).into_iter().collect()
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Card(car, event) = key else { return None };
        Some(card::view(desk, car, event))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
