//! Jobs over time: when each was opened, put off and closed, what was promised for when, and which lines are work on it.
//!
//! Must not know money, reports or messages.

use super::order::Order;
use super::problem::Problem;
use crate::book::Book;
use crate::book::entry::{Entry, JobFacts, NONE, Until, Verb};
use crate::book::model::{CarId, ClientId, EventId, JobId, PartId};
use jiff::civil::Date;

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
    pub rank: u32,
    /// The line.
    pub entry: u32,
    /// Its day.
    pub date: Date,
    /// Until when it is put off.
    pub until: Option<Until>,
}

/// A promise of a job by a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Promise {
    /// The line.
    pub entry: u32,
    /// When, in the order of the book.
    pub rank: u32,
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
    pub work: Vec<(u32, u32)>,
    /// A line that promises it has a mistake.
    pub promise_lost: bool,
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
    pub fn at(&self, rank: u32) -> Option<&Step> {
        let next = self.steps.partition_point(|step| step.rank < rank);
        self.steps.get(next.checked_sub(1)?)
    }

    /// Whether it is to be done now: opened, not closed, not planned for later, and what it was put off to has come.
    #[must_use]
    pub fn presses(&self, book: &Book, rank: u32, day: Date) -> bool {
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
            (Some(_), _) => Outcome::Moved,
            (None, _) if self.promise_lost || last == Some(Status::Unknown) => Outcome::Unknown,
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
    pub all: Vec<JobHistory>,
}

impl Jobs {
    /// The job's history; ids come only from the book.
    #[must_use]
    pub fn get(&self, job: JobId) -> &JobHistory {
        &self.all[job.0 as usize]
    }

    /// A car's jobs, or with `None` the shop's, in the order they were opened.
    #[must_use]
    pub fn of(&self, car: Option<CarId>) -> Vec<(JobId, &JobHistory)> {
        let all = self.all.iter().enumerate().map(|(index, job)| (JobId(index as u32), job));
        let mut list: Vec<_> = all.filter(|(_, job)| job.car == car && !job.steps.is_empty()).collect();
        list.sort_by_key(|(_, job)| job.opened().map(|step| step.rank));
        list
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
        Until::Event(event) => book.events.get(event.0 as usize).map(|event| event.first),
        Until::Words(_) => None,
    }
}

/// The last day on which a promise is kept: ready for an event is ready on the day before it.
#[must_use]
pub fn due(book: &Book, until: Until) -> Option<Date> {
    let end = ends(book, Some(until))?;
    Some(if matches!(until, Until::Event(_)) { end.yesterday().unwrap_or(end) } else { end })
}

/// A line about a job, in order.
struct Line {
    rank: u32,
    entry: u32,
    job: JobId,
}

struct Fold<'a> {
    book: &'a Book,
    order: &'a Order,
    jobs: Jobs,
    /// Lines about each job after its opening, in order.
    lines: Vec<Vec<u32>>,
    problems: &'a mut Vec<Problem>,
}

/// Folds the lines about jobs.
pub fn jobs(book: &Book, order: &Order, problems: &mut Vec<Problem>) -> Jobs {
    let mut fold = Fold {
        book,
        order,
        jobs: Jobs { all: vec![JobHistory::default(); book.jobs.len()] },
        lines: vec![Vec::new(); book.jobs.len()],
        problems,
    };
    if book.jobs.is_empty() {
        return fold.jobs;
    }
    let mut lines = Vec::new();
    for (index, entry) in book.entries.iter().enumerate() {
        let rank = order.rank[index];
        match entry.job() {
            Some(job) if entry.verb == Verb::Job => fold.open(job, index as u32, rank),
            Some(job) => lines.push(Line { rank, entry: index as u32, job }),
            None => {}
        }
        let work = if entry.extra == NONE { None } else { book.extra(entry).and_then(|extra| extra.job) };
        if let Some(job) = work {
            fold.work(job, index as u32, rank);
        }
    }
    lines.sort_by_key(|line| line.rank);
    for line in lines {
        fold.line(&line);
        fold.lines[line.job.0 as usize].push(line.entry);
    }
    for index in 0..fold.jobs.all.len() {
        fold.jobs.all[index].work.sort_unstable();
        fold.other_cars(JobId(index as u32));
    }
    fold.jobs
}

