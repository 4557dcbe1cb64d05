//! The line that registers a page as handed out, ready to paste under a dated head.
//!
//! Must not know what stands on the page.

use crate::audience::Purchase;
use crate::book::handed::{HandedPage, PagePrint};
use crate::book::model::{ClientId, EventId};
use crate::report::key::Key;
use crate::report::section::crash;
use crate::report::teller::Teller;

/// The line for a page of a reader's; empty for one that is nobody's, or that goes nowhere by itself.
pub(super) fn line(tell: &Teller<'_>, key: Key, print: PagePrint) -> String {
    let Some(reader) = tell.compiled.reader else { return String::new() };
    let of_event = |event: EventId| format!(" at {}", tell.event(event));
    let (page, about) = match key {
        Key::Client(_) => (HandedPage::Letter, String::new()),
        Key::Season(_, year) => (HandedPage::Season, format!(" {year}")),
        Key::Sheet(_, event) => (HandedPage::SetupSheet, of_event(event)),
        Key::Card(_, event) => (HandedPage::Card, of_event(event)),
        Key::Alignment(_) => (HandedPage::AlignmentSheet, String::new()),
        // One that answers what was asked is not the page that a line can name.
        Key::Now(_) if !tell.asked.is_empty() => return String::new(),
        Key::Now(_) => (HandedPage::Now, String::new()),
        Key::Power(_) => (HandedPage::Power, String::new()),
        Key::Engine(_) => (HandedPage::EngineCheck, String::new()),
        Key::Crash(car, line) => {
            // A line names the last impact at an event, and so the page of that one alone.
            let event = crash::event(tell, line);
            let there = |hit: &EntryAndPlace| crash::event(tell, hit.0) == event;
            let last = crash::hits(tell, car).into_iter().rfind(there);
            match event.filter(|_| last.is_some_and(|last| last.0 == line)) {
                Some(event) => (HandedPage::CrashSheet, of_event(event)),
                None => return String::new(),
            }
        }
        Key::Index
        | Key::Monday(_)
        | Key::Event(_)
        | Key::Load(_)
        | Key::Bench
        | Key::Spare(_)
        | Key::Costs(_)
        | Key::Due
        | Key::Kind(_)
        | Key::Part(_)
        | Key::Usage(..)
        | Key::Diff(..) => return String::new(),
    };
    said(tell, page, &about, reader, print)
}

type EntryAndPlace = (crate::book::entry::EntryId, crate::book::place::Place);

/// The line for a hand-over; empty where the book does not say who buys the car.
pub(super) fn hand_over(tell: &Teller<'_>, purchase: &Purchase, print: PagePrint) -> String {
    purchase.to.map_or_else(String::new, |to| said(tell, HandedPage::HandOver, "", to, print))
}

fn said(tell: &Teller<'_>, page: HandedPage, about: &str, to: ClientId, print: PagePrint) -> String {
    let Some(client) = tell.cx.book.clients.get(to) else { return String::new() };
    format!("handed {}{about} to {} {}", page.word(), client.named.typed, print.words())
}
