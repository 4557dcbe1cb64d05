//! `still-fitted`: a part is shelved, sold or the like while it is still on a car or in an assembly.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::parts::Where;
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "still-fitted",
    severity: Severity::Warning,
    family: Family::Parts,
    brief: "a part is shelved, sold or the like while it is still on a car or in an assembly",
    why: "Before a part can go to the shelf or to somebody else, it comes off what it is on. The line that takes \
          it off is missing; the book takes it off here, so what happened between is counted on it.",
    wrong: "  fit cp-1 LR\n  shelve cp-1",
    right: "  fit cp-1 LR\n  remove cp-1\n  shelve cp-1",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::StillFitted { entry, part, since } = *problem else { return None };
    let span = told::part_span(cx, entry, part);
    let name = cx.part(part);
    let there = told::put_by(cx, part, since).unwrap_or(Where::New);
    Some(
        CHECK
            .at(span, format!("{name} is still {} (since {}).", cx.place_words(there), cx.when(since, span)))
            .and(cx.entry(since).span(), "put there here")
            .cure(match there {
                Where::Inside(assembly) => format!("write `strip {name} from {}` where it came out", cx.part(assembly)),
                _ => format!("write `remove {name}` where it came off"),
            }),
    )
}
