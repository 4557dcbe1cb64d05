//! Jobs still to do and what was promised of them, in words.

use crate::Compiled;
use crate::answer::{LedgerLine, dates, entry_line, line};
use crate::due::open::OpenJob;
use crate::history::jobs::Status;
use crate::words;
use serde::Serialize;

/// One job.
#[derive(Debug, Clone, Serialize)]
pub struct DueJob {
    /// Its name.
    pub job: String,
    /// What is to be done; may be empty.
    pub title: String,
    /// The car; empty for the shop's own.
    pub car: String,
    /// How it stands.
    pub status: Status,
    /// Whether it is to be done now.
    pub presses: bool,
    /// The day it was opened.
    pub opened: Option<String>,
    /// The day promised.
    pub promised: Option<String>,
    /// Days to it, below zero when past.
    pub days_left: Option<i32>,
    /// In words.
    pub text: String,
    /// The line that opened it.
    pub line: LedgerLine,
}

pub(super) fn view(compiled: &Compiled, job: &OpenJob) -> DueJob {
    let book = &compiled.book;
    let named = &book.jobs[job.job].named;
    let opened = compiled.context().date(job.opened);
    let status = match job.status {
        Status::Planned => "planned",
        Status::Open => "open",
        Status::Deferred if job.presses => "was put off until now",
        Status::Deferred => "put off",
        Status::Done => "done",
        Status::Unknown => "not known: a line about it has an error",
    };
    let promise = match (job.promise, job.days_left) {
        (Some(promise), Some(left)) => {
            let event = promise.before.map(|event| &book.events[event].named.typed);
            let what = event.map_or_else(
                || format!("for {}", dates::date(promise.due)),
                |event| format!("before {event}"),
            );
            let when = match left {
                0 => "today".to_owned(),
                left if left < 0 => format!("{} past", words::days(left.abs())),
                left => format!("{} left", words::days(left.abs())),
            };
            format!("; promised {what}, {when}")
        }
        _ if job.promise_lost && job.status != Status::Unknown => {
            "; what is promised is not known: a line about it has an error".to_owned()
        }
        _ => String::new(),
    };
    let since = opened.map_or_else(String::new, |day| format!(" since {}", dates::date(day)));
    DueJob {
        job: named.typed.to_string(),
        title: named.words().to_owned(),
        car: job.car.map_or_else(String::new, |car| book.cars[car].named.typed.to_string()),
        status: job.status,
        presses: job.presses,
        promised: job.promise.map(|promise| promise.due.to_string()),
        days_left: job.days_left,
        text: format!("{status}{since}{promise}"),
        line: entry_line(compiled, job.opened).unwrap_or_else(|| line(compiled, named.declared)),
        opened: opened.map(|day| day.to_string()),
    }
}
