//! Jobs and promises: what is still to do first, then what was done, each with what was found and whether the day was kept.
//!
//! Must not know money. How late an open promise is is told as of the book's last line, so that a page changes only when the
//! book does.

use super::entry;
use crate::book::entry::{Entry, EntryId, Until, Verb};
use crate::book::model::{CarId, JobId};
use crate::history::jobs::{JobHistory, Outcome, Status, Step};
use crate::history::order::Rank;
use crate::report::teller::Teller;
use crate::report::words;
use jiff::civil::Date;
use serde::Serialize;

/// One job.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ShownJob {
    /// Its name.
    pub name: String,
    /// What is to be done.
    pub title: String,
    /// Whether it is still to do.
    pub open: bool,
    /// How it stands: "open", "planned", "put off to winter", "done in 16 days".
    pub status: String,
    /// What it is about: the part, the event.
    pub about: String,
    /// What happened to it, in order.
    pub steps: Vec<Happened>,
    /// Lines of work on it, in order.
    pub work: Vec<Happened>,
}

/// A line about a job.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Happened {
    /// "29 June 2026".
    pub date: String,
    /// "opened", "done: lip worn, replaced".
    pub text: String,
    /// What became of a promise: "kept", "2 days late"; else empty.
    pub outcome: String,
    /// Whether the promise was not kept.
    pub missed: bool,
    /// The words after `because`.
    pub because: String,
    /// Its line.
    pub src: String,
}

/// A car's jobs (of the shop with `None`) that were open at some time between two ranks; those still to do first.
pub(in crate::report) fn jobs(
    tell: &Teller<'_>,
    car: Option<CarId>,
    from: Rank,
    until: Rank,
) -> Vec<ShownJob> {
    let mut list: Vec<ShownJob> = tell
        .cx
        .history
        .jobs
        .of(car)
        .into_iter()
        .filter(|(_, job)| {
            job.opened().is_some_and(|step| step.rank < until)
                && job.closed().is_none_or(|step| step.rank >= from)
        })
        .map(|(id, job)| view(tell, id, job))
        .collect();
    list.sort_by_key(|job| !job.open);
    list
}

/// The jobs of those cars that were closed last, the latest first.
pub(in crate::report) fn closed_last(tell: &Teller<'_>, cars: &[CarId], count: usize) -> Vec<ShownJob> {
    let own = cars.iter().flat_map(|car| tell.cx.history.jobs.of(Some(*car)));
    let mut closed: Vec<_> = own.filter_map(|(id, job)| Some((job.closed()?.rank, id, job))).collect();
    closed.sort_by_key(|(rank, id, _)| (std::cmp::Reverse(*rank), *id));
    closed.into_iter().take(count).map(|(_, id, job)| view(tell, id, job)).collect()
}

fn view(tell: &Teller<'_>, id: JobId, job: &JobHistory) -> ShownJob {
    let cx = &tell.cx;
    let title = cx.book.jobs.get(id).map_or("", |job| job.named.title.as_str());
    let name = cx.job(id).to_owned();
    let mut about: Vec<String> = Vec::new();
    about.extend(job.part.map(|part| format!("{} {}", cx.kind_of(part), cx.part(part))));
    about.extend(job.event.map(|event| tell.event(event).to_owned()));
    ShownJob {
        title: if title == name { String::new() } else { title.to_owned() },
        open: job.closed().is_none(),
        status: status(tell, job),
        about: about.join(", "),
        steps: steps(tell, job),
        work: job.work.iter().filter_map(|(_, entry)| work(tell, *entry)).collect(),
        name,
    }
}

/// How a job stands at the end of the book.
pub(in crate::report) fn status(tell: &Teller<'_>, job: &JobHistory) -> String {
    let Some(last) = job.steps.last() else { return String::new() };
    match (last.status, job.opened()) {
        (Status::Planned, _) => "planned".to_owned(),
        (Status::Open, _) => "open".to_owned(),
        (Status::Deferred, _) => format!("put off to {}", until(tell, last.until)),
        (Status::Done, Some(opened)) if opened.date == last.date => "done the same day".to_owned(),
        (Status::Done, Some(opened)) => format!("done in {}", words::days(between(opened.date, last.date))),
        (Status::Done | Status::Unknown, _) => "not known: a line about it has an error".to_owned(),
    }
}

/// "winter", "quern-1", "3 June 2026".
pub(super) fn until(tell: &Teller<'_>, until: Option<Until>) -> String {
    match until {
        None => words::DASH.to_owned(),
        Some(Until::Day(day)) => words::date(day),
        Some(Until::Event(event)) => tell.event(event).to_owned(),
        Some(Until::Words(span)) => crate::syntax::unquote(tell.cx.text(span)).to_owned(),
    }
}

