//! What the book still lacks of the events behind it: holes by car and event, each with the words to type. One file a sort of hole.
//!
//! A hole is what a car's events usually have in this book and one of them lacks, so that a shop is not asked for what it never writes.
//! Must not know what is wrong in a line: that is `check`'s to say.

mod changes;
mod failed;
mod hole;
mod results;
mod runs;
mod spoken;
mod tyres;

use super::frame::{self, Frame};
use super::link::Link;
use super::stops;
use crate::book::model::{CarId, EventId};
use crate::history::sessions::Session;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::section::year;
use crate::report::teller::Teller;
use crate::report::words;
use hole::Seen;
use serde::Serialize;

pub use hole::Hole;

/// What the book still lacks.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct MondayList {
    /// Title and footer.
    pub frame: Frame,
    /// "9 holes at 3 events", "nothing".
    pub verdict: String,
    /// The events with holes, the latest first.
    pub events: Vec<HolesOfEvent>,
}

/// The holes of a car at an event.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct HolesOfEvent {
    /// The event.
    pub event: String,
    /// Where and when.
    pub about: String,
    /// The car's title.
    pub car: String,
    /// Its page of what happened there.
    pub page: Option<Link>,
    /// Whether it is the car's last event: those before stand folded.
    pub last: bool,
    /// The holes.
    pub holes: Vec<Hole>,
}

/// More events than these are not gone through: what was not written by then is not remembered.
const MOST: usize = 8;

/// The title of the page.
pub(in crate::report) const TITLE: &str = "What the book still lacks";

/// Makes the view: of one event, or of each car's last ones in the book's last year.
pub(in crate::report) fn view(desk: &Desk<'_>, only: Option<EventId>) -> MondayList {
    let tell = desk.tell;
    let cars = tell.cx.book.cars.iter().enumerate().filter(|(_, car)| !car.withheld);
    let mut events: Vec<(Option<jiff::civil::Date>, HolesOfEvent)> = Vec::new();
    for car in cars.map(|(index, _)| CarId::from(index)) {
        let ran = stops::ran(tell, car);
        // Of a car that was sold nothing presses.
        let sold = tell.cx.history.parts.sold.contains_key(&car);
        let last = ran.last().copied().filter(|_| !sold);
        let first = |event: EventId| tell.cx.book.events.get(event).map(|event| event.first);
        let year = tell.until().map(jiff::civil::Date::year);
        let wanted = ran.iter().rev().copied().take(MOST).filter(|event| match only {
            Some(only) => *event == only,
            None => first(*event).map(jiff::civil::Date::year) == year,
        });
        for event in wanted {
            let holes = holes(tell, car, event);
            if holes.is_empty() {
                continue;
            }
            let of_car = HolesOfEvent {
                event: tell.event(event).to_owned(),
                about: stops::about(tell, event),
                car: tell.cx.book.cars.get(car).map_or_else(String::new, |car| car.named.title.clone()),
                page: desk.table.link(Key::Event(event)),
                last: Some(event) == last || only.is_some(),
                holes,
            };
            events.push((first(event), of_car));
        }
    }
    events.sort_by_key(|(first, holes)| (std::cmp::Reverse(holes.last), std::cmp::Reverse(*first)));
    let events: Vec<HolesOfEvent> = events.into_iter().map(|(_, holes)| holes).collect();
    let count: usize = events.iter().map(|one| one.holes.len()).sum();
    let mut frame = frame::frame(
        tell,
        TITLE.to_owned(),
        only.map_or_else(String::new, |event| tell.event(event).to_owned()),
        None,
    );
    frame.errors |= tell.any_error();
    MondayList {
        frame,
        verdict: match count {
            0 => "Nothing that its events usually have.".to_owned(),
            count => words::count(count, "hole", "holes"),
        },
        events,
    }
}

/// Every hole of a car at an event.
fn holes(tell: &Teller<'_>, car: CarId, event: EventId) -> Vec<Hole> {
    let sessions: Vec<&Session> = tell
        .cx
        .history
        .sessions
        .at(car, event)
        .map(|(_, session)| session)
        .filter(|session| !year::is_withheld(tell, session))
        .collect();
    let span = crate::history::moment::span(tell.cx.book, tell.cx.history, car, event);
    let Some(span) = span.filter(|_| !sessions.is_empty()) else { return Vec::new() };
    let seen = Seen { tell, car, event, sessions: &sessions, span };
    let sorts = [runs::holes, changes::holes, tyres::holes, spoken::holes, failed::holes, results::holes];
    sorts.iter().flat_map(|sort| sort(&seen)).collect()
}
