//! A client's letter: what is open on his cars, what was done last, what is next, what it cost so far against the quote.
//!
//! Stands only in a report that was cut for him, so that nothing another may not read is anywhere near it. Must not know HTML.

use super::failures;
use super::frame::{self, Frame};
use super::jobs::{self, Job};
use super::link::Link;
use super::money::{self, Money};
use super::season;
use super::totals::{self, EventTotals};
use crate::book::model::{CarId, ClientId};
use crate::due::Ask;
use crate::due::plan::next_event;
use crate::due::row::Action;
use crate::report::page::{Desk, Key};
use crate::report::teller::Teller;
use crate::report::words;
use crate::view::due;
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::Serialize;

/// The letter.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Client {
    /// Title and footer.
    pub frame: Frame,
    /// Whom it is for.
    pub client: String,
    /// The last dated line of the book that he may read: the letter stands as of that day.
    pub until: String,
    /// His cars.
    pub cars: Vec<ClientCar>,
    /// Jobs still to do.
    pub open: Vec<Job>,
    /// The jobs done last, the latest first.
    pub done: Vec<Job>,
    /// The next event one of his cars goes to; empty for none.
    pub next_event: String,
    /// What is due before it.
    pub next: Vec<Next>,
    /// What it cost.
    pub money: Option<Money>,
}

/// One of his cars.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ClientCar {
    /// Its words.
    pub title: String,
    /// Its season's page.
    pub page: Option<Link>,
    /// Its last event.
    pub last: Option<EventTotals>,
    /// What failed there, a sentence each.
    pub failed: Vec<String>,
}

/// One thing that is due.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Next {
    /// The car and the part.
    pub what: String,
    /// What is to be done.
    pub action: String,
    /// Why.
    pub why: String,
}

/// Jobs done that are listed.
const DONE: usize = 5;

/// The clients that have a car, or had one, by what the book says of them.
pub(in crate::report) fn cars(tell: &Teller<'_>, client: ClientId) -> Vec<CarId> {
    let book = tell.cx.book;
    let all = (0..book.cars.len() as u32).map(CarId);
    all.filter(|car| tell.cx.history.parts.owner(book, *car, u32::MAX) == Some(client)).collect()
}

/// Makes the view.
pub(in crate::report) fn view(desk: &Desk<'_>, client: ClientId) -> Client {
    let tell = desk.tell;
    let book = tell.cx.book;
    let own = cars(tell, client);
    let title = book.clients.get(client.0 as usize).map_or("?", |client| client.named.title.as_str());
    let until = book
        .heads
        .iter()
        .filter(|head| head.car.is_none_or(|car| own.contains(&car)))
        .map(|head| head.date)
        .max();
    let open =
        own.iter().flat_map(|car| jobs::jobs(tell, Some(*car), 0, u32::MAX)).filter(|job| job.open).collect();
    let (next_event, next) = next(tell, &own, until);
    let subtitle = own.iter().map(|car| tell.cx.car(*car)).collect::<Vec<_>>().join(", ");
    Client {
        frame: frame::frame(tell, format!("For {title}"), subtitle, own.first().copied()),
        client: title.to_owned(),
        until: until.map_or_else(|| words::DASH.to_owned(), words::date),
        cars: own.iter().map(|car| client_car(desk, *car)).collect(),
        open,
        done: jobs::closed_last(tell, &own, DONE),
        next_event,
        next,
        money: money::of_client(tell, client, &|car| {
            let year = season::years(tell, car).last().copied();
            let link = year.and_then(|year| desk.table.link(Key::Season(car, year)));
            link.map_or_else(String::new, |link| link.href)
        }),
    }
}

fn client_car(desk: &Desk<'_>, car: CarId) -> ClientCar {
    let tell = desk.tell;
    let year = season::years(tell, car).last().copied();
    let sessions: Vec<_> = tell.cx.history.sessions.of(car).map(|(_, session)| session).collect();
    let failures = failures::failures(tell, car, 0, u32::MAX);
    let rows = totals::by_event(tell, car, &sessions, &failures);
    let last = rows.into_iter().rfind(|row| !row.dates.is_empty());
    let there = |failure: &&failures::Failure| last.as_ref().is_some_and(|last| last.name == failure.event);
    ClientCar {
        title: tell.cx.book.cars.get(car.0 as usize).map_or_else(String::new, |car| car.named.title.clone()),
        page: year.and_then(|year| desk.table.link(Key::Season(car, year))),
        failed: failures
            .iter()
            .filter(there)
            .map(|failure| format!("{} {}", failure.kind, failure.part))
            .collect(),
        last,
    }
}

/// The next event of his cars after the book's last line, and what is due before it. As of that line and not of today, so that
/// the letter changes only when the book does.
fn next(tell: &Teller<'_>, own: &[CarId], until: Option<Date>) -> (String, Vec<Next>) {
    let (compiled, book) = (tell.compiled, tell.cx.book);
    let Some(today) = until else { return (String::new(), Vec::new()) };
    let Some(event) = next_event(book, tell.cx.history, today) else { return (String::new(), Vec::new()) };
    let list = due::view(compiled, Ask { event, today, confidence: 0.9 }, false);
    let names: Vec<&str> = own.iter().map(|car| tell.cx.car(*car)).collect();
    let mut next: Vec<Next> = Vec::new();
    for row in list.rows.iter().filter(|row| names.contains(&row.car.as_str())) {
        let action = match row.action {
            Action::Fit => "fit one",
            Action::Replace => "change it",
            Action::Inspect => "look at it",
            Action::Carry => "take another along",
            Action::Watch => "watch it",
            Action::Leave => continue,
        };
        let part = if row.part.is_empty() { String::new() } else { format!(" {}", row.part) };
        next.push(Next {
            what: format!("{} {} {}{part}", row.car, row.place, row.kind).replace("  ", " "),
            action: action.to_owned(),
            why: row.why.first().cloned().unwrap_or_default(),
        });
    }
    for work in list.work.iter().filter(|work| names.contains(&work.car.as_str())) {
        let part = if work.part.is_empty() { String::new() } else { format!(" {}", work.part) };
        next.push(Next {
            what: format!("{}{part}", work.car),
            action: work.work.clone(),
            why: work.text.clone(),
        });
    }
    let declared = &book.events[event.0 as usize];
    (format!("{}, {}", declared.named.title, words::dates(declared.first, declared.last)), next)
}
