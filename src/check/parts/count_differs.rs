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
          some use or purchase was not written, or the count is wrong. The count stands; of parts with names those on the shelf \
          stay what is on hand.",
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
    // Of parts with names those on the shelf count, whatever a line counts.
    let named = cx.book.parts.iter().any(|part| part.kind == Some(kind));
    Some(made.cure(if named {
        "count again, or write which part came, went or was used; parts with names are on hand by their names, and this count changes nothing"
    } else {
        "write what was used or bought between the two, or count again; this count stands"
    }))
}
