//! Jobs still to do on a car at a moment, in a line each.
//!
//! Must not know what was done on them.

use crate::book::model::{CarId, JobId};
use crate::history::jobs::{JobHistory, Status, Step};
use crate::history::order::Rank;
use crate::report::teller::Teller;
use crate::report::words;
use jiff::civil::Date;
use serde::Serialize;

/// A job still to do.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Todo {
    /// Its name.
    pub name: String,
    /// What is to be done.
    pub title: String,
    /// "open since 24 Oct", "planned", "put off".
    pub status: String,
    /// "promised for 20 Aug"; empty where it is not.
    pub promised: String,
    /// Whether that day is over.
    pub late: bool,
    /// The line that opened it.
    pub src: String,
}

/// The jobs of a car that were opened and not closed at the moment before a rank, and how each stood.
pub(in crate::report) fn open_at<'a>(
    tell: &Teller<'a>,
    car: Option<CarId>,
    rank: Rank,
) -> Vec<(JobId, &'a JobHistory, &'a Step)> {
    let all = tell.cx.history.jobs.of(car).into_iter();
    let open =
        all.filter_map(|(id, job)| Some((id, job, job.at(rank).filter(|step| step.status != Status::Done)?)));
    open.collect()
}

/// The same in a line each, by the calendar of that day.
pub(in crate::report) fn todo(
    tell: &Teller<'_>,
    car: Option<CarId>,
    rank: Rank,
    day: Option<Date>,
) -> Vec<Todo> {
    open_at(tell, car, rank).into_iter().filter_map(|open| one(tell, open, rank, day)).collect()
}

/// One of them in a line.
pub(super) fn one(
    tell: &Teller<'_>,
    (id, job, step): (JobId, &JobHistory, &Step),
    rank: Rank,
    day: Option<Date>,
) -> Option<Todo> {
    let cx = &tell.cx;
    let opened = job.opened()?;
    let title = cx.book.jobs.get(id).map_or("", |job| job.named.title.as_str());
    let name = cx.job(id);
    let promise = job.promise_at(rank);
    Some(Todo {
        title: if title == name { String::new() } else { title.to_owned() },
        name: name.to_owned(),
        status: match step.status {
            Status::Planned => "planned".to_owned(),
            Status::Deferred => "put off".to_owned(),
            Status::Open | Status::Done => format!("open since {}", words::short(opened.date)),
            Status::Unknown => "a line about it has an error".to_owned(),
        },
        promised: promise.map_or_else(String::new, |one| match one.before {
            Some(event) => format!("promised before {}", tell.event(event)),
            None => format!("promised for {}", words::short(one.due)),
        }),
        late: promise.zip(day).is_some_and(|(promise, day)| promise.due < day),
        src: tell.src_of(opened.entry),
    })
}
