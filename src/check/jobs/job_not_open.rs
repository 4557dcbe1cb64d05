//! `job-not-open`: a job is closed, put off or promised before it is opened.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "job-not-open",
    severity: Severity::Error,
    family: Family::Jobs,
    brief: "a job is closed, put off or promised before it is opened",
    why: "How long a job stood open, and whether a promise was kept, is counted between its lines: one of the two dates \
          is wrong, or the line names another job than was meant. How the job stands is not known until it is mended.",
    wrong: "2026-06-20 plover\n  done j-2 \"lip worn\"\n2026-06-24 plover\n  job j-2 \"seal weeps\"",
    right: "2026-06-20 plover\n  job j-2 \"seal weeps\"\n2026-06-24 plover\n  done j-2 \"lip worn\"",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::JobNotOpen { entry, job, opened } = *problem else { return None };
    let span = told::job_span(cx, entry, job);
    Some(
        CHECK
            .at(span, format!("{} is opened only later ({}).", cx.job_words(job), cx.when(opened, span)))
            .and(told::job_span(cx, opened, job), "opened here")
            .cure("correct the date of one of the two, or the job's name"),
    )
}
