//! `open-job-ran`: a car ran with a job open that was neither planned for later nor put off.

use crate::history::order::Rank;
use crate::book::model::{CarId, JobId};
use crate::check::{Check, Context, Family, Look, follow, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::jobs::{self, JobHistory, Status};
use crate::history::sessions::{Session, SessionId};

/// The check.
pub const CHECK: Check = Check {
    name: "open-job-ran",
    severity: Severity::Warning,
    family: Family::Jobs,
    brief: "a car ran with a job open that was neither planned for later nor put off",
    why: "Something on the car was known to want doing, and it ran. It may have been done and only not written; it may \
          be harmless, and then `planned` on the job or a `defer` says so; or the next failure begins here. Said once a \
          job, at the first session.",
    wrong: "  job j-2 \"gearbox seal weeps\"\n  09:30..09:50 run s1",
    right: "  job j-2 \"gearbox seal weeps\"\n  done j-2 \"lip worn, replaced\"\n  09:30..09:50 run s1",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let mut found = cx.book.jobs.keys().filter_map(|id| job(cx, id)).peekable();
    if found.peek().is_none() {
        return;
    }
    let doubt = (!cx.book.troubles.is_empty()).then(|| follow::Doubt::of(cx));
    for (id, message) in found {
        // A refused line that names it may have closed it or put it off.
        if !doubt.as_ref().is_some_and(|doubt| doubt.names_anywhere(cx.job(id))) {
            out.push(message);
        }
    }
}

fn job(cx: &Context<'_>, id: JobId) -> Option<(JobId, Diagnostic)> {
    let job = cx.history.jobs.get(id);
    let (car, opened) = (job.car?, job.opened()?);
    let sold = cx.history.parts.sold.get(&car).map_or(Rank::END, |(rank, _)| *rank);
    let ran = pressed(cx, job, car, sold);
    let sessions = ran.iter().copied().flatten().map(|id| cx.history.sessions.get(*id));
    let usable = |session: &Session| !told::is_ahead(cx, session.date) && !told::is_misdated(cx, session);
    let (before, first) = sessions.enumerate().find(|(_, session)| usable(session))?;
    let more = match ran.iter().map(|ids| ids.len()).sum::<usize>() - before - 1 {
        0 => String::new(),
        1 => " and the session after it".to_owned(),
        more => format!(" and {more} more sessions"),
    };
    let (when, session) = (cx.when(opened.entry, first.label), told::session(cx, first));
    let message = format!("{} ran {session}{more} with {} open ({when}).", cx.car(car), cx.job_words(id));
    let cure = "write `done` where it was done; if it can wait, `planned` on the job, or `defer ... to` when, says so";
    let opened = told::job_span(cx, opened.entry, id);
    Some((id, CHECK.at(first.label, message).and(opened, "opened here").cure(cure)))
}

/// The sessions that the car ran with the job to be done: from each line that made it so to the next.
fn pressed<'a>(cx: &Context<'a>, job: &JobHistory, car: CarId, sold: Rank) -> Vec<&'a [SessionId]> {
    let mut list = Vec::new();
    for (at, step) in job.steps.iter().enumerate() {
        let until = job.steps.get(at + 1).map_or(Rank::END, |next| next.rank).min(sold);
        let all = cx.history.sessions.between(car, step.rank, until);
        let from = match step.status {
            Status::Open => 0,
            Status::Deferred => match jobs::ends(cx.book, step.until) {
                Some(end) => all.partition_point(|id| cx.history.sessions.get(*id).date < end),
                None => continue,
            },
            Status::Planned | Status::Done | Status::Unknown => continue,
        };
        list.push(all.get(from..).unwrap_or_default());
    }
    list
}