/// Opened, promised, put off, closed: in the order it happened.
fn steps(tell: &Teller<'_>, job: &JobHistory) -> Vec<Happened> {
    let last = tell.until();
    let steps = job.steps.iter().map(|one| (one.rank, one.entry, step(tell, one)));
    let promises = (0..job.promises.len()).filter_map(|at| {
        let promise = job.promises.get(at)?;
        Some((promise.rank, promise.entry, self::promise(tell, job, at, last?)?))
    });
    let mut list: Vec<(Rank, EntryId, Happened)> = steps.chain(promises).collect();
    // A promise on the line that opens the job comes after its opening, for the sort is stable.
    list.sort_by_key(|(rank, entry, _)| (*rank, *entry));
    list.into_iter().map(|(_, _, happened)| happened).collect()
}

fn happened(tell: &Teller<'_>, entry: EntryId, text: String) -> Happened {
    let line = tell.entry(entry);
    Happened {
        date: tell.cx.date(entry).map_or_else(String::new, words::date),
        text,
        outcome: String::new(),
        missed: false,
        because: line.and_then(|line| tell.because(line)).unwrap_or_default().to_owned(),
        src: tell.src_of(entry),
    }
}

fn step(tell: &Teller<'_>, step: &Step) -> Happened {
    let line = tell.entry(step.entry);
    let said = line.map_or_else(String::new, |line| entry::quotes(tell, line));
    let opens = line.is_some_and(|line| line.verb == Verb::Job);
    let text = match (step.status, opens) {
        (Status::Unknown, false) => "a line that has an error".to_owned(),
        (Status::Planned, _) => "opened, planned for later".to_owned(),
        (Status::Open | Status::Unknown, _) => "opened".to_owned(),
        (Status::Deferred, _) => format!("put off to {}", until(tell, step.until)),
        (Status::Done, _) if said.is_empty() => "done".to_owned(),
        (Status::Done, _) => format!("done: {said}"),
    };
    happened(tell, step.entry, text)
}

fn promise(tell: &Teller<'_>, job: &JobHistory, at: usize, last: Date) -> Option<Happened> {
    let promise = job.promises.get(at)?;
    let outcome = job.outcome(at, last)?;
    let line = tell.entry(promise.entry)?;
    let by = match promise.before {
        Some(event) => format!("before {}, by {}", tell.event(event), words::date(promise.due)),
        None => format!("for {}", words::date(promise.due)),
    };
    let whom = promise.client.map_or_else(String::new, |client| format!(" to {}", tell.cx.client(client)));
    let mut text = format!("promised{whom} {by}");
    // Of the opening line the words are the job's title.
    let said = if line.verb == Verb::Promise { entry::quotes(tell, line) } else { String::new() };
    if !said.is_empty() {
        text = format!("{text}: {said}");
    }
    let (outcome, missed) = match outcome {
        Outcome::Kept => ("kept".to_owned(), false),
        Outcome::Late(by) => (format!("{} late", words::days(by)), true),
        Outcome::Broken(by) => (format!("promised anew {} after that", words::days(by)), true),
        Outcome::Moved => ("another day was promised in time".to_owned(), false),
        Outcome::Overdue(by) => (format!("not done, {} after it when the book ends", words::days(by)), true),
        Outcome::Standing(_) | Outcome::Again => (String::new(), false),
        Outcome::Unknown => ("not known: a line about it has an error".to_owned(), false),
    };
    let mut happened = happened(tell, promise.entry, text);
    (happened.outcome, happened.missed) = (outcome, missed);
    if line.verb != Verb::Promise {
        happened.because = String::new();
    }
    Some(happened)
}

/// A line of work on the job, mostly as typed. What it cost stands with the money.
fn work(tell: &Teller<'_>, entry: EntryId) -> Option<Happened> {
    let money = |entry: &&Entry| matches!(entry.verb, Verb::Cost | Verb::Credit | Verb::Quote | Verb::Paid);
    let line = tell.entry(entry).filter(|entry| !money(entry))?;
    Some(happened(tell, entry, format!("{} {}", line.verb.word(), entry::middle(tell, line, false))))
}

fn between(from: Date, to: Date) -> i32 {
    from.until(to).map_or(0, |span| span.get_days())
}

/// "2: j-04 (right front strut), j-05 (head off)": the jobs of a car still to do, and their lines.
pub(in crate::report) fn open(tell: &Teller<'_>, car: CarId) -> Option<(String, String)> {
    let jobs = tell.cx.history.jobs.of(Some(car));
    let open: Vec<&(JobId, &JobHistory)> = jobs.iter().filter(|(_, job)| job.closed().is_none()).collect();
    let names: Vec<String> = open
        .iter()
        .map(|(id, job)| match status(tell, job).as_str() {
            "open" => tell.cx.job_words(*id),
            other => format!("{}, {other}", tell.cx.job_words(*id)),
        })
        .collect();
    let lines = open
        .iter()
        .filter_map(|(_, job)| tell.entry(job.opened()?.entry))
        .map(crate::book::entry::Entry::span);
    let src = crate::report::sources::lines(tell.cx.files, lines);
    (!names.is_empty()).then(|| (format!("{}: {}", names.len(), names.join("; ")), src))
}
