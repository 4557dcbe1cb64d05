//! `page-not-made`: a page is said to have been handed out that the book never had.

use crate::book::Book;
use crate::book::calendar::Calendar;
use crate::book::entry::{Entry, EntryId, Verb};
use crate::book::handed::{HandedFacts, HandedPage};
use crate::book::model::{CarId, ClientId, EventId};
use crate::book::registers::registers;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::order::Rank;
use std::cell::OnceCell;
use std::collections::BTreeSet;

/// The check.
pub const CHECK: Check = Check {
    name: "page-not-made",
    severity: Severity::Error,
    family: Family::Book,
    brief: "a page handed out that the book has none of at that moment",
    why: "A page that is registered is made again to be laid beside what the client has. There is no setup sheet and no card of an event that the \
          car does not go to, no crash sheet where nothing hit it, no season of a year without a line, and no letter to a client who never had a car.",
    wrong: "circuit pell \"Pell\"\nevent pell-1 2026-05-10 at pell  entered wren\nclient orr \"Orr\"\ncar heron \"Heron\"  client orr\n\
            car wren \"Wren\"  client orr\n\n2026-05-08 heron\n  handed setup-sheet at pell-1 to orr 4f3a-91c2-07b1",
    right: "circuit pell \"Pell\"\nevent pell-1 2026-05-10 at pell  entered heron\nclient orr \"Orr\"\ncar heron \"Heron\"  client orr\n\
            car wren \"Wren\"  client orr\n\n2026-05-08 heron\n  handed setup-sheet at pell-1 to orr 4f3a-91c2-07b1",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let had = OnceCell::new();
    for entry in cx.book.entries.iter().filter(|entry| entry.verb == Verb::Handed && !entry.broken) {
        let Some(facts) = cx.book.extra(entry).and_then(|extra| extra.handed.as_deref()) else { continue };
        if let Some(why) = why_not(cx, entry, facts, had.get_or_init(|| Had::of(cx))) {
            out.push(
                CHECK
                    .at(entry.span(), format!("There is no such page: {why}."))
                    .cure("copy the line from the page's foot"),
            );
        }
    }
}

/// What cars and clients of the book had, worked out once.
struct Had {
    calendar: Calendar,
    /// Events of the heads of each car.
    events: BTreeSet<(CarId, EventId)>,
    /// Years in which the book has a line about a car.
    years: BTreeSet<(CarId, i16)>,
    /// At which events a car was hit.
    hits: BTreeSet<(CarId, Option<EventId>)>,
    /// Clients that ever had a car; `None` where a sale, or whose a car is, is not known.
    clients: Option<BTreeSet<ClientId>>,
}

impl Had {
    fn of(cx: &Context<'_>) -> Self {
        let (book, parts) = (cx.book, &cx.history.parts);
        let heads = || book.heads.iter().filter_map(|head| Some((head.car?, head)));
        let event = |line: EntryId| book.entries.get(line).and_then(|line| book.head(line)).and_then(|head| head.event);
        let cars = || book.cars.keys();
        let hits = cars().flat_map(|car| {
            let hits = cx.history.disturbances.hits(car, Rank::START, Rank::END);
            hits.map(move |hit| (car, event(hit.entry)))
        });
        let first: Option<BTreeSet<ClientId>> = cars().map(|car| parts.owner(book, car, Rank::START)).collect();
        let bought = parts.sales.iter().filter_map(|sale| sale.to);
        Self {
            calendar: Calendar::of(book),
            events: heads().filter_map(|(car, head)| Some((car, head.event?))).collect(),
            years: heads()
                .filter(|(_, head)| !registers(&book.entries, head))
                .map(|(car, head)| (car, head.date.year()))
                .collect(),
            hits: hits.collect(),
            clients: first.filter(|_| !sale_lost(book)).map(|first| first.into_iter().chain(bought).collect()),
        }
    }
}

/// Whether a line that sells something has a mistake.
pub(super) fn sale_lost(book: &Book) -> bool {
    book.entries.iter().any(|entry| entry.broken && entry.verb == Verb::Sell)
}

/// Why there is no such page; `None` where there is.
fn why_not(cx: &Context<'_>, entry: &Entry, facts: &HandedFacts, had: &Had) -> Option<String> {
    let book = cx.book;
    let head = book.head(entry)?;
    if facts.page == HandedPage::Letter {
        let client = book.clients.get(facts.client).map_or("?", |client| &*client.named.typed);
        let none = !had.clients.as_ref()?.contains(&facts.client);
        return none.then(|| format!("`{client}` has no car"));
    }
    let car = head.car?;
    let event = facts.event.map(|event| (event, book.events.get(event).map_or("?", |event| &*event.named.typed)));
    let name = cx.car(car);
    match (facts.page, event) {
        (HandedPage::Season, _) => {
            let year = facts.year?;
            (!had.years.contains(&(car, year))).then(|| format!("the book has no line about {name} in {year}"))
        }
        (HandedPage::SetupSheet | HandedPage::Card, Some((event, typed))) => {
            let goes = had.events.contains(&(car, event)) || had.calendar.events(car).any(|other| other == event);
            (!goes).then(|| format!("{name} does not go to {typed}"))
        }
        (HandedPage::CrashSheet, Some((event, typed))) => {
            (!had.hits.contains(&(car, Some(event)))).then(|| format!("no line says that {name} was hit at {typed}"))
        }
        (HandedPage::CrashSheet, None) => {
            let hit = had.hits.range((car, None)..).next().is_some_and(|(other, _)| *other == car);
            (!hit).then(|| format!("no line says that {name} was hit"))
        }
        _ => None,
    }
}
