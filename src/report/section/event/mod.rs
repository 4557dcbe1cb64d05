//! What happened at an event: every car's results, laps, changes, failures, what is open since, what it cost.
//!
//! Must not know how any of it is worked out.

mod car;

use super::frame::{self, Frame};
use super::link::Link;
use super::money::{self, ShownMoney};
use super::stops;
use crate::book::model::{CarId, EventId};
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::section::year;
use crate::report::teller::Teller;
use serde::Serialize;

pub use car::CarThere;

/// What happened at an event.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct EventPage {
    /// Title and footer.
    pub frame: Frame,
    /// Other pages about the event.
    pub links: Vec<Link>,
    /// Each car that ran, in the order of the book.
    pub cars: Vec<CarThere>,
    /// What was booked for it, car by car; none where nothing was, or where only one car is asked for.
    pub money: Option<ShownMoney>,
}

/// The cars that ran at an event, whose lines the reader may read.
pub(in crate::report) fn cars(tell: &Teller<'_>, event: EventId) -> Vec<CarId> {
    let all = tell.cx.book.cars.iter().enumerate().filter(|(_, car)| !car.withheld);
    let all = all.map(|(index, _)| CarId::from(index));
    all.filter(|car| {
        let mut sessions = tell.cx.history.sessions.at(*car, event);
        sessions.any(|(_, session)| !year::is_withheld(tell, session))
    })
    .collect()
}

/// Makes the view.
pub(in crate::report) fn view(desk: &Desk<'_>, event: EventId) -> EventPage {
    let tell = desk.tell;
    let cars = cars(tell, event);
    let title = format!("{}: what happened", tell.event(event));
    let mut frame = frame::frame(tell, title, stops::about(tell, event), None);
    frame.errors |= tell.any_error();
    EventPage {
        frame,
        links: [Key::Load(event), Key::Due].into_iter().filter_map(|key| desk.table.link(key)).collect(),
        cars: cars.into_iter().map(|car| car::view(desk, car, event)).collect(),
        money: money::of_event(tell, event),
    }
}
