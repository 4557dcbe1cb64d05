//! `session-contradicts`: `during` or `after` another session than that which the line stands under.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "session-contradicts",
    severity: Severity::Error,
    family: Family::Sessions,
    brief: "`during` or `after` another session than that which the line stands under",
    why: "A line under a `run` is of that session. One that names another says two things, and only one of them can be so. Until it is put \
          right it is counted to the session it stands under.",
    wrong: "  09:30..09:50 run s1\n  10:30..10:50 run s2\n    hit RF \"gate post\" during s1",
    right: "  09:30..09:50 run s1\n    hit RF \"gate post\"\n  10:30..10:50 run s2",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::SessionContradicts { entry, run, .. } = *problem else { return None };
    let extra = cx.book.extra(cx.entry(entry))?;
    let label = extra.after.or(extra.during)?;
    let word = if extra.after.is_some() { "after" } else { "during" };
    let name = |run| cx.book.run(cx.entry(run)).map_or("another session", |typed| cx.text(typed.label));
    let (under, told) = (name(run), cx.text(label));
    Some(
        CHECK
            .at(label, format!(
                "the line stands under {under}, and says it was {word} {told}: until one of the two is put right, it is counted to {under}."
            ))
            .and(cx.entry(run).span(), "the session it stands under")
            .cure(format!("leave out `{word} {told}`, or put the line below the session, at the block's own indent")),
    )
}
