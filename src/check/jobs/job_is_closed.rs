//! `job-is-closed`: a job is put off or promised after it was closed.

use crate::book::entry::Verb;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "job-is-closed",
    severity: Severity::Warning,
    family: Family::Jobs,
    brief: "a job is put off or promised after it was closed",
    why: "What is done need not be put off, and there is nothing left to promise. Either the job was not done after \
          all, or the line names another than was meant; the book takes it as done.",
    wrong: "  done j-2 \"lip worn, replaced\"\n  defer j-2 to winter",
    right: "  done j-2 \"lip worn, replaced\"\n  defer j-3 to winter",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::JobClosed { entry, job, closed } = *problem else { return None };
    let span = told::job_span(cx, entry, job);
    let what = if cx.entry(entry).verb == Verb::Defer { "put off" } else { "promised" };
    let when = cx.when(closed, span);
    Some(
        CHECK
            .at(span, format!("{} is {what} here, but it was closed before ({when}).", cx.job_words(job)))
            .and(cx.entry(closed).span(), "closed here")
            .cure("name the job that was meant, or take the `done` out if it was not"),
    )
}
