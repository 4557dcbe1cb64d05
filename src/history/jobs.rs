//! Jobs over time: when each was opened, put off and closed, what was promised for when, and which lines are work on it.
//!
//! Must not know money, reports or messages.

mod fold;

use crate::book::Book;
use crate::book::entry::{EntryId, Until};
use crate::book::model::{CarId, ClientId, EventId, JobId, PartId};
use crate::history::order::Rank;
use crate::ids::Arena;
pub use fold::jobs;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// How a job stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Status {
    /// To be done at some time; the car may run with it.
    Planned,
    /// To be done.
    Open,
    /// Put off.
    Deferred,
    /// Closed.
    Done,
    /// A line about it has a mistake.
    Unknown,
}

/// A line that changed how a job stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// How it stands from then.
    pub status: Status,
    /// When, in the order of the book.
    pub rank: Rank,
    /// The line.
    pub entry: EntryId,
    /// Its day.
    pub date: Date,
    /// Until when it is put off.
    pub until: Option<Until>,
}

/// A promise of a job by a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Promise {
    /// The line.
    pub entry: EntryId,
    /// When, in the order of the book.
    pub rank: Rank,
    /// The day it was given.
    pub made: Date,
    /// Whom to; `None` where no client is known.
    pub client: Option<ClientId>,
    /// The last day on which it is kept.
    pub due: Date,
    /// The event it is to be ready for, where that was said instead of a day.
    pub before: Option<EventId>,
}

/// What became of a promise, with days.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Outcome {
    /// Closed by that day.
    Kept,
    /// Closed so many days after it.
    Late(i32),
    /// Another day was promised, this many days after this one had passed.
    Broken(i32),
    /// Another day was promised in time.
    Moved,
    /// The same day was promised again: it is one promise, and what became of it stands with the later line.
    Again,
    /// Not closed, so many days after it.
    Overdue(i32),
    /// So many days are left.
    Standing(i32),
    /// A line about it has a mistake.
    Unknown,
}

/// What happened to one job.
#[derive(Debug, Clone, Default)]
pub struct JobHistory {
    /// Whose it is; `None` for the shop, or where the head of the line that opens it names no car that is known.
    pub car: Option<CarId>,
    /// The part it is about, where said.
    pub part: Option<PartId>,
    /// The event it was opened at, or is to be done at.
    pub event: Option<EventId>,
    /// How it stood, in order. The first is its opening; empty where the day of that is not known.
    pub steps: Vec<Step>,
    /// What was promised, in order.
    pub promises: Vec<Promise>,
    /// Lines that say `on` this job, in order: rank and entry.
    pub work: Vec<(Rank, EntryId)>,
    /// Ranks of lines with a mistake that promise it, or may: what was promised before no longer stands for sure.
    pub promise_lost: Vec<Rank>,
}

impl JobHistory {
    /// The line that opened it.
    #[must_use]
    pub fn opened(&self) -> Option<&Step> {
        self.steps.first()
    }

    /// The line that closed it.
    #[must_use]
    pub fn closed(&self) -> Option<&Step> {
        self.steps.last().filter(|step| step.status == Status::Done)
    }

    /// How it stands at the moment before `rank`.
    #[must_use]
    pub fn at(&self, rank: Rank) -> Option<&Step> {
        let next = self.steps.partition_point(|step| step.rank < rank);
        self.steps.get(next.checked_sub(1)?)
    }

    /// The promise that stands at the moment before a rank; `None` where there is none, and where [`Self::is_promise_lost`].
    #[must_use]
    pub fn promise_at(&self, rank: Rank) -> Option<&Promise> {
        let last = self.promises.iter().rev().find(|promise| promise.rank < rank);
        last.filter(|_| !self.is_promise_lost(rank))
    }

    /// Whether a line with a mistake, and no later promise, leaves open what is promised at the moment before a rank.
    #[must_use]
    pub fn is_promise_lost(&self, rank: Rank) -> bool {
        let last = self.promises.iter().rev().find(|promise| promise.rank < rank);
        let since = |lost: &Rank| *lost < rank && last.is_none_or(|last| last.rank <= *lost);
        self.promise_lost.iter().any(since)
    }

