//! `quarantined-part-fitted`: a part is used out of quarantine without a release.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "quarantined-part-fitted",
    severity: Severity::Warning,
    family: Family::Parts,
    brief: "a part is used out of quarantine without a release",
    why: "Quarantine is for parts that may be hurt in a way nobody can see yet. One that goes back on should first \
          have been looked at, with a line that says so and why it is trusted again.",
    wrong: "  quarantine wb-2 because of the wall\n  fit wb-2 RF",
    right: "  quarantine wb-2 because of the wall\n  release wb-2 because races clean, no play\n  fit wb-2 RF",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::QuarantinedPartFitted { entry, part, since } = *problem else { return None };
    let span = told::part_span(cx, entry, part);
    let name = cx.part(part);
    let why = told::because(cx, since);
    Some(
        CHECK
            .at(span, format!("{name} has been in quarantine since {}{why}.", cx.when(since, span)))
            .and(cx.entry(since).span(), "put there here")
            .cure(format!("inspect it, then write `release {name} because ...` before this line")),
    )
}
