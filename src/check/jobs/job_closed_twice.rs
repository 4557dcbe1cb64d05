//! `job-closed-twice`: a job that was closed is closed again.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "job-closed-twice",
    severity: Severity::Error,
    family: Family::Jobs,
    brief: "a job that was closed is closed again",
    why: "The first `done` decides how long the job took and whether its promise was kept. A second one usually names \
          the wrong job, which then stays open; if the trouble came back, that is a job of its own.",
    wrong: "  done j-2 \"lip worn, replaced\"\n  done j-2 \"belt tensioned\"",
    right: "  done j-2 \"lip worn, replaced\"\n  done j-3 \"belt tensioned\"",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::JobClosedTwice { entry, job, first } = *problem else { return None };
    let span = told::job_span(cx, entry, job);
    Some(
        CHECK
            .at(span, format!("{} was closed already ({}).", cx.job_words(job), cx.when(first, span)))
            .and(cx.entry(first).span(), "closed here")
            .cure("name the job that was meant; if the trouble came back, open a new `job`"),
    )
}
