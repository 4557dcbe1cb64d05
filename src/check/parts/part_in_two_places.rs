//! `part-in-two-places`: a part goes on that is still on something else.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::parts::Where;
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "part-in-two-places",
    severity: Severity::Error,
    family: Family::Parts,
    brief: "a part goes on that is still on something else",
    why: "A part is in one place at a time. When it goes onto a car or into an assembly while the book still has \
          it somewhere else, a line is missing, or the number was misread, and the running hours of two parts are \
          in doubt. The part stays where the book had it until one of the two lines is put right.",
    wrong: "  fit cp-1 LR\n  fit cp-1 RR",
    right: "  fit cp-1 LR\n  move cp-1 -> heron RR",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::PartInTwoPlaces { entry, part, there, since } = *problem else { return None };
    let span = told::part_span(cx, entry, part);
    let name = cx.part(part);
    let there_words = cx.place_words(there);
    let cure = match there {
        Where::Inside(assembly) => format!("write `strip {name} from {}` first", cx.part(assembly)),
        _ => format!("`remove {name}` there first, or write `move` for the two in one"),
    };
    Some(
        CHECK
            .at(span, format!("{name} has been {there_words} since {}.", cx.when(since, span)))
            .and(cx.entry(since).span(), "put there here")
            .cure(cure),
    )
}
