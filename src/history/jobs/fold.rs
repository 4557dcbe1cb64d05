//! Going through the lines about jobs in order, and what does not fit.
//!
//! Must not know what is made of it.

use super::{JobHistory, Jobs, Promise, Status, Step, due};
use crate::book::Book;
use crate::book::entry::{Entry, EntryId, JobFacts, Until, Verb};
use crate::book::model::{ClientId, JobId};
use crate::book::verbs::{JobVerb, VerbGroup};
use crate::history::order::{Order, Rank};
use crate::history::parts::Parts;
use crate::history::problem::Problem;
use crate::ids::Arena;
use jiff::civil::Date;

/// A line about a job, in order.
struct Line {
    rank: Rank,
    entry: EntryId,
    job: JobId,
}

struct Fold<'a> {
    book: &'a Book,
    order: &'a Order,
    parts: &'a Parts,
    jobs: Jobs,
    /// Lines about each job after its opening, in order.
    lines: Arena<JobId, Vec<EntryId>>,
    problems: &'a mut Vec<Problem>,
}

/// Folds the lines about jobs.
pub fn jobs(book: &Book, order: &Order, parts: &Parts, problems: &mut Vec<Problem>) -> Jobs {
    let mut fold = Fold {
        book,
        order,
        parts,
        jobs: Jobs { all: vec![JobHistory::default(); book.jobs.len()].into(), ..Jobs::default() },
        lines: vec![Vec::new(); book.jobs.len()].into(),
        problems,
    };
    if book.jobs.is_empty() {
        return fold.jobs;
    }
    let mut lines = Vec::new();
    for (index, entry) in book.entries.iter_enumerated() {
        let rank = order.rank[index];
        match entry.job() {
            Some(job) if entry.verb == Verb::Job => fold.open(job, index, rank),
            Some(job) => lines.push(Line { rank, entry: index, job }),
            None => {}
        }
        let work = if entry.extra.is_none() { None } else { book.extra(entry).and_then(|extra| extra.job) };
        if let Some(job) = work {
            fold.work(job, index, rank);
        }
    }
    lines.sort_by_key(|line| line.rank);
    for line in lines {
        fold.line(&line);
        fold.lines[line.job].push(line.entry);
    }
    for job in book.jobs.keys() {
        fold.jobs.all[job].work.sort_unstable();
        fold.other_cars(job);
    }
    fold.jobs.index();
    fold.jobs
}

impl<'a> Fold<'a> {
    fn facts(&self, line: &Entry) -> Option<&'a JobFacts> {
        self.book.extra(line)?.job_facts.as_deref()
    }

    fn open(&mut self, job: JobId, entry: EntryId, rank: Rank) {
        let line = &self.book.entries[entry];
        let Some(head) = self.book.head(line) else { return };
        let date = self.order.date(self.book, entry).unwrap_or(head.date);
        let facts = self.facts(line);
        let planned = facts.is_some_and(|facts| facts.planned);
        let history = &mut self.jobs.all[job];
        history.car = head.car;
        history.part = facts.and_then(|facts| facts.part);
        history.event = facts.and_then(|facts| facts.event).or(head.event);
        // With a mistake on its line it is still opened; only what the line says beyond that is not known.
        let status = match (line.broken, planned) {
            (true, _) => Status::Unknown,
            (false, true) => Status::Planned,
            (false, false) => Status::Open,
        };
        if line.broken {
            history.promise_lost.push(rank);
        }
        history.steps.push(Step { status, rank, entry, date, until: None });
        if let Some((until, _)) = facts.and_then(|facts| facts.until) {
            self.promise(job, (entry, rank, date), until, None);
        }
    }

    fn work(&mut self, job: JobId, entry: EntryId, rank: Rank) {
        self.jobs.all[job].work.push((rank, entry));
    }

    /// A line about the job, or work on it, under the head of another car: the job's name or the car is a slip.
    fn other_cars(&mut self, job: JobId) {
        let history = &self.jobs.all[job];
        let Some(own) = history.car else { return };
        let lines = self.lines.get(job).into_iter().flatten().copied();
        for entry in lines.chain(history.work.iter().map(|(_, entry)| *entry)) {
            let typed = &self.book.entries[entry];
            let to = self.book.extra(typed).and_then(|extra| extra.parts.as_ref()?.car);
            let car = self.book.head(typed).and_then(|head| head.car);
            if car.is_some_and(|car| car != own) && to != Some(own) && !typed.broken {
                self.problems.push(Problem::JobOfOtherCar { entry, job });
            }
        }
    }

    fn line(&mut self, line: &Line) {
        let Line { entry, job, rank } = *line;
        let typed = &self.book.entries[entry];
        let Some(date) = self.order.date(self.book, entry) else { return };
        let history = &self.jobs.all[job];
        // Where the day of its opening is not known, that has its message.
        let Some(opened) = history.opened().copied() else { return };
        if rank < opened.rank && !self.same_day(entry, opened.entry) {
            self.problems.push(Problem::JobNotOpen { entry, job, opened: opened.entry });
            if let Some(first) = self.jobs.all[job].steps.first_mut() {
                first.status = Status::Unknown;
            }
            return;
        }
        // On its own day, in another file, with no time: it was opened first.
        let rank = rank.max(opened.rank.next());
        let history = &mut self.jobs.all[job];
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
        let history = &mut self.jobs.all[job];
        let step = |status, until| Step { status, rank, entry, date, until };
        let VerbGroup::Job(verb) = typed.verb.group() else { return };
        match verb {
            JobVerb::Promise if typed.broken => history.promise_lost.push(rank),
            JobVerb::Promise => {
                let client = self.facts(typed).and_then(|facts| facts.client);
                if let Some(until) = until {
                    self.promise(job, (entry, rank, date), until, client);
                }
            }
            JobVerb::Job | JobVerb::Defer | JobVerb::Done if typed.broken => {
                history.steps.push(step(Status::Unknown, None));
            }
            JobVerb::Defer => history.steps.push(step(Status::Deferred, until)),
            JobVerb::Job | JobVerb::Done => history.steps.push(step(Status::Done, None)),
        }
    }

    /// Whether two lines stand under different heads of one day, and no times say which was first.
    fn same_day(&self, one: EntryId, other: EntryId) -> bool {
        let (first, second) = (&self.book.entries[one], &self.book.entries[other]);
        let day = |entry: EntryId| self.order.date(self.book, entry);
        let decided = self.order.decided[one] && self.order.decided[other];
        first.head != second.head && !decided && day(one) == day(other)
    }

    /// Notes a promise: to the client it names, or the car's on that day.
    fn promise(
        &mut self,
        job: JobId,
        (entry, rank, made): (EntryId, Rank, Date),
        until: Until,
        to: Option<ClientId>,
    ) {
        let before = match until {
            Until::Event(event) => Some(event),
            _ => None,
        };
        let Some(due) = due(self.book, until) else { return };
        let history = &mut self.jobs.all[job];
        let owner = history.car.and_then(|car| self.parts.owner(self.book, car, rank));
        let client = to.or(owner);
        history.promises.push(Promise { entry, rank, made, client, due, before });
        // Under a head that names no known car it may be anybody's.
        let first = history.opened().and_then(|step| self.book.entries.get(step.entry));
        let lost = first.and_then(|line| self.book.head(line)).is_some_and(|head| head.car_unknown);
        if !lost && (client.is_none() || to.is_some() && owner.is_some() && to != owner) {
            self.problems.push(Problem::PromiseToWhom { entry, job, client });
        }
    }
}
