//! `retired-part-fitted`: a part that was scrapped or sold is used again.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "retired-part-fitted",
    severity: Severity::Error,
    family: Family::Parts,
    brief: "a part that was scrapped or sold is used again",
    why: "What is scrapped or sold is gone. When its number comes up again, it is another part whose number was \
          misread, or the line that scrapped it named the wrong one. A retired part that really is back in use is \
          the worst of the three.",
    wrong: "  scrap cp-1 because split\n  fit cp-1 LR",
    right: "  scrap cp-1 because split\n  fit cp-2 LR",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::RetiredPartFitted { entry, part, since, sold } = *problem else { return None };
    let span = told::part_span(cx, entry, part);
    let done = if sold { "sold" } else { "scrapped" };
    let why = told::because(cx, since);
    Some(
        CHECK
            .at(span, format!("{} was {done} on {}{why}.", cx.part(part), cx.when(since, span)))
            .and(cx.entry(since).span(), format!("{done} here"))
            .cure(format!("correct the part's name here, or the line that says it was {done}")),
    )
}
