//! `kind-differs`: a line names a kind that the part is not.

use crate::book::entry::Verb;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "kind-differs",
    severity: Severity::Error,
    family: Family::Parts,
    brief: "a line names a kind that the part is not",
    why: "The line calls the part something it is not declared as, or puts it into an assembly that its kind does \
          not live in. One of the two words is wrong, and guessing which would move the hours of the wrong part.",
    wrong: "  swap bearing LF wb-1 -> cp-3",
    right: "  swap bearing LF wb-1 -> wb-3",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::KindDiffers { entry, part, kind } = *problem else { return None };
    let span = told::part_span(cx, entry, part);
    let (name, is) = (cx.part(part), cx.kind_of(part));
    let wanted = cx.book.kinds.get(kind).map_or("?", |kind| &kind.named.typed);
    let declared = cx.book.parts.get(part)?.named.declared;
    let message = if cx.entry(entry).verb == Verb::Build {
        let inner = cx.entry(entry).part().map_or("It", |inner| cx.part(inner));
        format!("{inner} lives in a {wanted}; {name} is a {is}.")
    } else {
        format!("{name} is a {is}, not a {wanted}.")
    };
    Some(CHECK.at(span, message).and(declared, "declared here").cure("correct the part or the kind"))
}
