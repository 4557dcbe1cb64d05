//! `count-differs`: a count is not what the book says.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "count-differs",
    severity: Severity::Warning,
    family: Family::Parts,
    brief: "a count is not what the book says is on hand",
    why: "What is on hand is the last count, with what was bought since and less what was used. When a new count says otherwise, \
          some use or purchase was not written, or the count is wrong. The count stands.",
    wrong: "  count nut 12\n  use nut 2\n2026-05-10\n  count nut 9",
    right: "  count nut 12\n  use nut 2\n  use nut 1\n2026-05-10\n  count nut 9",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::CountDiffers { entry, kind, counted, before, since } = *problem else { return None };
    let span = cx.entry(entry).span();
    let name = &cx.book.kinds[kind].named.typed;
    let made = CHECK.at(span, format!("{counted} of `{name}` counted, {before} by the book."));
    let made = match since {
        Some(since) => made.and(cx.entry(since).span(), "counted before"),
        None => made,
    };
    Some(made.cure("write what was used or bought between the two, or count again; this count stands"))
}
