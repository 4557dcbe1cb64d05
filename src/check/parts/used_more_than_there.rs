//! `used-more-than-there`: more of a kind is used than is on hand.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "used-more-than-there",
    severity: Severity::Warning,
    family: Family::Parts,
    brief: "more of a kind is used than is on hand",
    why: "Nobody can use what is not there: a purchase was not written, or the last count was too low. Until the next count the \
          number on hand is not to be relied on.",
    wrong: "  count nut 2\n  use nut 4",
    right: "  count nut 2\n  buy nut 10 14.00 EUR\n  use nut 4",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::UsedMoreThanThere { entry, kind, before, since } = *problem else { return None };
    let span = cx.entry(entry).span();
    let name = &cx.book.kinds[kind].named.typed;
    let there = before.max(0);
    let made = CHECK.at(span, format!("By the book only {there} of `{name}` were on hand."));
    let made = match since {
        Some(since) => made.and(cx.entry(since).span(), "counted here"),
        None => made,
    };
    Some(made.cure("write the `buy` that is missing, or count again"))
}
