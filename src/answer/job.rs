//! The jobs of a car that are still to do at a moment.
//!
//! Must not know columns.

use super::{LedgerLine, entry_line};
use crate::Compiled;
use crate::book::entry::Until;
use crate::book::model::{CarId, JobId};
use crate::history::jobs::{JobHistory, Status};
use crate::history::order::Rank;
use serde::Serialize;

/// A job.
#[derive(Debug, Clone, Serialize)]
pub struct JobView {
    /// Its name.
    pub name: String,
    /// What is to be done.
    pub title: String,
    /// How it stands.
    pub status: Status,
    /// The day it was opened.
    pub opened: String,
    /// Until when it is put off, as typed; null where it is not.
    pub until: Option<String>,
    /// The part it is about.
    pub part: Option<String>,
    /// What was promised by then, in order; a later promise to the same client takes the place of one before.
    pub promises: Vec<PromiseView>,
    /// The line that opened it.
    pub line: Option<LedgerLine>,
}

/// A promise.
#[derive(Debug, Clone, Serialize)]
pub struct PromiseView {
    /// Whom to; null where the book does not say.
    pub client: Option<String>,
    /// The last day on which it is kept.
    pub due: String,
    /// The event it is to be ready for, where that was said.
    pub before: Option<String>,
    /// The line that says it.
    pub line: Option<LedgerLine>,
}

/// The jobs of a car that are open, planned or put off at the moment before `rank`.
#[must_use]
pub fn to_do(compiled: &Compiled, car: CarId, rank: Rank) -> Vec<JobView> {
    let jobs = compiled.history.jobs.of(Some(car));
    jobs.into_iter().filter_map(|(id, job)| view(compiled, id, job, rank)).collect()
}

fn view(compiled: &Compiled, id: JobId, job: &JobHistory, rank: Rank) -> Option<JobView> {
    let (book, cx) = (&compiled.book, compiled.context());
    let (opened, now) = (job.opened()?, job.at(rank).filter(|step| step.status != Status::Done)?);
    let event = |event: crate::book::model::EventId| {
        book.events.get(event).map(|event| event.named.typed.to_string())
    };
    Some(JobView {
        name: cx.job(id).to_owned(),
        title: book.jobs.get(id).map_or_else(String::new, |job| job.named.title.clone()),
        status: now.status,
        opened: opened.date.to_string(),
        until: now.until.and_then(|until| match until {
            Until::Day(day) => Some(day.to_string()),
            Until::Event(id) => event(id),
            Until::Words(span) => Some(crate::syntax::unquote(cx.text(span)).to_owned()),
        }),
        part: job.part.map(|part| cx.part(part).to_owned()),
        promises: job
            .promises
            .iter()
            .filter(|promise| promise.rank < rank && !job.is_promise_lost(rank))
            .map(|promise| PromiseView {
                client: promise.client.map(|client| cx.client(client).to_owned()),
                due: promise.due.to_string(),
                before: promise.before.and_then(event),
                line: entry_line(compiled, promise.entry),
            })
            .collect(),
        line: entry_line(compiled, opened.entry),
    })
}
