//! `quote-exceeded`: a job has cost more than was quoted.

use crate::check::{Check, Context, Family, Look};
use crate::costs::problem::Problem;
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "quote-exceeded",
    severity: Severity::Warning,
    family: Family::Money,
    brief: "a job's cost has passed its quote",
    why: "A client is told before the money is spent, not after. The line that went past the quote is the one to answer: \
          with a new `quote`, or with `waive` and what was agreed. The last quote of a job is the one that stands.",
    wrong: "  quote 100.00 EUR on j-02\n  hours 2.25 h on j-02",
    right: "  quote 140.00 EUR on j-02\n  hours 2.25 h on j-02",
    look: Look::Cost(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::QuoteExceeded { entry, job, quote, quoted, cost } = *problem else { return None };
    let span = cx.entry(entry).span();
    let name = cx.book.jobs.get(job).map_or("?", |job| &job.named.typed);
    Some(
        CHECK
            .at(span, format!("With this line {name} passed its quote of {quoted}; it has cost {cost}."))
            .and(cx.entry(quote).span(), "quoted here")
            .cure(format!("tell the client, and write the new one: `quote {cost} on {name}`")),
    )
}