    /// Whether it is to be done now: opened, not closed, not planned for later, and what it was put off to has come.
    #[must_use]
    pub fn presses(&self, book: &Book, rank: Rank, day: Date) -> bool {
        self.at(rank).is_some_and(|step| match step.status {
            Status::Open => true,
            Status::Deferred => ends(book, step.until).is_some_and(|end| day >= end),
            Status::Planned | Status::Done | Status::Unknown => false,
        })
    }

    /// What became of a promise, by its place in [`Self::promises`]; a later one to the same client takes its place.
    #[must_use]
    pub fn outcome(&self, promise: usize, today: Date) -> Option<Outcome> {
        let one = self.promises.get(promise)?;
        let later = self.promises.iter().skip(promise + 1).find(|later| later.client == one.client);
        let last = self.steps.last().map(|step| step.status);
        Some(match (later, self.closed()) {
            (Some(later), _) if later.made > one.due => Outcome::Broken(days(one.due, later.made)),
            (Some(later), _) if (later.due, later.before) == (one.due, one.before) => Outcome::Again,
            (Some(_), _) => Outcome::Moved,
            (None, _) if !self.promise_lost.is_empty() || last == Some(Status::Unknown) => Outcome::Unknown,
            (None, Some(closed)) if closed.date <= one.due => Outcome::Kept,
            (None, Some(closed)) => Outcome::Late(days(one.due, closed.date)),
            (None, None) if today > one.due => Outcome::Overdue(days(one.due, today)),
            (None, None) => Outcome::Standing(days(today, one.due)),
        })
    }
}

/// What happened to all jobs.
#[derive(Debug, Clone, Default)]
pub struct Jobs {
    /// By [`JobId`].
    pub all: Arena<JobId, JobHistory>,
    /// Of each car, and of the shop, in the order they were opened.
    of_car: BTreeMap<Option<CarId>, Vec<JobId>>,
}

impl Jobs {
    /// The job's history; ids come only from the book.
    #[must_use]
    pub fn get(&self, job: JobId) -> &JobHistory {
        &self.all[job]
    }

    /// A car's jobs, or with `None` the shop's, in the order they were opened.
    #[must_use]
    pub fn of(&self, car: Option<CarId>) -> Vec<(JobId, &JobHistory)> {
        let list = self.of_car.get(&car).map_or(&[][..], Vec::as_slice).iter();
        list.filter_map(|id| Some((*id, self.all.get(*id)?))).collect()
    }

    /// Works out whose each job is, once all are there.
    fn index(&mut self) {
        let mut of: BTreeMap<Option<CarId>, Vec<JobId>> = BTreeMap::new();
        for (index, job) in self.all.iter().enumerate().filter(|(_, job)| !job.steps.is_empty()) {
            of.entry(job.car).or_default().push(JobId::from(index));
        }
        let opened = |id: &JobId| self.all[*id].opened().map(|step| step.rank);
        for list in of.values_mut() {
            list.sort_by_key(opened);
        }
        self.of_car = of;
    }
}

/// Days from one date to another.
fn days(from: Date, to: Date) -> i32 {
    from.until(to).map_or(0, |span| span.get_days())
}

/// The day on which work that is put off comes up again; `None` for a time in words.
#[must_use]
pub fn ends(book: &Book, until: Option<Until>) -> Option<Date> {
    match until? {
        Until::Day(day) => Some(day),
        Until::Event(event) => book.events.get(event).map(|event| event.first),
        Until::Words(_) => None,
    }
}

/// The last day on which a promise is kept: ready for an event is ready on the day before it.
#[must_use]
pub fn due(book: &Book, until: Until) -> Option<Date> {
    let end = ends(book, Some(until))?;
    Some(if matches!(until, Until::Event(_)) { end.yesterday().unwrap_or(end) } else { end })
}