impl<'a> Fold<'a> {
    fn facts(&self, line: &Entry) -> Option<&'a JobFacts> {
        self.book.extra(line)?.job_facts.as_deref()
    }

    fn open(&mut self, job: JobId, entry: u32, rank: u32) {
        let line = &self.book.entries[entry as usize];
        let Some(head) = self.book.head(line) else { return };
        let facts = self.facts(line);
        let planned = facts.is_some_and(|facts| facts.planned);
        let history = &mut self.jobs.all[job.0 as usize];
        history.car = head.car;
        history.part = facts.and_then(|facts| facts.part);
        history.event = facts.and_then(|facts| facts.event).or(head.event);
        // With a mistake on its line it is still opened; only what the line says beyond that is not known.
        let status = match (line.broken, planned) {
            (true, _) => Status::Unknown,
            (false, true) => Status::Planned,
            (false, false) => Status::Open,
        };
        history.promise_lost |= line.broken;
        history.steps.push(Step { status, rank, entry, date: head.date, until: None });
        if let Some((until, _)) = facts.and_then(|facts| facts.until) {
            self.promise(job, (entry, rank, head.date), until, None);
        }
    }

    fn work(&mut self, job: JobId, entry: u32, rank: u32) {
        self.jobs.all[job.0 as usize].work.push((rank, entry));
    }

    /// A line about the job, or work on it, under the head of another car: the job's name or the car is a slip.
    fn other_cars(&mut self, job: JobId) {
        let history = &self.jobs.all[job.0 as usize];
        let Some(own) = history.car else { return };
        let lines = self.lines.get(job.0 as usize).into_iter().flatten().copied();
        for entry in lines.chain(history.work.iter().map(|(_, entry)| *entry)) {
            let typed = &self.book.entries[entry as usize];
            let to = self.book.extra(typed).and_then(|extra| extra.parts.as_ref()?.car);
            let car = self.book.head(typed).and_then(|head| head.car);
            if car.is_some_and(|car| car != own) && to != Some(own) && !typed.broken {
                self.problems.push(Problem::JobOfOtherCar { entry, job });
            }
        }
    }

    fn line(&mut self, line: &Line) {
        let Line { entry, job, rank } = *line;
        let typed = &self.book.entries[entry as usize];
        let Some(head) = self.book.head(typed) else { return };
        let history = &self.jobs.all[job.0 as usize];
        // Where the day of its opening is not known, that has its message.
        let Some(opened) = history.opened().copied() else { return };
        if rank < opened.rank && !self.same_day(entry, opened.entry) {
            self.problems.push(Problem::JobNotOpen { entry, job, opened: opened.entry });
            if let Some(first) = self.jobs.all[job.0 as usize].steps.first_mut() {
                first.status = Status::Unknown;
            }
            return;
        }
        // On its own day, in another file, with no time: it was opened first.
        let rank = rank.max(opened.rank + 1);
        let history = &mut self.jobs.all[job.0 as usize];
        if let Some(closed) = history.closed().filter(|_| !typed.broken) {
            let closed = closed.entry;
            self.problems.push(if typed.verb == Verb::Done {
                Problem::JobClosedTwice { entry, job, first: closed }
            } else {
                Problem::JobClosed { entry, job, closed }
            });
            return;
        }
        let until = self.facts(typed).and_then(|facts| facts.until).map(|(until, _)| until);
        let history = &mut self.jobs.all[job.0 as usize];
        let step = |status, until| Step { status, rank, entry, date: head.date, until };
        match typed.verb {
            Verb::Promise if typed.broken => history.promise_lost = true,
            Verb::Promise => {
                let client = self.facts(typed).and_then(|facts| facts.client);
                if let Some(until) = until {
                    self.promise(job, (entry, rank, head.date), until, client);
                }
            }
            _ if typed.broken => history.steps.push(step(Status::Unknown, None)),
            Verb::Defer => history.steps.push(step(Status::Deferred, until)),
            _ => history.steps.push(step(Status::Done, None)),
        }
    }

    /// Whether two lines stand under different heads of one day, and no times say which was first.
    fn same_day(&self, one: u32, other: u32) -> bool {
        let (first, second) = (&self.book.entries[one as usize], &self.book.entries[other as usize]);
        let day = |entry: &Entry| self.book.head(entry).map(|head| head.date);
        let decided = self.order.decided[one as usize] && self.order.decided[other as usize];
        first.head != second.head && !decided && day(first) == day(second)
    }

    /// Notes a promise: to the client it names, or the car's.
    fn promise(
        &mut self,
        job: JobId,
        (entry, rank, made): (u32, u32, Date),
        until: Until,
        to: Option<ClientId>,
    ) {
        let before = match until {
            Until::Event(event) => Some(event),
            _ => None,
        };
        let Some(due) = due(self.book, until) else { return };
        let history = &mut self.jobs.all[job.0 as usize];
        let owner = history.car.and_then(|car| self.book.cars.get(car.0 as usize)).and_then(|car| car.client);
        let client = to.or(owner);
        history.promises.push(Promise { entry, rank, made, client, due, before });
        // Under a head that names no known car it may be anybody's.
        let first = history.opened().and_then(|step| self.book.entries.get(step.entry as usize));
        let lost = first.and_then(|line| self.book.head(line)).is_some_and(|head| head.car_unknown);
        if !lost && (client.is_none() || to.is_some() && owner.is_some() && to != owner) {
            self.problems.push(Problem::PromiseToWhom { entry, job, client });
        }
    }
}
