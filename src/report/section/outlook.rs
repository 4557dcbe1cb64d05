//! How a car stands at the end of a season, for the first page: the next event, and what is open.
//!
//! Must not know how the season went.

use super::unseen::unseen;
use super::{jobs, todo};
use crate::book::entry::{Entry, EntryId};
use crate::book::model::{CarId, EventId, PartId};
use crate::history::jobs::Status;
use crate::history::order::Rank;
use crate::report::section::fact::Fact;
use crate::report::sources;
use crate::report::teller::Teller;
use crate::report::words;
use jiff::civil::Date;
use std::collections::BTreeSet;

/// The first event that begins after a day and that a car goes to.
pub(super) fn next_event(tell: &Teller<'_>, car: CarId, after: Date) -> Option<EventId> {
    tell.calendar().after(tell.cx.book, car, after)
}

/// What is to be said of the moment before a rank, by the calendar of a day.
pub(super) fn facts(tell: &Teller<'_>, car: CarId, rank: Rank, on: Date) -> Vec<Fact> {
    let open = todo::open_at(tell, Some(car), rank);
    let names: Vec<String> = open
        .iter()
        .map(|(id, _, step)| match step.status {
            Status::Deferred => {
                format!("{}, put off to {}", tell.cx.job_words(*id), jobs::until(tell, step.until))
            }
            Status::Planned => format!("{}, planned", tell.cx.job_words(*id)),
            _ => tell.cx.job_words(*id),
        })
        .collect();
    let spans = open.iter().filter_map(|(_, job, _)| Some(tell.entry(job.opened()?.entry)?.span()));
    let mut facts = vec![Fact {
        word: "jobs open".to_owned(),
        text: if names.is_empty() { "none".to_owned() } else { names.join("; ") },
        src: sources::lines(tell.cx.files, spans),
    }];
    facts.extend(not_looked_at(tell, car, rank));
    let next = next_event(tell, car, on).and_then(|id| tell.cx.book.events.get(id));
    facts.extend(next.map(|event| Fact {
        word: "next event".to_owned(),
        text: format!("{}, {}", event.named.title, words::dates(event.first, event.last)),
        src: tell.src(event.named.declared),
    }));
    facts
}

/// The parts that were in an impact on the car, are still there or on the shelf, and that nobody has looked at by then.
fn not_looked_at(tell: &Teller<'_>, car: CarId, rank: Rank) -> Option<Fact> {
    let cx = &tell.cx;
    let name = |part: PartId| format!("{} {}", cx.kind_of(part).replace('-', " "), cx.part(part));
    let waiting: Vec<(String, EntryId)> =
        unseen(tell, car, rank).map(|(part, hit, _)| (name(part), hit.entry)).collect();
    let names: Vec<String> = waiting.iter().map(|(name, _)| name.clone()).collect();
    let hits: BTreeSet<EntryId> = waiting.iter().map(|(_, hit)| *hit).collect();
    let days: BTreeSet<Date> = hits.iter().filter_map(|hit| cx.date(*hit)).collect();
    let days: Vec<String> = days.into_iter().map(words::date).collect();
    let spans = hits.iter().filter_map(|hit| tell.entry(*hit)).map(Entry::span);
    (!waiting.is_empty()).then(|| Fact {
        word: "not looked at".to_owned(),
        text: format!("{}, since the impact of {}", words::and(&names), words::and(&days)),
        src: sources::lines(tell.cx.files, spans),
    })
}
