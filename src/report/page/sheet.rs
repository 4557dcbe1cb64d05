//! A car's setup for an event: one page for each event it ran at or goes to.

use super::Sort;
use crate::book::model::{CarId, EventId};
use crate::report::desk::Desk;
use crate::report::desk::Options;
use crate::report::key::Key;
use crate::report::key::Listed;
use crate::report::section::frame::Frame;
use crate::report::section::sheet::{self, SetupSheet};
use crate::report::section::stops;
use crate::report::teller::Teller;

/// The page of a car's setup for an event, as it is listed.
pub(in crate::report) fn listed(tell: &Teller<'_>, car: CarId, event: EventId) -> Listed {
    let name = tell.event(event).to_owned();
    Listed {
        key: Key::Sheet(car, event),
        text: format!("Setup sheet {name}"),
        name: vec![tell.cx.car(car).to_owned(), name, "sheet".to_owned()],
        remark: "",
        year: tell.cx.book.events.get(event).map(|event| event.first.year()),
    }
}

impl Sort for SetupSheet {
    const TEMPLATE: &'static str = "sheet.html";
    const HEADING: &'static str = "Setup sheets, to print:";

    fn of_car(tell: &Teller<'_>, options: Options, car: CarId) -> Vec<Listed> {
        let all = stops::ran(tell, car).into_iter().chain(stops::ahead(tell, car));
        let all = all.map(|event| listed(tell, car, event));
        all.filter(|one| options.season.is_none_or(|only| one.year == Some(only))).collect()
    }

    fn view(desk: &Desk<'_>, key: Key) -> Option<Self> {
        let Key::Sheet(car, event) = key else { return None };
        Some(sheet::view(desk, car, event))
    }

    fn frame(&mut self) -> &mut Frame {
        &mut self.frame
    }
}
