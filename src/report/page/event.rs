//! What happened at an event: one page for each that a car ran at, of all cars.

use super::Sort;
use crate::book::model::EventId;
use crate::report::desk::{Desk, Options};
use crate::report::key::{Key, Listed};
use crate::report::section::event::{self, EventPage};
use crate::report::section::frame::Frame;
use crate::report::teller::Teller;

/// The page, as it is listed.
pub(in crate::report) fn listed(tell: &Teller<'_>, event: EventId) -> Listed {
    let name = tell.event(event).to_owned();
    Listed {
        key: Key::Event(event),
        text: name.clone(),
        name: vec!["event".to_owned(), name],
        remark: "",
        year: tell.cx.book.events.get(event).map(|event| event.first.year()),
    }
}

impl Sort for EventPage {
    const TEMPLATE: &'static str = "event.html";
    const LARGE: bool = true;
    const HEADING: &'static str = "What happened:";

    fn of_book(tell: &Teller<'_>, options: Options) -> Vec<Listed> {
        if options.car.is_some() {
            return Vec::new();
        }
        let all = tell.cx.book.events.keys().filter(|event| !event::cars(tell, *event).is_empty());
        let all =
            all.map(|event| (tell.cx.book.events.get(event).map(|event| event.first), listed(tell, event)));
        let mut list: Vec<_> =
            all.filter(|(_, one)| options.season.is_none_or(|only| one.year == Some(only))).collect();
        list.sort_by_key(|(first, _)| *first);
        list.into_iter().map(|(_, one)| one).collect()
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Event(event) = key else { return None };
        Some(event::view(desk, event))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
