//! `failed-part-back`: a failed part goes back on with nothing done to it.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "failed-part-back",
    severity: Severity::Error,
    family: Family::Parts,
    brief: "a failed part goes back on with nothing done to it",
    why: "The book says that the part failed, and no line since says that it was rebuilt or released. Either it \
          was put right and nobody wrote it, or the number is another part's.",
    wrong: "  remove wb-5 failed\n  fit wb-5 LF",
    right: "  remove wb-5 failed\n  rebuild wb-5 with new balls\n  fit wb-5 LF",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::FailedPartBack { entry, part, since } = *problem else { return None };
    let span = told::part_span(cx, entry, part);
    let name = cx.part(part);
    Some(
        CHECK
            .at(span, format!("{name} failed ({}), and nothing has been done to it since.", cx.when(since, span)))
            .and(cx.entry(since).span(), "failed here")
            .cure(format!("write `rebuild {name} with ...` if it was put right, or correct the name")),
    )
}
