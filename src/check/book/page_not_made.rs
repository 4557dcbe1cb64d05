//! `page-not-made`: a page is said to have been handed out that the book never had.

use crate::book::Book;
use crate::book::calendar::Calendar;
use crate::book::entry::{Entry, Verb};
use crate::book::handed::{HandedFacts, HandedPage};
use crate::book::registers::registers;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::order::Rank;

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
    let calendar = std::cell::OnceCell::new();
    for entry in cx.book.entries.iter().filter(|entry| entry.verb == Verb::Handed && !entry.broken) {
        let Some(facts) = cx.book.extra(entry).and_then(|extra| extra.handed.as_deref()) else { continue };
        let calendar = || calendar.get_or_init(|| Calendar::of(cx.book));
        if let Some(why) = why_not(cx, entry, facts, calendar) {
            out.push(
                CHECK
                    .at(entry.span(), format!("there is no such page: {why}."))
                    .cure("copy the line from the page's foot"),
            );
        }
    }
}

/// Whether a line that sells something has a mistake.
pub(super) fn sale_lost(book: &Book) -> bool {
    book.entries.iter().any(|entry| entry.broken && entry.verb == Verb::Sell)
}

/// Why there is no such page; `None` where there is.
fn why_not<'c>(
    cx: &Context<'_>,
    entry: &Entry,
    facts: &HandedFacts,
    calendar: impl Fn() -> &'c Calendar,
) -> Option<String> {
    let (book, parts) = (cx.book, &cx.history.parts);
    let head = book.head(entry)?;
    if facts.page == HandedPage::Letter {
        // Who has a car is not known where a sale or a car's client has a mistake.
        let unowned = book.cars.keys().any(|car| parts.owner(book, car, Rank::START).is_none());
        if unowned || sale_lost(book) {
            return None;
        }
        let his = |car| {
            let sold = parts.sales_of(car).any(|sale| sale.to == Some(facts.client));
            sold || parts.owner(book, car, Rank::START) == Some(facts.client)
        };
        let client = book.clients.get(facts.client).map_or("?", |client| &*client.named.typed);
        return (!book.cars.keys().any(his)).then(|| format!("`{client}` has no car"));
    }
    let car = head.car?;
    let event = facts.event.map(|event| (event, book.events.get(event).map_or("?", |event| &*event.named.typed)));
    let name = cx.car(car);
    match (facts.page, event) {
        (HandedPage::Season, _) => {
            let year = facts.year?;
            let lines = book.heads_of(car).any(|head| head.date.year() == year && !registers(&book.entries, head));
            (!lines).then(|| format!("the book has no line about {name} in {year}"))
        }
        (HandedPage::SetupSheet | HandedPage::Card, Some((event, typed))) => {
            let ran = book.heads_of(car).any(|head| head.event == Some(event));
            (!ran && !calendar().events(car).any(|other| other == event)).then(|| format!("{name} does not go to {typed}"))
        }
        (HandedPage::CrashSheet, at) => {
            let hits = cx.history.disturbances.hits(car, Rank::START, Rank::END);
            let of = |line| book.entries.get(line).and_then(|line| book.head(line)).and_then(|head| head.event);
            let hit = hits.into_iter().any(|hit| at.is_none_or(|(event, _)| of(hit.entry) == Some(event)));
            let there = at.map_or_else(String::new, |(_, typed)| format!(" at {typed}"));
            (!hit).then(|| format!("no line says that {name} was hit{there}"))
        }
        _ => None,
    }
}
