//! The first page: where each car is now, and the way to every other page.
//!
//! Must not know the other pages' sections.

use super::frame::{self, Frame};
use super::jobs::{self, Job};
use super::link::Group;
use super::problems::{self, Problem};
use super::totals::{self, Totals};
use crate::book::entry::{Entry, Verb};
use crate::book::model::CarId;
use crate::diagnostics::Severity;
use crate::history::parts::Where;
use crate::history::sessions::Session;
use crate::report::page::Desk;
use crate::report::teller::Teller;
use crate::report::words;
use schemars::JsonSchema;
use serde::Serialize;

/// The first page: where each car is now, and the way to every other page.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Index {
    /// Title and footer.
    pub frame: Frame,
    /// Pages that belong to no car.
    pub pages: Vec<Group>,
    /// The cars.
    pub cars: Vec<Card>,
    /// Jobs that belong to no car.
    pub jobs: Vec<Job>,
    /// Problems of lines that belong to no car.
    pub problems: Vec<Problem>,
}

/// One car.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct Card {
    /// Its name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// Client and class.
    pub about: String,
    /// Where it is: what the last lines about it say.
    pub now: Vec<Said>,
    /// Whether it was sold.
    pub sold: bool,
    /// Its use over the whole book.
    pub totals: Totals,
    /// Whether miles are shown.
    pub imperial: bool,
    /// Errors on its lines.
    pub errors: usize,
    /// Warnings.
    pub warnings: usize,
    /// Notes.
    pub notes: usize,
    /// Its pages, sort by sort.
    pub pages: Vec<Group>,
}

/// A sentence and its line.
#[derive(Debug, Clone, Serialize, JsonSchema)]
#[schemars(rename = "WhereNow")]
pub struct Said {
    /// "last ran", "last worked on", "sold", "out of use".
    pub word: String,
    /// The sentence.
    pub text: String,
    /// The line.
    pub src: String,
}

/// Makes the view.
pub(in crate::report) fn view(desk: &Desk<'_>) -> Index {
    let tell = desk.tell;
    let cars: Vec<Card> = (0..tell.cx.book.cars.len() as u32)
        .map(CarId)
        .filter(|car| desk.options.car.is_none_or(|only| only == *car))
        .filter(|car| tell.cx.book.cars.get(car.0 as usize).is_some_and(|car| !car.withheld))
        .map(|car| card(desk, car))
        .collect();
    let title = "Where each car is now".to_owned();
    let subtitle = words::count(cars.len(), "car", "cars");
    Index {
        frame: Frame {
            errors: tell.compiled.count(Severity::Error) > 0,
            whole: Some(frame::whole(tell)),
            ..frame::frame(tell, title, subtitle, None)
        },
        pages: desk.table.groups(None),
        cars,
        jobs: jobs::jobs(tell, None, 0, u32::MAX),
        problems: problems::of_book(tell),
    }
}

fn card(desk: &Desk<'_>, car: CarId) -> Card {
    let tell = desk.tell;
    let cx = &tell.cx;
    let declared = cx.book.cars.get(car.0 as usize);
    let sessions: Vec<&Session> = cx.history.sessions.of(car).map(|(_, session)| session).collect();
    let imperial = declared.is_some_and(|car| car.imperial);
    let count = |severity| Teller::count(tell.messages_of(car), severity);
    Card {
        name: cx.car(car).to_owned(),
        title: declared.map_or_else(String::new, |car| car.named.title.clone()),
        about: super::season::subtitle(tell, car),
        now: now(tell, car, sessions.last().copied()),
        sold: cx.history.parts.sold.contains_key(&car),
        totals: totals::totals(tell, &sessions, imperial, totals::hole(tell, car, None, None)),
        imperial,
        errors: count(Severity::Error),
        warnings: count(Severity::Warning),
        notes: count(Severity::Note),
        pages: desk.table.groups(Some(car)),
    }
}

/// Sold or not, the last session, the last work, and parts of its own in quarantine.
fn now(tell: &Teller<'_>, car: CarId, last: Option<&Session>) -> Vec<Said> {
    let cx = &tell.cx;
    let mut now = Vec::new();
    if let Some((_, entry)) = cx.history.parts.sold.get(&car) {
        let to =
            tell.entry(*entry).map_or_else(String::new, |entry| super::entry::middle(tell, entry, false));
        let date = cx.date(*entry).map_or_else(String::new, words::date);
        now.push(Said { word: "sold".to_owned(), text: format!("{date}: {to}"), src: tell.src_of(*entry) });
    }
    if let Some(session) = last {
        now.push(Said {
            word: "last ran".to_owned(),
            text: format!("{}, {}", words::date(session.date), super::bests::session_name(tell, session)),
            src: tell.src_of(session.entry),
        });
    }
    let entries = cx.history.order.entries.iter().rev().copied();
    let mut work = entries.filter(|index| {
        cx.car_of(*index) == Some(car)
            && tell
                .entry(*index)
                .is_some_and(|entry| !entry.broken && !entry.withheld && entry.verb != Verb::Note)
    });
    if let Some(index) = work.next()
        && let Some(entry) = tell.entry(index)
    {
        let date = cx.date(index).map_or_else(String::new, words::date);
        now.push(Said {
            word: "last line".to_owned(),
            text: format!("{date}: {} {}", entry.verb.word(), super::entry::middle(tell, entry, false)),
            src: tell.src(entry.span()),
        });
    }
    let end = cx.history.order.entries.len() as u32;
    let empty: Vec<String> = crate::history::state::places(cx.history, car, end)
        .into_iter()
        .filter(|place| {
            place.part.is_none() && cx.book.kinds.get(place.kind.0 as usize).is_some_and(|kind| kind.must)
        })
        .filter_map(|place| {
            let kind = cx.book.kinds.get(place.kind.0 as usize)?;
            Some(format!("{} {}", kind.named.typed, cx.place(place.place)))
        })
        .collect();
    if !empty.is_empty() && !cx.history.parts.sold.contains_key(&car) {
        now.push(Said { word: "nothing fitted".to_owned(), text: words::list(&empty), src: String::new() });
    }
    if let Some((text, src)) = jobs::open(tell, car) {
        now.push(Said { word: "jobs to do".to_owned(), text, src });
    }
    let waiting: Vec<(String, u32)> = (0..cx.book.parts.len() as u32)
        .map(crate::book::model::PartId)
        .filter_map(|part| {
            let stays = &cx.history.parts.get(part).stays;
            let held = stays.last().filter(|stay| stay.at == Where::Quarantine)?;
            let before = stays.iter().rev().find_map(|stay| stay.car)?;
            (before == car).then(|| (cx.part(part).to_owned(), held.entry))
        })
        .collect();
    if !waiting.is_empty() {
        let names: Vec<String> = waiting.iter().map(|(name, _)| name.clone()).collect();
        let spans = waiting.iter().filter_map(|(_, entry)| tell.entry(*entry)).map(Entry::span);
        now.push(Said {
            word: "in quarantine".to_owned(),
            text: words::list(&names),
            src: crate::report::sources::lines(tell, spans),
        });
    }
    now
}
