//! Jobs still to do on the planned cars, and what was promised of them.
//!
//! Must not know words.

use super::plan::Plan;
use crate::book::Book;
use crate::book::entry::EntryId;
use crate::book::model::{CarId, JobId};
use crate::history::History;
use crate::history::jobs::{Promise, Status};
use jiff::civil::Date;

/// A job that was not closed at the plan's moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpenJob {
    /// The job.
    pub job: JobId,
    /// Its car; `None` for the shop's own.
    pub car: Option<CarId>,
    /// How it stood.
    pub status: Status,
    /// The line that opened it.
    pub opened: EntryId,
    /// The promise that stands.
    pub promise: Option<Promise>,
    /// Whether a line with a mistake leaves open what is promised.
    pub promise_lost: bool,
    /// Days from the plan's day to the promised one, below zero when past.
    pub days_left: Option<i32>,
    /// Whether it is to be done now: opened and not put off beyond today.
    pub presses: bool,
}

/// The jobs not closed then, of the planned cars and of the shop; those promised soonest first.
#[must_use]
pub fn open(book: &Book, history: &History, plan: &Plan) -> Vec<OpenJob> {
    let mut list: Vec<OpenJob> = Vec::new();
    let cars = plan.cars.iter().map(|car| Some(car.car)).chain([None]);
    for (id, job) in cars.flat_map(|car| history.jobs.of(car)) {
        let (Some(step), Some(opened)) = (job.at(plan.cut), job.opened()) else { continue };
        if step.status == Status::Done {
            continue;
        }
        let promise = job.promise_at(plan.cut).copied();
        list.push(OpenJob {
            job: id,
            car: job.car,
            status: step.status,
            opened: opened.entry,
            promise,
            promise_lost: job.is_promise_lost(plan.cut),
            days_left: promise.map(|promise| days(plan.today, promise.due)),
            presses: job.presses(book, plan.cut, plan.today),
        });
    }
    list.sort_by_key(|one| (!one.presses, one.days_left.unwrap_or(i32::MAX), one.job));
    list
}

fn days(from: Date, to: Date) -> i32 {
    from.until(to).map_or(0, |span| span.get_days())
}
