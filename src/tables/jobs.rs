//! Jobs, and what was promised of them.

use super::cell::Cell;
use super::schema::{Column, FILE, FactTable, Give, LINE, refers};
use super::shown::Shown;
use crate::book::entry::Until;
use crate::history::jobs::Status;

/// Jobs.
pub const TABLE: FactTable = FactTable {
    name: "jobs",
    what: "A job, as it stands at the end of the book.",
    key: &["job"],
    columns: &[
        Column::text("job", "The name").needed(),
        Column::text("title", "What is to be done"),
        Column::text(
            "status",
            "`planned`, `open`, `deferred`, `done`, or `unknown`: a line about it has an error",
        ),
        Column::text("car", "The car; empty for the shop's own"),
        Column::text("part", "The part it is about"),
        Column::text("event", "Where it was found or is to be done"),
        Column::date("opened", "The day it was opened"),
        Column::date("closed", "The day it was closed"),
        Column::text("put_off_to", "Until when it is put off: a day, an event, or words"),
        FILE,
        LINE,
    ],
    refers: &[refers(&["car"], "cars"), refers(&["part"], "parts"), refers(&["event"], "events")],
    rows: jobs,
};

const fn status(status: Status) -> &'static str {
    match status {
        Status::Planned => "planned",
        Status::Open => "open",
        Status::Deferred => "deferred",
        Status::Done => "done",
        Status::Unknown => "unknown",
    }
}

fn jobs(shown: &Shown<'_>, give: &mut Give<'_>) {
    let compiled = shown.compiled;
    for (id, job) in compiled.book.jobs.iter_enumerated() {
        let name = shown.job(id);
        let Some(told) = compiled.history.jobs.all.get(id).filter(|_| !name.is_nothing()) else { continue };
        let last = told.steps.last();
        let until = match last.and_then(|step| step.until) {
            Some(Until::Day(day)) => Cell::from(day),
            Some(Until::Event(event)) => shown.event(event),
            Some(Until::Words(span)) => shown.words(span),
            None => Cell::Nothing,
        };
        let [file, line] = match told.opened() {
            Some(step) => shown.line(step.entry),
            None => shown.stands(job.named.declared),
        };
        give(&[
            name,
            shown.title(&job.named),
            Cell::from(last.map(|step| status(step.status))),
            shown.car(told.car),
            shown.part(told.part),
            shown.event(told.event),
            shown.day(told.opened().map(|step| step.entry)),
            shown.day(told.closed().map(|step| step.entry)),
            until,
            file,
            line,
        ]);
    }
}

/// Promises.
pub const PROMISES: FactTable = FactTable {
    name: "promises",
    what: "A promise of a job by a day.",
    key: &[],
    columns: &[
        Column::text("job", "The job").needed(),
        Column::text("client", "Whom to; empty where the book does not say"),
        Column::date("made", "The day it was given"),
        Column::date("due", "The last day on which it is kept").needed(),
        Column::text("before", "The event it is to be ready for, where that was said"),
        FILE,
        LINE,
    ],
    refers: &[refers(&["job"], "jobs"), refers(&["client"], "clients"), refers(&["before"], "events")],
    rows: promises,
};

fn promises(shown: &Shown<'_>, give: &mut Give<'_>) {
    let jobs = &shown.compiled.history.jobs;
    for (id, told) in jobs.all.iter_enumerated() {
        if shown.job(id).is_nothing() {
            continue;
        }
        for promise in told.promises.iter().filter(|promise| shown.may_read(promise.entry)) {
            let [file, line] = shown.line(promise.entry);
            give(&[
                shown.job(id),
                shown.client(promise.client),
                shown.day(promise.entry),
                Cell::from(promise.due),
                shown.event(promise.before),
                file,
                line,
            ]);
        }
    }
}
