//! `open-job-ran`: a car ran with a job open that was neither planned for later nor put off.

use crate::book::model::JobId;
use crate::check::{Check, Context, Family, Look, follow, told};
use crate::diagnostics::{Diagnostic, Severity};

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
    let mut found = (0..cx.book.jobs.len() as u32).filter_map(|index| job(cx, JobId(index))).peekable();
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
    let sold = cx.history.parts.sold.get(&car).map_or(u32::MAX, |(rank, _)| *rank);
    let sessions = cx.history.sessions.between(car, opened.rank, sold);
    let mut ran = sessions.iter().map(|id| cx.history.sessions.get(*id)).filter(|session| {
        job.presses(cx.book, session.rank, session.date)
            && !told::is_ahead(cx, session.date)
            && !told::is_misdated(cx, session)
    });
    let first = ran.next()?;
    let more = match ran.count() {
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
