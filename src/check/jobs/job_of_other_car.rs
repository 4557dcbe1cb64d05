//! `job-of-other-car`: work on a job of one car stands under another.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "job-of-other-car",
    severity: Severity::Warning,
    family: Family::Jobs,
    brief: "work on a job of one car stands under another",
    why: "A job belongs to the car under whose head it was opened. A line under another car that names it is counted to \
          that job all the same: either the name is a slip, or the head is. Work for several cars at once goes under a \
          head without a car.",
    wrong: "2026-06-20 plover\n  job j-2 \"seal weeps\"\n2026-06-24 teal\n  done j-2 \"lip worn\"",
    right: "2026-06-20 plover\n  job j-2 \"seal weeps\"\n2026-06-24 plover\n  done j-2 \"lip worn\"",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::JobOfOtherCar { entry, job } = *problem else { return None };
    let history = cx.history.jobs.get(job);
    let opened = history.opened()?.entry;
    let span = told::job_span(cx, entry, job);
    let (own, here) = (cx.car(history.car?), cx.car(cx.car_of(entry)?));
    let when = cx.when(opened, span);
    Some(
        CHECK
            .at(span, format!("{} is a job of {own} ({when}); the line stands under {here}.", cx.job_words(job)))
            .and(told::job_span(cx, opened, job), "opened here")
            .cure(format!("name a job of {here}, or put the line under {own}")),
    )
}
