//! `counted-by-name`: a number of a kind is bought or used whose parts have names of their own.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "counted-by-name",
    severity: Severity::Error,
    family: Family::Parts,
    brief: "a number of a kind is bought or used whose parts have names of their own",
    why: "Parts with names are counted by where each of them is, so a bare number of them would be counted beside them. A kind \
          has parts with names or it has numbers, not both.",
    wrong: "kind coupling\npart cp-1 coupling\n2026-05-03\n  use coupling 1",
    right: "kind coupling\npart cp-1 coupling\n2026-05-03 heron\n  fit cp-1 LR",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::CountedByName { entry, kind } = *problem else { return None };
    let named = &cx.book.kinds[kind].named;
    let part = cx.book.parts.iter().find(|part| part.kind == Some(kind))?;
    Some(
        CHECK
            .at(cx.entry(entry).span(), format!("Parts of `{}` have names, so they are not counted by number.", named.typed))
            .and(part.named.declared, "one of them")
            .cure("name the part that was bought or used, or give what is counted by number a kind of its own"),
    )
}
