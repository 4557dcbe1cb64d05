//! `part-away`: a part that is lent, or went back to its owner, is used.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::parts::loan;
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "part-away",
    severity: Severity::Error,
    family: Family::Parts,
    brief: "a part that is lent, or went back to its owner, is used",
    why: "A part is in one place. One that was lent, or that was borrowed and went back, cannot be on a car here: either the \
          line that brings it in is missing, or another part was meant.",
    wrong: "  lend cp-3 to orr until 2026-06-01\n  fit cp-3 LR",
    right: "  lend cp-3 to orr until 2026-06-01\n  return cp-3 ran 95 min\n  fit cp-3 LR",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::PartAway { entry, part, since, lent } = *problem else { return None };
    let span = told::part_span(cx, entry, part);
    let name = cx.part(part);
    let when = cx.when(since, span);
    // What is inside something lent comes back with that.
    let own = loan::names(cx.book, since, part);
    let whole = cx.entry(since).part().filter(|_| !own).map_or(name, |whole| cx.part(whole));
    let (done, cure) = if lent {
        ("lent", format!("write `return {whole}` where it came back, with what it ran (`ran 95 min`)"))
    } else {
        ("given back", format!("write `borrow {name} from ...` where it came again"))
    };
    Some(
        CHECK
            .at(span, format!("{name} was {done} on {when}, and no line says that it came back."))
            .and(cx.entry(since).span(), format!("{done} here"))
            .cure(cure),
    )
}
